"""From what is written in a kit to what is judged: computed names, margins, `not`, other kits, parts' `when`."""

from __future__ import annotations

from fractions import Fraction
from types import SimpleNamespace
from typing import Any, cast

import pytest

from guidegen.judge.comparison import Comparison, Connective, RequirementError, Within, comparisons_of
from guidegen.judge.fit.build import applies, facts_of, is_spread, requirements_of
from guidegen.judge.fit.explained import rows, wanted
from guidegen.judge.fit.requirements import evaluate
from guidegen.judge.logic import Interval, Truth
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine
from guidegen.trade.paths import known_facts
from guidegen.units import NARROW_SPACE, parse
from guidegen.workshop.fields import Choice, Fact
from guidegen.workshop.questions import Effort, Questions
from guidegen.workshop.requirements import Requirement

TABLE = known_facts()


def need(name: str, **written: Any) -> Requirement:
    """One requirement as the YAML gives it."""
    return Requirement.model_validate(
        {"id": name, "says": f"{name}.", "because": "It matters.", **written}, context={"facts": TABLE}
    )


def kit(name: str, *requirements: Requirement, parts: tuple = (), mains_work: bool = False) -> Kit:
    """What building looks at, and nothing else of a kit."""
    made = SimpleNamespace(
        id=name, name=name.title(), requirements=requirements, parts=parts, mains_work=mains_work, needs=None
    )
    return cast(Kit, made)


def part(name: str, **when: Any) -> Any:
    conditions = {key.replace("__", "."): value for key, value in when.items()} or None
    return SimpleNamespace(id=name, name=f"the {name}", when=conditions)


def machine(**facts: Fact | Choice) -> Machine:
    named = {name.replace("__", "."): fact for name, fact in facts.items()}
    return cast(Machine, SimpleNamespace(fact=named.get))


def length(text: str) -> Fact:
    return Fact(text=text, dimension="length", quantity=parse(text, "length"))


WALL = need("wall", fact="boiler.straight_wall", at_least="coil.height", margin="2 mm")
HEIGHT = {"coil.height": Interval.between(0.038, 0.039)}


def only_comparison(test: Any) -> Comparison:
    (found,) = comparisons_of(test)
    return found


def test_a_computed_name_becomes_a_number_with_the_margin() -> None:
    """At least 38 mm to 39 mm and 2 mm of margin: 40 mm to 41 mm, exactly."""
    (condition,) = requirements_of(kit("coil", WALL), {}, HEIGHT, TABLE).roots
    test = only_comparison(condition.test).test
    assert isinstance(test, Within)
    assert test.lowest == Interval(Fraction(40, 1000), Fraction(41, 1000))
    most = need("room", fact="boiler.clearance", at_most="20 mm", margin="2 mm")
    (condition,) = requirements_of(kit("coil", most), {}, {}, TABLE).roots
    test = only_comparison(condition.test).test
    assert isinstance(test, Within)
    assert test.highest == Interval(Fraction(18, 1000), Fraction(18, 1000))


def test_a_name_that_was_not_computed_is_an_error_with_both_names() -> None:
    with pytest.raises(RequirementError, match=r"boiler\.straight_wall is compared with coil\.height, which was not"):
        requirements_of(kit("coil", WALL), {}, {}, TABLE)


def test_not_goes_down_to_the_comparisons() -> None:
    """not (a and b) is (not a) or (not b); two nots are none."""
    a, b = {"fact": "control.kind", "is": "pid"}, {"fact": "mains.connection", "is": "corded"}
    written = need("neither", **{"not": {"all": ({"not": a}, b)}})
    (condition,) = requirements_of(kit("k", written), {}, {}, TABLE).roots
    assert isinstance(condition.test, Connective)
    assert condition.test.kind == "any"
    first, second = comparisons_of(condition.test)
    assert (first.fact, first.negated) == ("control.kind", False)
    assert (second.fact, second.negated) == ("mains.connection", True)


