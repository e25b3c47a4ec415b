"""The text that a customer sends: written by the self-check, read back here, and held against the rules.

A mail program may quote it, wrap a line or change a space; what was answered must come through. The outcome is never
believed: it is computed again from the answers, with the rules of the edition that the text names.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from guidegen.fit.answers import read_answer, write_answer
from guidegen.fit.payload import Payload
from guidegen.fit.scale import NotRead
from guidegen.fit.shape import SetRules
from guidegen.fit.walk import Answer, Walk, walk

TITLE = "Self-check of a machine for a kit"
OUTCOME_WORDS = {
    "fits": "fits",
    "fits-with-conditions": "fits with conditions",
    "does-not-fit": "does not fit",
    "cannot-tell-yet": "cannot tell yet",
}
NOTHING_TO_ORDER = "Nothing to order on this outcome."

_ID = r"[a-z0-9-]{1,40}"
_ANSWER = re.compile(r"([a-z0-9_-]+(?:\.[a-z0-9_-]+)*) = (\S.*)")
_HEAD = {
    "machine": re.compile(rf"Machine: ({_ID})\b"),
    "kit": re.compile(rf"Kit: ({_ID}), revision ([A-Za-z0-9.-]{{1,10}})"),
    "edition": re.compile(r"Edition: ([A-Za-z0-9._-]{1,40}), rules ([0-9a-f]{8})\b"),
    "outcome": re.compile(r"Outcome: ([a-z ]+)"),
}
_CHOSEN = re.compile(r"Remedies: (.*)")


class OrderError(ValueError):
    """A text that is no order, or from which something decisive is missing."""


@dataclass(frozen=True)
class Order:
    """What a text says."""

    variant: str
    kit: str
    revision: str
    edition: str
    rules: str
    outcome: str
    answers: Mapping[str, str]
    remedies: tuple[str, ...] = field(default=())


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


def read(text: str) -> Order:
    """Return what a received text says; raise `OrderError` where it is no order."""
    lines = [clean for line in text.splitlines() if (clean := _unquoted(line))]
    heads = {name: _first(pattern, lines) for name, pattern in _HEAD.items()}
    missing = [name for name, match in heads.items() if match is None]
    if missing:
        raise OrderError(f"this is no complete order text: no line for {', '.join(missing)}")
    machine, kit, edition, outcome = (match for match in heads.values() if match is not None)
    words = {spoken: name for name, spoken in OUTCOME_WORDS.items()}
    if outcome[1].strip() not in words:
        raise OrderError(f"the outcome {outcome[1].strip()!r} is none of {', '.join(words)}")
    chosen = _first(_CHOSEN, lines)
    return Order(
        variant=machine[1],
        kit=kit[1],
        revision=kit[2],
        edition=edition[1],
        rules=edition[2],
        outcome=words[outcome[1].strip()],
        answers=_answers(lines),
        remedies=tuple(chosen[1].split(" + ")) if chosen else (),
    )


def findings(order: Order, then: Payload | None, now: Payload) -> tuple[str, ...]:
    """Return what is wrong with an order, or has changed since; nothing where it can be carried out as it is.

    `then` is the payload of the edition that the order names, or None where that edition is not at hand.
    """
    found: list[str] = []
    if then is None:
        found.append(f"edition {order.edition} is not at hand: checked against today's rules only")
    else:
        if then["pair"]["rules"] != order.rules:
            found.append(f"edition {order.edition} has rules {then['pair']['rules']}, the text says {order.rules}")
        found += _judged(order, then, f"by the rules of edition {order.edition}")
    if then is None or then["pair"]["rules"] != now["pair"]["rules"]:
        found += _judged(order, now, "by today's rules")
    if order.revision != now["pair"]["revision"]:
        found.append(f"the kit is at revision {now['pair']['revision']} today, the text says {order.revision}")
    if then is not None and then["parts"] != now["parts"]:
        found.append("the list of parts has changed since that edition: send today's")
    return tuple(found)


def _judged(order: Order, payload: Payload, by: str) -> list[str]:
    """Return how the answers, judged anew, differ from what the text says."""
    facts = {fact["fact"]: fact for fact in payload["rules"]["facts"]}
    answers: dict[str, Answer] = {}
    found: list[str] = []
    for name, written in order.answers.items():
        if name not in facts:
            found.append(f"{by}: {name} is not asked")
            continue
        try:
            answers[name] = read_answer(facts[name], written)
        except NotRead as error:
            found.append(f"{by}: {name}: {error}")
    result = walk(payload["rules"], answers)
    if result["outcome"] is None:
        return [*found, f"{by}: {result['ask']} must be answered, too"]
    if result["outcome"] != order.outcome:
        found.append(
            f"{by} the answers give “{OUTCOME_WORDS[result['outcome']]}”, not “{OUTCOME_WORDS[order.outcome]}”"
        )
    elif order.remedies and list(order.remedies) not in [one["remedies"] for one in result["remedies"]]:
        found.append(f"{by} {' + '.join(order.remedies)} is not a sufficient set of remedies")
    return found


def _unquoted(line: str) -> str:
    """Return the line without marks of quotation and with plain spaces."""
    return " ".join(re.sub(r"^[\s>|]+", "", line).split())


def _first(pattern: re.Pattern[str], lines: list[str]) -> re.Match[str] | None:
    return next((match for line in lines if (match := pattern.match(line))), None)


def _answers(lines: list[str]) -> dict[str, str]:
    """Return the answers between their heading and the outcome."""
    try:
        start = lines.index("Answers:")
    except ValueError:
        raise OrderError("this is no complete order text: no line “Answers:”") from None
    found: dict[str, str] = {}
    for line in lines[start + 1 :]:
        if line.startswith("Outcome:"):
            break
        match = _ANSWER.fullmatch(line)
        if match is None:
            raise OrderError(f"the line {line[:80]!r} is no answer")
        if match[1] in found:
            raise OrderError(f"{match[1]} is answered twice")
        found[match[1]] = match[2]
    return found
