"""What the pages around the editions say of the workshop, read without the rest of the catalogue.

The catalogue may be in the middle of a change, or broken, when a guide has to be called back; so what cannot be read
here is left out, and `guidegen check` names it.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from guidegen.language import SOURCE, gettext, in_language
from guidegen.language.catalogues import translation_of
from guidegen.problems import CatalogueError
from guidegen.reading import bytes_of

FILE = "workshop.yml"


def contact_of(root: Path) -> str:
    """Whom to ask."""
    return str(_stated(root).get("contact") or gettext("the workshop"))


@contextmanager
def in_language_of(root: Path) -> Iterator[None]:
    """Text made inside is in the workshop's language."""
    chosen = str(_stated(root).get("language") or SOURCE)
    try:
        translation_of(chosen, root)
    except CatalogueError:
        chosen = SOURCE
    with in_language(chosen, root):
        yield


def _stated(root: Path) -> dict[str, Any]:
    import yaml

    try:
        held = yaml.safe_load(bytes_of(root / "content" / FILE).decode("utf-8-sig"))
    except (OSError, ValueError, RecursionError, yaml.YAMLError):
        return {}
    return held if isinstance(held, dict) else {}
