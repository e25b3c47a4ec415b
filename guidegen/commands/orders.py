"""An order that somebody sent, held against the edition that it names and against the catalogue of today."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from difflib import SequenceMatcher
from pathlib import Path
from typing import Any, cast

from guidegen.assess import verdict
from guidegen.editions import kept
from guidegen.editions.edition import DRAFT
from guidegen.judge.fit.answers import stated
from guidegen.judge.fit.order import OUTCOME_WORDS
from guidegen.judge.fit.order_codes import OrderCode
from guidegen.judge.fit.order_text import OrderText, read
from guidegen.judge.fit.payload import Payload
from guidegen.judge.fit.received import JudgedOrder, judged, judged_today
from guidegen.judge.fit.result import Result, result_of
from guidegen.judge.fit.shape import FORMAT
from guidegen.problems import CatalogueError, EnvironmentProblem, Problem, nearest, one_of
from guidegen.trade import Catalogue
from guidegen.trade.draft_lines import Reported

_NUMBER = re.compile(r"[0-9]+(?:\.[0-9]+)?")


@dataclass(frozen=True)
class Received:
    """One order. `then` are the rules and words of its edition, `now` those of today; None where there are none.

    `sound` is the order by the rules of its edition, `today` by those of today.
    """

    order: OrderText
    then: Payload | None
    now: Payload | None
    sound: JudgedOrder | None
    today: JudgedOrder | None
    warnings: tuple[Problem, ...] = ()

    @property
    def payload(self) -> Payload:
        """What the answers are read by: the edition's words, else today's."""
        payload = self.then or self.now
        if payload is None:
            raise ValueError("an order is held against at least one set of rules")
        return payload

    @property
    def problems(self) -> tuple[Problem, ...]:
        """Why the order cannot be carried out as it is although the text is whole: today it ends otherwise."""
        return self.today.problems if self.today is not None else ()


def receive(root: Path, known: Catalogue, text: str, path: str) -> Received:
    """Read an order and hold it against its edition and today. Raises CatalogueError where the text is not sound."""
    order = read(text, path)
    now = today_of(known, order)
    if order.edition == DRAFT:
        return _of_draft(order, now)
    then = _then(root, order)
    if then is None:
        words = f"edition {order.edition} holds no rules that this guidegen reads: held against today's only"
        return _by_today(order, now, words)
    sound = judged(order, then)
    if sound.problems:
        raise CatalogueError(sound.problems)
    return Received(sound.order, then, now, sound, judged_today(sound.order, now) if now is not None else None)


def today_of(known: Catalogue, order: OrderText) -> Payload | None:
    """Rules and words of today; None where the variant or the kit is no longer there."""
    if order.variant not in known.machines or order.kit not in known.kits:
        return None
    return verdict.checked(known, known.machine(order.variant), known.kit(order.kit), DRAFT).payload


def _of_draft(order: OrderText, now: Payload | None) -> Received:
    """An order that a draft of the site wrote: there is no edition to hold it against, unless nothing changed."""
    if now is None:
        words = f"there is no guide {order.variant}/{order.kit} in today's catalogue"
        raise CatalogueError([order.problem(OrderCode.UNKNOWN_PAIR, "machine", words, "look at `guidegen list`")])
    if now["pair"]["rules"] != order.rules:
        return _by_today(order, now, "the text was made with a draft that has changed: held against today's rules only")
    sound = judged(order, now)
    if sound.problems:
        raise CatalogueError(sound.problems)
    return Received(sound.order, now, now, sound, judged_today(sound.order, now))


def _by_today(order: OrderText, now: Payload | None, words: str) -> Received:
    problem = order.problem(OrderCode.OTHER_RULES, "edition", words, "ask for a new text from the site of today")
    if now is None:
        raise CatalogueError([problem])
    warning = Problem(problem.path, problem.line, problem.column, problem.code, words, problem.fix, "warning")
    today = judged_today(order, now)
    return Received(today.order, None, now, None, today, (warning,))


def _then(root: Path, order: OrderText) -> Payload | None:
    """Rules and words of the edition that the order names; None where its records are of another form."""
    names = [one.edition for one in kept.line(root)]
    if order.edition not in names:
        near = nearest(order.edition, names)
        fix = f"did you mean {near}?" if near else f"the editions are {one_of(names) or 'none yet'}"
        words = f"there is no edition {order.edition}"
        raise CatalogueError([order.problem(OrderCode.UNKNOWN_EDITION, "edition", words, fix)])
    try:
        guides = _guides(root, order.edition, order.variant)
        if (order.variant, order.kit) not in guides:
            guides = _guides(root, order.edition, None)
    except (EnvironmentProblem, ValueError, KeyError):
        return None
    if (order.variant, order.kit) not in guides:
        there = [f"{variant}/{kit}" for variant, kit in guides]
        near = nearest(f"{order.variant}/{order.kit}", there)
        fix = f"did you mean {near}?" if near else f"its guides are {one_of(there)}"
        words = f"edition {order.edition} has no guide {order.variant}/{order.kit}"
        part = "kit" if order.variant in {variant for variant, _ in guides} else "machine"
        raise CatalogueError([order.problem(OrderCode.UNKNOWN_PAIR, part, words, fix)])
    check = guides[order.variant, order.kit].get("self_check")
    if not check or check["rules"]["format"] != FORMAT:
        return None
    return cast(Payload, check)


def _guides(root: Path, edition: str, variant: str | None) -> dict[tuple[str, str], Any]:
    """The records of an edition, or of one variant, by their pairs."""
    return {(one["variant"]["id"], one["kit"]["id"]): one for one in kept.records(root, edition, variant)}


def reported(received: Received, known: Catalogue) -> dict[str, str]:
    """What a new variant can be begun from: the owner's answers, and who the text says the machine is.

    Answers that say nothing ("not sure") or speak of the owner's socket stay out, and so does every word of the letter
    around the order. Name, years and mains come from the variant that the text names, since the owner took the machine
    for one of those; it is based on that one, so what was measured there and its safety devices stay.
    """
    order, facts = received.order, {fact["fact"]: fact for fact in received.payload["rules"]["facts"]}
    judgement = received.sound or received.today
    note = f"an owner's answer in the self-check of edition {order.edition}"
    found: dict[str, str] = {}
    if order.variant in known.machines:
        machine = known.machine(order.variant)
        found |= {"name": f"{machine.name}, as reported", "years.from": str(machine.years.from_)}
        found |= {"years.to": str(machine.years.to)} if machine.years.to is not None else {}
        found["summary"] = f"Begun from an owner's order for the {order.kit}; taken for {machine.id}, not yet seen."
        voltage, kind = machine.fact("mains.voltage"), machine.fact("control.kind")
        if voltage is not None and voltage.known:
            found["mains.voltage"] = Reported(voltage.text, f"as on {machine.id}, for which the owner takes it")
        if kind is not None:
            found["control.kind"] = kind.text
        found["based_on"] = order.variant.removeprefix(f"{machine.family}-")
    for name, answer in (judgement.answers if judgement is not None else {}).items():
        reported = stated(facts[name], answer) if name in facts and name in known.table else None
        if reported is not None:
            found[name] = reported if name == "control.kind" else Reported(reported, note)
    if "based_on" in found and found["control.kind"] != known.machine(order.variant).control.kind:
        del found["based_on"]  # another control is another machine
    return found


def stem_of(received: Received) -> tuple[str, str]:
    """The family of the variant that an order names, and a name for the file of a new one."""
    family, _, stem = received.order.variant.partition("-")
    return family, f"{stem}-reported"


# --- in words ----------------------------------------------------------------------------------------


def changes(received: Received) -> Iterator[str]:
    """What changed since the order was written, a line each; nothing where nothing did."""
    then, now = _result(received.then, received.sound), _result(received.now, received.today)
    if received.then is not None and received.now is None:
        yield "variant or kit: no longer in the catalogue"
    if received.now is not None and received.now["pair"]["revision"] != received.order.revision:
        yield f"kit: revision {received.order.revision} then, {received.now['pair']['revision']} today"
    if received.now is not None and now is None and received.today is not None:
        asked = next(one for one in received.now["questions"] if one["fact"] == received.today.found["ask"])
        yield f"question: {asked['title']} is asked today and not answered"
    if then is None or now is None:
        return
    if then.outcome != now.outcome:
        yield f"outcome: {OUTCOME_WORDS[then.outcome]} then, {OUTCOME_WORDS[now.outcome]} today"
    if _keys(then) != _keys(now):
        yield from _differing("reason", _reasons(then), _reasons(now))
    yield from _differing("remedies", _remedies(then), _remedies(now))
    yield from _differing("to order", then.to_order, now.to_order)


def _result(payload: Payload | None, judgement: JudgedOrder | None) -> Result | None:
    if payload is None or judgement is None or judgement.found["outcome"] is None:
        return None
    return result_of(payload, judgement.answers, judgement.found, judgement.choice)


def _keys(result: Result) -> list[tuple[str, bool | None, tuple[float, ...]]]:
    """The reasons without their wording: another sentence, or 0.50 for 0.5, is no change of a machine."""
    return [(one.id, one.met, tuple(map(float, _NUMBER.findall(" ".join(one.numbers))))) for one in result.reasons]


def _reasons(result: Result) -> tuple[str, ...]:
    return tuple(" ".join((one.says, *one.numbers)) for one in result.reasons)


def _remedies(result: Result) -> tuple[str, ...]:
    return tuple(" + ".join(one.names) for one in result.remedies)


def _differing(what: str, then: tuple[str, ...], now: tuple[str, ...]) -> Iterator[str]:
    for kind, one, other, first, last in SequenceMatcher(None, then, now, autojunk=False).get_opcodes():
        if kind != "equal":
            yield from (f"{what}, then: {line.strip()}" for line in then[one:other])
            yield from (f"{what}, today: {line.strip()}" for line in now[first:last])
