"""A site in another language: what the interface says goes through the catalogue, what the maker wrote does not."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from guidegen import pipeline, trade
from tests.conftest import lay_down, lay_down_few
from tests.site.untranslated import CLOSES, LANGUAGE, OPENS, Data, names_of, pseudo, untranslated
from tests.whole import WHOLE


@pytest.fixture(scope="module")
def translated_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demonstration in a language that is its own catalogue, built; its root, editions' pages included.

    A few of its variants, or all of them in `make harden`.
    """
    root = (lay_down if WHOLE else lay_down_few)(tmp_path_factory.mktemp("language") / "workshop")
    (root / "content" / "words").mkdir()
    (root / "content" / "words" / f"{LANGUAGE}.po").write_bytes(pseudo(names_of(trade.load(root))))
    settings = root / "content" / "workshop.yml"
    settings.write_text(settings.read_text(encoding="utf-8").replace("language: en\n", f"language: {LANGUAGE}\n"))
    pipeline.build(root, draws=0)
    return root


def pages(root: Path) -> dict[str, str]:
    """Every page by its path in its own folder."""
    site = root / "site"
    return {
        path.relative_to(site).as_posix().removeprefix("next/"): path.read_text(encoding="utf-8")
        for path in sorted(site.rglob("*.html"))
    }


def test_every_page_says_everything_through_the_catalogue(translated_site: Path) -> None:
    """Text, labels, titles and descriptions of every page; what the maker wrote is known by the YAML itself."""
    data = Data(translated_site)
    assert [line for path, text in pages(translated_site).items() for line in untranslated(path, text, data)] == []


def test_what_scripts_say_is_translated_but_for_the_order(translated_site: Path) -> None:
    """The self-check's words come as data; those of the order are a format, alike in every language."""
    page = pages(translated_site)["guides/tamsin-mk2/feed-preheater/fit.html"]
    found = re.search(r'<script type="application/json">(\{"conditions".*?)</script>', page, re.S)
    assert found
    words = json.loads(found[1])["words"]
    order = words.pop("order")
    printed = [one for value in words.values() for one in (value.values() if isinstance(value, dict) else [value])]
    assert [one for one in printed if not (one.startswith(OPENS) and one.endswith(CLOSES))] == []
    assert order["title"] == "Self-check of a machine for a kit"
    assert f'data-newest="{OPENS}The newest edition of this guide{CLOSES}"' in page


def test_every_page_says_its_language_and_the_theme_speaks_it(translated_site: Path) -> None:
    """The theme brings the language, so its search is in it, too."""
    for path, text in pages(translated_site).items():
        assert f'<html lang="{LANGUAGE}"' in text, path
    assert 'placeholder="Serĉo"' in pages(translated_site)["compare.html"]


def test_what_the_maker_wrote_is_not_looked_up(translated_site: Path) -> None:
    """Names of kits and steps stand as they were written, also where a message of the interface reads alike."""
    page = pages(translated_site)["guides/tamsin-mk2/feed-preheater/install.html"]
    assert f"{OPENS}Tamsin Mark 2" in page
    assert f"{OPENS}Feed Preheater{CLOSES}" not in page


def test_the_checker_sees_what_is_not_translated(translated_site: Path) -> None:
    """A word, a label, a tail behind a message: each is reported; a maker's word, a number with its unit are not."""
    data = Data(translated_site)

    def reported(body: str) -> list[str]:
        return untranslated("x.html", f'<article><div id="guide">{body}</div></article>', data)

    assert reported(f"<p>{OPENS}Ready{CLOSES} later than without</p>") == ["x.html <p> later than without"]
    assert reported('<p aria-label="Steps of this phase">–</p>') == ["x.html <p aria-label> Steps of this phase"]
    assert reported("<p>Does it fit?</p>") == ["x.html <p> Does it fit?"]
    assert reported(f"<p>{OPENS}Read the <a>safety page</a> once.{CLOSES}</p>") == []
    assert reported("<p>Feed Preheater, 46.5\u202fmm → 47\u202fmm</p>") == []
    with pytest.raises(AssertionError, match="torn apart"):
        reported(f"<p>{OPENS}Read the</p>")
