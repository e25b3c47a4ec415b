"""Templates of the pages that editions need."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from typing import Any

import jinja2

from guidegen.language import SOURCE, in_language, translation
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


@contextmanager
def in_language_of(root: Path) -> Iterator[None]:
    """Text made inside is in the workshop's language, read without the rest of the catalogue, as its contact is."""
    import yaml

    held = yaml.safe_load((root / "content" / "workshop.yml").read_text(encoding="utf-8-sig"))
    with in_language(str(held.get("language", SOURCE)), root):
        yield
