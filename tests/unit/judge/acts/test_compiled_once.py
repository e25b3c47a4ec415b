"""An act is compiled once for all things that it looks at no difference of, and anew where it would be another."""

from __future__ import annotations

from dataclasses import replace

import pytest

from guidegen.judge.acts import compiled as compiling
from guidegen.judge.acts.compiled import Compiled, compiled, compiled_once
from guidegen.judge.acts.row import ActTable
from guidegen.judge.acts.things import Thing, Things
from guidegen.workshop.acts import WrittenAct
from guidegen.workshop.rows import OwnActs

TABLE = ActTable()
UNDO = WrittenAct.model_validate({"id": "a", "act": "undo-joint", "of": "hose"})


def thing(name: str, kind: str, say: str, **more: object) -> Thing:
    """A thing of the tests."""
    return Thing(name, kind, say, say, (name,), f"thing.{name}", **more)  # type: ignore[arg-type]


@pytest.fixture
def things() -> Things:
    """Two joints, and a spanner on the kit's list."""
    made = (thing("hose", "joint", "the feed hose"), thing("pipe", "joint", "the steam pipe"),
            thing("spanner-17", "tool", "the 17 mm spanner", listed="tools", tool_kind="spanner"))  # fmt: skip
    return Things({one.id: one for one in made})


def once(act: WrittenAct, things: Things, table: ActTable = TABLE) -> Compiled:
    """The act, compiled or remembered."""
    return compiled_once(act, things, None, "off", table)


def test_what_the_act_does_not_look_at_may_be_another(things: Things) -> None:
    """The same steps, not merely equal ones: with a thing more, and with another pipe."""
    first = once(UNDO, things)
    assert first.steps
    more = things.having({"tap": thing("tap", "tap", "the tap")})
    assert once(UNDO, more) is first
    assert once(UNDO, more.having({"pipe": thing("pipe", "joint", "the long pipe")})) is first


@pytest.mark.parametrize("more", [{"say": "the red hose"}, {"tools": ("pipe-wrench",)}, {"kind": "lead"}])
def test_of_another_thing_it_is_compiled_anew(things: Things, more: dict[str, object]) -> None:
    """It says, takes in hand, or refuses what it would without a memory; and the first things still have the first."""
    first = once(UNDO, things)
    other = things.having({"hose": replace(things.by_id["hose"], **more)})  # type: ignore[arg-type]
    made = once(UNDO, other)
    assert made == compiled(UNDO, other) != first
    assert once(UNDO, things) is first


def test_what_is_wrong_is_said_anew(things: Things) -> None:
    """The nearest name may be that of a thing that came later."""
    act = WrittenAct.model_validate({"id": "a", "act": "undo-joint", "of": "hoses"})
    assert "hose" in once(act, things).faults[0].fix
    nearer = things.having({"hosed": thing("hosed", "joint", "another hose")})
    assert once(act, nearer).faults == compiled(act, nearer).faults


def test_an_own_act_is_compiled_anew_for_other_things(things: Things) -> None:
    """How bad it may be is asked of all things."""
    row = {"say": "Twist {of}.", "of": ["joint"], "minutes": 1, "why": "It sits.", "role": "hand-tools"}
    own = ActTable.of(OwnActs.model_validate({"acts": {"twist": {**row, "of": ("joint",)}}}))
    act = WrittenAct.model_validate({"id": "a", "act": "twist", "of": "hose"})
    first = once(act, things, own)
    assert once(act, things, own) is first
    assert once(act, things.having({"tap": thing("tap", "tap", "the tap")}), own) is not first


def test_the_memory_does_not_grow_without_end(things: Things, monkeypatch: pytest.MonkeyPatch) -> None:
    """As in a preview in which a procedure is edited all day."""
    monkeypatch.setattr(compiling, "MOST_KEPT", 3)
    for number in range(10):
        once(UNDO.model_copy(update={"id": f"a{number}"}), things)
    assert len(things.made) <= 3
