"""The table of acts as it is printed: every row, with what the steps that it becomes really need and do."""

from __future__ import annotations

import pytest
import yaml

from guidegen.assess.acts import acts
from guidegen.judge.acts.compiled import compiled
from guidegen.judge.acts.examples import STANDS_FOR, as_written, made, things, written
from guidegen.judge.acts.row import TABLE, rows
from guidegen.judge.safety.measure import measured

PARTS = {act.name: act for section in acts() for act in section.acts}


def test_every_act_of_the_table_is_printed_once_in_its_section() -> None:
    """Names and order are those of the file, read by another reader; every section holds some."""
    data = yaml.safe_load(TABLE.read_text(encoding="utf-8"))
    assert list(PARTS) == list(data)
    assert sum(len(section.acts) for section in acts()) == len(data)
    assert [section.title for section in acts()] == [row["section"] for row in data.values() if "section" in row]
    assert "section" in next(iter(data.values()))


@pytest.mark.parametrize("name", rows())
def test_every_example_can_be_written_as_it_is_printed(name: str) -> None:
    """The printed YAML is read as what stands there, and compiles to as many steps as the act has ways."""
    (step,) = yaml.safe_load(PARTS[name].written)
    done = compiled(as_written(step, PARTS[name].place), things())
    assert done.faults == ()
    assert [one.do for one in done.steps] == [way.example for way in PARTS[name].ways]
    assert {key for key, _ in PARTS[name].takes} == {*step} - {"id", "act", "is"} | {
        slot.key for slot in PARTS[name].slots if slot.optional
    }


@pytest.mark.parametrize("name", [name for name, act in PARTS.items() if act.slots])
def test_what_an_act_takes_it_cannot_do_without(name: str) -> None:
    """Each slot that is not said to be optional is asked for when it is left out."""
    for slot in PARTS[name].slots:
        data = {key: value for key, value in written(name).items() if key != slot.key}
        faults = compiled(as_written(data, PARTS[name].place), things()).faults
        assert bool(faults) is not slot.optional, slot.key


def test_no_example_is_laxer_than_its_bound() -> None:
    """A maker copies it; what the machine's data bound is not compared."""
    compared = 0
    for name in rows():
        for one in (one for step in made(name).steps for one in step.bounds):
            stated, least, most = (measured(text or "") for text in (one.is_, one.bounds.at_least, one.bounds.at_most))
            if stated is None:
                assert "{" in one.is_, name
                continue
            low, high = stated.ends
            assert least is None or low >= least.in_si * (1 - 1e-9), name
            assert most is None or high <= most.in_si * (1 + 1e-9), name
            compared += 1
    assert compared > 20


def test_what_follows_from_an_act_is_what_the_kernel_says() -> None:
    """By hand, from the kernel and its known hazards: a joint, the heater's leads, a saw, the mains in two ways."""
    joint = PARTS["undo-joint"].ways[0]
    assert joint.needs == ("temperature cool", "pressure released", "water drained")
    assert {"leak cold ok", "primed yes"} <= {*PARTS["push-leads"].ways[0].needs}
    saw = PARTS["saw"].ways[0]
    assert saw.irreversible
    assert saw.hazards == ("saw-and-file", "metal-dust")
    assert {"eye-protection", "ffp2-mask"} <= {*saw.tools}
    assert PARTS["undo-screws"].ways[0].hazards == ("live-parts",)  # the table names none; the kernel knows it
    plug, disconnector = PARTS["cut-mains"].ways
    assert (plug.who, disconnector.who) == ("anyone", "electrically-skilled")
    assert plug.sets == disconnector.sets == ("mains off",)


def test_a_limit_says_its_sense_its_bound_and_who_states_it() -> None:
    """The author's, with the bound of the row; the row's own; a count."""
    takes = dict(PARTS["earth-test"].takes)
    assert takes["limit"] == (
        "at most a resistance, never over 0.3 Ω, 0.1 Ω more for each 7.5 m of {lead_length} over 5 m, to 1 Ω at most"
    )
    assert dict(PARTS["insulation-test"].takes)["limit"] == "at least a resistance, never under 0.3 MΩ"
    own = PARTS["count-attempts"].hold
    assert own is not None
    assert own.number is not None
    assert own.number.fixed == "2 attempts"
    assert "limit" not in dict(PARTS["count-attempts"].takes)
    look = PARTS["look-tissues"].hold
    assert look is not None
    assert (look.counts, look.number) == ("0 damp tissues", None)
    assert dict(PARTS["try-device"].takes) == {"of": "device", "limit": "at most a resistance, never over 2 Ω"}


def test_every_kind_that_an_act_takes_has_something_that_stands_for_it() -> None:
    """Otherwise its example could not be written."""
    kinds = {kind for act in PARTS.values() for slot in act.slots for kind in slot.kinds}
    assert kinds <= {*STANDS_FOR}
    assert {STANDS_FOR[kind] for kind in kinds} <= {*things().by_id}
