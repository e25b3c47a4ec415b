"""`guidegen run learn` and `run accept`: what logged runs teach of a machine, and that written into its YAML."""

from __future__ import annotations

import argparse
import hashlib
import re
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from guidegen.commands.actions import workshop_at
from guidegen.commands.setting import edited, write_plan
from guidegen.commands.terminal import out, progress_of, say, timed_progress_of
from guidegen.problems import RefusedProblem, UsageProblem, nearest, one_of

if TYPE_CHECKING:
    from guidegen.assess.learn.lesson import Lesson, LessonOfParameter
    from guidegen.assess.learn.reading import ReadCampaign
    from guidegen.runs.document import LoggedRun
    from guidegen.trade import Catalogue
    from guidegen.trade.kit import Kit
    from guidegen.workshop.editor import EditedFile
    from guidegen.workshop.write_yaml import Value

OK = 0
SOURCES = "content/sources.yml"
FIRST_SHARE = 0.04
"""How much of the time that learning takes passes while it looks for what the runs see: one look of some dozens."""
LONGEST_KEY = 40
"""Letters of a key of a source."""
Add = Callable[[Any, str, Any, str], argparse.ArgumentParser]


def add(what: Any, command: Add) -> None:
    """Add both commands to the parser."""
    text = "fit the computed machine to its logged runs, and say which inputs they pin and what would settle the others"
    one = command(what, "learn", learn, text)
    _which(one)
    text = "show what was learned as lines of YAML, and write them as measured, with the runs as their source"
    one = command(what, "accept", accept, text)
    _which(one)
    text = "this input alone, as group.to_boiler or feed-preheater/kit.contact; more than once (default: all learned)"
    one.add_argument("--only", metavar="INPUT", action="append", default=[], help=text)
    one.add_argument("--yes", action="store_true", help="write without asking")


def _which(one: argparse.ArgumentParser) -> None:
    one.add_argument("variant", metavar="VARIANT")
    one.add_argument("--machine", metavar="TEXT", help="which machine, where runs of several were kept")


