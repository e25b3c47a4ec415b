"""Files of every kind with bytes changed at random: each is read, or refused in a sentence; nothing else happens.

`make test` tries some thousands. A failure prints its seed; GUIDEGEN_SEED repeats it, and what was found goes into
`FOUND`, so that it is tried for ever. Whole catalogues are changed in the file beside this one.
"""

from __future__ import annotations

import contextlib
import random
from collections.abc import Callable
from pathlib import Path

import pytest

from guidegen import language
from guidegen.editions import kept, lines, offers, place, snapshot, withdrawals
from guidegen.editions.units_sold import Unit
from guidegen.judge.fit import order_text
from guidegen.problems import CatalogueError, EnvironmentProblem, UsageProblem
from guidegen.site import handwritten
from guidegen.site.engine.settings import read_settings
from guidegen.workshop.pictures.album import converted
from guidegen.workshop.pictures.photograph import PictureFault, look
from tests.fixtures.mutated import SEED, mutants
from tests.fixtures.photographs import as_jpeg, as_png, as_webp
from tests.unit.editions.small import record
from tests.whole import WHOLE

REPOSITORY = Path(__file__).parents[2]
KEPT = REPOSITORY / "content" / "editions" / "2025.1"
TRIES = 10_000 if WHOLE else 40
"""Of each kind of file, a fifth of what is tried."""

ALLOWED = (CatalogueError, EnvironmentProblem, UsageProblem, OSError)
UNIT = b'{"format": 1, "serial": "K", "variant": "a", "kit": "b", "revision": "A", "edition": "1", "facts": {"a": "b"}}'
OFFER = b"valid_until: 2025-12-31\nkits:\n  collar: {price: 80 EUR, stock: 3}\n"
CALLED = b'{"format": 1, "withdrawn": [{"edition": "1", "guide": "a/b", "date": "2025-01-01", "because": "x"}]}'
LISTED = b'[{"version": "2", "title": "2", "aliases": ["latest"]}, {"version": "1-rerendered", "title": "1"}]'
SNAPSHOT = snapshot.pack([record()])
WORDS = b'msgid ""\nmsgstr "Content-Type: text/plain; charset=utf-8\\n"\n\nmsgid "Stop"\nmsgstr "Halt"\n'
ORDER = b"Self-check of a machine for a kit: plain-one, collar\nEdition: 2025.1\nRules: 0123\nboiler.mass = 500 g\n"
PAGE = b'# A\n\n{% for kit in kits %}{{ kit.name | upper }}{% endfor %}\n\n{{ guide("a", "b") ~ "x" }}\n'


def settings(root: Path) -> None:
    """mkdocs.yml."""
    read_settings(root / "mkdocs.yml")


def words(root: Path) -> None:
    """A catalogue of words."""
    with language.in_language("de", root):
        language.gettext("Stop")


def page(root: Path) -> None:
    """A hand-written page."""
    handwritten.render(root / "content" / "pages", {"kits": [{"name": "a"}], "guides": {("a", "b"): "A"}})


def order(root: Path) -> None:
    """What a customer sent."""
    order_text.read((root / "order.txt").read_bytes().decode(errors="replace"), "order.txt")


def records(root: Path) -> None:
    """The records of an edition, from its snapshot."""
    for name, data in SNAPSHOT.items():
        target = root / "content" / "editions" / "1" / name
        if not target.exists():
            target.write_bytes(data)
    kept.records(root, "1")


def photograph(root: Path) -> None:
    """A photograph, all of it: what is in the file, and its copies."""
    data = (root / "content" / "pictures" / "a").read_bytes()
    with contextlib.suppress(PictureFault):
        assert look(data).width > 0
        assert list(converted(data))


KINDS: dict[str, tuple[bytes, str, Callable[[Path], object]]] = {
    "mkdocs.yml": ((REPOSITORY / "mkdocs.yml").read_bytes(), "mkdocs.yml", settings),
    "words": (WORDS, "content/words/de.po", words),
    "page": (PAGE, "content/pages/index.md", page),
    "order": (ORDER, "order.txt", order),
    "unit": (UNIT, "units/K-1.json", lambda root: lines.validated(Unit, root / "units" / "K-1.json")),
    "offers": (OFFER, "content/offers.yml", offers.files),
    "withdrawals": (CALLED, "content/editions/withdrawn.json", withdrawals.read),
    "versions": (LISTED, "site/versions.json", lambda root: place.listed(root / "site")),
    "sums": (b"0" * 64 + b"  index.html\n", "SHA256SUMS", place.sums_at),
    "facts": ((KEPT / "edition.json").read_bytes(), "edition.json", place.edition_at),
    "snapshot": (SNAPSHOT["plain-one.json"], "content/editions/1/plain-one.json", records),
    "what a snapshot shares": (SNAPSHOT["shared.json"], "content/editions/1/shared.json", records),
    "JPEG": (as_jpeg(), "content/pictures/a", photograph),
    "PNG": (as_png(), "content/pictures/a", photograph),
    "WebP": (as_webp(), "content/pictures/a", photograph),
    "seal": ((KEPT / kept.SEAL).read_bytes(), f"content/editions/1/{kept.SEAL}", lambda root: kept.sealed(root, "1")),
}
FOUND = (("words", WORDS.replace(b'msgid "Stop"', b'msgi[ "Stop"')),)
"""A kind and the bytes that once ended otherwise."""


def tried(root: Path, path: str, data: bytes, read: Callable[[Path], object], said: str) -> None:
    """Read these bytes; raises, with what repeats it, where that ends otherwise than it may."""
    target = root / path
    target.parent.mkdir(parents=True, exist_ok=True)
    target.write_bytes(data)
    try:
        read(root)
    except ALLOWED:
        pass
    except Exception as error:
        raise AssertionError(f"{said}: {type(error).__name__}: {error}\n{data[:2000]!r}") from error


@pytest.mark.slow
@pytest.mark.parametrize("kind", KINDS)
def test_a_file_with_other_bytes_is_read_or_refused(tmp_path: Path, kind: str) -> None:
    """Each kind by itself, as it is read by every command."""
    data, path, read = KINDS[kind]
    chance = random.Random(f"{SEED} {kind}")
    for number, made in zip(range(TRIES * 5), mutants(data, chance), strict=False):
        tried(tmp_path, path, made, read, f"GUIDEGEN_SEED={SEED}, {kind}, try {number}")


@pytest.mark.parametrize(("kind", "data"), FOUND)
def test_what_was_found_once_stays_mended(tmp_path: Path, kind: str, data: bytes) -> None:
    """Minimised by hand."""
    _, path, read = KINDS[kind]
    tried(tmp_path, path, data, read, kind)
