"""Whether something that stands out of a boiler's wall is left, trimmed, or must not be cut, and why.

This is the only place that decides it. Fit page, costs, instruction and lint read the decision. A cut cannot be undone,
so what is not certain is never cut: every length is an interval, and a decision holds for all of it or for none.

The coil stands on the lower edge of the straight wall. What is in its way is what stands where it will lie, and what it
has to pass on its way there: a finished coil that slides down from above passes the whole wall above its place.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import StrEnum

from guidegen.heat.materials import MATERIALS
from guidegen.heat.validity import ValidityError
from guidegen.heat.vessel import wall_needed
from guidegen.trade.boiler import WrittenProtrusion
from guidegen.trade.machine import Machine
from guidegen.workshop.facts import Fact

FLUSH = 0.5e-3
"""m; a protrusion that stands out less than this lies under the tube as the wall does. Common practice, no source."""
LEAST_METAL = 1e-3
"""m of metal that remain at least, whatever the pressure: less cannot be filed and measured with confidence."""
TOLERANCE = 0.2e-3
"""m on top of the wall that the pressure needs: calliper and file on a curved face. Common practice, no source."""
STEP = 1e-4
"""m; a computed limit is rounded up to what a calliper shows."""
CUTTABLE = ("boss", "web", "ear")
"""Kinds that may be trimmed. A stud holds something, were it only a lead."""
TRIM = "trim-protrusions"
"""The work on the machine that a kit's requirement names where trimming helps."""
EXCHANGE = "exchange-boiler"
"""The part that a kit offers in place of cutting."""


class Action(StrEnum):
    """What happens to a protrusion."""

    LEAVE = "leave"
    TRIM = "trim"
    CANNOT = "cannot"


class Why(StrEnum):
    """The reason of a decision, as a code; `guidegen.assess.cutting_words` has the sentence of each."""

    NO_COIL = "no-coil"
    ELSEWHERE = "elsewhere"
    FLUSH = "flush"
    IN_THE_WAY = "in-the-way"
    PLACE_OPEN = "place-open"
    HEIGHT_OPEN = "height-open"
    CARRIES = "carries"
    CARRIES_OPEN = "carries-open"
    KIND = "kind"
    KIND_OPEN = "kind-open"
    ASSUMED = "assumed"
    METAL_OPEN = "metal-open"
    PRESSURE_OPEN = "pressure-open"
    WALL_OPEN = "wall-open"
    TOO_THIN = "too-thin"
    NOT_ALONE = "not-alone"
    EXCHANGED = "exchanged"
    NOT_FITTED = "not-fitted"


OPEN = frozenset({
    Why.PLACE_OPEN, Why.HEIGHT_OPEN, Why.CARRIES_OPEN, Why.KIND_OPEN, Why.ASSUMED, Why.METAL_OPEN, Why.PRESSURE_OPEN,
    Why.WALL_OPEN,
})  # fmt: skip
"""Reasons that a measurement or a look may remove."""


@dataclass(frozen=True)
class Span:
    """All the values that a length may have, in m, ends included."""

    low: float
    high: float


ANYWHERE = Span(-math.inf, math.inf)


@dataclass(frozen=True)
class CoilPlace:
    """Where a coil goes: how high its upper end comes above the wall's lower edge, and how it gets there.

    `put_on` is `from-above`, `from-below`, `in-place`, or None where that is not stated.
    """

    top: Span
    put_on: str | None = None


@dataclass(frozen=True)
class Decision:
    """What happens to one protrusion. `in_way` is None while that is not known; `keeps` in m where it is trimmed.

    `undecided`: something that is not known yet may change the decision.
    """

    protrusion: WrittenProtrusion
    action: Action
    why: Why
    in_way: bool | None
    keeps: float | None = None
    computed: bool = False
    """Whether `keeps` is the computed wall and not the figure of the data."""
    undecided: bool = False

    @property
    def keeps_text(self) -> str:
        """Return the metal that must remain as a calliper shows it; empty where nothing is cut."""
        return "" if self.keeps is None else f"{round(self.keeps * 1e3, 2):g} mm"


def decide(machine: Machine, place: CoilPlace | None) -> tuple[Decision, ...]:
    """Decide on every protrusion of a machine for one coil; without a coil all of them stay.

    Where one in the coil's way cannot be cut, none is: the coil would not go on, and the cut could not be undone.
    """
    made = tuple(_decide(machine, one, place) for one in machine.boiler.protrusions)
    blocking = [one for one in made if one.action is Action.CANNOT]
    if not blocking:
        return made
    undecided = all(one.undecided for one in blocking)
    return tuple(
        replace(one, action=Action.CANNOT, why=Why.NOT_ALONE, keeps=None, undecided=undecided)
        if one.action is Action.TRIM
        else one
        for one in made
    )


