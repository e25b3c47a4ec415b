"""From the written procedure to the steps of one machine."""

from __future__ import annotations

from typing import Any

import pytest

from guidegen.judge.acts.things import Thing, Things
from guidegen.judge.safety.facts import UNKNOWN, Facts, Item, Value, word
from guidegen.judge.safety.resolve import resolve
from guidegen.workshop.procedures import Procedure, SharedBlocks
from tests.unit.judge.safety.small import HELP, document, hold

SHARED = {
    "values": {"limit": {"is": "40 °C", "evidence": "standard", "source": "s"}},
    "blocks": {"pair": {"name": "Pair", "steps": [
        {"id": "one", "do": "Look at {what}."}, {"id": "two", "do": "Wait."}]}},
    "remedies": [{"id": "redo", "name": "Redo", "steps": [{"id": "m", "do": "Redo it."}], "then": {"goto": "one"}}],
}  # fmt: skip
LENGTH = Value("6 mm", 0.006, "length", "measured", "bench")
ITEMS = {"boiler.protrusions": (
    Item("boss", "boss", {"kind": word("boss"), "stands_out": LENGTH}),
    Item("stud", "earth stud", {"kind": word("stud"), "stands_out": LENGTH}),
)}  # fmt: skip


def resolved(*steps: dict[str, Any], facts: Facts | None = None, **top: Any) -> Any:
    """Return the resolved procedure of one phase."""
    data = {"phases": [{"id": "p", "name": "P", "steps": list(steps)}], **top}
    return resolve(document(Procedure, data, "p.yml"), document(SharedBlocks, SHARED, "shared.yml"), facts or Facts())


def keys(one: Any) -> list[str]:
    """Return the keys of the printed steps."""
    return [step.key for step in one.fitting.steps]


def test_a_step_whose_condition_is_false_is_left_out() -> None:
    """And the numbers have no gap."""
    facts = Facts({"mains.connection": word("corded")})
    one = resolved(
        {"id": "a", "do": "Look.", "when": {"mains.connection": "hard-wired"}},
        {"id": "b", "do": "Look.", "when": {"mains.connection": "corded"}}, facts=facts,
    )  # fmt: skip
    assert [(step.key, step.number) for step in one.fitting.steps] == [("p/b", "1.1")]


def test_a_step_whose_condition_is_unknown_is_left_out_and_reported() -> None:
    """Unknown never means applies."""
    facts = Facts({"x": UNKNOWN, "y": word("1")})
    one = resolved({"id": "a", "do": "Look.", "when": {"x": "1", "y": "1"}}, facts=facts)
    assert keys(one) == []
    (undecided,) = one.fitting.undecided
    assert undecided.facts == ("x",)


def test_one_false_line_decides_whatever_else_is_unknown() -> None:
    """Kleene: false and unknown is false."""
    facts = Facts({"x": UNKNOWN, "y": word("2")})
    one = resolved({"id": "a", "do": "Look.", "when": {"x": "1", "y": "1"}}, facts=facts)
    assert keys(one) == []
    assert one.fitting.undecided == ()


def test_steps_are_repeated_over_the_parts_that_the_condition_chooses() -> None:
    """The machine without the boss has no step for it; an earth stud is not a boss."""
    each = {"each": "boiler.protrusions", "where": {"item.kind": "boss"},
            "steps": [{"id": "cut", "do": "Saw the {item.name} off at {item.stands_out}."}]}  # fmt: skip
    one = resolved(each, facts=Facts({}, ITEMS))
    (step,) = one.fitting.steps
    assert step.key == "p/cut-boss"
    assert step.step.do == "Saw the boss off at 6 mm."
    assert keys(resolved(each, facts=Facts({}, {"boiler.protrusions": ()}))) == []


def test_a_list_that_nobody_knows_is_undecided() -> None:
    """No list is not an empty list."""
    one = resolved({"each": "boiler.bolts", "steps": [{"id": "t", "do": "Turn."}]})
    assert [undecided.facts for undecided in one.fitting.undecided] == [("boiler.bolts",)]


def test_a_shared_block_stands_where_it_is_included_and_keeps_its_own_place() -> None:
    """A finding points to the file where the block is written; `as` distinguishes two uses."""
    one = resolved({"include": "pair", "given": {"what": "the lid"}}, {"include": "pair", "as": "again"})
    assert keys(one) == ["p/one", "p/two", "p/again/one", "p/again/two"]
    first = next(iter(one.fitting.steps))
    assert first.step.do == "Look at the lid."
    assert first.where.place().path == "shared.yml"


