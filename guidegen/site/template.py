"""The one environment that templates are filled in: every value escaped, every missing name an error."""

from __future__ import annotations

import jinja2

from guidegen.language import install_gettext


def environment_of(package: str) -> jinja2.Environment:
    """The templates of a package, in the folder `templates` beside its modules."""
    made = jinja2.Environment(
        loader=jinja2.PackageLoader(package, "templates"),
        undefined=jinja2.StrictUndefined,
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    return install_gettext(made)