def settled(decisions: Iterable[Decision], ways: Iterable[str], fitted: bool) -> tuple[Decision, ...]:
    """Return the decisions once it is known what becomes of the wall: nothing is trimmed that way, nothing is cut.

    `ways` are the ways of the wall, as `wall.way` of a pair names them; `fitted` is whether the kit may go on at all.
    """
    if fitted and "trimmed" in ways:
        return tuple(decisions)
    instead = Why.EXCHANGED if fitted and "exchanged" in ways else Why.NOT_FITTED
    return tuple(
        replace(one, action=Action.CANNOT, why=instead, keeps=None) if one.action is Action.TRIM else one
        for one in decisions
    )


def metal_needed(machine: Machine) -> float | None:
    """Return the metal in m that must remain for the pressure: the computed wall and a tolerance, 1 mm at least.

    The worst end of every interval counts. None where pressure, material, diameter or the hottest temperature is not
    known, or lies where no allowable stress is stated.
    """
    boiler, steam = machine.boiler, machine.steam
    pressure = machine.water_path.relief_opens
    if not all(one.known for one in (pressure, boiler.material, boiler.diameter, steam.setpoint, steam.overshoot)):
        return None
    metal = MATERIALS.get(boiler.material.value)
    if metal is None:
        return None
    hottest = steam.setpoint.high + steam.overshoot.high
    try:
        wall = wall_needed(pressure.high, boiler.diameter.high, metal.allowable_stress, hottest)
    except ValidityError:
        return None
    return max(LEAST_METAL, math.ceil(round((float(wall) + TOLERANCE) / STEP, 6)) * STEP)


def _decide(machine: Machine, one: WrittenProtrusion, place: CoilPlace | None) -> Decision:
    if place is None:
        return Decision(one, Action.LEAVE, Why.NO_COIL, False)
    way = in_way(one, place)
    if way is False:
        return Decision(one, Action.LEAVE, Why.ELSEWHERE, False)
    if one.stands_out.known and span(one.stands_out).high <= FLUSH:
        return Decision(one, Action.LEAVE, Why.FLUSH, False)
    reason = _in_doubt(one, way) or _never_cut(one) or _not_measured(one)
    if reason is not None:
        return Decision(one, Action.CANNOT, reason, way, undecided=reason in OPEN)
    return _metal(machine, one)


def _in_doubt(one: WrittenProtrusion, way: bool | None) -> Why | None:
    """What leaves open whether it is in the way at all."""
    if way is None:
        return Why.PLACE_OPEN
    return None if one.stands_out.known and span(one.stands_out).low > FLUSH else Why.HEIGHT_OPEN


def _never_cut(one: WrittenProtrusion) -> Why | None:
    if not one.carries.known:
        return Why.CARRIES_OPEN
    if one.carries.value != "nothing":
        return Why.CARRIES
    if one.kind == "unknown":
        return Why.KIND_OPEN
    return None if one.kind in CUTTABLE else Why.KIND


def _not_measured(one: WrittenProtrusion) -> Why | None:
    if not one.metal_left.known:
        return Why.METAL_OPEN
    # A line that nobody measured is no line to saw along.
    return Why.ASSUMED if "assumed" in (one.stands_out.evidence, one.metal_left.evidence) else None


def _metal(machine: Machine, one: WrittenProtrusion) -> Decision:
    """Trim it, if the wall under it certainly keeps what must remain: nothing below the wall's own line is touched."""
    needed, wall = metal_needed(machine), machine.boiler.wall
    if needed is None:
        return Decision(one, Action.CANNOT, Why.PRESSURE_OPEN, True, undecided=True)
    keeps = max(needed, one.metal_left.low)
    if wall.known and wall.high < keeps:
        return Decision(one, Action.CANNOT, Why.TOO_THIN, True, keeps)
    if not wall.known or wall.low < keeps:
        return Decision(one, Action.CANNOT, Why.WALL_OPEN, True, keeps, undecided=True)
    return Decision(one, Action.TRIM, Why.IN_THE_WAY, True, keeps, computed=needed > one.metal_left.low)


def in_way(one: WrittenProtrusion, place: CoilPlace) -> bool | None:
    """Return whether a protrusion's band meets where the coil lies or passes; None where it may and may not."""
    lower, upper, top = span(one.band.from_), span(one.band.to), place.top
    below_top = _less(lower, top)
    above_edge = _less(Span(0.0, 0.0), upper)
    lies = _both(below_top, above_edge)
    passes = {"from-above": above_edge, "from-below": below_top, "in-place": lies}.get(place.put_on or "")
    if passes is None:
        # From wherever it comes, it passes more than its own place.
        return True if lies else None
    return True if lies or passes else (None if None in (lies, passes) else False)


def span(fact: Fact) -> Span:
    """Return the interval of a length; of several units' all of it; anywhere where nobody knows.

    Its ends are the decimals that were meant, as requirements compare them: 0.4 mm ± 0.1 mm ends at 0.5 mm.
    """
    if not (fact.known or fact.options):
        return ANYWHERE
    return Span(*(float(f"{end:.12g}") for end in (fact.low, fact.high)))


def _less(one: Span, other: Span) -> bool | None:
    if one.high < other.low:
        return True
    return False if one.low >= other.high else None


def _both(one: bool | None, other: bool | None) -> bool | None:
    if False in (one, other):
        return False
    return None if None in (one, other) else True
