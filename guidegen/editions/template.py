"""Templates of the pages that editions need."""

from __future__ import annotations

from functools import cache
from typing import Any

import jinja2

from guidegen.language import translation
from guidegen.site.template import environment_of


@cache
def environment() -> jinja2.Environment:
    """The templates of this package."""
    made = environment_of("guidegen.editions")
    made.globals["language"] = lambda: translation().code
    return made


def render(template: str, /, **values: Any) -> str:
    """One template as text."""
    return environment().get_template(template).render(values)
