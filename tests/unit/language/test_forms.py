"""Names by their forms, and what preposition and article become; the grammar is that of German and Italian."""

from __future__ import annotations

import io
from collections.abc import Mapping
from pathlib import Path

import pytest
from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po, write_po

from guidegen.judge.acts.sentence import SentenceWords
from guidegen.language import in_language
from guidegen.language.collect import updated
from guidegen.language.forms import JOIN, Forms, MissingForm, contracted, usual_form

pytestmark = pytest.mark.slow

Entries = Mapping[tuple[str | None, str], str]

GERMAN: Entries = {
    ("forms", "the"): "nom acc dat",
    ("act", "Undo {of}[ at {at}]."): "{of:acc}[ an {at:dat}] lösen.",
    ("act", "{of} is free at {at}, its far end at the boiler."): "{of} ist frei. An {at:dat} und an dem Kessel.",
    ("acc", "the feed hose"): "den Schlauch",
    ("nom", "the feed hose"): "der Schlauch",
    ("dat", "the inlet"): "dem Anschluss",
    ("dat", "the demonstrator"): "demonstrativer Form",
    ("contraction", "an dem"): "am",
}


def po(entries: Entries) -> bytes:
    """A catalogue of these entries, by context and message."""
    catalogue, text = Catalog(), io.BytesIO()
    for (context, message), string in entries.items():
        catalogue.add(message, string, context=context)
    write_po(text, catalogue)
    return text.getvalue()


def workshop(root: Path, entries: Entries, language: str = "de") -> Path:
    """A workshop that brings these entries."""
    folder = root / "content" / "words"
    folder.mkdir(parents=True, exist_ok=True)
    (folder / f"{language}.po").write_bytes(po(entries))
    return root


def hose(forms: Forms, at: str = "the inlet") -> SentenceWords:
    """The words of an act on the hose."""
    return SentenceWords({"of": ["the feed hose"], "at": [at]}, own=frozenset({"of", "at"}), form=forms)


def test_a_name_stands_in_the_form_that_the_template_asks(tmp_path: Path) -> None:
    """The accusative of what is undone; the dative behind the preposition, contracted with it."""
    forms = Forms()
    with in_language("de", workshop(tmp_path, GERMAN)):
        assert hose(forms).fill("Undo {of}[ at {at}].") == "Den Schlauch am Anschluss lösen."
        assert usual_form() == "nom"
    assert forms.missing == []


def test_only_what_was_joined_is_contracted(tmp_path: Path) -> None:
    """A capital stays one; what the translator wrote out stays so; a word that begins like an article is none."""
    with in_language("de", workshop(tmp_path, GERMAN)):
        told = hose(Forms()).fill("{of} is free at {at}, its far end at the boiler.")
        assert told == "Der Schlauch ist frei. Am Anschluss und an dem Kessel."
        assert contracted(f"an {JOIN}demonstrativer Form") == "an demonstrativer Form"
        assert contracted(f"daran {JOIN}dem Kessel") == "daran dem Kessel"


def test_an_article_with_an_apostrophe_is_contracted(tmp_path: Path) -> None:
    """Italian: da + l' is dall', da + il is dal."""
    entries: Entries = {("contraction", "da l'"): "dall'", ("contraction", "da il"): "dal"}
    with in_language("it", workshop(tmp_path, entries, "it")):
        assert contracted(f"Svitare il tubo da {JOIN}l'ingresso") == "Svitare il tubo dall'ingresso"
        assert contracted(f"Svitare il tubo da {JOIN}il raccordo") == "Svitare il tubo dal raccordo"


def test_a_missing_form_is_kept_by_name_and_form_and_never_taken_from_another(tmp_path: Path) -> None:
    """Nobody stored the dative of the outlet; what stands there instead is neither English nor another case."""
    forms = Forms()
    entries = {**GERMAN, ("nom", "the outlet"): "der Auslass", ("acc", "the outlet"): "den Auslass"}
    with in_language("de", workshop(tmp_path, entries)):
        assert "Auslass" not in hose(forms, "the outlet").fill("Undo {of}[ at {at}].")
    assert forms.missing == [MissingForm("the outlet", "dat")]


def test_a_template_that_nobody_translated_stays_english_with_its_names(tmp_path: Path) -> None:
    """Half a sentence in one language and half in another would be none."""
    forms = Forms()
    with in_language("de", workshop(tmp_path, GERMAN)):
        assert hose(forms).fill("Pull {of} off {at}.") == "Pull the feed hose off the inlet."
    assert forms.missing == []


@pytest.mark.parametrize("language", ["en", "de"])
def test_without_a_catalogue_every_form_is_the_name(tmp_path: Path, language: str) -> None:
    """English, and a language that brings no words for acts."""
    with in_language(language, workshop(tmp_path, {(None, "Does it fit?"): "Passt es?"})):
        assert hose(Forms()).fill("Undo {of}[ at {at}].") == "Undo the feed hose at the inlet."


def test_a_name_that_is_filled_in_later_asks_for_its_form_then(tmp_path: Path) -> None:
    """The thing of a repeated step, and facts that are names, bare in the template: they get the usual form."""
    entries = {**GERMAN, ("act", "Tighten {of} by {relief.say}."): "{of:acc} an {relief.say} anziehen."}
    words = SentenceWords({"of": ["{item.say}"]}, own=frozenset({"of"}), form=Forms())
    with in_language("de", workshop(tmp_path, entries)):
        assert words.fill("Tighten {of} by {relief.say}.") == "{item.say-start:acc} an {relief.say:nom} anziehen."


def test_a_workshop_adds_its_names_to_a_language_of_its_own_or_its_variety(tmp_path: Path) -> None:
    """Words of a variety come before those of the language, and both are there."""
    workshop(tmp_path, {("acc", "the feed hose"): "den Zulaufschlauch", (None, "Does it fit?"): "Passt's?"}, "de-AT")
    with in_language("de-AT", workshop(tmp_path, GERMAN)):
        assert hose(Forms()).fill("Undo {of}[ at {at}].") == "Den Zulaufschlauch am Anschluss lösen."


def test_an_update_keeps_the_names_and_contractions_of_a_language() -> None:
    """They stand in no template; what does and is gone from it goes."""
    entries = {**GERMAN, ("act", "Gone {of}."): "Weg {of:nom}.", (None, "Gone."): "Weg."}
    found = {(one.context, one.id): one.string for one in read_po(io.BytesIO(updated(po(entries))))}
    for key, string in GERMAN.items():
        if key[0] != "act":
            assert found[key] == string
    assert ("act", "Gone {of}.") not in found
    assert (None, "Gone.") not in found
    assert found["act", "Undo {of}[ at {at}]."] == "{of:acc}[ an {at:dat}] lösen."
