"""The commands about editions: their options, and what each prints."""

from __future__ import annotations

import argparse
import datetime
from collections.abc import Callable
from pathlib import Path
from typing import Any

from guidegen.commands.actions import workers_of, workshop_at
from guidegen.commands.given import day_of, named_values
from guidegen.commands.terminal import clear_progress, out, progress_of, report, say
from guidegen.problems import UsageProblem

OK, AUTHOR = 0, 1
BRANCH = "published"

Add = Callable[[Any, str, Any, str], argparse.ArgumentParser]
Option = Callable[[argparse.ArgumentParser], None]


def add(group: Any, command: Add, engine: Option, draws: Option, workers: Option) -> None:
    """Add the commands to the parser."""
    one = command(group, "publish", publish, "freeze the workshop as an edition in site/EDITION/")
    one.add_argument("edition", metavar="EDITION", help="its name, as 2026.1")
    one.add_argument("--note", metavar="TEXT", help="what owners who fitted by an older edition must do")
    one.add_argument("--reason", metavar="TEXT", help="why there is a new edition, in one line")
    _date(one)
    text = "sign it with this OpenSSH key, whose public half stands in content/signers"
    one.add_argument("--sign", metavar="KEY", type=Path, help=text)
    engine(one)
    draws(one)
    workers(one)

    one = command(group, "editions", editions, "list the editions, where their pages are, and why each was published")
    one.add_argument("--anew", action="store_true", help="make pages that are not here anew from their snapshots")
    engine(one)

    one = command(group, "changes", changes, "print what changed between two editions")
    one.add_argument("older", metavar="A", nargs="?", help="the older edition (default: the one before B)")
    text = "the newer edition, or next for what the workshop says today (default: the newest)"
    one.add_argument("newer", metavar="B", nargs="?", help=text)
    draws(one)

    one = command(group, "withdraw", withdraw, "put a stop page before a guide of an edition")
    one.add_argument("edition", metavar="EDITION")
    one.add_argument("guide", metavar="VARIANT/KIT", nargs="?", help="the guide (default: every guide of the edition)")
    one.add_argument("--because", metavar="TEXT", required=True, help="why, in words for anybody who works by it")
    _date(one)

    command(group, "verify", verify, "name every changed, missing or extra file of the editions")

    one = command(group, "deliver", deliver, "bring the editions to a branch of git or to a plain folder")
    _where(one)

    one = command(group, "recover", recover, "bring all editions back from where they were delivered, and verify them")
    _where(one)

    one = command(group, "unit", None, "keep the units sold, in units/, which is private")
    _unit(one.add_subparsers(title="what", required=True, metavar="WHAT"), command)

    one = command(group, "affected", affected, "list the units sold whose owners must be written to, or write to them")
    one.add_argument("older", metavar="A", help="the oldest edition that they may have fitted by")
    one.add_argument("newer", metavar="B", help="the edition that changed something, or that was withdrawn")
    one.add_argument("--letters", action="store_true", help="write a letter for each unit that has none about B yet")
    text = "one letter for all units of one name, where you know that each name is one person"
    one.add_argument("--together", action="store_true", help=text)
    one.add_argument("--date", metavar="DAY", type=day_of, help="the day of the letters (default: today)")


def _date(one: argparse.ArgumentParser) -> None:
    text = "the day that is printed, as 2026-03-31 (default: that of the last commit)"
    one.add_argument("--date", metavar="DAY", type=day_of, help=text)


def _where(one: argparse.ArgumentParser) -> None:
    where = one.add_mutually_exclusive_group()
    where.add_argument("--branch", metavar="NAME", default=BRANCH, help="the branch (default: %(default)s)")
    where.add_argument("--folder", metavar="DIR", type=Path, help="a plain folder")


def _unit(what: Any, command: Add) -> None:
    one = command(what, "add", unit_add, "keep a unit that was sold")
    one.add_argument("serial", metavar="SERIAL")
    for name, text in (
        ("variant", "the machine's variant"),
        ("kit", "the kit"),
        ("revision", "the kit's revision"),
        ("edition", "the edition that goes with it"),
    ):
        one.add_argument(f"--{name}", metavar="ID", required=True, help=text)
    one.add_argument("--tube-batch", metavar="TEXT", help="the batch of the coil's tube")
    one.add_argument("--pressure-test", metavar="TEXT", help="pressure, time and result")
    one.add_argument("--customer", metavar="TEXT", help="who bought it; never leaves this folder")
    text = "a fact agreed about the customer's machine, as inlet=straight; may be given more than once"
    one.add_argument("--fact", metavar="FACT=VALUE", dest="facts", action="append", default=[], help=text)

    one = command(what, "note", unit_note, "note what became of a letter to a unit's owner")
    one.add_argument("serial", metavar="SERIAL")
    one.add_argument("edition", metavar="B", help="the edition that the letter is about")
    one.add_argument("state", choices=("reminded", "answered", "done"))
    one.add_argument("--date", metavar="DAY", type=day_of, help="the day on which it happened (default: today)")

    one = command(what, "label", unit_label, "write a unit's bag label and packing slip, to print")
    one.add_argument("serial", metavar="SERIAL")


