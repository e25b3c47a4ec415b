"""Whether the kit goes on: geometry gives the numbers, the requirements decide, protrusions are named."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from guidegen.assess import cutting_words
from guidegen.assess.coil_place import bolt_numbers, limits, place_of
from guidegen.assess.efforts import priced, unpriced
from guidegen.assess.ways import options, ways_of
from guidegen.heat.cuts import cut, overlap
from guidegen.heat.materials import MATERIALS
from guidegen.judge.comparison import RequirementError
from guidegen.judge.fit.check import Check, OnData, check
from guidegen.judge.fit.explained import FitRow
from guidegen.judge.fit.questions import TooManyQuestions
from guidegen.judge.fit.remedies import TooManyRemedies
from guidegen.judge.fit.requirements import Evaluation
from guidegen.judge.fit.store import TooLarge
from guidegen.judge.logic import Interval
from guidegen.judge.safety.facts import Value
from guidegen.problems import CatalogueError, Code, Problem
from guidegen.record import rounded
from guidegen.record.stated import BoltAccess, Fit, Protrusion, Reason, ReasonEvidence
from guidegen.trade import Catalogue
from guidegen.trade.access import COIL_OFF
from guidegen.trade.cutting import FLUSH, Action, CoilPlace, Decision, decide, settled
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine
from guidegen.trade.seen import with_coil
from guidegen.trade.size import facts_for
from guidegen.workshop.base import HasPlaces, Loc
from guidegen.workshop.facts import Fact
from guidegen.workshop.questions import Questions
from guidegen.workshop.walk import name_of

ORDERED = ("fits", "fits-with-conditions")
"""The outcomes after which somebody orders."""


@dataclass(frozen=True)
class OnPaper:
    """A pair as its data say: the verdict, what becomes of every protrusion, and which ways its guide takes."""

    fit: Fit
    decisions: tuple[Decision, ...]
    ways: Mapping[str, Value]
    numbers: Mapping[str, Value]
    """Limits about the boiler's bolts that a step may print: the safe end of each computed name."""


@dataclass(frozen=True)
class Judged(OnPaper):
    """The same with its self-check."""

    check: Check
    efforts: Questions
    """What remedies take on this machine."""


def computed(machine: Machine, kits: Mapping[str, Kit], kit: Kit) -> dict[str, Interval]:
    """The computed names that requirements compare with: of the kit itself, and of kits that may serve as remedies."""
    made: dict[str, Interval] = {}
    for other in kits.values():
        coils = other.coil.possible(machine) if other.coil else ()
        if not coils:
            continue
        prefix = "" if other.id == kit.id else f"{other.id}:"
        numbers = {
            "coil.height": [coil.height + coil.height_missing for coil in coils],
            "coil.envelope_diameter": [coil.envelope_diameter for coil in coils],
            "coil.radial_build": [coil.radial_build for coil in coils],
            "coil.length": [coil.length for coil in coils],
            "coil.bend_radius": [coil.tightest_radius for coil in coils],
            "coil.flush": [FLUSH],
        }
        intervals = {name: Interval.between(min(values), max(values)) for name, values in numbers.items()}
        intervals |= bolt_numbers(machine, other, coils)
        made |= {prefix + name: interval for name, interval in intervals.items()}
    return made


def _seen(known: Catalogue, machine: Machine, kit: Kit) -> Machine:
    """The machine as requirements see it: with what is in the way of the kit's coil, or of one that goes on first."""
    coils = (one for one in (kit, *known.first(kit.id)) if one.coil is not None)
    return with_coil(machine, decide(machine, place_of(machine, next(coils, kit))))


def standing(known: Catalogue, machine: Machine, kit: Kit) -> OnPaper:
    """A pair without its self-check, in a hundredth of the time; raises as `judged` does."""
    decisions = decide(machine, place_of(machine, kit))
    numbers = computed(machine, known.kits, kit)
    seen = _seen(known, machine, kit)
    try:
        data = OnData.of(seen, kit, known.kits, unpriced(known, kit), numbers, facts_for(machine))
        fit = _fit(data.evaluation, data.rows(seen))
    except RequirementError as error:
        raise _requirement(kit, error) from None
    return OnPaper(fit, *_followed(machine, kit, data, decisions), limits(numbers))


def _followed(
    machine: Machine, kit: Kit, data: Check | OnData, decisions: tuple[Decision, ...]
) -> tuple[tuple[Decision, ...], Mapping[str, Value]]:
    """What becomes of every protrusion, and the ways."""
    ways = ways_of(machine, data, kit, decisions)
    goes_on = data.evaluation.outcome not in ("does-not-fit", "has-already")
    return settled(decisions, options(ways["wall.way"]), goes_on), ways


def checked(known: Catalogue, machine: Machine, kit: Kit, edition: str) -> Check:
    """The verdict from the variant's own data, and what its owner's self-check carries; raises as `judged` does."""
    return judged(known, machine, kit, edition).check


