"""Whether the kit goes on: geometry gives the numbers, the requirements decide, protrusions are named."""

from __future__ import annotations

from collections.abc import Mapping

from guidegen.heat.coil import Coil
from guidegen.judge.comparison import RequirementError
from guidegen.judge.fit.check import Check, check
from guidegen.judge.fit.questions import TooManyQuestions
from guidegen.judge.fit.remedies import TooManyRemedies
from guidegen.judge.fit.store import TooLarge
from guidegen.judge.logic import Interval
from guidegen.language import gettext
from guidegen.problems import CatalogueError, Code, Problem
from guidegen.record import rounded
from guidegen.record.stated import Fit, Protrusion, Reason
from guidegen.trade import Catalogue
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine, WrittenProtrusion
from guidegen.trade.paths import known_facts
from guidegen.workshop.base import HasPlaces, Loc
from guidegen.workshop.facts import Fact
from guidegen.workshop.walk import name_of

FLUSH = 0.5e-3
"""m; a protrusion that stands out less than this lies under the tube as the wall does."""


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
        }
        made |= {prefix + name: Interval.between(min(values), max(values)) for name, values in numbers.items()}
    return made


def checked(known: Catalogue, machine: Machine, kit: Kit, edition: str) -> Check:
    """The verdict from the variant's own data, and what its owner's self-check carries.

    Raises `CatalogueError` where the requirements cannot be judged or the self-check would not stay small.
    """
    try:
        return check(
            machine,
            kit,
            known.kits,
            known.questions,
            computed(machine, known.kits, kit),
            known_facts(),
            edition=edition,
            contact=known.workshop.contact,
        )
    except (TooManyQuestions, TooLarge, TooManyRemedies) as error:
        raise _too_large(machine, kit, str(error)) from None
    except RequirementError as error:
        document = error.document if error.document is not None else kit
        raise _not_judged(document, error.loc or ("requirements",), str(error), error.fix) from None


def _not_judged(document: HasPlaces, loc: Loc, message: str, fix: str) -> CatalogueError:
    place, words = document.places[loc], f"{name_of(document, loc)}: {message}"
    mend = fix or "compare a quantity with a quantity, a word with words"
    return CatalogueError([Problem(place.path, place.line, place.column, Code.NOT_JUDGED, words, mend)])


def _too_large(machine: Machine, kit: Kit, message: str) -> CatalogueError:
    """The kit's requirements ask for it, on a variant of which too little is known."""
    place = kit.places.key(("requirements",))
    said, _, fix = message.partition(": ")
    words, code = f"requirements: on {machine.id} {said}", Code.SELF_CHECK_TOO_LARGE
    return CatalogueError([Problem(place.path, place.line, place.column, code, words, fix)])


def fit_part(checked: Check) -> Fit:
    """The verdict with a reason per requirement."""
    reasons = tuple(
        Reason(id=row.id, says=row.says, met=row.met, detail=row.detail, remedy=row.remedy, settles=row.settles)
        for row in checked.rows
    )
    return Fit(outcome=checked.evaluation.outcome, reasons=reasons)


def protrusions(machine: Machine, coil: Coil | None) -> tuple[Protrusion, ...]:
    """What stands out of the boiler's straight wall, and what a coil would make of it."""
    return tuple(_protrusion(one, coil) for one in machine.boiler.protrusions)


def _protrusion(one: WrittenProtrusion, coil: Coil | None) -> Protrusion:
    """One of them. A band that nobody measured may lie anywhere on the wall; nothing unknown is ever cut."""
    height = coil.height if coil is not None else 0.0
    low, high = _stated(one.band.from_, 0.0), _stated(one.band.to, height)
    out = one.stands_out.value
    overlap = max(0.0, min(high, height) - max(low, 0.0))
    carries = None if one.carries.known and one.carries.value == "nothing" else one.carries.text
    open_facts = [one.band.from_, one.band.to, one.stands_out, one.metal_left]
    metal = None
    if coil is None:
        action, why = "leave", gettext("The kit puts nothing round the wall.")
    elif overlap <= 0.0 or out <= FLUSH:
        action, why = "leave", gettext("It does not stand where the coil goes.")
    elif not one.carries.known:
        action, why = "cannot", gettext("Nobody has looked what it carries. It is not cut before that is known.")
    elif carries is not None:
        action, why = "cannot", gettext("It carries {device}. It is not cut.").format(device=carries)
    elif not all(map(_is_stated, open_facts)):
        action, why = "cannot", gettext("It has not been measured. It is not cut before that.")
    else:
        action, why = "trim", gettext("Trimmed until the ring gauge passes; at least {metal} of metal stays.")
        why = why.format(metal=one.metal_left.text)
        metal = rounded(overlap * one.width.value * out * 1e9)
    return Protrusion(
        id=one.id,
        name=one.name,
        kind=one.kind,
        carries=carries,
        stands_out_mm=rounded(out * 1e3) if _is_stated(one.stands_out) else None,
        overlap_mm=rounded(overlap * 1e3) if _is_stated(one.band.from_) and _is_stated(one.band.to) else None,
        action=action,
        why=why,
        metal_mm3=metal,
    )


def _stated(fact: Fact, stand_in: float) -> float:
    """The value that was written; of several units' the middle; else what stands in."""
    return fact.value if _is_stated(fact) else stand_in


def _is_stated(fact: Fact) -> bool:
    return fact.known or bool(fact.options)
