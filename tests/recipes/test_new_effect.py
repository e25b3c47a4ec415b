"""A new effect, by the recipe: one file and its place in the list, and a kit can have it."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from guidegen.record import apart
from tests import editions_workshop
from tests.recipes.apply import recipes
from tests.recipes.copied import copy, run

pytestmark = pytest.mark.slow
RECIPE = "Add an effect"
KIT = """\
name: Pocket
invented: true
revision: A
summary: A pocket for the sensor, invented for tests.
reason: Because.
status: draft
effects:
  - {kind: slow_sensor, lag_by: {is: 200 %, from: 150 %, to: 300 %}}
parts:
  - {id: pocket, name: pocket, count: 1}
tools:
  - {id: spanner, name: spanner}
consumables: []
wetted: []
requirements:
  - {id: brass, says: It is of brass., fact: boiler.material, is: brass, unmet: no, because: Because.}
downsides:
  - {id: mass, about: mass, what: Heavier., likely: certain, do: Nothing.}
OTHERS
restore: {possible: true, how: Take it out.}
""".replace(
    "OTHERS",
    "\n".join(
        f"  - {{id: {about}, about: {about}, what: None., likely: none}}"
        for about in ("irreversible", "warranty", "approval", "insurance", "energy", "warm-up", "noise", "leak",
                      "scale", "water", "service", "resale", "time", "skills")
    ),
)  # fmt: skip


@pytest.fixture(scope="module")
def copied(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The package with the recipe followed, and columns given."""
    made = copy(tmp_path_factory.mktemp("recipe") / "copy", RECIPE)
    assert "1 columns given" in run(made, "tests.draw_columns")
    return made


@pytest.fixture(scope="module")
def workshop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A workshop with a kit that has the effect."""
    root = editions_workshop.lay_down(tmp_path_factory.mktemp("workshop") / "root")
    (root / "content" / "kits" / "pocket.yml").write_text(KIT, encoding="utf-8")
    return root


@pytest.fixture(scope="module")
def built(copied: Path, workshop: Path) -> dict[str, Any]:
    """The record of that kit on a machine, in the built draft."""
    run(copied, "guidegen", "--root", str(workshop), "build", "--draws", "64", root=workshop)
    path = workshop / "site" / "next" / "data" / "plain-one" / "pocket.json"
    return apart.whole(json.loads(path.read_bytes()), lambda reference: (path.parent / reference).read_bytes())


def test_three_files_are_edited_by_hand() -> None:
    """The effect's own, the words that say what its fields are, and the list of effects."""
    assert list(recipes()[RECIPE].files) == [
        "guidegen/trade/effects/slow_sensor.py", "guidegen/trade/described.yml", "guidegen/trade/effects/__init__.py",
    ]  # fmt: skip


def test_the_rules_of_the_house_hold(copied: Path) -> None:
    """Every law of effects, the registry, imports, form."""
    rules = ("tests/unit/trade/effects", "tests/unit/test_architecture.py", "tests/unit/assess/test_columns.py")
    run(copied, "pytest", "-q", "-p", "no:cacheprovider", *rules)
    files = [path for path in recipes()[RECIPE].files if path.endswith(".py")]
    run(copied, "ruff", "check", "--no-cache", *files)
    run(copied, "ruff", "format", "--no-cache", "--check", *files)


def test_the_water_falls_further(built: dict[str, Any]) -> None:
    """A controller that learns of a drop later heats later; and the range is a range."""
    drink = built["drinks"]["double"]
    without, fitted = drink["without"]["water_drop_k"], drink["with"]["water_drop_k"]
    assert fitted["value"] > without["value"]
    assert fitted["low"] < fitted["value"] < fitted["high"]


def test_its_input_stands_among_those_that_matter(built: dict[str, Any]) -> None:
    """On the ratio of the drops, which it alone moves from one."""
    assert "kit.lag_by" in built["influence"]["drinks.double.drop_ratio.sensor"]


def test_it_stands_in_the_schema_for_editors(copied: Path, workshop: Path) -> None:
    """With the field that it takes."""
    schema = json.dumps(json.loads(run(copied, "guidegen", "--root", str(workshop), "schema", "kit", root=workshop)))
    assert "slow_sensor" in schema
    assert "lag_by" in schema


def test_a_wrong_value_is_reported_with_its_place(copied: Path, workshop: Path) -> None:
    """As for every other effect."""
    file = workshop / "content" / "kits" / "pocket.yml"
    before = file.read_text(encoding="utf-8")
    try:
        file.write_text(before.replace("200 %", "200 mm"), encoding="utf-8")
        with pytest.raises(AssertionError, match=r"content/kits/pocket\.yml:\d+:\d+: Q"):
            run(copied, "guidegen", "--root", str(workshop), "check", root=workshop)
    finally:
        file.write_text(before, encoding="utf-8")
