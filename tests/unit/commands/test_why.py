"""What one number rests on: found by its short name, its inputs weighed, and how far each of them moves it."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from guidegen.assess.swings import Swing, swings
from guidegen.commands import starting
from guidegen.commands.why import place_of, told
from guidegen.problems import UsageProblem
from guidegen.record.claims import shares
from guidegen.record.places import figures
from guidegen.trade.load import load
from tests.fixtures.records import record

ROOT = Path(__file__).parents[3]


@pytest.mark.parametrize(
    ("asked", "place"),
    [
        ("warm_up.added", "warm_up.added_s"),
        ("warm_up.added_s", "warm_up.added_s"),
        ("drop_ratio.sensor", "drinks.double.drop_ratio.sensor"),
        ("sensor_drop", "drinks.double.with.sensor_drop_k"),
        ("without.sensor_drop", "drinks.double.without.sensor_drop_k"),
        ("energy.day_ratio", "energy.day_ratio"),
        ("drinks.*.with.sensor_drop_k", "drinks.double.with.sensor_drop_k"),
    ],
)
def test_a_number_is_known_by_its_short_name(asked: str, place: str) -> None:
    """Without its unit, its drink and its side it is that of the main drink with the kit."""
    known = record()
    assert place_of(asked, [name for name, _ in figures(known)], known.main_drink) == place


def test_a_wrong_name_gets_the_nearest() -> None:
    """As everywhere."""
    known = record()
    with pytest.raises(UsageProblem, match=r"did you mean warm_up\.added\?"):
        place_of("warm_up.aded", [name for name, _ in figures(known)], known.main_drink)


def test_weights_are_squares_and_add_to_one() -> None:
    """0.6² : 0.3² : 0.2² = 36 : 9 : 4."""
    found = shares({"a": 0.6, "b": -0.3, "c": 0.2})
    assert [round(weight * 49, 3) for weight in found.values()] == [36, 9, 4]
    assert shares({}) == {}


@pytest.mark.slow
def test_the_mass_that_a_weight_adds_moves_as_much_as_its_own_ends(tmp_path: Path) -> None:
    """A law: what is added weighs 195 g at one end and 205 g at the other, and the room moves nothing of it."""
    for name in ("content", "machines"):
        shutil.copytree(ROOT / name, tmp_path / name, ignore=shutil.ignore_patterns("editions", "runs", "builds.yml"))
    starting.new_kit(tmp_path, "weight")
    path = tmp_path / "content" / "kits" / "weight.yml"
    text = path.read_text(encoding="utf-8")
    old = "{kind: none, because: It is not stated yet what this kit changes.}"
    assert old in text
    path.write_text(
        text.replace(old, "{kind: add_mass, to: boiler, mass: 200 g ± 5 g, material: brass}"), encoding="utf-8"
    )
    found = swings(load(tmp_path), "tamsin-mk2", "weight", "budget.added_kg", ["kit.mass", "room"])
    assert found["kit.mass"].low == pytest.approx(0.195, rel=1e-6)
    assert found["kit.mass"].high == pytest.approx(0.205, rel=1e-6)
    assert found["room"] == Swing(pytest.approx(0.2, rel=1e-6), pytest.approx(0.2, rel=1e-6))


def test_what_is_told_names_weight_place_and_what_settles_it() -> None:
    """Every input with the line that states it; the measurements in the order of what they would settle."""
    made = record()
    one, other = (
        made.inputs[at].model_copy(update={"evidence": "assumed", "settles": words, "place": f"machines/x.yml:{at}:3"})
        for at, words in ((0, "a logged cold start"), (1, "weigh it"))
    )
    known = made.model_copy(update={"inputs": (one, other)})
    weights = {other.id: 0.25, one.id: 0.75}
    lines = "\n".join(told(known, "warm_up.added_s", weights, {one.id: Swing(60.0, 600.0)})).replace("\u202f", " ")
    for words in (
        f"75%     {one.name}",
        "machines/x.yml:0:3",
        "60.00 s to 600.00 s",
        "100% of what moves it is assumed",
    ):
        assert words in lines
    assert lines.index("75%  a logged cold start") < lines.index("25%  weigh it")
