"""What the pages around the editions say of the workshop, read without the rest of the catalogue.

The catalogue may be in the middle of a change, or broken, when a guide has to be called back; so what cannot be read
here is left out, and `guidegen check` names it.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from guidegen.language import SOURCE, gettext, in_language
from guidegen.language.catalogues import translation_of
from guidegen.problems import CatalogueError
from guidegen.reading import bytes_of
from guidegen.workshop.terms import WrittenTerms

FILE = "workshop.yml"


def contact_of(root: Path) -> str:
    """Whom to ask."""
    return str(_stated(root).get("contact") or gettext("the workshop"))


def name_of(root: Path) -> str:
    """What the workshop is called."""
    return str(_stated(root).get("name") or gettext("the workshop"))


def makes_of(root: Path) -> str:
    """What the workshop makes, in its own sentence; empty where it says none."""
    return " ".join(str(_stated(root).get("makes") or "").split())


def terms_of(root: Path) -> WrittenTerms | None:
    """The terms of sale, where they are stated as they must be."""
    try:
        return WrittenTerms.model_validate(_stated(root).get("terms"))
    except ValidationError:
        return None


def kit_names(root: Path, kit: str) -> tuple[str, dict[str, str]]:
    """What a kit is called, and each of its parts by id; the id itself where nothing is stated."""
    held = _stated(root, f"kits/{kit}.yml")
    parts = held.get("parts")
    listed = [one for one in parts if isinstance(one, dict)] if isinstance(parts, list) else []
    named = {str(one.get("id")): str(one.get("name") or one.get("id")) for one in listed}
    return str(held.get("name") or kit), named


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


def _stated(root: Path, file: str = FILE) -> dict[str, Any]:
    import yaml

    try:
        held = yaml.safe_load(bytes_of(root / "content" / file).decode("utf-8-sig"))
    except (OSError, ValueError, RecursionError, yaml.YAMLError):
        return {}
    return held if isinstance(held, dict) else {}
