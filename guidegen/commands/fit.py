"""`guidegen fit` and `guidegen answer`: what customers ask the maker, answered on the terminal."""

from __future__ import annotations

import argparse
import json
from collections.abc import Callable, Mapping
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Any

from guidegen.commands.actions import received_bytes, workshop_at
from guidegen.commands.given import named_values
from guidegen.commands.terminal import out, print_error, report
from guidegen.problems import UsageProblem

if TYPE_CHECKING:
    from guidegen.judge.fit.payload import Payload, Which
    from guidegen.judge.fit.walk import Answer
    from guidegen.trade import Catalogue
    from guidegen.workshop.fact_table import FactTable

OK, AUTHOR = 0, 1

Add = Callable[[Any, str, Any, str], argparse.ArgumentParser]


def add(group: Any, command: Add) -> None:
    """Add the commands to the parser."""
    text = "say whether a kit goes on a variant, why, and what to order; or check an order text that was received"
    one = command(group, "fit", fit, text)
    one.add_argument("variant", metavar="VARIANT", nargs="?")
    one.add_argument("kit", metavar="KIT", nargs="?")
    text = "an answer of the owner, as boiler.clearance='21 mm', not-sure or photo; may be given more than once"
    one.add_argument("--answer", metavar="FACT=VALUE", dest="answers", action="append", default=[], help=text)
    text = "check this order text by the rules of its edition and say what changed since; - reads standard input"
    one.add_argument("--read", metavar="ORDER", help=text)
    one.add_argument("--json", action="store_true", help="the same as JSON")

    one = command(group, "answer", answer, "print a reply to paste about one topic, with computed numbers and a link")
    one.add_argument("variant", metavar="VARIANT")
    one.add_argument("topic", metavar="TOPIC", nargs="?", help="what was asked about; without it all topics are listed")
    one.add_argument("--kit", metavar="KIT", help="the kit, where the workshop has more than one")
    text = "answer from this edition, or from the draft with next (default: the newest that has the guide)"
    one.add_argument("--edition", metavar="EDITION", help=text)


