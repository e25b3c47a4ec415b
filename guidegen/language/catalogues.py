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
from guidegen.problems import CatalogueError, Code, Problem, one_of

OWN = "content/words"
"""Where a workshop keeps the catalogue of a language that the program does not bring."""

ENDING = ".po"


def languages(root: Path) -> tuple[str, ...]:
    """Every language that a workshop may choose."""
    places: tuple[Traversable, ...] = (root / OWN, resources.files("guidegen") / "locale")
    names = (one.name for place in places if place.is_dir() for one in place.iterdir())
    return tuple(sorted({SOURCE, *(name.removesuffix(ENDING) for name in names if name.endswith(ENDING))}))


def catalogues_of(language: str, root: Path) -> tuple[Traversable, ...]:
    """The files of a language and of the one it is a variety of, the workshop's own first; none for English."""
    places = (root / OWN, resources.files("guidegen") / "locale")
    names = [name for name in dict.fromkeys((language, language.partition("-")[0])) if name != SOURCE]
    files = (place / f"{name}{ENDING}" for name in names for place in places)
    return tuple(file for file in files if file.is_file())


def known(language: str, root: Path) -> bool:
    """Whether the interface has words in this language."""
    return language.partition("-")[0] == SOURCE or bool(catalogues_of(language, root))


def fix(language: str, root: Path) -> str:
    """What to do where the interface has no words in a language."""
    there = languages(root)
    words = f"write {one_of(there)}" if len(there) > 1 else f"write {there[0]}, the only one there is"
    return f"{words}, or translate guidegen.pot to {own(language)}"


def own(language: str) -> str:
    """The file in which a workshop writes words of a language, those of its things above all.

    >>> own("de-AT")
    'content/words/de.po'
    """
    return f"{OWN}/{language.partition('-')[0]}{ENDING}"


def untranslated(language: str, root: Path) -> tuple[int, int]:
    """How many of the program's own messages have no words in a language yet, and of how many; 0 of 0 for English.

    Names that a workshop writes itself are its own affair: where a form is missing that a guide needs, ACT04 says so.
    """
    files = catalogues_of(language, root)
    if not files:
        return 0, 0
    there = {message for file in files for message in _translated(file.read_bytes())}
    wanted = _messages((resources.files("guidegen") / "locale" / "guidegen.pot").read_bytes())
    return len(wanted - there), len(wanted)


def _messages(data: bytes) -> set[tuple[str, str]]:
    from babel.messages.pofile import read_po

    return {(one.context or "", _first(one.id)) for one in read_po(io.BytesIO(data)) if one.id}


def _translated(data: bytes) -> set[tuple[str, str]]:
    """What has words that count: neither empty nor doubtful."""
    from babel.messages.pofile import read_po

    every = [one for one in read_po(io.BytesIO(data), locale=None) if one.id and not one.fuzzy]
    said = [one for one in every if (one.string if isinstance(one.string, str) else all(one.string or ("",)))]
    return {(one.context or "", _first(one.id)) for one in said}


def _first(message: str | list[str] | tuple[str, ...]) -> str:
    return message if isinstance(message, str) else message[0]


def translation_of(language: str, root: Path) -> Translation:
    """A language with its words; English ones where it has none, which the catalogue's check has reported already."""
    files = catalogues_of(language, root)
    if not files:
        return Translation(language)
    data = tuple(file.read_bytes() for file in files)
    try:
        return _joined(data, language)
    except Exception as error:
        # What reads a catalogue is another library's, and so are the ways in which it refuses one.
        raise CatalogueError([_wrong(file.name, one) for file, one in zip(files, data, strict=True)]) from error


def _wrong(name: str, data: bytes) -> Problem:
    """What keeps a catalogue from being read, with its line; of several the one that can be read says so."""
    path = f"{OWN}/{name}"
    try:
        _read(data)
    except Exception as error:
        line = getattr(error, "lineno", None)
        words = f"the catalogue of words cannot be read: {' '.join(str(error).split())[:200] or type(error).__name__}"
        fix = "correct it with a gettext editor; msgfmt --check names every mistake"
        return Problem(path, line + 1 if isinstance(line, int) else 1, 1, Code.LANGUAGE, words, fix)
    return Problem(path, 1, 1, Code.LANGUAGE, "read beside one that cannot be read", severity="warning")


@cache
def _joined(files: tuple[bytes, ...], language: str) -> Translation:
    """The words of several catalogues, of which an earlier one goes before a later one."""
    whole: gettext.NullTranslations = gettext.NullTranslations()
    inside: dict[tuple[str, str], str] = {}
    for data in reversed(files):
        words, own_inside = _read(data)
        words.add_fallback(whole)
        whole, inside = words, inside | own_inside
    return Translation(language, whole, hashlib.sha256(b"\0".join(files)).hexdigest(), inside, own(language))


def _read(data: bytes) -> tuple[gettext.GNUTranslations, dict[tuple[str, str], str]]:
    """A catalogue's text as words. What is not translated yet, or doubtful, stays English."""
    from babel.messages.mofile import write_mo
    from babel.messages.pofile import read_po

    compiled, catalogue = io.BytesIO(), read_po(io.BytesIO(data), locale=None, abort_invalid=True)
    write_mo(compiled, catalogue)
    inside = {
        (one.context, one.id): one.string
        for one in catalogue
        if one.context and not one.fuzzy and isinstance(one.id, str) and isinstance(one.string, str) and one.string
    }
    return gettext.GNUTranslations(io.BytesIO(compiled.getvalue())), inside
