"""A workshop's own acts: they undo, ask and look, and make nothing better."""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from typing import Any, get_args

import pytest
from pydantic import ValidationError

from guidegen.judge.acts.compiled import Compiled, compiled
from guidegen.judge.acts.row import ActTable, rows
from guidegen.judge.acts.things import Thing, Things
from guidegen.judge.safety.facts import Facts
from guidegen.judge.safety.flow import passed
from guidegen.judge.safety.hazard_kinds import needed_by
from guidegen.judge.safety.model import ResolvedStep, Where
from guidegen.judge.safety.resolve import resolve
from guidegen.judge.safety.rules.acts import written
from guidegen.judge.safety.state import CHAINS, State
from guidegen.judge.safety.volumes import Volumes
from guidegen.workshop.acts import WrittenAct
from guidegen.workshop.base import Place, Places
from guidegen.workshop.procedures import Procedure, SharedBlocks
from guidegen.workshop.rows import Kind, OwnActs
from tests.unit.judge.safety.small import document

KINDS = sorted({*get_args(Kind)} - {"any"})
BEST = State(**{name: chain[-1] for name, chain in CHAINS.items()})
#: by hand, from what a hand can do to such a thing: the values that are no longer the best
UNDONE = {
    "bands": {"earth", "leak", "primed"},
    "bolt": {"earth", "leak", "primed"},
    "boiler": {"earth", "leak", "primed"},
    "casing": {"earth"},
    "coil": {"earth", "leak", "primed"},
    "cover": {"earth", "enclosure"},
    "device": {"earth"},
    "earth": {"earth"},
    "face": {"leak", "primed"},
    "faces": {"leak", "primed"},
    "gasket": {"leak", "primed"},
    "heater": {"earth", "leak", "primed"},
    "hose": {"leak", "primed"},
    "joint": {"leak", "primed"},
    "lead": {"earth"},
    "mains-terminals": {"earth"},
    "new-gasket": {"leak", "primed"},
    "new-hose": {"leak", "primed"},
    "protrusion": {"earth", "leak", "primed"},
    "tap": {"leak", "primed"},
    "terminals": {"earth"},
}


def thing(name: str, kind: str, *ends: str, members: tuple[str, ...] = ()) -> Thing:
    """Return a thing that is called by its id."""
    return Thing(name, kind, f"the {name}", name, members or (name,), ends=ends)


def table(**act: Any) -> ActTable:
    """Return the acts of a workshop that has one of its own, `twist`."""
    return ActTable.of(OwnActs.model_validate({"acts": {"twist": {"say": "Twist {of}.", "minutes": 1, **act}}}))


def twisted(things: Things, *names: str, own: ActTable | None = None, dead: str = "off", **more: Any) -> Compiled:
    """Return the step of the own act, done to things."""
    act = WrittenAct.model_validate({"id": "a", "act": "twist", "of": names, **more})
    return compiled(act, things, None, dead, own or table(of="any"))


def step_of(made: Compiled) -> ResolvedStep:
    """Return the one step of an act, as the rules see it."""
    assert made.faults == ()
    (step,) = made.steps
    where = Where(Places({(): Place("p.yml", 1, 1)}, {}), ())
    return ResolvedStep("p/a", "1.1", "p", step, where, frozenset({0}))


@pytest.mark.parametrize("kind", KINDS)
def test_what_was_valid_of_a_thing_is_undone(kind: str) -> None:
    """After the act the machine is as if the worst had been done to the thing; other kinds lose nothing."""
    step = step_of(twisted(Things({"x": thing("x", kind)}), "x"))
    after = passed(BEST, step, Volumes())
    assert {name for name in CHAINS if after.get(name) != BEST.get(name)} == UNDONE.get(kind, set())


@pytest.mark.parametrize(("kind", "name"), [*product(KINDS, CHAINS)])
def test_no_own_act_makes_anything_better(kind: str, name: str) -> None:
    """From the worst and from every value of a variable, nothing of the state is better afterwards."""
    step = step_of(twisted(Things({"x": thing("x", kind)}), "x"))
    worst = State(**{one: chain[0] for one, chain in CHAINS.items()})
    for value in CHAINS[name]:
        for start in (replace(worst, **{name: value}), replace(BEST, **{name: value})):  # type: ignore[arg-type]
            after = passed(start, step, Volumes())
            assert all(chain.index(after.get(one)) <= chain.index(start.get(one)) for one, chain in CHAINS.items())


@pytest.mark.parametrize("kind", KINDS)
def test_a_thing_that_can_hurt_is_touched_on_a_safe_machine_only(kind: str) -> None:
    """Mains off, cool and without pressure are asked; and drained, where water stands behind it."""
    needs = step_of(twisted(Things({"x": thing("x", kind)}), "x")).step.requires
    harmful = kind in (*UNDONE, "seat", "sensor")
    assert (needs.get("mains"), needs.get("temperature"), needs.get("pressure")) == (
        ("off", "cool", "released") if harmful else (None, None, None)
    )
    assert ("water" in needs) == ("leak" in UNDONE.get(kind, ()))


def test_what_hangs_on_a_thing_is_disturbed_with_it() -> None:
    """Whoever moves a pump moves its joint and its lead, and not those of the boiler."""
    things = Things({
        "pump": thing("pump", "place"), "boiler": thing("boiler", "boiler"),
        "hose-end": thing("hose-end", "joint", "hose", "pump"), "pipe": thing("pipe", "joint", "boiler", "tap"),
        "pump-lead": thing("pump-lead", "lead", "switch", "pump"),
    })  # fmt: skip
    assert set(step_of(twisted(things, "pump")).disturbs) == {("joints", "hose-end"), ("leads", "pump-lead")}
    assert step_of(twisted(things, "boiler")).disturbs == (("joints", "pipe"),)


