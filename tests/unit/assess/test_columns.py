"""A column belongs to its input for good: what is added later moves no range of what was there."""

from __future__ import annotations

import numpy as np
import pytest

from guidegen.assess import columns, inputs
from guidegen.heat.statistics import uniforms
from guidegen.trade.uncertain import Uncertain
from tests import draw_columns

GIVEN = (
    "sensor.metal_share", "kit.contact", "group.to_boiler", "kit.to_case", "group.to_room", "kit.tube.wall",
    "heater.heat_capacity", "group.mass", "model.phase", "mixing", "kit.holds", "losses.boiler_to_case",
    "group.to_water", "boiler.to_water", "control.setpoint", "control.closes", "feed", "control.lag",
    "control.opens", "kit.shields", "boiler.mass", "sensor.lag", "boiler.water", "losses.case_temperature",
    "kit.tube.outside", "heater.to_boiler", "heater.to_water", "heater.power", "control.kp", "control.ki",
    "control.kd", "kit.control.setpoint", "kit.control.kp", "kit.control.ki", "kit.control.kd", "room",
    "model.inside", "kit.mass", "kit.by", "kit.fittings_mass", "water_path.bypass", "kit.heat_capacity",
    "kit.to_boiler", "kit.power", "kit.control.opens", "kit.control.closes", "kit.control.lag", "steam.setpoint",
    "steam.overshoot", "kit.tails", "kit.2.mass", "kit.3.mass", "kit.4.mass", "kit.5.mass", "kit.6.mass", "kit.2.by",
    "kit.3.by", "kit.4.by", "kit.5.by", "kit.6.by",
)  # fmt: skip
"""The columns that were given before; a new one is added behind them, here too. None is moved, renamed or taken out."""


def one(name: str) -> Uncertain:
    """An input that lies anywhere from 0 to 1."""
    return Uncertain(name, name, 0.5, 0.0, 1.0, "ratio", "", "assumed")


def test_columns_are_only_ever_added() -> None:
    """A swap, a removal or a name in between would move ranges in every guide."""
    assert columns.NAMES[: len(GIVEN)] == GIVEN
    assert len(set(columns.NAMES)) == len(columns.NAMES) <= columns.WIDTH


def test_the_width_and_the_seed_are_those_of_every_record() -> None:
    """Another width or seed is another sequence in every column."""
    assert (columns.WIDTH, inputs.SEED) == (128, 7)


def test_a_column_holds_the_draws_of_its_number() -> None:
    """The n-th name has the n-th column of the one sequence; independently drawn here."""
    points = uniforms(128, 64, 7)
    values = inputs.draw([one(name) for name in GIVEN if name != "model.phase"], 64)
    for number, name in enumerate(GIVEN):
        found = values.phase if name == "model.phase" else values[name]
        assert found[1:].tobytes() == points[:, number].tobytes()


def test_an_input_more_moves_no_other(monkeypatch: pytest.MonkeyPatch) -> None:
    """With a new name in the table, and in the draw, the others' numbers stay to the bit."""
    before = inputs.draw([one(name) for name in GIVEN[:5]], 256)
    monkeypatch.setattr(columns, "NAMES", (*columns.NAMES, "kit.lid"))
    after = inputs.draw([one("kit.lid"), *(one(name) for name in GIVEN[:5])], 256)
    for name in GIVEN[:5]:
        assert before[name].tobytes() == after[name].tobytes()
    assert before.phase.tobytes() == after.phase.tobytes()
    assert np.ptp(after["kit.lid"]) > 0.9


def test_more_draws_begin_with_the_fewer() -> None:
    """Twice as many refine the same sequence."""
    few, many = (inputs.draw([one("kit.contact")], count)["kit.contact"] for count in (64, 128))
    assert many[:65].tobytes() == few.tobytes()


def test_an_input_without_a_column_is_refused_with_what_to_do() -> None:
    """Never drawn from another's."""
    with pytest.raises(KeyError, match=r"no column is kept for kit.lid: run `python -m tests.draw_columns`"):
        inputs.draw([one("kit.lid")], 8)


def test_every_input_that_there_can_be_has_a_column() -> None:
    """Of every control, in and out of a kit, and of every effect as often as a kit may have it."""
    assert set(inputs.names()) <= set(columns.NAMES), "run `python -m tests.draw_columns`"


def test_the_command_adds_what_is_missing_and_nothing_else() -> None:
    """Behind the last name, and the second time nothing."""
    text = draw_columns.FILE.read_text(encoding="utf-8")
    assert draw_columns.with_names(text, columns.NAMES, inputs.names()) == text
    more = draw_columns.with_names(text, columns.NAMES, (*inputs.names(), "kit.lid"))
    scope: dict[str, object] = {}
    exec(compile(more, "columns.py", "exec"), scope)
    assert scope["NAMES"] == (*columns.NAMES, "kit.lid")
