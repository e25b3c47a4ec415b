"""The template catalogue is complete and today's, and every catalogue keeps the placeholders of its messages."""

from __future__ import annotations

import ast
import io
import re
from pathlib import Path

import pytest
from babel.messages.catalog import Catalog, Message
from babel.messages.pofile import read_po

from guidegen.judge.acts import sentence
from guidegen.judge.acts.examples import made, written
from guidegen.judge.acts.row import rows
from guidegen.language import collect
from guidegen.language.collect import LOCALE, PACKAGE, TEMPLATE, template

CATALOGUES = sorted(LOCALE.glob("*.po"))
FORM = re.compile(r"(?<=\w):[a-z]+(?=\})")
"""The form that a translation of a sentence wants of a name."""
PLACEHOLDER = re.compile(r"\{[\w.-]*\}|%\(\w+\)s|%%|</?[a-z][^>]*>")
SPEAKERS = ("gettext", "ngettext", "marked", "said")


@pytest.fixture(scope="module")
def today() -> bytes:
    """The template catalogue, collected anew."""
    return template()


def kept(message: Message) -> bool:
    """Whether a translation has the placeholders and the markup of its message, each as often; one may go uncounted."""
    ids, strings = ((one,) if isinstance(one, str) else tuple(one) for one in (message.id, message.string))
    wanted = [sorted(PLACEHOLDER.findall(one)) for one in ids]
    found = [sorted(PLACEHOLDER.findall(FORM.sub("", one))) for one in strings if one]
    return all(one == wanted[-1] or (place == 0 and one in wanted) for place, one in enumerate(found))


def messages_in(path: Path) -> set[str]:
    """What a module's calls say, read by Python's own parser; a call inside an f-string is reported as a fault."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    hidden = {inner for outer in ast.walk(tree) if isinstance(outer, ast.JoinedStr) for inner in ast.walk(outer)}
    found = set()
    for call in ast.walk(tree):
        if isinstance(call, ast.Call) and isinstance(call.func, ast.Name) and call.func.id in SPEAKERS:
            for one in call.args[: 2 if call.func.id == "ngettext" else 1]:
                place = f"{path.name}:{call.lineno}"
                assert not isinstance(one, ast.JoinedStr), f"{place}: no message is an f-string"
                if isinstance(one, ast.Constant) and one.value:
                    assert call not in hidden, f"{place}: a message inside an f-string is not collected"
                    found.add(one.value)
    return found


def test_the_template_catalogue_is_todays(today: bytes) -> None:
    """Whoever changes a word collects the words again: `python -m guidegen.language`."""
    assert (LOCALE / TEMPLATE).read_bytes() == today


def test_it_names_no_day_line_or_machine(today: bytes) -> None:
    """The same sources give the same bytes everywhere, and an edit elsewhere in a file changes nothing."""
    text = today.decode()
    assert "-Date:" not in text
    assert not re.search(r"^#: .*:\d", text, re.M)
    assert re.findall(r"^#: (?!guidegen/).*", text, re.M) == []


def test_every_message_of_python_is_collected(today: bytes) -> None:
    """The collector and Python's own parser find the same; the collector reads tokens, which f-strings hide."""
    known: set[str] = set()
    for message in read_po(io.BytesIO(today)):
        known |= {message.id} if isinstance(message.id, str) else set(message.id)
    modules = PACKAGE.rglob("*.py")
    assert {one for path in modules for one in messages_in(path)} - known == set()


@pytest.mark.parametrize("path", CATALOGUES, ids=lambda path: path.name)
def test_a_catalogue_keeps_the_placeholders_and_is_whole(path: Path, today: bytes) -> None:
    """Of every language of the program: nothing is lost in a translation, nothing is missing, nothing is left over."""
    catalogue = read_po(path.open("rb"))
    assert [message.id for message in catalogue if message.id and not kept(message)] == []
    assert {message.id for message in catalogue} == {message.id for message in read_po(io.BytesIO(today))}


def test_a_lost_placeholder_is_seen() -> None:
    """The check itself distinguishes a translation that drops a number from one that moves it."""
    assert kept(Message("{mass} more than <b>%(limit)s</b>", "mehr als <b>%(limit)s</b>: {mass}"))
    assert not kept(Message("{mass} more", "mehr"))
    assert not kept(Message("{mass} more", "{masse} mehr"))
    assert not kept(Message("<b>more</b>", "<b>mehr"))
    assert not kept(Message(("one cut", "{count} cuts"), ("ein Schnitt", "Schnitte")))


def test_an_update_keeps_what_is_translated_and_drops_what_is_gone(tmp_path: Path) -> None:
    """A language's file follows the template: old words go, new ones come empty, translations stay."""
    old = Catalog(locale="de")
    old.add("Does it fit?", "Passt es?")
    old.add("Nobody says this any more", "Das sagt niemand mehr")
    data = io.BytesIO()
    collect.write_po(data, old)
    new = read_po(io.BytesIO(collect.updated(data.getvalue())))
    assert new["Does it fit?"].string == "Passt es?"  # type: ignore[union-attr]
    assert "Nobody says this any more" not in new
    assert "Glossary" in new


def test_every_text_that_an_act_prints_is_collected(today: bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    """What compiling looks up while each act of the table is made once; of a count, what the page prints."""
    asked: set[str] = set()
    monkeypatch.setattr(sentence, "sentence", lambda text: asked.add(text))
    for name, row in rows().items():
        made(name)
        if row.hold:
            asked |= {f"0 {row.hold.none}"} if row.hold.none else {row.hold.some or ""}
    messages = {str(one.id) for one in read_po(io.BytesIO(today)) if one.context == "act"}
    beside = {value for name in rows() for value in map(str, written(name).values())}
    beside |= {str(row.hold.limit) for row in rows().values() if row.hold}
    bounds = [one for row in rows().values() for one in row.bounds.values()]
    beside |= {str(end) for one in bounds for end in (one.at_least, one.at_most, one.tolerance)}
    said = {one for one in asked - beside if re.search(r"[^\W\d_]", re.sub(r"\{.*?\}|\[|\]", "", one))}
    assert len(said) > 300
    assert said <= messages
    around = {text for row in rows().values() for text in (row.section, row.help, row.listed)}
    assert messages - said <= around
    assert around - {None} <= messages


def test_a_translation_keeps_the_slots_of_a_sentence_whatever_form_it_wants() -> None:
    """A slot may ask for a form; one that is left out, or another one, is not the same sentence."""
    for string, right in (("{of:acc} an {at:dat} lösen.", True), ("{of:acc} lösen.", False),
                          ("{of:acc} an {to:dat} lösen.", False)):  # fmt: skip
        assert kept(Message("Undo {of} at {at}.", string, context="act")) is right