def test_each_thing_of_a_group_counts() -> None:
    """A group that mixes kinds hides none of them."""
    things = Things(
        {"j": thing("j", "joint"), "l": thing("l", "lead"), "both": thing("both", "part", members=("j", "l"))}
    )
    assert set(step_of(twisted(things, "both")).disturbs) == {("joints", "j"), ("leads", "l")}


def test_a_seat_disturbs_every_device() -> None:
    """Nobody says which device sits on it."""
    things = Things({"s": thing("s", "seat"), "fuse": thing("fuse", "device"), "limit": thing("limit", "device")})
    assert set(step_of(twisted(things, "s")).disturbs) == {("devices", "fuse"), ("devices", "limit")}


def test_what_is_out_is_neither_surely_out_nor_in() -> None:
    """A lead that is off may have been put on: nobody may count on either."""
    step = step_of(twisted(Things({"l": thing("l", "lead")}), "l"))
    after = passed(State(out=frozenset({("leads", "l")})), step, Volumes())
    assert (after.out, after.unsure) == (frozenset(), {("leads", "l")})


def test_whoever_touches_leads_is_skilled_enough() -> None:
    """The row may ask for more skill, never for less; and the mains is proved dead where the work is mains work."""
    things = Things({"l": thing("l", "lead"), "d": thing("d", "display")})
    own = table(of="any", role="anyone")
    assert step_of(twisted(things, "l", own=own)).step.role == "wiring"
    assert step_of(twisted(things, "d", own=own)).step.role == "anyone"
    assert step_of(twisted(things, "l", own=own, dead="proved_dead")).step.requires["mains"] == "proved_dead"


def test_what_the_row_asks_is_asked_beside_the_worst_and_never_in_its_place() -> None:
    """`mains: live` at a lead is refused: off is asked. At a display it stands."""
    things = Things({"l": thing("l", "lead"), "d": thing("d", "display")})
    live = table(of="any", needs={"mains": "live", "primed": "yes"})
    assert step_of(twisted(things, "l", own=live)).step.requires["mains"] == "off"
    assert step_of(twisted(things, "d", own=live)).step.requires == {"mains": "live", "primed": "yes"}
    dead = table(of="any", needs={"mains": "proved_dead"})
    assert step_of(twisted(things, "l", own=dead)).step.requires["mains"] == "proved_dead"


def test_a_device_that_was_touched_warns_as_one_off_its_seat() -> None:
    """A twisted word at a thermostat warns of what a thermostat off its seat does."""
    device = step_of(twisted(Things({"d": thing("d", "device")}), "d")).step
    display = step_of(twisted(Things({"d": thing("d", "display")}), "d")).step
    assert ("device-off-seat" in {*needed_by(device)}, "device-off-seat" in {*needed_by(display)}) == (True, False)


@pytest.mark.parametrize("where", ["say", "method"])
@pytest.mark.parametrize(
    ("text", "allowed"),
    [
        ("Loosen the bolt beside {of}.", False),
        ("Pull both leads off {of}.", False),
        ("Join the wires behind {of}.", False),
        ("Cover {of} with felt.", True),
        ("Tap {of} with a finger.", True),
        ("Lay {of} round {at}.", True),
    ],
)
def test_what_can_hurt_is_no_mere_word(where: str, text: str, allowed: bool) -> None:
    """A thing in words alone could not count as disturbed; a verb that is spelled like one is no thing."""
    act: dict[str, Any] = {"of": ("part",), "at": ("boiler",), "say": "Look at {of}.", "minutes": 1}
    act |= {"say": text} if where == "say" else {"hold": {"criterion": "It is.", "method": text, "stop": "Stop."}}
    if allowed:
        assert OwnActs.model_validate({"acts": {"a": act}})
    else:
        with pytest.raises(ValidationError, match="in words alone"):
            OwnActs.model_validate({"acts": {"a": act}})


def test_a_sentence_says_what_its_row_says() -> None:
    """The words, the look and what is cut for good come from the row and the author."""
    step = step_of(
        twisted(Things({"p": thing("p", "part")}), "p", own=table(of="part", looks="cut"), for_good=True)
    ).step
    assert (step.do, step.looks, step.names, step.reversible, step.cut) == ("Twist the p.", "cut", ("p",), False, None)


def test_a_thing_of_another_kind_is_refused() -> None:
    """As with the acts of the program."""
    (fault,) = twisted(Things({"l": thing("l", "lead")}), "l", own=table(of="display")).faults
    assert fault.message == "`l` is a lead; `twist` takes display"


def test_a_name_of_the_program_keeps_its_meaning() -> None:
    """The own row is not used, and every guide of the workshop says so at the row."""
    own = document(
        OwnActs, {"acts": {"undo-joint": {"of": ["joint"], "say": "Look at {of}.", "minutes": 1}}}, "acts.yml"
    )
    made = ActTable.of(own)
    assert made.rows["undo-joint"] is rows()["undo-joint"]
    empty = {"phases": ({"id": "work", "name": "Work", "steps": ({"id": "a", "do": "Look.", "minutes": 1},)},)}
    facts = Facts(acts=made)
    resolved = resolve(document(Procedure, empty, "p.yml"), document(SharedBlocks, {"blocks": {}}, "shared.yml"), facts)

    class OnlyResolved:
        """As much of a guide as the rule asks for."""

        def __init__(self) -> None:
            self.resolved = resolved

    (found,) = written(OnlyResolved())  # type: ignore[arg-type]
    assert found.place == own.places.key(("acts", "undo-joint"))
    assert found.message == "`undo-joint` is an act of the program, which no workshop can write anew"
