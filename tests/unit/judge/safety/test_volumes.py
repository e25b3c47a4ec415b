"""The water path cut into volumes, and what lets each off. Cases drawn and followed by hand."""

from __future__ import annotations

import pytest

from guidegen.assess.inventory import things_of
from guidegen.judge.safety.flow import runs_of
from guidegen.judge.safety.state import SUSPENDED, State
from guidegen.judge.safety.volumes import Volumes, volumes_of
from guidegen.workshop.inventory import InventoryUnknown
from tests.mutants.draft import catalogue
from tests.unit.judge.safety.examples import LOOSENED, PIPED, SHUT_TAP, VALVE_OFF
from tests.unit.judge.safety.small import COOL, OFF, PUMP, RELEASE, guide, hold, messages

TAP_OPEN = {**RELEASE, "names": ["tap"]}
PADLOCK = {"id": "lock", "do": "Look at the padlock.", "sets": {"mains": "off"},
           "isolate": {"by": "disconnector", "control": "The key stays with you.", "guarded": True}}  # fmt: skip
LOCKED_NOW = {**PADLOCK, "isolate": {**PADLOCK["isolate"], "guarded": False}}  # type: ignore[dict-item]
TWISTED = {"id": "own", "do": "Set it.", "names": ["tap"], "disturbs": {"joints": ["pipe"]}}
LAST = {"id": "last", "do": "Look.", "hold": hold(at_most="0 drops")}
SHARED = {("hose-end", "pump"), ("hose-end", "hose"), ("valve", "hose")}
BEHIND = {("valve", "boiler"), ("pipe", "boiler"), ("pipe", "tap")}
PATH = volumes_of(PIPED)


@pytest.mark.parametrize(
    ("start", "opened", "volume"),
    [
        ("hose-end", (), SHARED),
        ("boiler", (), BEHIND),
        ("pipe", ("pipe",), BEHIND),
        ("hose", ("hose-end",), {("hose-end", "hose"), ("valve", "hose")}),
    ],
)
def test_a_volume_ends_at_what_can_close_and_at_what_is_open(
    start: str, opened: tuple[str, ...], volume: set[tuple[str, str]]
) -> None:
    """A pump, a tap, and a check valve in a joint; an open joint has two sides that share nothing."""
    assert PATH.volume(PATH.sides([start]), opened) == volume


def test_a_check_valve_on_the_pump_locks_water_between_them() -> None:
    """A volume of one side: no other joint reaches it, so no tap lets it off."""
    path = Volumes({"valve": ("pump", "hose"), "pipe": ("hose", "tap")}, frozenset({"pump", "valve", "tap"}),
                     frozenset({"tap"}))  # fmt: skip
    pocket = path.volume([("valve", "pump")])
    assert (pocket, path.vents(pocket)) == ({("valve", "pump")}, ())
    assert path.vents(path.volume([("valve", "hose")])) == ("tap",)


def test_nothing_presses_on_what_ends_in_the_tank() -> None:
    """The suction side of a pump stands open."""
    path = Volumes({"suction": ("tank", "pump")}, frozenset({"pump"}), tanks=frozenset({"tank"}))
    assert path.is_open(path.volume([("suction", "pump")]))
    assert not PATH.is_open(PATH.volume([("pipe", "boiler")]))


def test_an_end_that_nobody_knows_can_close() -> None:
    """The demonstration's oldest machine as it is, and with a steam tap of which nobody has looked what it is."""
    known, kit = catalogue(), catalogue().kit("banjo-feed")
    machine = known.machine("tamsin-mk1")
    path = volumes_of(things_of(machine, kit)[0])
    hose = path.sides(["feed-hose"])
    assert path.vents(path.volume(hose)) == ("steam-tap",)
    assert {"pump", "steam-tap", "check-valve", "relief"} <= path.closes
    inventory = {**machine.inventory, "steam-tap": InventoryUnknown(kind="unknown")}
    path = volumes_of(things_of(machine.model_copy(update={"inventory": inventory}), kit)[0])
    assert ("steam-tap" in path.closes, path.vents(path.volume(hose))) == (True, ())


def walked(*nights: list[dict[str, object]]) -> list[State]:
    """The state before the last step of each phase, with a night between two."""
    made = [{"id": f"p{n}", "name": "P", "steps": [*steps, LAST], "stop": {"id": f"n{n}"}}
            for n, steps in enumerate(nights)]  # fmt: skip
    (run,) = runs_of(guide(phases=made, things=PIPED).resolved)
    return [run.before[f"p{n}/last"] for n in range(len(nights))]


def test_a_tap_lets_off_its_volume_until_something_presses() -> None:
    """Not what lies behind the check valve; nothing when closed, twisted by an own act, or after the pump."""
    assert walked([OFF, COOL, TAP_OPEN])[0].vented == BEHIND
    assert walked([OFF, COOL, TAP_OPEN, SHUT_TAP])[0].vented == frozenset()
    assert walked([OFF, COOL, TAP_OPEN, PUMP, OFF])[0].vented == frozenset()
    assert walked([OFF, COOL, TAP_OPEN, TWISTED])[0].vented == frozenset()
    assert walked([OFF, COOL, TAP_OPEN, LOOSENED])[0].vented == BEHIND | SHARED


@pytest.mark.parametrize(
    ("morning", "pressure"),
    [
        ([OFF], SUSPENDED),
        ([OFF, COOL], "released"),
        ([PADLOCK], "released"),
        ([LOCKED_NOW], SUSPENDED),
        ([COOL], SUSPENDED),
        ([], SUSPENDED),
    ],
)
def test_a_night_suspends_what_was_let_off(morning: list[dict[str, object]], pressure: str) -> None:
    """A padlock that still holds shows that nobody was there; one hung up now, or a plug, does not until a reading."""
    before, after = walked([OFF, COOL, TAP_OPEN], morning)
    assert (before.pressure, after.pressure) == ("released", pressure)
    assert after.vented == BEHIND
    assert after.holds("pressure", "released") == (pressure == "released")


def test_what_was_never_let_off_is_not_after_a_night_either() -> None:
    """A cold boiler and a padlock say nothing of it."""
    assert walked([OFF, COOL], [PADLOCK, COOL])[1].pressure == "unknown"


def test_a_joint_that_went_for_good_connects_nothing() -> None:
    """The tap lets off what it reaches through joints that are there."""
    gone = {"id": "gone", "do": "Undo it.", "removes": {"joints": ["pipe"], "permanent": True}}
    (state,) = walked([OFF, COOL, TAP_OPEN, gone])
    assert state.parted == ("pipe",)
    assert PATH.volume(PATH.sides(["tap"]), state.parted) == {("pipe", "tap")}


def test_the_message_says_what_to_open_first() -> None:
    """The volume by its things, and the act by hand where no tap reaches it."""
    one = guide(OFF, COOL, TAP_OPEN, {"id": "drain", "do": "Tilt it.", "sets": {"water": "drained"}}, VALVE_OFF,
                things=PIPED)  # fmt: skip
    assert messages("PRS05", one) == [
        "step 1.5 (valve-off): opens valve, but no tap lets off the water at the hose and the pump"
    ]