# --- what they do ------------------------------------------------------------------------------------


def publish(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen publish EDITION`."""
    workshop_at(root)
    from guidegen import pipeline
    from guidegen.editions.publishing import Order

    order = Order(arguments.edition, arguments.note, arguments.reason, arguments.date, arguments.sign)
    done, warnings = pipeline.publish(
        root, order, arguments.engine, progress_of(arguments), arguments.draws, workers_of(arguments)
    )
    clear_progress()
    report(warnings)
    folder = done.folder.as_posix()
    if not done.is_new:
        say(arguments, f"edition {order.edition} is in {folder} with these very bytes; nothing was done")
        return OK
    say(arguments, f"published in {folder}: {done.edition.reason}")
    kept = f"content/editions/{order.edition}"
    say(arguments, f"now keep it: git add {kept} && git commit -m 'Keep edition {order.edition}' -- {kept}")
    return OK


def editions(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen editions [--anew]`."""
    workshop_at(root)
    from guidegen.editions import anew, commands

    if arguments.anew:
        from guidegen import pipeline

        for name in anew.missing(root):
            pipeline.make_anew(root, name, arguments.engine, progress_of(arguments))
        # What was ended between the last pages and the root's is finished here.
        pipeline.refresh(root)
        clear_progress()
    for text in commands.editions(root):
        say(arguments, text)
    return OK


def changes(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen changes [A [B]]`."""
    workshop_at(root)
    from guidegen import pipeline
    from guidegen.editions import commands

    def today() -> list[dict[str, Any]]:
        records = pipeline.records_of_today(root, progress_of(arguments), arguments.draws)
        clear_progress()
        return records

    out("\n".join(commands.changes(root, arguments.older, arguments.newer, today)))
    return OK


def withdraw(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen withdraw EDITION [VARIANT/KIT]`."""
    workshop_at(root)
    from guidegen.editions import commands

    say(arguments, commands.withdraw(root, arguments.edition, arguments.guide, arguments.because, arguments.date))
    return OK


def verify(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen verify`."""
    workshop_at(root)
    from guidegen.editions import commands

    faults, words = commands.check_editions(root)
    for fault in faults:
        out(str(fault))
    say(arguments, words)
    return AUTHOR if faults else OK


def deliver(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen deliver`."""
    workshop_at(root)
    from guidegen.editions import commands

    say(arguments, commands.deliver_to(root, arguments.branch, arguments.folder))
    return OK


def recover(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen recover`."""
    workshop_at(root)
    from guidegen.editions import commands

    say(arguments, commands.recover(root, arguments.branch, arguments.folder))
    return OK


def unit_add(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen unit add SERIAL`."""
    workshop_at(root)
    facts = named_values("--fact", arguments.facts, empty=True)
    from guidegen.editions import commands
    from guidegen.editions.units_sold import Unit

    names = ("serial", "variant", "kit", "revision", "edition", "tube_batch", "pressure_test", "customer")
    unit = Unit(**{name: getattr(arguments, name) for name in names}, facts=facts)
    say(arguments, commands.add_unit(root, unit))
    return OK


def unit_note(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen unit note SERIAL B reminded|answered|done`."""
    workshop_at(root)
    from guidegen.editions import commands

    day = arguments.date or datetime.date.today()
    say(arguments, commands.note_letter(root, arguments.serial, arguments.edition, arguments.state, day))
    return OK


def unit_label(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen unit label SERIAL`."""
    workshop_at(root)
    from guidegen.editions import commands

    say(arguments, commands.label_unit(root, arguments.serial))
    return OK


def affected(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen affected A B [--letters [--together]]`."""
    workshop_at(root)
    from guidegen.editions import commands

    if arguments.together and not arguments.letters:
        raise UsageProblem("--together says how letters are written; give --letters as well")
    day = arguments.date or datetime.date.today() if arguments.letters else None
    for text in commands.affected(root, arguments.older, arguments.newer, day, arguments.together):
        out(text)
    return OK
