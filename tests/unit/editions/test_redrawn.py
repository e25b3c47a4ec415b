"""What an edition draws otherwise than the one before is said, and shown one beside the other."""

from __future__ import annotations

from typing import Any

from guidegen.editions.redrawn import position_changes, redrawn
from guidegen.record import Assessment
from guidegen.units import NARROW_SPACE
from tests.fixtures.records import record
from tests.unit.site.drawings.test_true_to_scale import a_scene, decided


def drawn(clock: float | None = 225.0, sensor: float = 17.0) -> Assessment:
    """A record with an invented boiler, its boss at a direction, its sensor so far out."""
    return record().model_copy(
        update={"scene": a_scene(clock=clock, sensor=sensor), "protrusions": tuple(decided().values())}
    )


def data(one: Assessment) -> dict[str, Any]:
    """A record as an edition keeps it."""
    return one.model_dump(by_alias=True, mode="json")


def test_what_moved_is_said() -> None:
    """From half past seven to nine o'clock, and a sensor from 17 to 20 mm out: old and new, each in words."""
    changes = list(position_changes(data(drawn()), data(drawn(clock=270.0, sensor=20.0))))
    said = {one.about: (one.old, one.new) for one in changes}
    assert said == {
        "where it is: sensor": (f"6:00, 17{NARROW_SPACE}mm", f"6:00, 20{NARROW_SPACE}mm"),
        "where it is: boss": ("7:30", "9:00"),
    }


def test_what_somebody_found_out_is_said() -> None:
    """Nobody knew where the boss is, now somebody does."""
    (change,) = position_changes(data(drawn(clock=None)), data(drawn()))
    assert (change.old, change.new) == ("not known", "7:30")


def test_only_what_looks_otherwise_is_drawn_twice() -> None:
    """A sensor moved on the top shows from above and in the picture; in the elevation it is in front of the axis."""
    older = data(drawn())
    assert redrawn(drawn(), older, "edition 1", "the draft") == []
    found = "".join(redrawn(drawn(sensor=20.0), older, "edition 1", "the draft"))
    assert 'id="drawn-plan-0"' in found
    assert 'id="drawn-picture-1"' in found
    assert "drawn-elevation" not in found
    assert "From above, edition 1." in found


def test_an_edition_without_drawings_has_none_beside_it() -> None:
    """Records of before there were drawings say nothing of them."""
    older = {**data(drawn()), "scene": None}
    assert list(position_changes(older, data(drawn()))) == []
    assert redrawn(drawn(), older, "edition 1", "the draft") == []
