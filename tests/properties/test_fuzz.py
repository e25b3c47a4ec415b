"""Files of every kind with bytes changed at random: each is read, or refused in a sentence; nothing else happens.

`make test` tries some thousands, `make harden` a hundred thousand catalogues. A failure prints its seed; GUIDEGEN_SEED
repeats it, and what was found goes into `FOUND`, so that it is tried for ever.
"""

from __future__ import annotations

import os
import random
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from guidegen import language, trade
from guidegen.editions import kept, lines, offers, place, snapshot, withdrawals
from guidegen.editions.units_sold import Unit
from guidegen.judge.fit import order_text
from guidegen.problems import CatalogueError, EnvironmentProblem, UsageProblem
from guidegen.site import handwritten
from guidegen.site.engine.settings import read_settings
from tests.unit.editions.small import record
from tests.whole import WHOLE

REPOSITORY = Path(__file__).parents[2]
MINIMAL = REPOSITORY / "tests" / "fixtures" / "catalogue_min"
KEPT = REPOSITORY / "content" / "editions" / "2025.1"
SEED = int(os.environ.get("GUIDEGEN_SEED", random.SystemRandom().randrange(2**32)))
TRIES = 10_000 if WHOLE else 40
"""Of each kind of file; the catalogue's take tenths of a second, and count ten times."""

ALLOWED = (CatalogueError, EnvironmentProblem, UsageProblem, OSError)
PIECES = (
    *(
        b"\x00",
        b"\xff\xfe",
        b"\r\n",
        b"\t",
        b"[",
        b"{",
        b"]" * 9,
        b"- " * 50,
        b"&a *a",
        b"<<: *a",
        b"!!python/object:os",
    ),
    *(b"null", b"~", b"-1", b"1e999", b"nan", b"9" * 400, b"\xe2\x80\xae", b"\xd9\xa3", b"{{ 1/0 }}", b"{% for", b"%"),
    *(
        b": ",
        b'"',
        b"'",
        b"../",
        b"\x1b[2J",
        b"#",
        b"\n",
        b" ",
        b"\xf0\x9f\x92\xa9",
        b"true",
        b"2025-02-30",
        b"unknown",
    ),
)

UNIT = b'{"format": 1, "serial": "K", "variant": "a", "kit": "b", "revision": "A", "edition": "1", "facts": {"a": "b"}}'
OFFER = b'{"format": 1, "valid_until": "2025-12-31", "kits": {"collar": {"price": "80 EUR", "stock": 3}}}'
CALLED = b'{"format": 1, "withdrawn": [{"edition": "1", "guide": "a/b", "date": "2025-01-01", "because": "x"}]}'
LISTED = b'[{"version": "2", "title": "2", "aliases": ["latest"]}, {"version": "1-rerendered", "title": "1"}]'
SNAPSHOT = snapshot.pack([record()])
WORDS = b'msgid ""\nmsgstr "Content-Type: text/plain; charset=utf-8\\n"\n\nmsgid "Stop"\nmsgstr "Halt"\n'
ORDER = b"Self-check of a machine for a kit: plain-one, collar\nEdition: 2025.1\nRules: 0123\nboiler.mass = 500 g\n"
PAGE = b'# A\n\n{% for kit in kits %}{{ kit.name | upper }}{% endfor %}\n\n{{ guide("a", "b") ~ "x" }}\n'


def catalogue(root: Path) -> None:
    """A whole workshop."""
    trade.load(root)


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


KINDS: dict[str, tuple[bytes, str, Callable[[Path], object]]] = {
    "mkdocs.yml": ((REPOSITORY / "mkdocs.yml").read_bytes(), "mkdocs.yml", settings),
    "words": (WORDS, "content/words/de.po", words),
    "page": (PAGE, "content/pages/index.md", page),
    "order": (ORDER, "order.txt", order),
    "unit": (UNIT, "units/K-1.json", lambda root: lines.validated(Unit, root / "units" / "K-1.json")),
    "offers": (OFFER, "content/offers.json", offers.files),
    "withdrawals": (CALLED, "content/editions/withdrawn.json", withdrawals.read),
    "versions": (LISTED, "site/versions.json", lambda root: place.listed(root / "site")),
    "sums": (b"0" * 64 + b"  index.html\n", "SHA256SUMS", place.sums_at),
    "facts": ((KEPT / "edition.json").read_bytes(), "edition.json", place.edition_at),
    "snapshot": (SNAPSHOT["plain-one.json"], "content/editions/1/plain-one.json", records),
    "what a snapshot shares": (SNAPSHOT["shared.json"], "content/editions/1/shared.json", records),
    "seal": ((KEPT / kept.SEAL).read_bytes(), f"content/editions/1/{kept.SEAL}", lambda root: kept.sealed(root, "1")),
}
FOUND = (("words", WORDS.replace(b'msgid "Stop"', b'msgi[ "Stop"')),)
"""A kind and the bytes that once ended otherwise."""


def mutants(data: bytes, chance: random.Random) -> Iterator[bytes]:
    """The bytes with one to four changes: something taken out, doubled, put in, exchanged, cut off."""
    while True:
        made = bytearray(data)
        for _ in range(chance.randint(1, 4)):
            start = chance.randrange(len(made) + 1)
            end = min(len(made), start + chance.choice((1, 1, 3, 20, 200)))
            match chance.randrange(6):
                case 0:
                    del made[start:end]
                case 1:
                    made[start:start] = made[start:end] * chance.choice((1, 3, 100))
                case 2:
                    made[start:start] = chance.choice(PIECES)
                case 3:
                    made[start:end] = chance.choice(PIECES)
                case 4 if made and start < len(made):
                    made[start] ^= 1 << chance.randrange(8)
                case _:
                    del made[start:]
        yield bytes(made[:200_000])


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


@pytest.mark.slow
def test_a_catalogue_with_other_bytes_is_read_or_refused(tmp_path: Path) -> None:
    """Any of its files, with all that is checked across them."""
    root = Path(shutil.copytree(MINIMAL, tmp_path / "workshop"))
    paths = sorted(path.relative_to(root).as_posix() for path in root.rglob("*.yml"))
    chance = random.Random(f"{SEED} catalogue")
    for number in range(TRIES * 10):
        path = chance.choice(paths)
        before = (root / path).read_bytes()
        made = next(mutants(before, chance))
        tried(root, path, made, catalogue, f"GUIDEGEN_SEED={SEED}, {path}, try {number}")
        (root / path).write_bytes(before)


@pytest.mark.parametrize(("kind", "data"), FOUND)
def test_what_was_found_once_stays_mended(tmp_path: Path, kind: str, data: bytes) -> None:
    """Minimised by hand."""
    _, path, read = KINDS[kind]
    tried(tmp_path, path, data, read, kind)
