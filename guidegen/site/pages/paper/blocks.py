"""What the book is made of: headings, texts, lists, tables, hazard statements, steps and figures, as plain data."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from guidegen.language import gettext
from guidegen.language.choices import choice
from guidegen.record.step import Branch, HazardStatement, HoldPoint, InstructionStep
from guidegen.site.pages import sentences, step_words
from guidegen.site.pages.instruction import shown_numbers, stated

Block = dict[str, Any]


def heading(level: int, text: str) -> Block:
    """A heading; the book's own is level 1."""
    return {"kind": "heading", "level": level, "text": text}


def text(words: str, lead: str = "") -> Block:
    """A paragraph, with words in bold before it."""
    return {"kind": "text", "lead": lead, "text": words}


def listed(items: Iterable[str], ticks: bool = False) -> Block:
    """A list, with boxes to tick or without."""
    return {"kind": "list", "items": [*items], "ticks": ticks}


def table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> Block:
    """A table whose first row names its columns."""
    return {"kind": "table", "head": [*head], "rows": [[*row] for row in rows]}


def hazards(statements: Iterable[HazardStatement]) -> Block:
    """Hazard statements in full."""
    return {"kind": "hazards", "items": [_hazard(one) for one in statements if one.word]}


def _hazard(one: HazardStatement) -> dict[str, Any]:
    said = " ".join(filter(None, (f"{one.type_of_hazard}.", one.consequence)))
    return {"word": sentences.signal(one.word).upper(), "says": said, "avoid": [*one.how_to_avoid]}


def steps(done: Sequence[InstructionStep], reasons: Mapping[str, str]) -> Iterator[Block]:
    """Steps with all that the page prints of each; a condition that all have in common stands before them."""
    conditions = {one.only_if for one in done}
    common = next(iter(conditions)) if len(conditions) == 1 else None
    if common:
        yield text(_condition(common))
        done = [one.model_copy(update={"only_if": None}) for one in done]
    yield {"kind": "steps", "items": [_step(one, reasons.get(one.anchor, "")) for one in done]}


def _condition(condition: str) -> str:
    return gettext("Only if {condition}.").format(condition=condition)


def _step(step: InstructionStep, reason: str) -> dict[str, Any]:
    return {
        "number": step.number,
        "do": step.do,
        "marks": [*_marks(step)],
        "hazards": [_hazard(one) for one in step.hazards if one.word],
        "more": [one for one in (*_more(step), reason, *step.notes, *_takes(step)) if one],
        "hold": _hold(step) if step.hold else None,
    }


def _marks(step: InstructionStep) -> Iterator[str]:
    if step.role in step_words.ROLES:
        yield gettext(step_words.ROLES[step.role])
    if not step.reversible:
        yield gettext("This cannot be undone.")


def _more(step: InstructionStep) -> Iterator[str]:
    if step.only_if:
        yield _condition(step.only_if)
    if step.keeps_control:
        yield step.keeps_control
    if step.release:
        yield step.release.by
        yield gettext("The pressure is off when you see this: {proof}").format(proof=step.release.proof)
    if step.seat:
        yield gettext("Seat: {position}. Held by: {clamp}.").format(position=step.seat.position, clamp=step.seat.clamp)
    if step.watched:
        yield gettext("Hands off, and do not leave it alone while it is on.")
    if step.restraint:
        yield gettext("What keeps the distance: {restraint}.").format(restraint=step.restraint)


def _takes(step: InstructionStep) -> Iterator[str]:
    """The torque, what is taken in hand, and the numbers that nothing else in the step states."""
    if step.torque:
        one = step.torque
        words = gettext("Torque {torque}, thread {thread}, {state} ({evidence}).")
        yield words.format(torque=one.is_, thread=one.thread, state=one.state, evidence=choice(one.evidence))
    things = (*step.uses.tools, *step.uses.parts, *step.uses.consumables)
    if things:
        yield gettext("With {things}.").format(things=", ".join(things))
    numbers = [f"{step_words.number_name(one.name)} {one.text} ({choice(one.evidence)})" for one in shown_numbers(step)]
    if numbers:
        yield f"{'; '.join(numbers)}."


def _hold(step: InstructionStep) -> dict[str, Any]:
    hold: HoldPoint = step.hold  # type: ignore[assignment]
    accept = stated(step)
    words = gettext("Accept {sense} {limit}, by {instrument} ({evidence}).")
    return {
        "looks": list(hold.looks or (hold.criterion,)),
        "method": hold.method or "",
        "accept": words.format(
            sense=gettext(step_words.SENSES[accept.sense]),
            limit=accept.limit,
            instrument=accept.read_with or (accept.instrument or "").replace("-", " "),
            evidence=choice(accept.evidence),
        )
        if accept
        else "",
        "fails": gettext("If it fails: {way}").format(way=way_words(hold.on_fail)) if hold.on_fail else "",
        "record": sentences.sentence(hold.record or ""),
    }


def way_words(way: Branch) -> str:
    """Where the work goes on, or that it stops and who can help."""
    where = gettext("go to {number}.").format(number=way.number) if way.number else way.stop or ""
    who = gettext("Who can help: {who}.").format(who=way.who_can_help) if way.who_can_help else ""
    return " ".join(filter(None, (where, who)))
