"""One correction in a family's file is one line, with the guides that it holds for; what must be told stands first."""

from __future__ import annotations

from guidegen.editions.change import Change, GuideChanges, Moved
from guidegen.editions.told import headed, told, where

WHY = "a torque changed"
MASS = Change("input", "Boiler, empty", "480 g", "580 g")


def guide(variant: str, kit: str, *changes: Change) -> GuideChanges:
    """A guide with these changes."""
    return GuideChanges(variant, kit, f"{variant} with {kit}", changes)


def bolt(number: str, new: str = "4 N·m") -> Change:
    """A torque at a step."""
    return Change("torque", f"step {number}", "5 N·m", new, WHY, step=number)


def drop(by: float) -> Change:
    """A figure, which moves on each guide by another amount."""
    return Change("figure", f"Sensor drop, {by}", "5 K", "6 K", moved=Moved("Sensor drop", "sensor_drop_k", by))


def test_what_is_the_same_in_several_guides_is_one_line_and_what_must_be_told_the_first() -> None:
    """Whatever number the step has in each; a torque that became another is a line of its own."""
    every = [
        guide("a", "coil", MASS, bolt("7.9"), bolt("7.10"), drop(1.0)),
        guide("b", "coil", MASS, bolt("5.9"), drop(2.0)),
        guide("c", "coil", bolt("5.9", "3 N·m")),
        guide("d", "coil"),
    ]
    found = [(one.words, [each.variant for each in one.guides]) for one in told(every)]
    assert found == [
        ("step 5.9, 7.9, 7.10: 5 N·m → 4 N·m", ["a", "b"]),
        ("step 5.9: 5 N·m → 3 N·m", ["c"]),
        ("Boiler, empty: 480 g → 580 g", ["a", "b"]),
        ("Sensor drop, recomputed, up to ±2.00\u202f°C", ["a", "b"]),
    ]
    assert [name for name, _, _ in headed(every)] == ["notify", "input", "figure"]


def test_guides_are_named_as_shortly_as_can_be() -> None:
    """All of them, every kit of some variants, or a kit on each of them."""
    every = [guide(variant, kit) for variant in ("a", "b", "c") for kit in ("coil", "bolt")]
    assert where(every, every) == "all 6 guides"
    assert where([*every[:4], every[4]], every) == "every kit on a, b; coil on c"
    assert where(every[1:2], every) == "bolt on a"
    assert where(every[:1], every[:1]) == "coil on a"
