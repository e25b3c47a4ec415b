"""Where catalogues of words lie, and how one is read: `<language>.po`, the workshop's own before the program's."""

from __future__ import annotations

import gettext
import hashlib
import io
from functools import cache
from importlib import resources
from importlib.resources.abc import Traversable
from pathlib import Path

from guidegen.language import SOURCE, Translation
from guidegen.problems import one_of

OWN = "content/words"
"""Where a workshop keeps the catalogue of a language that the program does not bring."""

ENDING = ".po"


def languages(root: Path) -> tuple[str, ...]:
    """Every language that a workshop may choose."""
    places: tuple[Traversable, ...] = (root / OWN, resources.files("guidegen") / "locale")
    names = (one.name for place in places if place.is_dir() for one in place.iterdir())
    return tuple(sorted({SOURCE, *(name.removesuffix(ENDING) for name in names if name.endswith(ENDING))}))


def catalogue_of(language: str, root: Path) -> Traversable | None:
    """The file of a language or of the one it is a variety of; none for English and for what nobody wrote."""
    for name in dict.fromkeys((language, language.partition("-")[0])):
        if name == SOURCE:
            return None
        for place in (root / OWN, resources.files("guidegen") / "locale"):
            file = place / f"{name}{ENDING}"
            if file.is_file():
                return file
    return None


def known(language: str, root: Path) -> bool:
    """Whether the interface has words in this language."""
    return language.partition("-")[0] == SOURCE or catalogue_of(language, root) is not None


def fix(language: str, root: Path) -> str:
    """What to do where the interface has no words in a language."""
    there = languages(root)
    words = f"write {one_of(there)}" if len(there) > 1 else f"write {there[0]}, the only one there is"
    return f"{words}, or translate guidegen.pot to {OWN}/{language.partition('-')[0]}{ENDING}"


def translation_of(language: str, root: Path) -> Translation:
    """A language with its words; English ones where it has none, which the catalogue's check has reported already."""
    file = catalogue_of(language, root)
    return Translation(language) if file is None else _read(file.read_bytes(), language)


@cache
def _read(data: bytes, language: str) -> Translation:
    """A catalogue's text as words. What is not translated yet, or doubtful, stays English."""
    from babel.messages.mofile import write_mo
    from babel.messages.pofile import read_po

    compiled = io.BytesIO()
    write_mo(compiled, read_po(io.BytesIO(data), locale=None, abort_invalid=True))
    words = gettext.GNUTranslations(io.BytesIO(compiled.getvalue()))
    return Translation(language, words, hashlib.sha256(data).hexdigest())
