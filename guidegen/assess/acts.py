"""The table of acts for pages and terminal: each compiled once on an example, so that it says what the steps do."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

from guidegen.judge.acts.compiled import optional
from guidegen.judge.acts.examples import made, written
from guidegen.judge.acts.kernel import EFFECTS
from guidegen.judge.acts.row import TableRow, rows
from guidegen.judge.safety.hazard_kinds import needed_by
from guidegen.language import SOURCE, in_language
from guidegen.record.acts import ActBound, ActHold, ActNumber, ActPart, ActSection, ActSlot, ActWay
from guidegen.workshop.bounds import Bounds
from guidegen.workshop.rows import SLOTS, RowHold
from guidegen.workshop.steps import Step

STANDS_UNDER = {
    "stop": "under then: stop: of a remedy",
    "care": "under aftercare:; check: and do: of a fault take the act alone",
    "symptom": "symptom: of a fault, or under stop_use:",
    "cause": "under cause: of a fault",
}
"""Where an act is written that is no step."""


@cache
def acts() -> tuple[ActSection, ...]:
    """Every act, in the order and the sections of the table; in the source language, whichever is in use."""
    sections: list[tuple[str, list[ActPart]]] = []
    with in_language(SOURCE, Path()):
        for name, row in rows().items():
            if row.section:
                sections.append((row.section, []))
            sections[-1][1].append(_act(name, row))
    return tuple(ActSection(title=title, acts=tuple(found)) for title, found in sections)


def _act(name: str, row: TableRow) -> ActPart:
    compiled = made(name)
    return ActPart(
        name=name,
        place=row.place,
        slots=tuple(_slots(row)),
        amount=row.amount,
        bounds=tuple(ActBound(name=name, words=_ends(bounds)) for name, bounds in row.bounds.items()),
        torque=row.torqued,
        back_to=row.hold is not None and row.hold.goto == "back",
        ways=tuple(_way(way, step) for way, step in zip(row.ways, compiled.steps, strict=True)),
        hold=row.hold and _hold(row.hold),
        written="\n".join(_lines(name, row)),
    )


def _ends(bounds: Bounds) -> str:
    """Both ends in words: `never under 5 s, never over 180 s`."""
    wider = bounds.wider
    parts = (
        bounds.at_least and f"never under {bounds.at_least}",
        bounds.at_most and f"never over {bounds.at_most}",
        f"{wider.more} more for each {wider.per} of {wider.of} over {wider.above}, to {wider.most} at most"
        if wider
        else "",
        bounds.tolerance and f"of the maker, with a tolerance of at most {bounds.tolerance}",
    )
    return ", ".join(filter(None, parts))


def _slots(row: TableRow) -> Iterator[ActSlot]:
    for slot in SLOTS:
        if kinds := row.kinds(slot):
            yield ActSlot(key=slot, kinds=() if "any" in kinds else kinds, optional=optional(row, slot))


def _way(way: TableRow, step: Step) -> ActWay:
    hazards = dict.fromkeys((*step.hazards, *needed_by(step)))
    return ActWay(
        when=_condition(way.when) if way.when else None,
        sentence=way.say or "",
        example=step.do,
        follows=EFFECTS[way.effect or ""].says,
        needs=_values(step.requires),
        sets=_values(step.sets),
        who=step.role,
        tools=step.uses.tools,
        consumables=step.uses.consumables,
        hazards=tuple(hazards),
        minutes=step.minutes or 0,
        irreversible=not step.reversible,
    )


def _values(state: Any) -> tuple[str, ...]:
    return tuple(f"{name} {value.replace('_', ' ')}" for name, value in state.items())


def _condition(condition: Any) -> str:
    """A condition in one line, as it is written but for its brackets."""
    if isinstance(condition, dict):
        return ", ".join(_condition(value) if name in ("any", "all") else f"{name} {_condition(value)}"
                         for name, value in condition.items())  # fmt: skip
    return " or ".join(map(_condition, condition)) if isinstance(condition, tuple) else str(condition)


def _hold(hold: RowHold) -> ActHold:
    sides = {"back": "back to the step that the author names", "itself": "the same step again", None: hold.stop}
    number = hold.sense and ActNumber(sense=hold.sense, dimension=getattr(hold, hold.sense), fixed=hold.limit)
    counts = f"0 {hold.none}" if hold.none else hold.some
    fails = sides.get(hold.goto, f"go to {hold.goto}") or ""
    return ActHold(criterion=" ".join(hold.says), counts=counts, number=number, fails=fails)


def _lines(name: str, row: TableRow) -> Iterator[str]:
    """The example as YAML, with where it stands and the kind of each thing."""
    for number, (key, value) in enumerate(written(name).items()):
        text = f"{{is: {value['is']!r}}}".replace("'", '"') if isinstance(value, dict) else str(value)
        line = f"{'  ' if number else '- '}{key}: {text}"
        kinds = row.kinds(key) if key in SLOTS else ()
        about = STANDS_UNDER.get(row.place, "") if not number else "anything" if "any" in kinds else " or ".join(kinds)
        yield f"{line}  # {about}" if about else line
