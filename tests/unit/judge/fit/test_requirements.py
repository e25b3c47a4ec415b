"""Outcomes, reasons and remedies of small trees, each expected value written out by hand."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[3] / "fixtures"))

from fit_cases import RICH, at_least, at_most, millimetres, one_of

from guidegen.judge.comparison import Facts, RequirementError
from guidegen.judge.fit.remedies import MOST_SETS, TooManyRemedies, without_cutting
from guidegen.judge.fit.requirements import Requirements, evaluate
from guidegen.judge.fit.tree import Condition, Remedy
from guidegen.judge.logic import Interval, Truth

GOOD: Facts = {
    "boiler.straight_wall": millimetres(46),
    "boiler.clearance": millimetres(24),
    "control.kind": frozenset({"pid"}),
    "protrusions.stand_out": millimetres(0),
    "protrusions.carry_device": frozenset({"no"}),
    "water_path.inlet.fitting": frozenset({"banjo"}),
    "water_path.inlet.projection": millimetres(30),
    "water_path.inlet.thread": frozenset({"G 1/8"}),
    "mains.voltage": Interval.around(230),
    "mains.connection": frozenset({"corded"}),
    "heater.power": Interval.around(1150),
}


def but(**changed: object) -> dict:
    """GOOD with some facts changed; None makes one unknown."""
    names = {name.rsplit(".", 1)[-1]: name for name in GOOD}
    facts = {**GOOD, **{names[name]: value for name, value in changed.items()}}
    return {name: value for name, value in facts.items() if value is not None}


def reasons(facts: dict) -> list[tuple[str, Truth]]:
    return [(one.condition.id, one.truth) for one in evaluate(RICH, facts).reasons]


def test_everything_met_fits_without_reasons() -> None:
    found = evaluate(RICH, GOOD)
    assert (found.outcome, found.reasons, found.remedies) == ("fits", (), ())


def test_a_condition_without_remedy_disqualifies() -> None:
    """The wall is too short: no other fact matters, known or not."""
    found = evaluate(RICH, but(straight_wall=millimetres(30), kind=None))
    assert found.outcome == "does-not-fit"
    assert found.reasons[0].disqualifies


def test_unknown_is_never_met_and_never_unmet() -> None:
    """Even where the remedy would be at hand: whether it is needed is not known."""
    found = evaluate(RICH, but(stand_out=None))
    assert found.outcome == "cannot-tell-yet"
    assert found.remedies == ()


def test_nothing_known_cannot_tell() -> None:
    assert evaluate(RICH, {}).outcome == "cannot-tell-yet"


def test_sets_are_ranked_by_effort_and_one_of_them_cuts_nothing() -> None:
    """Trimming takes 60 minutes and cuts; the exchange boiler takes 90 and does not."""
    found = evaluate(RICH, but(stand_out=millimetres(3)))
    assert found.outcome == "fits-with-conditions"
    assert [one.ids for one in found.remedies] == [("fabrication:trim",), ("part:exchange",)]
    quiet = without_cutting(found.remedies)
    assert quiet is not None
    assert quiet.ids == ("part:exchange",)
    assert quiet.mains_work


def test_a_part_has_its_own_applicability() -> None:
    """At 120 V there is no exchange boiler; of unknown watts it is named with what must hold first."""
    assert [
        one.ids for one in evaluate(RICH, but(stand_out=millimetres(3), voltage=Interval.around(120))).remedies
    ] == [("fabrication:trim",)]
    unknown = evaluate(RICH, but(stand_out=millimetres(3), power=None)).remedies
    assert [(one.ids, [need.id for need in one.provided]) for one in unknown] == [
        (("fabrication:trim",), []),
        (("part:exchange",), ["exchange/power"]),
    ]


def test_a_row_offers_no_remedy_that_is_ruled_out() -> None:
    """At 120 V there is no exchange boiler, so the table does not name one; at 230 V it stands beside the saw."""
    for voltage, offered in ((120, ["fabrication:trim"]), (230, ["fabrication:trim", "part:exchange"])):
        facts = but(stand_out=millimetres(3), voltage=Interval.around(voltage))
        (unmet,) = (one for one in evaluate(RICH, facts).judged if one.truth is Truth.FALSE)
        assert [one.id for one in unmet.open_remedies] == offered


def test_one_remedy_for_two_conditions_is_one_set() -> None:
    """A device on the protrusion: the exchange boiler remedies both, and trimming alone is not enough."""
    found = evaluate(RICH, but(stand_out=millimetres(3), carry_device=frozenset({"yes"})))
    assert [one.ids for one in found.remedies] == [("part:exchange",)]


def test_a_remedy_that_cannot_be_applied_does_not_help() -> None:
    """A device on the protrusion of a 120 V machine: nothing helps."""
    found = evaluate(RICH, but(carry_device=frozenset({"yes"}), voltage=Interval.around(120)))
    assert found.outcome == "does-not-fit"


def test_a_kit_brings_what_it_needs_itself() -> None:
    """A tall straight fitting with a G 1/4 thread: Banjo, and the adapter that Banjo needs."""
    found = evaluate(RICH, but(fitting=frozenset({"straight"}), thread=frozenset({"G 1/4"})))
    assert [one.ids for one in found.remedies] == [("kit:banjo", "part:adapter")]
    assert found.remedies[0].minutes == 50
    assert reasons(but(fitting=frozenset({"straight"}), thread=frozenset({"G 1/4"}))) == [
        ("inlet", Truth.FALSE),
        ("banjo/thread", Truth.FALSE),
    ]


def test_needs_of_a_remedy_that_is_not_wanted_are_no_reasons() -> None:
    """A thread that Banjo could not use, on a machine that does not need Banjo."""
    assert reasons(but(thread=frozenset({"G 1/4"}))) == []


def test_any_holds_by_either() -> None:
    """A straight fitting is fine where it is low."""
    assert evaluate(RICH, but(fitting=frozenset({"straight"}), projection=millimetres(18, 20))).outcome == "fits"
    assert evaluate(RICH, but(fitting=None, projection=millimetres(18, 20))).outcome == "fits"
    assert evaluate(RICH, but(fitting=None, projection=millimetres(19, 21))).outcome == "cannot-tell-yet"


def test_two_meanings_of_one_id_are_refused() -> None:
    wall = Condition("wall", "Tall.", at_least("boiler.straight_wall", millimetres(40)))
    low = Condition("wall", "Low.", at_most("boiler.straight_wall", millimetres(60)))
    with pytest.raises(RequirementError, match="two different conditions have the id wall"):
        Requirements((wall, low))


def test_a_word_is_not_compared_with_a_quantity() -> None:
    one = Requirements((Condition("wall", "Tall.", at_least("control.kind", millimetres(40))),))
    with pytest.raises(RequirementError, match=r"control\.kind: a word is compared with a quantity"):
        evaluate(one, {"control.kind": frozenset({"pid"})})


def test_more_sets_than_anybody_reads_are_refused() -> None:
    """Seven conditions with two remedies each: 128 sets."""
    facts = {f"fact{n}": frozenset({"bad"}) for n in range(7)}
    assert MOST_SETS < 2**7
    many = Requirements(
        tuple(
            Condition(
                f"c{n}",
                "Good.",
                one_of(f"fact{n}", "good"),
                remedies=tuple(Remedy(f"part:{n}{side}", "part", "P", 1) for side in "ab"),
            )
            for n in range(7)
        )
    )
    with pytest.raises(TooManyRemedies):
        evaluate(many, facts)


LOOP = Requirements((
    Condition("thermostat-now", "A thermostat controls it.", one_of("control.kind", "thermostat"), has_already=True),
    Condition("power", "The heater takes at most 1000 W.", at_most("heater.power", Interval.around(1000))),
))  # fmt: skip


@pytest.mark.parametrize(
    ("kind", "power", "outcome"),
    [
        ("thermostat", 900, "fits"),
        ("thermostat", 1150, "does-not-fit"),
        ("pid", 900, "has-already"),
        ("pid", 1150, "has-already"),
        ("pid", None, "has-already"),
        (None, 900, "cannot-tell-yet"),
        (None, 1150, "does-not-fit"),
    ],
)
def test_who_has_one_already_needs_none(kind: str | None, power: float | None, outcome: str) -> None:
    """Whatever else the machine lacks; but only where it is known that it has one."""
    facts: dict = {"control.kind": frozenset({kind})} if kind else {}
    facts |= {"heater.power": Interval.around(power)} if power else {}
    assert evaluate(LOOP, facts).outcome == outcome
