"""A new field of a machine that the variant page prints, by the recipe."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.conftest import lay_down_few
from tests.recipes.apply import recipes
from tests.recipes.copied import copy, run

pytestmark = pytest.mark.slow
RECIPE = "Add a field that the variant page prints"
FIELD, WORDS = "serial_number_at", "on the rating plate under the drip tray"
PAGE = "guides/tamsin-mk2/index.html"


@pytest.fixture(scope="module")
def copied(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The package with the recipe followed, and the demonstration with the field."""
    return copy(tmp_path_factory.mktemp("recipe") / "copy", RECIPE)


@pytest.fixture(scope="module")
def site(copied: Path) -> Path:
    """The draft of a few of its variants."""
    few = lay_down_few(copied.with_name("few"), copied)
    run(copied, "guidegen", "build", "--draws", "0", root=few)
    return few / "site" / "next"


def test_four_files_of_the_program_and_a_machine() -> None:
    """The model that reads it, the words that say what it is, the record that keeps it, the template that prints it."""
    files = recipes()[RECIPE].files
    assert [path for path in files if path.startswith("guidegen/")] == [
        "guidegen/trade/machine.py", "guidegen/trade/described.yml", "guidegen/record/stated.py",
        "guidegen/site/pages/templates/variant.html",
    ]  # fmt: skip
    assert len(files) == 5


def test_the_variant_page_prints_it_where_it_is_known(site: Path) -> None:
    """On the variant that states it, and nothing on the others."""
    assert f"<p>Serial number: {WORDS}.</p>" in (site / PAGE).read_text(encoding="utf-8")
    others = [path for path in site.glob("guides/*/index.html") if path != site / PAGE]
    assert others
    assert not any("Serial number:" in path.read_text(encoding="utf-8") for path in others)


def test_the_record_its_schema_and_the_catalogue_know_it(site: Path, copied: Path) -> None:
    """JSON, the record's schema, the schema for editors, and `show` with the place where it was written."""
    record = json.loads((site / "data/tamsin-mk2/feed-preheater.json").read_text(encoding="utf-8"))
    assert record["variant"][FIELD] == WORDS
    schema = json.loads((site / "data/schema.json").read_text(encoding="utf-8"))
    assert FIELD in schema["$defs"]["VariantPart"]["properties"]
    assert FIELD in run(copied, "guidegen", "schema", "machine")
    assert "machines/tamsin/mk2.yml:" in next(
        line for line in run(copied, "guidegen", "show", "tamsin-mk2").splitlines() if FIELD in line
    )


def test_a_slip_in_its_name_is_answered_with_it(copied: Path) -> None:
    """Place and fix, as for any other field."""
    path = copied / "machines" / "tamsin" / "mk2.yml"
    written = path.read_text(encoding="utf-8")
    path.write_text(written.replace(FIELD, "serial_number_is_at"), encoding="utf-8")
    try:
        with pytest.raises(AssertionError, match=rf"machines/tamsin/mk2\.yml:\d+:1: S01(.|\n)*fix: write {FIELD}"):
            run(copied, "guidegen", "check")
    finally:
        path.write_text(written, encoding="utf-8")


def test_the_rules_of_the_house_hold(copied: Path) -> None:
    """Sizes and imports of modules, the schema, what a record holds, and what a new variant begins with."""
    rules = ("test_architecture.py", "trade", "record", "assess/test_stated.py")
    run(copied, "pytest", "-q", "-p", "no:cacheprovider", "-m", "not slow", *(f"tests/unit/{one}" for one in rules))
