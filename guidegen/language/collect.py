"""Collecting every message of the interface into one template catalogue, by Babel's extractors.

The result depends on the sources alone: no dates, no line numbers, no paths but those inside the package, so that an
edit elsewhere in a file changes nothing here.
"""

from __future__ import annotations

import ast
import io
from collections.abc import Iterator
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.extract import extract
from babel.messages.pofile import read_po, write_po

PACKAGE = Path(__file__).parents[1]
LOCALE = PACKAGE / "locale"
TEMPLATE = "guidegen.pot"

KEYWORDS = {"_": None, "gettext": None, "marked": None, "translated": None, "ngettext": (1, 2)}
CONSTRUCTORS = {"Spec": {0: "title", 2: "settles"}, "Output": {0: "name", 1: "meaning", 4: "missing"},
                "Chapter": {0: "name", 1: "meaning"}, "Headline": {0: "words"},
                "Phenomenon": {1: "title", 2: "text"}, "Axis": {0: "label"}}  # fmt: skip
"""Tables of the program whose entries pages print: these of their arguments are messages without being marked."""
COMMENTS = ("Translators:",)
METHODS = {".py": "python", ".html": "jinja2.ext:babel_extract", ".js": "javascript"}
JINJA = {"trim_blocks": "true", "lstrip_blocks": "true", "keep_trailing_newline": "true", "silent": "false"}
ENGINES = ("site/web/overrides",)
"""Templates of the site engine, which knows none of our messages: it is given words."""
HEADER = """\
# Every message of the guides' interface, in English. Made by `python -m guidegen.language`; do not edit.
# A language is a copy of this file with its translations: guidegen/locale/<language>.po, or
# content/words/<language>.po in a workshop."""


def messages() -> Catalog:
    """Every message of the package, with the files that say it."""
    found = Catalog(project="guidegen", version="1", header_comment=HEADER, fuzzy=False)
    for path in sorted(_sources()):
        inside = path.relative_to(PACKAGE).as_posix()
        options = JINJA if path.suffix == ".html" else {}
        with path.open("rb") as file:
            for _, message, comments, context in extract(METHODS[path.suffix], file, KEYWORDS, COMMENTS, options):
                found.add(message, locations=[(f"guidegen/{inside}", 0)], auto_comments=comments, context=context)
        if path.suffix == ".py":
            for message in _in_tables(path.read_text(encoding="utf-8")):
                found.add(message, locations=[(f"guidegen/{inside}", 0)])
    return found


def _in_tables(source: str) -> Iterator[str]:
    """The texts that constructors of tables take as what is shown, written there or named there."""
    module = ast.parse(source)
    named = {
        target.id: one.value
        for one in module.body
        if isinstance(one, ast.Assign)
        for target in one.targets
        if isinstance(target, ast.Name)
    }
    for call in ast.walk(module):
        if not (isinstance(call, ast.Call) and isinstance(call.func, ast.Name) and call.func.id in CONSTRUCTORS):
            continue
        shown = CONSTRUCTORS[call.func.id]
        given = [value for place, value in enumerate(call.args) if place in shown]
        given += [one.value for one in call.keywords if one.arg in shown.values()]
        for value in (named.get(one.id, one) if isinstance(one, ast.Name) else one for one in given):
            for part in value.elts if isinstance(value, ast.Tuple) else [value]:
                if isinstance(part, ast.Constant) and isinstance(part.value, str) and part.value:
                    yield part.value


def _sources() -> Iterator[Path]:
    for ending in METHODS:
        for path in PACKAGE.rglob(f"*{ending}"):
            inside = path.relative_to(PACKAGE).as_posix()
            if not inside.startswith((*ENGINES, "starter/")):
                yield path


def template() -> bytes:
    """The template catalogue as its file holds it."""
    return _written(messages())


def updated(data: bytes) -> bytes:
    """A language's catalogue with the messages of today: new ones empty, old ones gone, changed ones marked."""
    catalogue = read_po(io.BytesIO(data))
    catalogue.update(messages(), no_fuzzy_matching=False)
    return _written(catalogue)


def _written(catalogue: Catalog) -> bytes:
    text = io.BytesIO()
    write_po(text, catalogue, width=118, sort_output=True, include_lineno=False, ignore_obsolete=True)
    dated = ("POT-Creation-Date", "PO-Revision-Date", "Generated-By", "Last-Translator", "Language-Team",
             "Report-Msgid-Bugs-To")  # fmt: skip
    lines = text.getvalue().decode().splitlines(keepends=True)
    return "".join(line for line in lines if not line.startswith(tuple(f'"{name}:' for name in dated))).encode()


def write(folder: Path = LOCALE) -> list[Path]:
    """Write the template catalogue and bring every language up to it; returns the files that changed."""
    wanted = {folder / TEMPLATE: template()}
    wanted |= {path: updated(path.read_bytes()) for path in sorted(folder.glob("*.po"))}
    changed = [path for path, data in wanted.items() if not path.is_file() or path.read_bytes() != data]
    for path in changed:
        path.write_bytes(wanted[path])
    return changed
