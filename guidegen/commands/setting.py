"""`guidegen set`: one fact of a variant, written into its file after the change was shown and tried."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from guidegen.commands.actions import workshop_at
from guidegen.commands.given import named_values
from guidegen.commands.terminal import out, report, say
from guidegen.problems import UsageProblem

if TYPE_CHECKING:
    from guidegen.trade import Catalogue
    from guidegen.trade.machine import Machine
    from guidegen.workshop.editor import EditedFile
    from guidegen.workshop.memory import Memory
    from guidegen.workshop.plan import Plan
    from guidegen.workshop.write_yaml import Value

OK = 0
YES = ("y", "yes")
Add = Callable[[Any, str, Any, str], argparse.ArgumentParser]


def add(group: Any, command: Add) -> None:
    """Add the command to the parser."""
    one = command(group, "set", run, "write facts of a variant into its file, after showing what changes there")
    one.add_argument("variant", metavar="VARIANT")
    text = (
        "as boiler.mass='520 g ± 5 g'; an item of a list goes by its id, as boiler.protrusions.drain-boss.width='14 mm'"
    )
    one.add_argument("facts", metavar="FACT=VALUE", nargs="+", help=text)
    one.add_argument("--evidence", metavar="WORD", help="what the values rest on, as measured")
    one.add_argument("--source", metavar="KEY", help="where they come from: a key of content/sources.yml")
    one.add_argument("--note", metavar="TEXT", help="a sentence beside each value")
    one.add_argument("--yes", action="store_true", help="write without asking")


def run(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen set VARIANT FACT=VALUE`."""
    workshop_at(root)
    from guidegen import trade
    from guidegen.workshop.memory import Memory
    from guidegen.workshop.plan import Plan

    given = named_values("set", arguments.facts)
    beside = {name: getattr(arguments, name) for name in ("evidence", "source", "note")}
    memory = Memory()
    known = trade.load(root, memory)
    plan = Plan((edited(root, known, arguments.variant, given, {key: one for key, one in beside.items() if one}),))
    return write_plan(arguments, root, known, plan, memory)


def write_plan(arguments: argparse.Namespace, root: Path, known: Catalogue, plan: Plan, memory: Memory) -> int:
    """Show what a plan changes, try the workshop with it, ask unless `--yes` was given, and write it."""
    from guidegen import trade
    from guidegen.problems import CatalogueError

    if not plan.changed:
        say(arguments, "nothing changes: that is what the file says already")
        return OK
    out(plan.diff(), end="")
    sys.stdout.flush()
    try:
        tried = trade.load(root, memory, plan.bytes_by_path)
    except CatalogueError:
        say(arguments, "nothing was written; after this change the workshop would have mistakes:")
        sys.stdout.flush()
        raise
    report(sorted(set(tried.warnings) - set(known.warnings)))
    if not arguments.yes and not agreed():
        say(arguments, "nothing was written")
        return OK
    plan.apply(root)
    say(arguments, f"wrote {plan.changed[0].path}")
    return OK


def edited(
    root: Path, known: Catalogue, variant: str, given: Mapping[str, str], beside: Mapping[str, str]
) -> EditedFile:
    """The variant's own file with these facts; what it inherited until now is added to it.

    A value that is replaced takes its evidence with it: the old evidence does not hold for the new value.
    """
    from guidegen.workshop.editor import EditedFile
    from guidegen.workshop.reader import bytes_of

    machine = known.machine(variant)
    path = machine.places[("name",)].path
    file = EditedFile.of(path, bytes_of(root / path, path))
    for name, text in given.items():
        value: Value = {"is": text, **beside} if beside else text
        file = _written(file, machine, name, value)
    return file


def _written(file: EditedFile, machine: Machine, name: str, value: Value) -> EditedFile:
    loc = tuple(name.split("."))
    lists = _lists_on_the_way(machine, loc)
    if file.has(loc):
        return file.set(loc, value)
    there = next(length for length in reversed(range(len(loc))) if file.has(loc[:length]))
    for at in reversed(range(there + 1, len(loc))):
        value = {loc[at]: value} if at not in lists else [_item(loc[at], value)]
    if there in lists:
        return file.append(loc[:there], _item(loc[there], value))
    return file.add(loc[:there], loc[there], value)


def _item(name: str, value: Value) -> Value:
    """An item of a list that holds one fact; it is joined with the inherited item of that id."""
    assert isinstance(value, dict)
    return {"id": name, **value}


def _lists_on_the_way(machine: Machine, loc: tuple[str, ...]) -> set[int]:
    """How many parts of a loc lead to a list, for each list on the way; raises where no fact is there."""
    from pydantic import BaseModel

    node: Any = machine
    lists = set()
    for number, part in enumerate(loc):
        if isinstance(node, tuple):
            lists.add(number)
            below = {one.id: one for one in node if hasattr(one, "id")}
        else:
            below = _fields(node) if isinstance(node, BaseModel) else {}
        if part not in below:
            _refuse(loc, number, below)
        node = below[part]
    if isinstance(node, BaseModel | tuple):
        _refuse(loc, len(loc), _fields(node) if isinstance(node, BaseModel) else {one.id: one for one in node})
    return lists


def _fields(model: Any) -> dict[str, Any]:
    return {info.alias or name: getattr(model, name) for name, info in type(model).model_fields.items()}


def _refuse(loc: tuple[str, ...], number: int, below: Mapping[str, Any]) -> None:
    from guidegen.problems import CatalogueError, Code, Problem, nearest, one_of
    from guidegen.workshop.write_yaml import GIVEN

    found = ".".join(loc[:number]) or "a variant"
    near = nearest(loc[number], below) if number < len(loc) else None
    fix = f"write {near}" if near else f"write one of {one_of(below)}" if below else f"write {found}"
    words = f'{found} has no "{loc[number][:60]}"' if number < len(loc) else f"{found} holds more than one value"
    raise CatalogueError([Problem(GIVEN, 1, 1, Code.UNKNOWN_KEY.value, words, fix)])


def agreed() -> bool:
    """Whether what was shown is to be written."""
    if not sys.stdin.isatty():
        raise UsageProblem("nothing was written; --yes writes without asking")
    try:
        return input("write this? [y/N] ").strip().lower() in YES
    except EOFError:
        return False
