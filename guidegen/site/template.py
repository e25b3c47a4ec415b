"""The one environment that templates are filled in: every value escaped, every missing name an error.

Pages ask for hundreds of thousands of names and call macros as often, so both go the short way here.
"""

from __future__ import annotations

from types import FunctionType
from typing import Any

import jinja2
from jinja2.runtime import Context, Macro

from guidegen.language import install_gettext


class PlainCalls(Context):
    """What a template sees; macros, and functions that ask for nothing of it, are called without looking them over."""

    def call(__self, __called: Any, *given: Any, **more: Any) -> Any:
        """Call what a template calls; the names of arguments are free, as in Jinja itself."""
        if type(__called) is Macro or (type(__called) is FunctionType and not hasattr(__called, "jinja_pass_arg")):
            more.pop("_loop_vars", None)
            more.pop("_block_vars", None)
            return __called(*given, **more)
        return super().call(__called, *given, **more)


class PageTemplates(jinja2.Environment):
    """An environment in which `one.name` of a dictionary is its entry, and only then an attribute."""

    context_class = PlainCalls

    def getattr(self, obj: Any, attribute: str) -> Any:
        """The entry of a dictionary, or the attribute of anything."""
        if type(obj) is dict and attribute in obj:
            return obj[attribute]
        return super().getattr(obj, attribute)


def environment_of(package: str) -> jinja2.Environment:
    """The templates of a package, in the folder `templates` beside its modules."""
    made = PageTemplates(
        loader=jinja2.PackageLoader(package, "templates"),
        undefined=jinja2.StrictUndefined,
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    return install_gettext(made)
