"""The whole cost: what is bought, days by the clock, electricity of a year, visits, tools, each worked out by hand."""

from __future__ import annotations

import json
from typing import Any

import pytest

from guidegen.assess import verdict
from guidegen.record import Assessment, Figure
from guidegen.record.procedure import InstructionPhase
from guidegen.site.pages import cost, effort
from guidegen.site.pages.effort import Stretch
from guidegen.units import NARROW_SPACE
from tests.fixtures.records import record
from tests.mutants.draft import catalogue

WORK, NIGHT = Stretch, lambda hours: Stretch(hours * 60, is_wait=True)


@pytest.mark.parametrize(
    ("stretches", "bench_h", "hours"),
    [
        # One hour of work, a wait of 13 h, one hour: begun in the last hour of the bench, the wait ends in the night.
        # With 8 h at the bench that opens after 24 h: 1 h + 13 h + 2 h until it opens + 1 h; begun later it is as long.
        ((WORK(60), NIGHT(13), WORK(60)), 8, 18),
        # Two hours in evenings of one: the second follows 23 h after the first.
        ((WORK(120),), 1, 25),
        # Eight hours fit one day of eight.
        ((WORK(480),), 8, 8),
        # A wait alone runs through.
        ((NIGHT(13),), 3, 13),
        ((), 8, 0),
    ],
)
def test_the_clock_by_hand(stretches: tuple[Stretch, ...], bench_h: int, hours: float) -> None:
    assert effort.shortest(stretches, bench_h * 60) == pytest.approx(hours * 60)


def phase(minutes: float, *waits: str, only_if: str | None = None) -> InstructionPhase:
    return InstructionPhase(id="a", number="1", name="A", minutes=minutes, only_if=only_if, waits=waits, stop=None,
                            steps=())  # fmt: skip


def with_phases(*phases: InstructionPhase) -> Assessment:
    made = record()
    assert made.procedure is not None
    fitting = made.procedure.fitting.model_copy(update={"phases": phases})
    return made.model_copy(update={"procedure": made.procedure.model_copy(update={"fitting": fitting})})


def test_days_of_a_whole_fitting_by_hand() -> None:
    """Two waits of 13 h with 7 h of work between them.

    Whole days of 8 h: switched off at the end of a day (hour 7.75), cold at hour 21, the bench opens at 24, 7 h of
    work until 31, cold at 44, open at 48, and a quarter of an hour: 40.5 h, so two days. Evenings of 3 h: from hour
    2.75 over 24 to 27, 48 to 51 and 72 to 73, cold at 86, open at 96: 93.5 h, so four days.
    """
    found = effort.days(with_phases(phase(15, "13 h"), phase(420, "13 h"), phase(15)))
    assert found is not None
    assert (found.fewest, found.most, found.waits) == (2, 4, (780.0, 780.0))


def test_who_does_one_way_does_not_do_the_other() -> None:
    """Of phases for some readers the longest counts, in its place."""
    phases = (phase(10), phase(60, only_if="a"), phase(20, only_if="b"), phase(5, "4.5 h"))
    assert effort.stretches(phases) == (Stretch(10), Stretch(60), Stretch(5), Stretch(270, is_wait=True))


def figure_of(value: float, low: float, high: float) -> Figure:
    return Figure(value=value, low=low, high=high)


def with_energy(added: Figure, session_wh: float, session_cost: float) -> Assessment:
    made = record()
    side = made.energy.without.model_copy(
        update={"session_wh": Figure(value=session_wh), "session_cost": Figure(value=session_cost)}
    )
    energy = made.energy.model_copy(update={"day_added_wh": added, "without": side, "currency": "EUR"})
    return made.model_copy(update={"energy": energy})


def test_a_year_of_electricity_by_hand() -> None:
    """20 Wh a day are 7.3 kWh in 365 days; at 0.30 a kWh, of which a session of 100 Wh costs 0.03, they cost 2.19."""
    found = cost.year(with_energy(figure_of(20.0, 10.0, 40.0), 100.0, 0.03))
    assert found is not None
    assert found.per_kwh == pytest.approx(0.30)
    assert found.energy.ends == pytest.approx((7300.0, 3650.0, 14600.0))
    assert found.cost.ends == pytest.approx((2.19, 1.095, 4.38))
    assert cost.money(found.cost, "EUR") == f"2.2{NARROW_SPACE}EUR"


def test_money_that_may_be_saved_has_a_proper_minus() -> None:
    assert cost.money(figure_of(0.5, -0.7, 2.7), "EUR", only_range=True) == f"−0.7 to 2.7{NARROW_SPACE}EUR"


def lines(variant: str, kit: str) -> dict[tuple[str, ...], str]:
    """The lines of the price, for the verdict on the demonstration's data."""
    known = catalogue()
    checked = verdict.checked(known, known.machines[variant], known.kits[kit], "next")
    made = record(variant, kit).model_copy(update={"fit": verdict.fit_part(checked)})
    return {one.ids: one.says for one in cost.paid(made)}


def test_what_has_to_be_bought_follows_from_the_verdict() -> None:
    """On a Mark 1 the banjo goes on first, and instead of trimming one may have an exchange boiler."""
    found = lines("tamsin-mk1", "feed-preheater")
    kit, banjo, key = "feed-preheater", "banjo-feed", "feed-preheater/short-key"
    assert list(found) == [
        (kit,), (banjo,), (key,), (kit, banjo, key), (kit, banjo, key, "feed-preheater/exchange-boiler"),
    ]  # fmt: skip
    assert found[banjo,] == "Banjo Feed, which goes on first"
    assert "exchange boiler" in found[kit, banjo, key, "feed-preheater/exchange-boiler"]


def test_a_kit_that_needs_nothing_is_one_line() -> None:
    assert list(lines("tamsin-mk1", "banjo-feed")) == [("banjo-feed",)]


def test_visits_and_tools_are_those_of_the_instruction() -> None:
    """His steps alone, and what nobody else takes in hand."""
    made = record()
    found = effort.visits(made)
    assert made.procedure is not None
    his = [step for step in made.procedure.fitting.steps if step.role == effort.SKILLED]
    assert [step.number for visit in found for step in visit.steps] == [
        step.number for step in his if step in [s for p in made.procedure.fitting.phases for s in p.steps]
    ]
    assert sum(visit.minutes for visit in found) == pytest.approx(sum(step.minutes for step in his))
    assert {one.id for one in effort.skilled_tools(made)} == {"earth-tester", "insulation-tester"}
    assert "torque-wrench" in {one.id for one in effort.own_tools(made)}


def test_an_edition_of_before_has_no_visits() -> None:
    """Its records did not keep them; nothing is made up."""
    data: dict[str, Any] = json.loads(record().to_json())
    del data["procedure"]["visits"]
    old = Assessment.model_validate(data)
    assert effort.visits(old) == ()
    assert cost.visits_words(old) == ""