def test_a_number_keeps_its_evidence_and_source() -> None:
    """From the values of a file, or from the machine; a torque or limit takes them over."""
    one = resolved(
        {"id": "a", "do": "Wait below {limit}.", "hold": hold(at_most="{limit}", instrument="sight", evidence=None,
                                                               source=None)},
        {"id": "b", "do": "Turn.", "torque": {"is": "{boiler.bolts.torque}", "thread": "{boiler.bolts.thread}"}},
        facts=Facts({"boiler.bolts.torque": Value("5 N·m ± 0.5 N·m", 5.0, "torque", "maker-document", "doc"),
                     "boiler.bolts.thread": Value("M5", "M5", evidence="assumed")}),
    )  # fmt: skip
    first, second = one.fitting.steps
    assert (first.step.hold.accept.evidence, first.step.hold.accept.source) == ("standard", "s")
    assert [number.source for number in first.numbers] == ["s"]
    torque = second.step.torque
    assert (torque.is_, torque.thread, torque.evidence, torque.source) == (
        "5 N·m ± 0.5 N·m", "M5", "maker-document", "doc")  # fmt: skip


def test_what_nothing_can_fill_is_reported() -> None:
    """And never printed as if it were a number."""
    (step,) = resolved({"id": "a", "do": "Wait {cool_down.wait}."}).fitting.steps
    assert step.missing == ("cool_down.wait",)


def test_a_factory_spread_belongs_to_its_scenarios() -> None:
    """Printed with "only if", analysed case by case."""
    spread = Facts({"inlet": Value("some units", None, options=("straight", "banjo"))})
    one = resolved(
        {"id": "s", "do": "Look.", "when": {"inlet": "straight"}, "only_if": "the inlet is straight"},
        {"id": "b", "do": "Look.", "when": {"inlet": "banjo"}, "only_if": "the inlet is a banjo"},
        {"id": "all", "do": "Look.", "only_if": "never printed"}, facts=spread,
    )  # fmt: skip
    assert [(step.only_if, sorted(step.scenarios)) for step in one.fitting.steps] == [
        ("the inlet is straight", [0]), ("the inlet is a banjo", [1]), (None, [0, 1])]  # fmt: skip


def test_too_many_spreads_are_no_guide() -> None:
    """Refused, not cut off in silence."""
    spread = Value("some units", None, options=("1", "2"))
    with pytest.raises(ValueError, match="32 combinations"):
        resolved({"id": "a", "do": "Look."}, facts=Facts(dict.fromkeys("abcde", spread)))


@pytest.mark.parametrize(
    ("connection", "mains_work", "role"),
    [("corded", False, "hand-tools"), ("corded", True, "electrically-skilled"),
     ("hard-wired", False, "electrically-skilled"), ("unknown", False, "electrically-skilled")],
)  # fmt: skip
def test_wiring_is_for_the_electrically_skilled_unless_a_plug_is_out(
    connection: str, mains_work: bool, role: str
) -> None:
    """On a machine with a plug somebody confident with hand tools may do it."""
    facts = Facts({"mains.connection": UNKNOWN if connection == "unknown" else word(connection)})
    (step,) = resolved({"id": "a", "do": "Pull.", "role": "wiring"}, facts=facts, mains_work=mains_work).fitting.steps
    assert step.step.role == role


def test_remedies_are_there_only_where_something_leads_to_them() -> None:
    """Shared remedies are many; a guide prints its own."""
    look = {"id": "look", "do": "Look.", "hold": {**hold(at_most="0 drops"), "on_fail": {"goto": "redo"}}}
    assert [one.id for one in resolved(look).fitting.remedies] == ["redo"]
    stays = {"id": "look", "do": "Look.", "hold": {**hold(at_most="0 drops"), "on_fail": HELP}}
    assert resolved(stays).fitting.remedies == ()


def test_what_the_kit_brings_starts_out() -> None:
    """New joints are open until a step makes them."""
    joint = Thing("coil-inlet", "joint", "the inlet of the coil", "inlet of the coil", ("coil-inlet",), brought=True)
    tap = Thing("drain-tap", "tap", "the drain tap", "drain tap", ("drain-tap",), brought=True)
    things = Things({one.id: one for one in (joint, tap)})
    one = resolved({"id": "a", "do": "Look."}, facts=Facts(things=things))
    assert one.fitting.start.missing("joints") == ("coil-inlet",)


def test_a_remedy_that_is_empty_on_this_machine_is_looked_at_once() -> None:
    """Two remedies lead to each other, and the second has no step here; resolving comes to an end."""
    facts = Facts({"mains.connection": word("corded")})
    wired = {"id": "x", "do": "Lock it.", "when": {"mains.connection": "hard-wired"}}
    one = resolved(
        {"id": "a", "do": "Look.", "hold": {**hold(at_most="0 x", instrument="sight"), "on_fail": {"goto": "here"}}},
        facts=facts,
        remedies=[
            {"id": "here", "name": "Here", "steps": [{"id": "b", "do": "Wait."}], "then": {"goto": "nowhere"}},
            {"id": "nowhere", "name": "Nowhere", "steps": [wired], "then": {"goto": "here"}},
        ],
    )
    assert [remedy.id for remedy in one.fitting.remedies] == ["here"]
