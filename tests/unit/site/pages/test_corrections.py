"""An instruction of an edition says where its corrections stand, whatever it is read from."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from guidegen.editions import around
from guidegen.editions.edition import Edition
from guidegen.site.pages.pair import pair_page
from tests.fixtures.records import record, site

ROOT = "https://guides.example/"
ADDRESS = f"{ROOT}corrections/2025.1.html"


def test_every_instruction_has_the_address_the_code_and_whom_to_ask() -> None:
    """Nothing of it hangs on a script; other pages, and those of the draft, have no such line."""
    one = record().of_edition("2025.1")
    of_edition = replace(site(one), address=ROOT)
    for kind in ("install", "restore"):
        body = str(pair_page(one, kind, of_edition).body)
        line = body.split('<p class="gg-corrections">')[1].split("</p>")[0]
        assert f'<a href="{ADDRESS}">{ADDRESS}</a>' in line
        assert "<svg" in line
        assert of_edition.reference.publisher.contact in line
        assert "gg-corrections" not in str(pair_page(one, kind, site(one)).body)
    assert "gg-corrections" not in str(pair_page(one, "overview", of_edition).body)


def test_the_address_is_that_of_the_edition(tmp_path: Path) -> None:
    """The draft has none, nor has a site without an address."""
    edition = Edition.model_validate({"edition": "2025.1", "date": "2025-01-01", "guides": {}, "reason": "First."})
    (tmp_path / "mkdocs.yml").write_text("site_url: https://guides.example/\n", encoding="utf-8")
    assert around.address(tmp_path, edition) == ROOT
    assert around.address(tmp_path, None) == ""
    (tmp_path / "mkdocs.yml").write_text("site_name: A Workshop\n", encoding="utf-8")
    assert around.address(tmp_path, edition) == ""
