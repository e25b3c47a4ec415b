"""Collecting every message of the interface into one template catalogue, by Babel's extractors.

The result depends on the sources alone: no dates, no line numbers, no paths but those inside the package, so that an
edit elsewhere in a file changes nothing here.
"""

from __future__ import annotations

import ast
import io
import re
from collections.abc import Iterator
from pathlib import Path

import yaml
from babel.messages.catalog import Catalog
from babel.messages.extract import extract
from babel.messages.pofile import read_po, write_po

from guidegen.language.forms import ACT, FORMS, THE

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
ACTS = "judge/acts/rows.yml"
SAID = ("section", "say", "why", "note", "control", "by", "proof", "position", "clamp", "criterion", "some", "method",
        "record", "stop", "help", "listed")  # fmt: skip
"""The table of acts, and those of its keys, however deep, whose texts instructions print."""
ABOUT_FORMS = (
    'Translators: the forms in which a name with its article stands in sentences, as "nom acc dat"; the first is that '
    'of a bare {of}. Each name of a workshop is then an entry of its own, in each form: msgctxt "acc", msgid "the feed '
    'hose". What preposition and article become together is msgctxt "contraction", msgid "an dem", msgstr "am".'
)
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
    found.add(THE, locations=[("guidegen/language/forms.py", 0)], auto_comments=[ABOUT_FORMS], context=FORMS)
    for message in _of_acts(yaml.safe_load((PACKAGE / ACTS).read_text(encoding="utf-8"))):
        found.add(message, locations=[(f"guidegen/{ACTS}", 0)], context=ACT)
    return found


def _of_acts(part: object) -> Iterator[str]:
    """The texts of the table of acts, a count of a hold point as it is printed; what is a fact alone says nothing."""
    for key, value in part.items() if isinstance(part, dict) else enumerate(part) if isinstance(part, list) else ():
        if key in SAID and re.search(r"[^\W\d_]", re.sub(r"\{.*?\}", "", str(value))):
            yield str(value)
        elif key == "looks":
            yield from map(str, value)
        elif key == "none":
            yield f"0 {value}"
        else:
            yield from _of_acts(value)


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
    """A language's catalogue with the messages of today: new ones empty, old ones gone, changed ones marked.

    Its names by their forms and its contractions stay: they are its own.
    """
    catalogue, today = read_po(io.BytesIO(data)), messages()
    collected = {ACT, FORMS, *(one.context for one in today)}
    own = [one for one in catalogue if one.context and one.context not in collected]
    catalogue.update(today, no_fuzzy_matching=False)
    for one in own:
        catalogue.add(one.id, one.string, context=one.context)
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
