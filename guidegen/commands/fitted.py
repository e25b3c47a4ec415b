"""`guidegen fitted`: the builds that owners reported; one more of them, checked before it is written."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from pathlib import Path
from typing import Any

from guidegen.commands.actions import received_bytes, workshop_at
from guidegen.commands.given import day_of
from guidegen.commands.setting import OK, write_plan
from guidegen.commands.terminal import out
from guidegen.problems import UsageProblem

Add = Callable[[Any, str, Any, str], argparse.ArgumentParser]


def add(group: Any, command: Add) -> None:
    """Add the commands to the parser."""
    one = command(group, "fitted", show, "list the builds that owners reported, and what they say together")
    one.add_argument("--json", action="store_true", help="every build as JSON")
    what = one.add_subparsers(title="what", metavar="WHAT")

    two = command(what, "add", add_report, "check a build report and write it to machines/<family>/builds.yml")
    two.add_argument("file", metavar="FILE", help="the text that was sent; - reads standard input")
    two.add_argument("--accepted", type=day_of, metavar="DATE", help="the day on which you accept it, for the pages")
    two.add_argument("--yes", action="store_true", help="write without asking")

    two = command(what, "accept", accept, "note the day on which you accepted a build, so that pages speak of it")
    two.add_argument("number", metavar="NUMBER", help="the build's number")
    two.add_argument("--date", type=day_of, required=True, metavar="DATE", help="the day, as 2026-03-31")
    two.add_argument("--yes", action="store_true", help="write without asking")

    two = command(what, "form", form, "print a build report of a guide to fill in from paper")
    two.add_argument("variant", metavar="VARIANT")
    two.add_argument("kit", metavar="KIT")
    two.add_argument("--edition", metavar="EDITION", help="the edition that was worked by (default: the newest)")
    text = "a condition of the instruction that applies, in its words; may be given more than once"
    two.add_argument("--case", metavar="TEXT", dest="case", action="append", default=[], help=text)


def show(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen fitted`."""
    workshop_at(root)
    import json

    from guidegen import trade
    from guidegen.commands import builds
    from guidegen.commands.fitted_text import listed

    with trade.opened(root) as known:
        if arguments.json:
            out(json.dumps(builds.as_plain(builds.every(known)), ensure_ascii=False, indent=1))
        else:
            out("\n".join(listed(known, builds.every(known))))
    return OK


def add_report(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen fitted add FILE`."""
    workshop_at(root)
    from guidegen import trade
    from guidegen.commands import builds
    from guidegen.editions.days import refuse_future
    from guidegen.judge.builds.received import unmet
    from guidegen.judge.letter import text_of
    from guidegen.workshop.memory import Memory
    from guidegen.workshop.plan import Plan

    if arguments.accepted is not None:
        refuse_future(arguments.accepted, "the day of acceptance")
    path, data = received_bytes(arguments.file)
    memory = Memory()
    known = trade.load(root, memory)
    received = builds.receive(root, known, text_of(data, path, "build report"), path)
    file, number = builds.added(root, known, received.report, arguments.accepted)
    out("\n".join(builds.summary(received.report)))
    for reason in unmet(received.report):
        out(f"does not count as carried out: {reason}")
    if arguments.accepted is None:
        out(f"no page speaks of it before `guidegen fitted accept {number} --date DATE`")
    return write_plan(arguments, root, known, Plan((file,)), memory)


def accept(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen fitted accept NUMBER --date DATE`."""
    workshop_at(root)
    from guidegen import trade
    from guidegen.commands import builds
    from guidegen.editions.days import refuse_future
    from guidegen.workshop.memory import Memory
    from guidegen.workshop.plan import Plan

    refuse_future(arguments.date, "the day of acceptance")
    memory = Memory()
    known = trade.load(root, memory)
    file = builds.accepted(root, known, arguments.number, arguments.date)
    return write_plan(arguments, root, known, Plan((file,)), memory)


def form(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen fitted form VARIANT KIT`."""
    workshop_at(root)
    from guidegen.commands import builds
    from guidegen.editions import kept
    from guidegen.judge.builds.report import write

    line = kept.line(root)
    if not line:
        raise UsageProblem("there is no edition yet; a build report speaks of a published one")
    name = arguments.edition or line[-1].edition
    guide = f"{arguments.variant}/{arguments.kit}"
    out(write(builds.blank(root, guide, name, tuple(arguments.case))), end="")
    return OK
