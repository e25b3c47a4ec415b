"""The language in use: chosen by the workshop, found in its own file, English where nobody translated."""

from __future__ import annotations

import contextlib
from pathlib import Path

import jinja2
import pytest

import guidegen
from guidegen.language import gettext, in_language, install_gettext, lacking, ngettext, translated, translation
from guidegen.language.catalogues import known, languages, untranslated

GERMAN = """\
msgid ""
msgstr ""
"Content-Type: text/plain; charset=utf-8\\n"
"Plural-Forms: nplurals=2; plural=(n != 1);\\n"

msgid "Does it fit?"
msgstr "Passt es?"

msgid "{mass} more on the boiler"
msgstr "{mass} mehr am Kessel"

msgid "one permanent cut"
msgid_plural "{count} permanent cuts"
msgstr[0] "ein Schnitt, der bleibt"
msgstr[1] "{count} Schnitte, die bleiben"

msgid "Hello %(name)s, <b>100 %%</b>"
msgstr "Hallo %(name)s, <b>100 %%</b>"

#, fuzzy
msgid "Doubtful"
msgstr "Zweifelhaft"

msgid "Untranslated"
msgstr ""
"""


@pytest.fixture
def workshop(tmp_path: Path) -> Path:
    """A workshop that brings German."""
    folder = tmp_path / "content" / "words"
    folder.mkdir(parents=True)
    (folder / "de.po").write_text(GERMAN, encoding="utf-8")
    return tmp_path


def test_words_are_those_of_the_language_inside_and_english_outside(workshop: Path) -> None:
    """The choice ends with its block, whatever happened in it."""
    with contextlib.suppress(KeyError), in_language("de", workshop):
        assert gettext("Does it fit?") == "Passt es?"
        assert ngettext("one permanent cut", "{count} permanent cuts", 1) == "ein Schnitt, der bleibt"
        assert ngettext("one permanent cut", "{count} permanent cuts", 3).format(count=3) == "3 Schnitte, die bleiben"
        raise KeyError
    assert gettext("Does it fit?") == "Does it fit?"


def test_what_is_not_or_not_surely_translated_stays_english(workshop: Path) -> None:
    """Half a translation is shown as far as it goes; the catalogue's head is never taken for a word."""
    with in_language("de", workshop):
        assert [gettext(word) for word in ("Doubtful", "Untranslated", "Unheard of", "")] == [
            "Doubtful", "Untranslated", "Unheard of", "",
        ]  # fmt: skip


def test_a_value_never_becomes_markup(workshop: Path) -> None:
    """A message may hold markup, what is put into it is escaped, in Python and in templates."""
    environment = install_gettext(jinja2.Environment(autoescape=True))
    blocks = environment.from_string("{% trans name=it %}Hello {{ name }}, <b>100 %</b>{% endtrans %}")
    calls = environment.from_string('{{ _("Hello %(name)s, <b>100 %%</b>", name=it) }}')
    with in_language("de", workshop):
        assert str(translated("{mass} more on the boiler", mass="<i>")) == "&lt;i&gt; mehr am Kessel"
        for template in (blocks, calls):
            assert template.render(it="<i>%(x)s</i>") == "Hallo &lt;i&gt;%(x)s&lt;/i&gt;, <b>100 %</b>"


def test_a_variety_is_served_by_its_language(workshop: Path) -> None:
    """Austrian German finds German, British English needs nothing, Finnish is not there."""
    assert [known(one, workshop) for one in ("de", "de-AT", "en", "en-GB", "fi")] == [True, True, True, True, False]
    with in_language("de-AT", workshop):
        assert gettext("Does it fit?") == "Passt es?"
        assert translation().code == "de-AT"
    assert {"de", "en"} <= set(languages(workshop))


def test_caches_distinguish_languages(workshop: Path) -> None:
    """The fingerprint follows the words themselves."""
    with in_language("de", workshop):
        german = translation().fingerprint
    (workshop / "content" / "words" / "de.po").write_text(GERMAN.replace("Passt es?", "Paßt es?"), encoding="utf-8")
    with in_language("de", workshop):
        changed = translation().fingerprint
    assert len({german, changed, translation().fingerprint}) == 3


def test_how_much_of_a_language_is_untranslated_is_counted(workshop: Path) -> None:
    """A message counts with words that are neither empty nor doubtful; English has nothing to translate."""
    missing, every = untranslated("de", workshop)
    words = (Path(guidegen.__file__).parent / "locale" / "guidegen.pot").read_text(encoding="utf-8")
    ours = sum(
        f'msgid "{one}"\n' in words for one in ("Does it fit?", "{mass} more on the boiler", "one permanent cut")
    )
    assert ours
    assert missing == every - ours
    assert untranslated("de-AT", workshop) == (missing, every)
    assert untranslated("en", workshop) == (0, 0)
    assert lacking("en", workshop) == ""
    assert lacking("de", workshop) == f", {missing} of {every} messages not in de yet (100%)"
    more = 'msgid "Fields of the data"\nmsgstr "Felder der Daten"\n\n#, fuzzy\nmsgid "Rules"\nmsgstr "Regeln"\n'
    (workshop / "content" / "words" / "de.po").write_text(f"{GERMAN}\n{more}", encoding="utf-8")
    assert untranslated("de", workshop) == (missing - 1, every)
