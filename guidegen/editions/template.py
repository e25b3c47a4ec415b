"""Templates of the pages that editions need: every value escaped, every missing name an error."""

from __future__ import annotations

from functools import cache
from typing import Any

import jinja2

from guidegen.language import teach


@cache
def environment() -> jinja2.Environment:
    """The templates of this package."""
    made = jinja2.Environment(
        loader=jinja2.PackageLoader("guidegen.editions", "templates"),
        undefined=jinja2.StrictUndefined,
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    return teach(made)


def render(template: str, /, **values: Any) -> str:
    """One template as text."""
    return environment().get_template(template).render(values)
