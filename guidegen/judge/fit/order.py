"""The text that a customer sends, as the self-check writes it. `order_text` reads it back, `received` judges it."""

from __future__ import annotations

from collections.abc import Mapping

from guidegen.judge.fit.answers import write_answer
from guidegen.judge.fit.payload import Payload
from guidegen.judge.fit.shape import SetRules
from guidegen.judge.fit.walk import Answer, Walk, walk

TITLE = "Self-check of a machine for a kit"
OUTCOME_WORDS = {
    "fits": "fits",
    "fits-with-conditions": "fits with conditions",
    "does-not-fit": "does not fit",
    "cannot-tell-yet": "cannot tell yet",
    "has-already": "has one already",
}
NOTHING_TO_ORDER = "Nothing to order on this outcome."


class OrderError(ValueError):
    """A self-check that is not finished writes no order."""


def write(payload: Payload, answers: Mapping[str, Answer], choice: int = 0) -> str:
    """Return the text for a finished self-check; `choice` is the place of the chosen set of remedies."""
    found = walk(payload["rules"], answers)
    if found["outcome"] is None:
        raise OrderError(f"the self-check is not finished: {found['ask']} is still asked")
    facts = {fact["fact"]: fact for fact in payload["rules"]["facts"]}
    pair = payload["pair"]
    chosen = found["remedies"][choice] if found["remedies"] else None
    lines = [
        TITLE,
        f"Machine: {pair['variant']} ({pair['variant_name']})",
        f"Kit: {pair['kit']}, revision {pair['revision']} ({pair['kit_name']})",
        f"Edition: {pair['edition']}, rules {pair['rules']}",
        "",
        "Answers:",
        *(f"{name} = {write_answer(facts[name], answers[name])}" for name in found["asked"]),
        "",
        f"Outcome: {OUTCOME_WORDS[found['outcome']]}",
        *(f"{'Not met' if truth == 'F' else 'Not known'}: {name}" for name, truth in found["reasons"]),
    ]
    if chosen is not None:
        lines.append(f"Remedies: {' + '.join(chosen['remedies'])}")
        lines += [f"Provided that: {name}" for name in chosen["provided"]]
    lines += ["", *to_order(payload, found, chosen)]
    return "\n".join(lines) + "\n"


def to_order(payload: Payload, found: Walk, chosen: SetRules | None) -> list[str]:
    """Return the lines of what is ordered; nothing is ordered on an outcome that is open or negative."""
    if found["outcome"] not in ("fits", "fits-with-conditions"):
        return [NOTHING_TO_ORDER]
    lines = ["To order:", *payload["parts"][""]]
    for remedy in chosen["remedies"] if chosen else []:
        lines += payload["parts"].get(remedy, [])
    return lines
