"""The text that a customer sends, as the self-check writes it. `order_text` reads it back, `received` judges it."""

from __future__ import annotations

from collections.abc import Mapping

from guidegen.judge.fit.order_words import ByKeys, InWords
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


def write(payload: Payload, answers: Mapping[str, Answer], choice: int = 0, *, keys: bool = False) -> str:
    """Return the text for a finished self-check; `choice` is the place of the chosen set of remedies.

    With `keys`, as the pages of earlier editions wrote it: facts, requirements and remedies by their keys.
    """
    found = walk(payload["rules"], answers)
    if found["outcome"] is None:
        raise OrderError(f"the self-check is not finished: {found['ask']} is still asked")
    words = ByKeys(payload) if keys else InWords(payload)
    # What only a remedy needs is no requirement of the kit, and reads like the opposite of one.
    roots = {payload["rules"]["conditions"][place]["id"] for place in payload["rules"]["roots"]}
    chosen = found["remedies"][choice] if found["remedies"] else None
    lines = [
        TITLE,
        *words.head(),
        "",
        "Answers:",
        *(words.answer(name, answers[name]) for name in found["asked"]),
        "",
        f"Outcome: {OUTCOME_WORDS[found['outcome']]}",
        *(
            f"{'Not met' if truth == 'F' else 'Not known'}: {words.condition(name)}"
            for name, truth in found["reasons"]
            if keys or name in roots
        ),
    ]
    if chosen is not None:
        lines.append(f"Remedies: {words.remedies(chosen['remedies'])}")
        lines += [f"Provided that: {words.condition(name)}" for name in chosen["provided"]]
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