def judged(known: Catalogue, machine: Machine, kit: Kit, edition: str) -> Judged:
    """The verdict, with what becomes of the wall and of everything that stands out of it.

    Raises `CatalogueError` where the requirements cannot be judged or the self-check would not stay small.
    """
    decisions = decide(machine, place_of(machine, kit))
    efforts, numbers = priced(known, machine, kit, decisions), computed(machine, known.kits, kit)
    try:
        done = check(
            _seen(known, machine, kit),
            kit,
            known.kits,
            efforts,
            numbers,
            facts_for(machine),
            edition=edition,
            contact=known.workshop.contact,
        )
    except (TooManyQuestions, TooLarge, TooManyRemedies) as error:
        raise _too_large(machine, kit, str(error)) from None
    except RequirementError as error:
        raise _requirement(kit, error) from None
    return Judged(fit_part(done), *_followed(machine, kit, done, decisions), limits(numbers), done, efforts)


def _requirement(kit: Kit, error: RequirementError) -> CatalogueError:
    document = error.document if error.document is not None else kit
    return _not_judged(document, error.loc or ("requirements",), str(error), error.fix)


def _not_judged(document: HasPlaces, loc: Loc, message: str, fix: str) -> CatalogueError:
    place, words = document.places[loc], f"{name_of(document, loc)}: {message}"
    wanted = fix or "compare a quantity with a quantity, a word with words"
    return CatalogueError([Problem(place.path, place.line, place.column, Code.NOT_JUDGED, words, wanted)])


def _too_large(machine: Machine, kit: Kit, message: str) -> CatalogueError:
    """The kit's requirements ask for it, on a variant of which too little is known."""
    place = kit.places.key(("requirements",))
    what, _, fix = message.partition(": ")
    words, code = f"requirements: on {machine.id} {what}", Code.SELF_CHECK_TOO_LARGE
    return CatalogueError([Problem(place.path, place.line, place.column, code, words, fix)])


def fit_part(checked: Check) -> Fit:
    """The verdict with a reason per requirement, and the assumed facts that it rests on and nobody is asked for."""
    fit = _fit(checked.evaluation, checked.rows)
    return fit.model_copy(update={"rests_on": checked.rests_on}) if fit.outcome in ORDERED else fit


def _fit(evaluation: Evaluation, rows: Iterable[FitRow]) -> Fit:
    reasons = tuple(
        Reason(
            id=row.id,
            says=row.says,
            met=row.met,
            detail=row.detail,
            remedy=row.remedy,
            remedies=row.remedies,
            unsure_remedies=row.unsure_remedies,
            settles=row.settles,
            evidence=tuple(
                ReasonEvidence(
                    fact=one.fact, title=one.title, evidence=one.evidence, source=one.source, settles=one.settles
                )
                for one in row.evidence
            ),
        )
        for row in rows
    )
    return Fit(outcome=evaluation.outcome, reasons=reasons)


def protrusions(machine: Machine, kit: Kit, pair: Judged) -> tuple[Protrusion, ...]:
    """What stands out of the boiler's straight wall, and what happens to it."""
    place = place_of(machine, kit)
    return tuple(_protrusion(machine, one, place) for one in pair.decisions)


def _protrusion(machine: Machine, decision: Decision, place: CoilPlace | None) -> Protrusion:
    one = decision.protrusion
    carries = None if one.carries.known and one.carries.value == "nothing" else one.carries.text
    return Protrusion(
        id=one.id,
        name=one.name,
        kind=one.kind,
        carries=carries,
        stands_out_mm=rounded(one.stands_out.value * 1e3) if _is_stated(one.stands_out) else None,
        overlap_mm=_overlap(one.band.from_, one.band.to, place),
        action=decision.action.value,
        reason=decision.why.value,
        undecided=decision.undecided,
        why=cutting_words.sentence(decision),
        keeps_mm=None if decision.keeps is None else rounded(decision.keeps * 1e3),
        metal_mm3=_metal(machine, decision),
    )


def _overlap(lower: Fact, upper: Fact, place: CoilPlace | None) -> float | None:
    """How much of the band lies under the coil, in mm, at the stated values."""
    if place is None:
        return 0.0
    if not (_is_stated(lower) and _is_stated(upper)) or upper.value < lower.value:
        return None
    middle = (place.top.low + place.top.high) / 2
    return rounded(overlap((lower.value, upper.value), (0.0, max(0.0, middle))) * 1e3)


def _metal(machine: Machine, decision: Decision) -> float | None:
    """How much metal trimming takes off, in mm³, at the stated values: all of the band, as the gauge passes it all."""
    one = decision.protrusion
    if decision.action is not Action.TRIM or not one.width.known:
        return None
    height = one.band.to.value - one.band.from_.value
    metal = MATERIALS[machine.boiler.material.value]
    return rounded(cut(height, one.width.value, one.stands_out.value, 0.0, metal.density).volume * 1e9)


def bolts(kit: Kit, pair: Judged) -> BoltAccess | None:
    """How the boiler's bolts are reached with the coil on; None where the kit brings none."""
    if kit.coil is None:
        return None
    way = pair.ways["bolts.way"]
    effort = pair.efforts.effort(kit.id, None, COIL_OFF)
    rooms = {name: number.value for name, number in pair.numbers.items() if isinstance(number.value, float)}
    return BoltAccess(
        way=way.text,
        coil_off_minutes=effort.minutes if effort is not None and way.text == COIL_OFF else None,
        key_room_mm=_in_mm(rooms.get("bolts.key_room")),
        short_key_room_mm=_in_mm(rooms.get("bolts.short_key_room")),
    )


def _in_mm(length: float | None) -> float | None:
    return None if length is None else rounded(length * 1e3)


def _is_stated(fact: Fact) -> bool:
    return fact.known or bool(fact.options)
