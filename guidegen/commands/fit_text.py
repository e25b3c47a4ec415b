"""What `guidegen fit` prints: how a self-check stands, and what became of an order that was received."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from guidegen.commands.orders import Received
from guidegen.judge.fit.order import OUTCOME_WORDS, to_order
from guidegen.judge.fit.payload import Payload
from guidegen.judge.fit.result import QuestionShown, RemedySetReport, Result, answer_words
from guidegen.record.together import Together

STANDS = {True: "on these answers", False: "if the machine is as the variant's data say"}


AFTER = "to order, once every question is answered so:"


def fit_report(payload: Payload, result: Result) -> Iterator[str]:
    """A screenful: outcome, reasons, remedies, what would decide, what to order, what is asked next."""
    pair = payload["pair"]
    yield f"{pair['variant_name']} with {pair['kit_name']}, revision {pair['revision']}"
    how = "by the variant's data alone" if result.finished and not result.answers else STANDS[result.finished]
    not_needed = result.outcome == "has-already"
    outcome = "not needed" if not_needed else OUTCOME_WORDS[result.outcome]
    yield f"{outcome}, {how}: {result.sentence[:1].lower()}{result.sentence[1:]}"
    if result.answers:
        yield "your answers:"
        yield from (f"  {name} = {text}" for name, text in result.answers)
    yield from (f"  {name} is answered, but is not asked after the other answers" for name in result.unused)
    for reason in result.reasons:
        state = "not known" if reason.met is None else "does not hold" if not_needed else "not met"
        yield f"  {state}: {reason.says} {reason.because}".rstrip()
        yield from (f"    {line}" for line in reason.numbers)
    yield from (f"  only the workshop can tell. {line}" for line in result.photographs)
    if result.decide or result.unasked:
        yield "what would decide, the best start first:"
        yield from (f"  {one.fact}: {one.title}, {one.how}" for one in result.decide)
        yield from (f"  {text}: only the workshop can find that out" for text in result.unasked)
    if result.remedies:
        yield "what makes it fit, least effort first:"
        for place, one in enumerate(result.remedies, 1):
            yield from _remedies(place, one)
    if result.ours:
        yield "our data, which no question is about:"
        yield from (f"  {line}" for line in result.ours)
    heading, *parts = result.to_order
    yield (heading[:1].lower() + heading[1:] if result.finished else AFTER) if parts else heading
    yield from (f"  {line}" for line in parts)
    for place, one in enumerate(result.remedies, 1):
        if one.to_order:
            yield f"with {place}. also:"
            yield from (f"  {line}" for line in one.to_order)
    if result.next is not None:
        yield from _next(result.next, pair["variant"], pair["kit"])


def together_report(others: Sequence[Together]) -> Iterator[str]:
    """What there is to say of each other kit on the same machine, a line each."""
    for one in others:
        off = f" Off again: {one.off.says[:1].lower()}{one.off.says[1:]}" if one.off is not None else ""
        yield f"with the {one.other_name} on the same machine: {one.order.says}{off}"


def _remedies(place: int, one: RemedySetReport) -> Iterator[str]:
    notes = [f"{one.minutes:.0f} min"]
    notes += ["cuts something that cannot be put back"] if one.cuts else []
    notes += ["mains work, for the electrically skilled only"] if one.mains_work else []
    yield f"  {place}. {' + '.join(one.names)} · {' · '.join(notes)}"
    yield from (f"     provided that: {text}" for text in one.provided)


def _next(asked: QuestionShown, variant: str, kit: str) -> Iterator[str]:
    yield f"asked next, because an owner's machine may differ: {asked.ask}"
    yield f"  {asked.how[:1].upper()}{asked.how[1:]}"
    if asked.from_data is not None:
        yield f"  the variant's data say {asked.from_data}"
    yield f"  takes {', '.join(asked.takes)}"
    yield f"  guidegen fit {variant} {kit} --answer {asked.fact}=…"


def order_report(received: Received, changes: Sequence[str]) -> Iterator[str]:
    """What the order says, whether it holds, and what changed since."""
    order, pair = received.order, received.payload["pair"]
    yield f"{pair['variant_name']} with {pair['kit_name']}, revision {order.revision}, edition {order.edition}"
    yield from (f"  {line[:1].upper()}{line[1:]}" for line in answered(received))
    if received.sound is not None:
        yield f"{OUTCOME_WORDS[order.outcome]}: so say the rules of edition {order.edition}, too; the text is unchanged"
    if changes:
        yield "changed since:"
        yield from (f"  {line}" for line in changes)
    elif received.then is not None:
        yield "nothing that matters here changed since"
    judgement, payload = received.today, received.now
    if payload is None or judgement is None or judgement.found["outcome"] is None:
        return
    found = judgement.found
    yield f"today: {OUTCOME_WORDS[found['outcome'] or '']}"
    chosen = found["remedies"][judgement.choice] if found["remedies"] else None
    yield from (f"  {line}" for line in to_order(payload, found, chosen))


def answered(received: Received) -> Iterator[str]:
    """What was asked and answered, a line each; what cannot be read by these rules as it stands in the text."""
    judgement = received.sound or received.today
    answers = judgement.answers if judgement is not None else {}
    for name, text in received.order.answers.items():
        yield answer_words(received.payload, name, answers[name]) if name in answers else f"{name} = {text}"