def test_a_kit_as_remedy_brings_its_requirements_under_its_name() -> None:
    banjo = kit("banjo-feed", need("thread", fact="water_path.inlet.thread", **{"is": "G 1/8"}))
    coil = kit("coil", need("inlet", fact="water_path.inlet.fitting", **{"is": "banjo"}, unmet={"kit": "banjo-feed"}))
    efforts = Questions(remedies=(Effort(kit="banjo-feed", minutes=40),))
    found = requirements_of(coil, {"banjo-feed": banjo}, {}, TABLE, efforts)
    assert [one.id for one in found.conditions] == ["inlet", "banjo-feed/thread"]
    (remedy,) = found.roots[0].remedies
    assert (remedy.id, remedy.name, remedy.minutes, remedy.mains_work) == ("kit:banjo-feed", "Banjo-Feed", 40, False)


def test_a_kit_that_is_mains_work_is_so_as_a_remedy() -> None:
    loop = kit("loop", mains_work=True)
    first = kit("first", need("control", fact="control.kind", **{"is": "pid"}, unmet={"kit": "loop"}))
    assert requirements_of(first, {"loop": loop}, {}, TABLE).roots[0].remedies[0].mains_work


def test_kits_in_a_ring_are_refused_by_name() -> None:
    one = kit("one", need("a", fact="control.kind", **{"is": "pid"}, unmet={"kit": "two"}))
    two = kit("two", need("b", fact="control.kind", **{"is": "pid"}, unmet={"kit": "one"}))
    with pytest.raises(RequirementError, match="one needs two needs one"):
        requirements_of(one, {"one": one, "two": two}, {}, TABLE)


def test_a_part_is_a_remedy_where_its_own_when_holds() -> None:
    """Volts and thread are needs of the part; what is chosen for a guide is not."""
    smooth = need(
        "smooth", fact="protrusions.stand_out", at_most="0.5 mm", unmet=({"fabrication": "trim"}, {"part": "boiler"})
    )
    boiler = part("boiler", boiler__exchanged="yes", mains__voltage="230 V~", water_path__inlet__thread="G 1/8")
    efforts = Questions(remedies=(Effort(kit="k", fabrication="trim", name="Trim it", minutes=90, cuts=True),))
    (condition,) = requirements_of(kit("k", smooth, parts=(boiler,)), {}, {}, TABLE, efforts).roots
    trim, exchange = condition.remedies
    assert (trim.id, trim.name, trim.minutes, trim.cuts) == ("fabrication:trim", "Trim it", 90, True)
    assert exchange.id == "part:boiler"
    assert [only_comparison(one.test).fact for one in exchange.needs] == ["mains.voltage", "water_path.inlet.thread"]


@pytest.mark.parametrize(
    ("when", "expected"),
    [
        ({}, Truth.TRUE),
        ({"control__kind": "pid"}, Truth.TRUE),
        ({"control__kind": "thermostat"}, Truth.FALSE),
        ({"control__kind": ("pid", "thermostat")}, Truth.TRUE),
        ({"control__kind": {"not": "thermostat"}}, Truth.TRUE),
        ({"control__kind": {"not": ("pid", "thermostat")}}, Truth.FALSE),
        ({"mains__voltage": "230 V~"}, Truth.UNKNOWN),
        ({"boiler__diameter": {"at_least": "60 mm"}}, Truth.TRUE),
        ({"boiler__diameter": {"at_least": "72.2 mm"}}, Truth.UNKNOWN),
        ({"any": ({"control.kind": "pid"}, {"mains.voltage": "230 V~"})}, Truth.TRUE),
        ({"not": {"control.kind": "pid"}}, Truth.FALSE),
        ({"any": ({"boiler.exchanged": "yes"}, {"control.kind": "thermostat"})}, Truth.TRUE),
    ],
)
def test_when_of_a_part(when: dict, expected: Truth) -> None:
    known = machine(control__kind=Choice(text="pid", word="pid"), boiler__diameter=length("72 mm ± 0.5 mm"))
    assert applies(part("p", **when), known, TABLE) is expected


