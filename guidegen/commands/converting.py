"""`guidegen convert`: what stands in words becomes acts, after what changes, and what is said no more, was shown."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from guidegen.commands.actions import workshop_at
from guidegen.commands.setting import agreed
from guidegen.commands.terminal import out, say
from guidegen.problems import CatalogueError, Code, Problem

if TYPE_CHECKING:
    from guidegen.judge.acts.convert.document import ConvertedFile
    from guidegen.judge.acts.things import Things
    from guidegen.trade import Catalogue

OK = 0
FOLDER = "content/procedures/"
Add = Callable[[Any, str, Any, str], argparse.ArgumentParser]


def add(group: Any, command: Add) -> None:
    """Add the command to the parser."""
    one = command(group, "convert", run, "write words as acts, after showing what changes and what is lost")
    one.add_argument("--yes", action="store_true", help="write without asking")


def run(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen convert`."""
    workshop_at(root)
    from guidegen.judge.acts.convert.document import readable
    from guidegen.trade.load import look
    from guidegen.workshop.editor import EditedFile
    from guidegen.workshop.memory import Memory
    from guidegen.workshop.plan import Plan

    memory = Memory()
    known, before = look(root, memory)
    elsewhere = [one for one in before if one.severity == "error" and not one.path.startswith(FOLDER)]
    if known is None or elsewhere:
        raise CatalogueError(elsewhere or before)
    files = _converted(root, known)
    plan = Plan(tuple(one.file for one in files))
    out(plan.diff(), end="")
    _list("what the old text said and the new does not:", [str(note) for one in files for note in one.unsaid])
    _list("to be decided by you:", [str(note) for one in files for note in one.undecided])
    done, undecided = sum(one.done for one in files), sum(len(one.undecided) for one in files)
    say(arguments, f"{done} of {done + undecided} texts become acts, {undecided} are to be decided")
    sys.stdout.flush()
    if not plan.changed:
        say(arguments, "nothing changes")
        return OK
    before_it = {one.path: readable(EditedFile.of(one.path, one.before)).after for one in plan.changed}
    _refuse_new(look(root, memory, before_it)[1], look(root, memory, plan.bytes_by_path)[1])
    if not arguments.yes and not agreed():
        say(arguments, "nothing was written")
        return OK
    plan.apply(root)
    say(arguments, f"wrote {', '.join(one.path for one in plan.changed)}")
    return OK


def _converted(root: Path, known: Catalogue) -> list[ConvertedFile]:
    """Every file of procedures with its steps converted; all that cannot be read is reported together."""
    from guidegen.judge.acts.convert.document import converted
    from guidegen.workshop.editor import EditedFile
    from guidegen.workshop.files import find
    from guidegen.workshop.reader import bytes_of

    made: list[ConvertedFile] = []
    problems: list[Problem] = []
    for name, path in sorted(find(root, []).procedures.items()):
        try:
            made.append(converted(EditedFile.of(path, bytes_of(root / path, path)), _pairs(known, name)))
        except CatalogueError as error:
            problems += error.problems
    if problems:
        raise CatalogueError(problems)
    return made


def _pairs(known: Catalogue, name: str) -> list[Things]:
    """The things of every machine with the kit that a procedure is for; with every kit for the shared blocks."""
    from guidegen.assess.inventory import things_of

    kits = known.kits.values() if name == "shared" else [kit for kit in known.kits.values() if kit.id == name]
    found = [things_of(machine, kit, known.first(kit.id))[0] for kit in kits for machine in known.machines.values()]
    return list({repr(one): one for one in found}.values())


def _list(title: str, lines: Sequence[str]) -> None:
    if lines:
        out(title)
        out("\n".join(f"  {line}" for line in lines))


def _refuse_new(before: Sequence[Problem], after: Sequence[Problem]) -> None:
    """Refuse a conversion that makes mistakes; those that were there before are no reason."""
    old = {(one.path, one.code, one.message) for one in before}
    new = [one for one in after if one.severity == "error" and one.code != Code.OLD_FORM.value
           and (one.path, one.code, one.message) not in old]  # fmt: skip
    if new:
        out("nothing was written; after this change the workshop would have other mistakes:", flush=True)
        raise CatalogueError(new)
