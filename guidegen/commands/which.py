"""`guidegen which`: which variant a machine is, by the questions and the rules of the page for it."""

from __future__ import annotations

import argparse
import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

from guidegen.commands.actions import workshop_at
from guidegen.commands.fit import answers_of
from guidegen.commands.terminal import out

if TYPE_CHECKING:
    from guidegen.judge.fit.identified import Identified
    from guidegen.judge.fit.payload import Which

OK = 0
NOBODY_ASKS = "it does not tell the variants apart"

Add = Callable[[Any, str, Any, str], argparse.ArgumentParser]


def add(group: Any, command: Add) -> None:
    """Add the command to the parser."""
    one = command(group, "which", which, "say which variant a machine is by its marks and plate, and what to look at")
    text = "what the owner sees, as mark.plate='a plate of foil', not-sure or photo; may be given more than once"
    one.add_argument("--answer", metavar="FACT=VALUE", dest="answers", action="append", default=[], help=text)
    one.add_argument("--json", action="store_true", help="the same as JSON")


def which(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen which [--answer FACT=VALUE]`."""
    workshop_at(root)
    from guidegen import trade
    from guidegen.editions.edition import DRAFT
    from guidegen.judge.fit.identified import identified
    from guidegen.judge.fit.identify import which_of
    from guidegen.workshop.questions import Questions

    with trade.opened(root) as known:
        machines = list(known.machines.values())
        asked = known.questions or Questions()
        finder = which_of(machines, asked, known.table, edition=DRAFT, contact=known.workshop.contact)
        answers = answers_of(finder, arguments.answers, known.table, NOBODY_ASKS)
        found = identified(finder["rules"], finder["shows"], answers)
        left = [finder["variants"][place]["id"] for place in found["left"]]
        if arguments.json:
            out(json.dumps({**found, "left": left}, ensure_ascii=False, indent=1))
        else:
            out("\n".join(_report(finder, found, answers)))
    return OK


def _report(finder: Which, found: Identified, answers: Any) -> Iterator[str]:
    from guidegen.judge.fit.result import answer_words, asked

    said = [answer_words(finder, name, answers[name]) for name in found["against"]]
    names = [f"{finder['variants'][place]['name']} ({finder['variants'][place]['id']})" for place in found["left"]]
    if said:
        yield f"{'; '.join(said[:-1])}, but {said[-1]}: no variant here shows all of that"
        yield f"look again, or have the owner write to {finder['contact']} with photographs"
    elif not names:
        yield f"none of the variants here; have the owner write to {finder['contact']} with photographs"
    elif len(names) == 1:
        yield f"probably a {names[0]}"
    else:
        yield f"one of {len(names)}: {', '.join(names)}"
    if found["ask"] is not None:
        one = asked(finder, found["ask"])
        yield f"look next: {one.ask} {one.how[:1].upper()}{one.how[1:]}"
        yield from (f"  --answer {one.fact}='{take}'" for take in one.takes)