def learn(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen run learn VARIANT`: what it says is kept beside the runs, for the pages."""
    known, read, lesson = _lesson(arguments, root)
    from guidegen.assess.learn.keeping import lesson_kept
    from guidegen.assess.learn.reading import runs_of
    from guidegen.assess.learn.telling import lines
    from guidegen.assess.learned import path_of
    from guidegen.writing import clear_unfinished, lock, write_atomically

    for line in lines(read, lesson):
        out(line)
    made = lesson_kept(known, arguments.variant, runs_of(known, arguments.variant)[read.machine], read, lesson)
    path = path_of(known, arguments.variant)
    with lock(root):
        clear_unfinished([path.parent])
        write_atomically(path, f"{made.model_dump_json(indent=1)}\n".encode())
    say(arguments, f"kept in {path.relative_to(known.root).as_posix()}; commit it with the runs")
    return OK


def accept(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen run accept VARIANT`."""
    known, read, lesson = _lesson(arguments, root)
    from guidegen.workshop.memory import Memory
    from guidegen.workshop.plan import Plan

    machine = known.machine(arguments.variant)
    invented = any(run.invented for run in read.campaign.runs)
    if invented and not machine.invented:
        raise RefusedProblem("runs that nobody measured say nothing of a real machine; nothing was written")
    taken, kept = _taken(arguments, known, lesson)
    kits = {one.of.kit: known.kit(one.of.kit) for one in taken if one.of.kit}
    if real := [name for name, kit in kits.items() if invented and not kit.invented]:
        words = f"runs that nobody measured say nothing of a real kit ({', '.join(real)}); nothing was written"
        raise RefusedProblem(f"{words}; --only takes inputs of the machine alone")
    for name in kept:
        say(arguments, f"{name} is of that day or of the model, and stands in no file of the machine or of a kit")
    if not taken:
        say(arguments, "nothing was learned that could be written; guidegen run learn says why")
        return OK
    if lesson.disagrees:
        words = "residuals follow each other: the machine has something that the network lacks, and these intervals may"
        say(arguments, f"{words} be too narrow; guidegen run learn says where")
    source = source_key(machine.id, read.machine)
    beside = {"evidence": "measured", "source": source}
    files = [_source(root, source, read, lesson)]
    of_machine = {one.of.input.id: _text(one) for one in taken if not one.of.kit}
    if of_machine:
        files.append(edited(root, known, machine.id, of_machine, beside))
    for kit in kits:
        given = {one.of.input.id: _text(one) for one in taken if one.of.kit == kit}
        files.append(kit_edited(root, kits[kit], given, beside))
        say(arguments, f"{kit}: learned on one {machine.name}; its values then count for every machine")
    memory = Memory()
    return write_plan(arguments, root, known, Plan(tuple(files)), memory)


def _lesson(arguments: argparse.Namespace, root: Path) -> tuple[Catalogue, ReadCampaign, Lesson]:
    workshop_at(root)
    from guidegen import trade
    from guidegen.assess.learn.lesson import learn as learn_from
    from guidegen.assess.learn.reading import read_campaign, runs_of

    known = trade.load(root)
    machine = known.machine(arguments.variant)
    by_machine = runs_of(known, machine.id)
    runs = _runs(by_machine, machine.id, arguments.machine)
    progress = progress_of(arguments)
    progress("reading")
    read = read_campaign(known, machine, runs)
    if not read.campaign.runs:
        reasons = "; ".join(f"{one.path}: {one.because}" for one in read.left_out)
        raise UsageProblem(f"no run of {machine.id} can be learned from: {reasons}")
    progress = timed_progress_of(arguments, FIRST_SHARE)
    lesson = learn_from(read.campaign, progress)
    progress("")
    return known, read, lesson


def _runs(by_machine: Mapping[str, dict[str, LoggedRun]], variant: str, wanted: str | None) -> dict[str, LoggedRun]:
    """The runs of the machine that is meant."""
    if not by_machine:
        raise UsageProblem(f"no run of {variant} is kept; guidegen run add keeps one")
    named = {name: runs for name, runs in by_machine.items() if name}
    if wanted is None and len(named) > 1:
        raise UsageProblem(f"runs of several machines are kept; --machine says which: {one_of(named)}")
    if not named or (wanted is None and len(named) < len(by_machine)):
        path = next(iter(by_machine[""]))
        words = f"{path}: nobody wrote which machine it was, and inputs are learned of one"
        raise UsageProblem(f"{words}; write machine: with its serial number")
    name = wanted if wanted is not None else next(iter(named))
    if name not in named:
        near = nearest(name, named)
        raise UsageProblem(f"no run of {name}: " + (f"write {near}" if near else f"there are {one_of(named)}"))
    return named[name]


def _taken(
    arguments: argparse.Namespace, known: Catalogue, lesson: Lesson
) -> tuple[list[LessonOfParameter], list[str]]:
    """What is to be written, and the names of what was learned but has no line to be written into."""
    from guidegen.assess.learn.lesson import BY_ITSELF

    by_key = {one.of.key: one for one in lesson.parameters}
    untouched = {one.key: one for one in lesson.untouched}
    for name in arguments.only:
        if name in untouched:
            words = f"{name} was not learned: these runs tell nothing of it"
            raise RefusedProblem(f"{words}; this would settle it: {untouched[name].input.settles or BY_ITSELF}")
        if name not in by_key:
            near, every = nearest(name, [*by_key, *untouched]), one_of([*by_key, *untouched])
            raise UsageProblem(f"no input {name}: " + (f"write {near}" if near else f"there are {every}"))
        if not by_key[name].learned:
            why, by = by_key[name].because, by_key[name].settled_by
            raise RefusedProblem(f"{name} was not learned: {why}; this would settle it: {by}")
    wanted = [one for one in lesson.learned if not arguments.only or one.of.key in arguments.only]
    machine = known.machine(arguments.variant)
    writable = [one for one in wanted
                if (one.of.input.id in _of_kit(known.kit(one.of.kit)) if one.of.kit
                    else machine.fact(one.of.input.id) is not None)]  # fmt: skip
    return writable, [one.of.key for one in wanted if one not in writable]


def _text(one: LessonOfParameter) -> str:
    from guidegen.assess.learn.written import yaml_text

    return yaml_text(one.of.input, *one.after)


def _of_kit(kit: Kit) -> dict[str, tuple[str | int, ...]]:
    """Where each input of a kit is written in its file."""
    from guidegen.trade.effects import numbered
    from guidegen.trade.effects.base import key

    return {
        key(name, number): ("effects", at, *name.split("."))
        for at, (effect, number) in enumerate(numbered(kit.effects))
        for name in effect.drawn
    }


def kit_edited(root: Path, kit: Kit, given: Mapping[str, str], beside: Mapping[str, str]) -> EditedFile:
    """The kit's file with these inputs of its effects; one that was taken by how a coil is held is added."""
    from guidegen.workshop.editor import EditedFile
    from guidegen.workshop.reader import bytes_of

    path = kit.places[("name",)].path
    file = EditedFile.of(path, bytes_of(root / path, path))
    places = _of_kit(kit)
    for name, text in given.items():
        loc, value = places[name], {"is": text, **beside}
        file = file.set(loc, value) if file.has(loc) else file.add(loc[:-1], str(loc[-1]), value)
    return file


def source_key(variant: str, machine: str) -> str:
    """The key of the runs of one machine among the sources; a sum of its name where that is no key by itself.

    >>> source_key("tamsin-mk2", "Serial 0417")
    'runs-tamsin-mk2-serial-0417'
    """
    word = re.sub("[^a-z0-9]+", "-", machine.lower()).strip("-")
    key = f"runs-{variant}-{word}"
    if len(key) <= LONGEST_KEY and word == machine.lower().replace(" ", "-"):
        return key
    end = hashlib.sha256(f"{variant} {machine}".encode()).hexdigest()[:8]
    return f"{key[: LONGEST_KEY - len(end) - 1].rstrip('-')}-{end}"


def _source(root: Path, key: str, read: ReadCampaign, lesson: Lesson) -> EditedFile:
    """The workshop's sources with the runs among them that were learned from."""
    from guidegen.workshop.editor import EditedFile
    from guidegen.workshop.reader import bytes_of

    runs, aside = read.campaign.runs, len(lesson.set_aside)
    invented = any(run.invented for run in runs)
    count = len(runs) - aside
    title = f"{count} logged run{'' if count == 1 else 's'} of {read.machine}, {read.campaign.bench.machine.name}"
    value: dict[str, Value] = {"title": title, "kind": "bench", "where": ", ".join(_folders(read.paths))}
    if invented:
        value["note"] = "Invented. Nobody measured anything."
    file = EditedFile.of(SOURCES, bytes_of(root / SOURCES, SOURCES))
    return file.set(("sources", key), value) if file.has(("sources", key)) else file.add(("sources",), key, value)


def _folders(paths: Iterable[str]) -> list[str]:
    return sorted({Path(path).parent.as_posix() for path in paths})