def fit(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen fit VARIANT KIT [--answer FACT=VALUE]`, or `guidegen fit --read ORDER`."""
    workshop_at(root)
    if arguments.read is not None:
        if arguments.variant is not None or arguments.answers:
            raise UsageProblem("--read takes variant, kit and answers from the text; give it alone")
        return _read(arguments, root)
    if arguments.kit is None:
        raise UsageProblem("fit wants VARIANT and KIT, or --read ORDER; `guidegen list` shows both")
    from guidegen import trade
    from guidegen.assess import verdict
    from guidegen.assess.together import together
    from guidegen.commands.fit_text import fit_report, together_report
    from guidegen.editions.edition import DRAFT
    from guidegen.judge.fit.result import result_of, result_on_data
    from guidegen.judge.fit.walk import walk

    with trade.opened(root) as known:
        machine, kit = known.machine(arguments.variant), known.kit(arguments.kit)
        checked = verdict.checked(known, machine, kit, DRAFT)
        others = together(known, machine).get(kit.id, ())
        payload = checked.payload
        answers = answers_of(payload, arguments.answers, known.table)
        found = walk(payload["rules"], answers)
        if found["outcome"] is not None:
            result = result_of(payload, answers, found)
        else:
            result = result_on_data(checked, answers, found)
        sold = result.outcome in ("fits", "fits-with-conditions") and not arguments.json
        noticed = _worth(root, known, arguments.variant, arguments.kit) if sold else []
    if arguments.json:
        pair = {name: payload["pair"][name] for name in ("variant", "kit", "revision", "rules")}
        with_others = {"together": [one.model_dump(mode="json") for one in others]}
        out(json.dumps({**pair, **asdict(result), **with_others}, ensure_ascii=False, indent=1))
    else:
        names, stands, *rest = fit_report(payload, result)
        out("\n".join((names, stands, *noticed, *rest, *together_report(others))))
    return OK


def _worth(root: Path, known: Catalogue, variant: str, kit: str) -> list[str]:
    """Whether it is worth it on this variant, where the numbers are kept: nothing is computed for it here."""
    from guidegen.assess import Assessor
    from guidegen.assess.kept import Kept
    from guidegen.editions.edition import DRAFT
    from guidegen.site.pages import worth

    assessor = Assessor(known, DRAFT, kept=Kept(root))
    machine, one = known.machine(variant), known.kit(kit)
    if not assessor.has_numbers(machine, one):
        return []
    return [*worth.lines(assessor.assess(machine, one))]


def answers_of(
    payload: Payload | Which,
    given: list[str],
    table: FactTable,
    unasked: str = "the variant's data settle it, or it changes nothing",
) -> dict[str, Answer]:
    """Read `FACT=VALUE`, each once; what nobody asks here, or what is no answer, is wrong usage.

    `table` has the facts that machines have; `unasked` says why one of them is not asked.
    """
    from guidegen.judge.fit.answers import PHOTO, accepted, asked_again, is_plausible, read_answer
    from guidegen.judge.fit.scale import NotRead

    facts = {fact["fact"]: fact for fact in payload["rules"]["facts"]}
    answers: dict[str, Answer] = {}
    for name, value in named_values("--answer", given).items():
        if name not in facts:
            raise UsageProblem(f"--answer {name}: {_not_asked(name, facts, table, unasked)}")
        try:
            answers[name] = read_answer(facts[name], value)
        except NotRead as error:
            raise UsageProblem(f"--answer {name}: {error}; {accepted(facts[name])}") from None
        if not is_plausible(facts[name], answers[name]):
            again = asked_again(facts[name], answers[name])
            raise UsageProblem(f"--answer {name}: {again}; measure again, or write {PHOTO}")
    return answers


def _not_asked(name: str, facts: Mapping[str, Any], table: FactTable, unasked: str) -> str:
    from guidegen.problems import nearest

    asked = f"asked here: {', '.join(facts)}" if facts else "nothing is asked here, the variant's data settle it"
    if name in table:
        return f"{unasked}; {asked}"
    near = nearest(name, facts) or nearest(name, table)
    return f"no machine has such a fact; {f'write {near}; ' if near else ''}{asked}"


def _read(arguments: argparse.Namespace, root: Path) -> int:
    from guidegen import trade
    from guidegen.commands import orders
    from guidegen.commands.fit_text import order_report
    from guidegen.judge.letter import text_of

    path, data = received_bytes(arguments.read)
    with trade.opened(root) as known:
        received = orders.receive(root, known, text_of(data, path, "order text"), path)
        changes = list(orders.changes(received))
    if arguments.json:
        out(json.dumps(_as_plain(received, changes), ensure_ascii=False, indent=1))
    else:
        out("\n".join(order_report(received, changes)))
    report((*received.warnings, *received.problems))
    return AUTHOR if received.problems else OK


def _as_plain(received: Any, changes: list[str]) -> dict[str, Any]:
    order, today = received.order, received.today
    return {
        "variant": order.variant,
        "kit": order.kit,
        "revision": order.revision,
        "edition": order.edition,
        "answers": dict(order.answers),
        "outcome": order.outcome,
        "remedies": list(order.remedies),
        "outcome_today": today.found["outcome"] if today is not None else None,
        "changes": changes,
    }


def answer(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen answer VARIANT [TOPIC] [--kit KIT]`."""
    workshop_at(root)
    from guidegen import trade
    from guidegen.commands import answering
    from guidegen.problems import nearest
    from guidegen.site.pages.topics import TOPICS
    from guidegen.trade.listing import table

    topic = arguments.topic
    if topic is None:
        out("\n".join(table(("topic", "what is asked"), [(name, one.question) for name, one in TOPICS.items()])))
        return OK
    if topic not in TOPICS:
        near = nearest(topic, TOPICS)
        fix = f"write {near}" if near else f"the topics are {', '.join(TOPICS)}"
        raise UsageProblem(f'there is no topic "{topic}"; {fix}')
    with trade.opened(root) as known:
        kits = list(known.kits)
        if arguments.kit is None and len(kits) != 1:
            raise UsageProblem(f"--kit is missing; the kits are {', '.join(kits) or 'none yet'}")
        kit = arguments.kit or kits[0]
        text, note = answering.answer(root, known, arguments.variant, topic, kit, arguments.edition)
    out(text)
    if note:
        print_error(note)
    return OK
