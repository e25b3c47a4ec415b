"""A new output, by the recipe: computed in one place, declared in one place, and then everywhere."""

from __future__ import annotations

import csv
import io
import json
import shutil
from pathlib import Path

import pytest

from tests import editions_workshop
from tests.recipes.apply import recipes
from tests.recipes.copied import copy, run

pytestmark = pytest.mark.slow
RECIPE = "Add an output"
NAME, KEY = "Lowest outlet", "lowest_outlet_degc"
PAIR = "plain-one/collar"
PLACE = f"drinks.double.with.{KEY}"


@pytest.fixture(scope="module")
def copied(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The package with the recipe followed."""
    return copy(tmp_path_factory.mktemp("recipe") / "copy", RECIPE)


@pytest.fixture(scope="module")
def workshop(tmp_path_factory: pytest.TempPathFactory, copied: Path) -> Path:
    """A workshop that published an edition before there was the output, and builds its draft with it."""
    root = editions_workshop.lay_down(tmp_path_factory.mktemp("workshop") / "root")
    assert editions_workshop.publish(root, "2025.1", "--date", "2025-03-01") == 0
    run(copied, "guidegen", "--root", str(root), "build", "--draws", "16", root=root)
    return root


@pytest.fixture(scope="module")
def site(workshop: Path) -> Path:
    """The draft of that workshop."""
    return workshop / "site" / "next"


def text(site: Path, path: str) -> str:
    """A file of the site, with plain spaces between numbers and units."""
    return (site / path).read_text(encoding="utf-8").replace("\u00a0", " ")


def test_it_is_computed_and_declared_by_hand_in_two_files() -> None:
    """The third is its test; pages, files and comparisons are not touched."""
    assert list(recipes()[RECIPE].files) == [
        "guidegen/heat/shot.py", "guidegen/record/drinks.py", "tests/unit/heat/test_study.py",
    ]  # fmt: skip


def test_its_own_test_and_the_rules_of_the_house_hold(copied: Path) -> None:
    """The value against the trace; the declaration; the formulas' pages; imports, sizes and form of the modules."""
    files = [path for path in recipes()[RECIPE].files if path.endswith(".py")]
    run(copied, "pytest", "-q", "-p", "no:cacheprovider", "tests/unit/heat/test_study.py", "-k", "lowest or shapes")
    rules = ("tests/unit/record", "tests/unit/test_architecture.py", "tests/unit/site/pages/test_pages.py")
    run(copied, "pytest", "-q", "-p", "no:cacheprovider", *rules)
    run(copied, "ruff", "check", "--no-cache", *files)
    run(copied, "ruff", "format", "--no-cache", "--check", *files)


def test_it_stands_in_the_record_with_a_range(site: Path) -> None:
    """On both sides of the drink, and inside what the other outputs say about the same water.

    The stated boiler stirs least, so its own value may stand at the lower end, or below.
    """
    sides = json.loads(text(site, f"data/{PAIR}.json"))["drinks"]["double"]
    for side in (sides["without"], sides["with"]):
        found = side[KEY]
        assert found["low"] < found["high"]
        assert found["value"] < side["mean_outlet_degc"]["value"] < found["value"] + side["stability_band_k"]["value"]


def test_it_stands_in_the_schema(site: Path) -> None:
    """With its name and its meaning."""
    side = json.loads(text(site, "data/schema.json"))["$defs"]["DrinkSide"]["properties"][KEY]
    assert side["title"] == NAME
    assert side["description"].startswith("Lowest temperature leaving the group")


def test_it_stands_on_the_numbers_page(site: Path) -> None:
    """In a row of its own that links can lead to."""
    page = text(site, f"guides/{PAIR}/numbers.html")
    assert f'id="n-{PLACE.replace(".", "-").replace("_", "-")}"' in page
    assert NAME in page


def test_it_stands_in_the_table(site: Path) -> None:
    """A row of the CSV with unit and range."""
    rows = {
        row["quantity"]: row for row in csv.DictReader(io.StringIO(text(site, f"data/{PAIR}.csv").lstrip("\ufeff")))
    }
    row = rows[PLACE]
    assert (row["name"], row["unit"]) == (NAME, "°C")
    assert 50.0 < float(row["low"]) < float(row["high"]) < 110.0
    assert 50.0 < float(row["value"]) < 110.0


def test_it_stands_in_the_nomenclature_and_beside_its_equation(site: Path) -> None:
    """On the page of the methods, which the numbers page leads to."""
    page = text(site, "formulas.html")
    assert "Lowest temperature leaving the group after the first 5 ml." in page
    assert page.count(NAME) >= 3


def test_it_stands_in_the_comparison_with_an_edition_that_had_none(
    workshop: Path, copied: Path, tmp_path: Path
) -> None:
    """As something new, by name; and the old edition's records still make its pages."""
    root = tmp_path / "workshop"
    shutil.copytree(workshop, root)
    printed = run(copied, "guidegen", "--root", str(root), "changes", "2025.1", "next", "--draws", "16", root=root)
    assert f"{NAME}, computed for the first time: 2 guides" in printed
    shutil.rmtree(root / "site")
    run(copied, "guidegen", "--root", str(root), "editions", "--anew", root=root)
    (page,) = (root / "site").glob(f"2025.1*/guides/{PAIR}/numbers.html")
    assert "not computed then" in page.read_text(encoding="utf-8")
