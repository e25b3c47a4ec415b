"""Templates of the pages that editions need."""

from __future__ import annotations

from functools import cache
from typing import Any

import jinja2

from guidegen.editions.linked import linked_data, reach
from guidegen.editions.selling import SCRIPT
from guidegen.editions.style import mark, root_style
from guidegen.language import translation
from guidegen.site.pages import sentences
from guidegen.site.pages.place import kit_path
from guidegen.site.template import environment_of


@cache
def environment() -> jinja2.Environment:
    """The templates of this package."""
    made = environment_of("guidegen.editions")
    made.globals["language"] = lambda: translation().code
    made.globals["root_style"] = root_style
    made.globals["mark"] = mark
    made.globals["linked_data"] = linked_data
    made.globals["reach"] = reach
    made.globals["kit_path"] = kit_path
    made.globals["prices_script"] = SCRIPT
    made.globals["outcome_words"] = sentences.outcome
    made.filters["sentence"] = sentences.sentence
    return made


def render(template: str, /, **values: Any) -> str:
    """One template as text."""
    return environment().get_template(template).render(values)
