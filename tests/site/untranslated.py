"""Finds words of the interface that are not from the catalogue: the checker of a site in a pseudo-language.

In that language every message stands between ⟦ and ⟧. What a reader sees or hears outside of them must come from the
workshop's own YAML, or be named below, where what is no word of a language is listed.
"""

from __future__ import annotations

import ast
import importlib.util
import io
import json
import re
from collections.abc import Iterable, Iterator
from functools import cache
from html.parser import HTMLParser
from pathlib import Path

import yaml
from babel.messages.pofile import read_po, write_po

from guidegen.assess.adapt import facts_of
from guidegen.language.collect import template
from guidegen.language.forms import FORMS, THE
from guidegen.trade import Catalogue
from guidegen.unit_table import UNITS

LANGUAGE = "eo"
"""The theme speaks it, this program does not."""
OPENS, CLOSES = "⟦", "⟧"
SEEN_ATTRIBUTES = ("aria-label", "title", "alt", "placeholder", "label")
SEEN_META = ("description", "og:title", "og:description")
VOID = {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"}

EXCEPTIONS = {
    "script": "no text; what scripts say has its own test",
    "style": "no text",
    "article:not(.guide)": "a hand-written page is its maker's",
    "nav.md-tabs": "names of hand-written pages",
    "nav.md-nav--primary": "names of hand-written pages, and headings, which are looked at where they stand",
    "div.md-copyright": "the maker's line in mkdocs.yml",
    "label.md-header__button": "the switch of colours, named in mkdocs.yml",
    "input.md-option": "the switch of colours, named in mkdocs.yml",
    "formulas.html div.gg-formula": "names, symbols and limits of formulas are docstrings of the physics",
    "problem-codes.html dd": "what a code means is said to the maker, as the terminal says it",
    "safety-rules.html td": "a rule of the lint is said to the maker, as the terminal says it",
    "acts.html td": "an act is said to the maker, as the terminal says it",
    "acts.html th[scope=row]": "names of acts",
    "fields.html dl": "what a field is, is said to the maker, as the terminal says it",
    "fields.html p": "the same of a kind of file",
    "fields.html h2": "names of kinds of files",
    "fields.html summary": "names of fields",
    "fields.html details.contents-small": "names of kinds of files",
    "fields.html nav.md-nav--secondary": "the same",
    "checks.html tbody": "a check against the outside is data of the tests",
    "checks.html h3": "a check against the outside is data of the tests",
    "checks.html dd": "names of formulas are docstrings of the physics",
    "checks.html div.gg-scroll": "the same",
    "checks.html details.contents-small": "the same",
    "checks.html nav.md-nav--secondary": "the same",
    "sources.html th[scope=row]": "titles of books and standards",
    "sources.html a": "names of formulas; inputs by their variant stand on the page of numbers",
    "changes.html td": "what an older edition said, in its language, and what the maker writes now",
    "changes.html li": "the same",
}
"""Elements whose words are not the interface's, and why; on one page only where its name stands before."""

FORMER = ("Both tails together",)
"""What older editions called inputs that are none any more: a list of what changed has no other name for them."""
NO_WORDS = re.compile(
    r"""[a-z0-9_./-]+\.(?:yml|html|csv)(?::\d+)*   # places in files
    | \b[A-Z]{1,3}\d{2}\b                          # codes of problems and rules
    | \b(?:JSON|CSV|PID|A\d-\d\d|M\d+|G)\b         # names of formats; classes and threads of screws
    | \b[A-Za-z](?:\.\d+)?\b                        # marks of sources, letters and numbers of steps
    | [\d.,]+""",
    re.X,
)
APART = re.compile(r"; | · | - | / |: |, | \(|\) | → | – | \+ |(?<=[.)A-Z]) | (?=\d)|\s*[\u202f×≈±=]\s*| to |\n")
"""Between what two sources said, the program puts such signs, which are no words; `to` stands in written ranges."""


def pseudo(names: Iterable[str] = ()) -> bytes:
    """A catalogue in which every message, and every name, says itself between brackets; placeholders, markup stay."""
    catalogue = read_po(io.BytesIO(template()), locale=LANGUAGE)
    for message in catalogue:
        if message.context == FORMS:
            continue  # the language has the one form that every template asks for by itself
        if isinstance(message.id, str):
            message.string = f"{OPENS}{message.id}{CLOSES}" if message.id else message.string
        else:
            message.string = tuple(f"{OPENS}{text}{CLOSES}" for text in message.id)
    for name in names:
        catalogue.add(name, f"{OPENS}{name}{CLOSES}", context=THE)
    text = io.BytesIO()
    write_po(text, catalogue)
    return text.getvalue()


def names_of(known: Catalogue) -> set[str]:
    """Whatever an act of a workshop may name, and what the program names by itself."""
    pairs = ((machine, kit) for machine in known.machines.values() for kit in known.kits.values())
    facts = [facts_of(machine, kit, {}, ()) for machine, kit in pairs]
    found = {thing.say for one in facts for thing in one.things.by_id.values()}
    found |= {item.say or item.name for one in facts for many in one.lists.values() for item in many}
    found |= {one.get("relief.say").text for one in facts}
    found |= {
        f"the {protrusion.name}" for machine in known.machines.values() for protrusion in machine.boiler.protrusions
    }
    return found | {"the plug's earth pin", "the circuit's earth terminal"}


def plain(text: str) -> str:
    """A text as it is compared: one space between words, no full stop, no capital letters."""
    return " ".join(text.split()).strip(" .:;,!?()[]/–—-\u2009").casefold()


class Data:
    """The texts of a workshop's YAML, where a number stands in the place of braces."""

    def __init__(self, root: Path) -> None:
        values = [text for path in sorted(root.rglob("*.yml")) for text in _leaves(_read(path))]
        # What the engine makes of a hand-written page's head and headings.
        pages = sorted((root / "content" / "pages").glob("*.md"))
        lines = [line for path in pages for line in path.read_text(encoding="utf-8").splitlines()]
        values += [re.sub(r"^#+ |^(?:title|description): | \{.*\}$", "", line) for line in lines]
        values += [text for path in sorted((root / "content" / "editions").rglob("*.json")) for text in _symptoms(path)]
        values += [*FORMER]
        # What `the feed hose` is in a list.
        values += [text.removeprefix("the ") for text in values]
        units = {unit.casefold() for one in UNITS.values() for unit in one}
        # A key names what it holds, where the program has no name for it.
        self._values = {plain(re.sub("[._]", " ", text)) for text in values} | {plain(text) for text in values}
        self._values |= _theme() | units
        braces = re.compile(r"\{[^}]+\}")
        # Braces alone, or nearly so, would cover everything.
        filled = {plain(text) for text in values if braces.search(text) and len(plain(braces.sub("", text))) > 3}
        self._filled = [re.compile(re.sub(r"\\\{[^}]*\\\}", ".+?", re.escape(text))) for text in filled]
        self.covers = cache(self._covers)

    def _covers(self, text: str) -> bool:
        """Whether all of a text was written by the maker, or is no word."""
        rest = plain(text)
        if not re.search(r"[^\W\d_]", NO_WORDS.sub("", text)) or not rest:
            return True
        if rest in self._values or any(one.fullmatch(rest) for one in self._filled):
            return True
        numberless = plain(re.sub(r"^r?[a-z]?[\d.,−-]+\s*|^r[a-z]\s|[\d.,−-]+\s*$", "", rest))
        if numberless != rest and self.covers(numberless):
            return True
        return any(self.covers(text[: one.start()]) and self.covers(text[one.end() :]) for one in APART.finditer(text))


def _symptoms(path: Path) -> Iterator[str]:
    """What the makers of older editions wrote of faults: a list of what changed names them."""
    text = path.read_text(encoding="utf-8")
    yield from (json.loads(f'"{one}"') for one in re.findall(r'"symptom": "((?:[^"\\\\]|\\\\.)*)"', text))


def _read(path: Path) -> object:
    return yaml.load(path.read_text(encoding="utf-8"), yaml.BaseLoader)


def _leaves(node: object) -> Iterator[str]:
    if isinstance(node, dict):
        for key, value in node.items():
            yield str(key)
            yield from _leaves(value)
    elif isinstance(node, list):
        for value in node:
            yield from _leaves(value)
    else:
        yield str(node)


def _theme() -> set[str]:
    """The theme's own words, which it has in its own languages; English where it lacks one."""
    package = importlib.util.find_spec("material")
    assert package is not None
    assert package.submodule_search_locations
    folder = Path(package.submodule_search_locations[0], "templates", "partials", "languages")
    found = set()
    for name in ("en", LANGUAGE):
        table = re.search(r"\{\{ (\{.*?\})\[key\]", (folder / f"{name}.html").read_text(encoding="utf-8"), re.S)
        assert table
        found |= {plain(text) for text in ast.literal_eval(table[1]).values()}
    return found


class _Page(HTMLParser):
    """The texts of a page that stand outside of every message, with the element around them."""

    def __init__(self, path: str) -> None:
        super().__init__()
        self.path, self.depth, self.found = path, 0, list[tuple[str, str, str]]()
        self._stack: list[tuple[str, bool]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        excepted = self._excepted(tag, given)
        left_out = excepted or bool(self._stack and self._stack[-1][1])
        if tag not in VOID:
            self._stack.append((tag, left_out))
        if left_out:
            return
        seen = [name for name in SEEN_ATTRIBUTES if name in given]
        if tag == "meta" and {given.get("name"), given.get("property")} & set(SEEN_META):
            seen.append("content")
        if tag == "template":
            seen += [name for name in given if name.startswith("data-") and name != "data-language"]
        for name in seen:
            outside, depth = _outside(given[name], 0)
            assert depth == 0, f"{self.path}: {given[name]}"
            self.found += [(f"{tag} {name}", text, given[name]) for text in outside]

    def handle_endtag(self, tag: str) -> None:
        while self._stack and self._stack.pop()[0] != tag:
            pass

    def handle_data(self, data: str) -> None:
        if self._stack and not self._stack[-1][1]:
            outside, self.depth = _outside(data, self.depth)
            self.found += [(self._stack[-1][0], text, data) for text in outside]

    def _excepted(self, tag: str, given: dict[str, str]) -> bool:
        names = {tag, *(f"{tag}.{one}" for one in given.get("class", "").split())}
        names |= {f"{tag}[scope={given['scope']}]"} if "scope" in given else set()
        names |= {f"{self.path.rpartition('/')[2]} {name}" for name in names}
        if tag == "div" and given.get("id") == "guide":
            # The guide lies in the theme's article.
            self._stack[:] = [(name, False) for name, _ in self._stack]
        if tag == "article":
            names.add("article:not(.guide)")
        return not names.isdisjoint(EXCEPTIONS)


def _outside(text: str, depth: int) -> tuple[list[str], int]:
    found, piece = [], ""
    for sign in text:
        if sign == OPENS:
            depth += 1
        elif sign == CLOSES:
            depth -= 1
        elif depth == 0:
            piece += sign
            continue
        if piece.strip():
            found.append(piece)
        piece = ""
    return ([*found, piece] if piece.strip() else found), depth


def untranslated(path: str, text: str, data: Data) -> list[str]:
    """What a page says outside of every message that its maker did not write."""
    page = _Page(path)
    page.feed(text)
    assert page.depth == 0, f"{path}: a message is torn apart"
    return [
        f"{path} <{place}> {' '.join(said.split())}"
        for place, said, whole in page.found
        # In the maker's own sentence a brace may be filled by several things, with a translated "and" between.
        if not data.covers(said) and not data.covers(whole.replace(OPENS, "").replace(CLOSES, ""))
    ]