def test_for_what_a_part_is_made_is_said_in_words() -> None:
    """A value as it was written; limits and joined lines as the table of requirements says them."""
    smooth = need("smooth", fact="control.kind", **{"is": "pid"}, unmet={"part": "boiler"})
    either = {"any": ({"mains.voltage": "230 V~"}, {"boiler.diameter": {"at_least": "60 mm"}})}
    boiler = part("boiler", control__kind={"not": "pid"}, **either)
    (condition,) = requirements_of(kit("k", smooth, parts=(boiler,)), {}, {}, TABLE).roots
    assert [one.says.replace(NARROW_SPACE, " ") for one in condition.remedies[0].needs] == [
        "the boiler: kind is not electronic",
        "the boiler: mains voltage at least 230 V and at most 230 V or outside diameter at least 60 mm "
        "(at least 2.36 in)",
    ]


def test_facts_come_from_the_data_and_unknown_stays_out() -> None:
    """`some units` counts as all that is listed, and is marked as spread."""
    both = Choice(text="some units", known=False, spread=True, options=("straight", "banjo"))
    lengths = (parse("11 mm ± 1 mm", "length"), parse("31 mm ± 1 mm", "length"))
    known = machine(
        boiler__straight_wall=length("46 mm ± 0.5 mm"),
        water_path__inlet__fitting=both,
        water_path__inlet__projection=Fact(
            text="some units", dimension="length", known=False, spread=True, options=lengths
        ),
        boiler__clearance=Fact(text="unknown", dimension="length", known=False),
    )
    inlet = {"fact": "water_path.inlet.fitting", "is": "banjo"}
    low = {"fact": "water_path.inlet.projection", "at_most": "20 mm"}
    room = need("room", fact="boiler.clearance", at_least="20 mm")
    asks = requirements_of(kit("k", WALL, need("inlet", any=(inlet, low)), room), {}, HEIGHT, TABLE)
    assert facts_of(known, asks) == {
        "boiler.straight_wall": Interval.between(0.0455, 0.0465),
        "water_path.inlet.fitting": frozenset({"straight", "banjo"}),
        "water_path.inlet.projection": Interval.between(0.010, 0.032),
    }
    assert is_spread(known, "water_path.inlet.fitting")
    assert not is_spread(known, "boiler.straight_wall")


def test_a_row_shows_both_numbers_and_the_gap() -> None:
    """24 mm ± 0.5 mm where 41 mm are needed: short by 17 mm."""
    asks = requirements_of(kit("k", WALL), {}, HEIGHT, TABLE)
    facts = facts_of(machine(boiler__straight_wall=length("24 mm ± 0.5 mm")), asks)
    (row,) = rows(evaluate(asks, facts), facts, TABLE)
    assert row.met is False
    text = row.detail.replace(NARROW_SPACE, " ")
    assert text == "height of the straight wall 24.00 ± 0.50 mm, at least 41 mm needed: short by 17.0 mm"
    assert row.detail_imperial.replace(NARROW_SPACE, " ").endswith("at least 1.61 in needed: short by 0.669 in")


def test_an_open_row_says_what_settles_it() -> None:
    """Not known: the field's own measurement. Known, but too coarse: measure better."""
    asks = requirements_of(kit("k", WALL), {}, HEIGHT, TABLE)
    (row,) = rows(evaluate(asks, {}), {}, TABLE)
    assert (row.met, row.settles) == (None, "depth gauge, radii not counted")
    coarse = {"boiler.straight_wall": Interval.around(0.041, 0.002)}
    (row,) = rows(evaluate(asks, coarse), coarse, TABLE)
    assert row.settles == "measure better: depth gauge, radii not counted"


def test_limits_in_words_for_paper() -> None:
    either = need("inlet", any=({"fact": "water_path.inlet.fitting", "is": "banjo"},
                                {"fact": "water_path.inlet.projection", "at_most": "20 mm"}))  # fmt: skip
    (condition,) = requirements_of(kit("k", either), {}, {}, TABLE).roots
    assert wanted(condition.test, TABLE).replace(NARROW_SPACE, " ") == (
        "inlet fitting is banjo or how far the inlet fitting sticks out at most 20 mm (at most 0.787 in)"
    )
