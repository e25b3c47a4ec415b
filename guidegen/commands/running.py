"""`guidegen run`: a logged file is described and kept, or one that is kept is read through again."""

from __future__ import annotations

import argparse
import contextlib
import re
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from guidegen.commands import teaching
from guidegen.commands.actions import workshop_at
from guidegen.commands.given import day_of, named_values
from guidegen.commands.logged import compare, print_figures
from guidegen.commands.setting import agreed
from guidegen.commands.terminal import out, report, say
from guidegen.problems import Problem, UsageProblem, nearest, one_of

if TYPE_CHECKING:
    from guidegen.runs.asking import Columns
    from guidegen.runs.document import LoggedRun
    from guidegen.runs.looking import Looked
    from guidegen.trade import Catalogue
    from guidegen.workshop.write_yaml import Value

OK = 0
KINDS = ("cold-start", "idle", "shot", "long-draw", "cooling", "outlet")
"""Written again, because asking for help must not load the models."""
SHOWN = 20
"""So many problems of one code are printed, of more the number."""
Add = Callable[[Any, str, Any, str], argparse.ArgumentParser]


def add(group: Any, command: Add, draws: Callable[[argparse.ArgumentParser], None]) -> None:
    """Add the command to the parser."""
    one = command(group, "run", None, "keep a logged file of a machine, described, or look through one that is kept")
    what = one.add_subparsers(title="what", required=True, metavar="WHAT")
    one = command(what, "add", add_run, "keep a CSV file of any logger, with a description of what stands in it")
    one.add_argument("file", metavar="FILE", help="comma, semicolon or tab between the columns")
    one.add_argument("--variant", metavar="ID", required=True, help="the machine that was logged")
    one.add_argument(
        "--kit", metavar="ID", dest="kits", action="append", default=[], help="fitted to it; more than once"
    )
    one.add_argument("--kind", choices=KINDS, required=True, help="what was done")
    one.add_argument("--name", metavar="STEM", help="the name that it is kept by (default: the file's)")
    one.add_argument("--date", type=day_of, metavar="DAY", help="when; needed where the file does not say it")
    real = one.add_mutually_exclusive_group(required=True)
    real.add_argument("--invented", action="store_true", help="nobody measured that")
    real.add_argument("--real", action="store_true", help="it was measured on a machine")
    one.add_argument("--logger", metavar="TEXT", required=True, help="what logged it, in words")
    one.add_argument("--setpoint", metavar="QUANTITY", help="what the machine was set to, as '93 °C ± 0.5 °C'")
    one.add_argument("--drink", metavar="ID", help="what was drawn: a drink of content/drinks.yml")
    one.add_argument("--machine", metavar="TEXT", help="which machine it was, as its serial number")
    one.add_argument("--block", metavar="NUMBER", help="runs of one block, one of each configuration, are compared")
    one.add_argument("--feed", metavar="QUANTITY", help="the water in the tank, as '20 °C ± 0.5 K'")
    for name, text in (
        ("column", "what a column is, as 'T1=outlet °C', 't=time ms' or 'x=ignored'"),
        ("probe", "kind and class of the probe of a column, as 'T1=type-k 1' or 'T1=platinum A'"),
        ("lag", "how late it is, as 'T1=0.8 s ± 0.2 s', or 'T1=unknown'"),
        ("uncertainty", "how far it may be off where its class does not say it, as 'T1=0.5 K'"),
        ("format", "how the file is written: encoding=utf-8 or cp1252, separator=comma, semicolon or tab, "
         "decimal=point or comma"),
    ):  # fmt: skip
        wanted = "HOW=WHAT" if name == "format" else "NAME=WHAT"
        one.add_argument(f"--{name}", metavar=wanted, action="append", default=[], help=f"{text}; more than once")
    one.add_argument("--zone", metavar="±HH:MM", default="", help="the zone of stamps that do not say it")
    one.add_argument("--yes", action="store_true", help="keep it without asking")
    one = command(what, "show", show, "read a kept run by its description: rows left out, shots, and what they say")
    one.add_argument("path", metavar="RUN", help="its description, as machines/tamsin/runs/first.yml")
    one = command(what, "compare", compare, "before and after a kit, and both beside the computation")
    one.add_argument("variant", metavar="VARIANT", help="the machine that was logged")
    one.add_argument("kit", metavar="KIT", help="what was fitted to it, and nothing else")
    draws(one)
    teaching.add(what, command)


def add_run(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen run add FILE --variant V`."""
    workshop_at(root)
    from guidegen import trade
    from guidegen.runs.describing import as_yaml, description, inferred, read_back, with_shots
    from guidegen.runs.looking import look
    from guidegen.trade.check_runs import sum_of
    from guidegen.workshop.write_yaml import check
    from guidegen.writing import lock

    known = trade.load(root)
    source = Path(arguments.file)
    folder = root / "machines" / known.machine(arguments.variant).family / "runs"
    columns = _asked(arguments, source)
    stem = arguments.name or re.sub("[^a-z0-9]+", "-", source.stem.lower()).strip("-")[:40]
    if not re.fullmatch("[a-z0-9-]{1,40}", stem):
        raise UsageProblem(f"--name {stem!r}: at most 40 small letters, digits and hyphens")
    text = folder / f"{stem}.yml"
    kept = folder / f"{stem}{source.suffix.lower() if source.suffix.lower() in ('.csv', '.tsv', '.txt') else '.csv'}"
    # A log without a description is what a command that was killed left.
    if text.exists() or (kept.exists() and sum_of(kept) != sum_of(source)):
        raise UsageProblem(f"{stem} is there already; --name gives this one another name")
    made = description(_said(arguments, columns), columns, sum_of(source), kept.name)
    check(made)
    path = text.relative_to(root).as_posix()
    run = read_back(as_yaml(made), path)
    looked = look(run, source, columns.head.names)
    made = with_shots(made, looked.found)
    for line in inferred(columns.head, columns):
        say(arguments, f"inferred: {line}")
    _print(arguments, looked, run)
    out(as_yaml(made), end="")
    if not arguments.yes and not agreed():
        say(arguments, "nothing was written")
        return OK
    with lock(root):
        _write(root, known, source, kept, text, as_yaml(made), run.sha256)
    say(arguments, f"kept {path}; correct the shots there")
    return OK


def _write(root: Path, known: Catalogue, source: Path, kept: Path, text: Path, words: str, digest: str) -> None:
    """Lay the file down and then its description; what would be a mistake of the workshop is taken back."""
    from guidegen import trade
    from guidegen.writing import clear_unfinished, copy_atomically, write_atomically

    clear_unfinished([kept.parent])
    try:
        kept.unlink(missing_ok=True)
        if copy_atomically(source, kept) != digest:
            raise UsageProblem(f"{source} changed while it was read; try again when the logger is done")
        write_atomically(text, words.encode())
        report(sorted(set(trade.load(root).warnings) - set(known.warnings)))
    except Exception:
        text.unlink(missing_ok=True)
        kept.unlink(missing_ok=True)
        with contextlib.suppress(OSError):
            kept.parent.rmdir()
        raise


def show(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen run show RUN`."""
    workshop_at(root)
    from guidegen import trade
    from guidegen.problems import CatalogueError, Code
    from guidegen.runs.looking import look
    from guidegen.runs.readings import names_of
    from guidegen.trade.contradiction import problem

    known = trade.load(root)
    name = Path(arguments.path).as_posix()
    if name not in known.runs:
        near = nearest(name, known.runs)
        raise UsageProblem(f"no run {name}: " + (f"write {near}" if near else f"there are {one_of(known.runs)}"))
    run = known.runs[name]
    source = (root / name).parent / run.file
    names = names_of(run, source)
    columns: dict[tuple[str | int, ...], str] = {("time", "column"): run.time.column}
    columns |= {("columns", at, "column"): one.column for at, one in enumerate(run.columns)}
    missing = [
        problem(run, loc, Code.LOG, f'no column "{one}" in {run.file}', f"write {nearest(one, names) or one_of(names)}")
        for loc, one in columns.items() if one not in names
    ]  # fmt: skip
    if missing:
        raise CatalogueError(missing)
    _print(arguments, look(run, source, names), run)
    print_figures(name, run, root)
    return OK


def _asked(arguments: argparse.Namespace, source: Path) -> Columns:
    from guidegen.runs.asking import Answers, asked
    from guidegen.runs.dialect import DECIMALS, SEPARATORS, head_of
    from guidegen.runs.readings import first_lines

    given = named_values("--format", arguments.format)
    words = {"encoding": ("utf-8", "cp1252"), "separator": tuple(SEPARATORS), "decimal": tuple(DECIMALS)}
    for name, value in given.items():
        if name not in words or value not in words[name]:
            raise UsageProblem(f"--format {name}={value}: there are "
                               + "; ".join(f"{one}={' or '.join(some)}" for one, some in words.items()))  # fmt: skip
    if arguments.zone and not re.fullmatch("Z|[+-][0-9]{2}:[0-9]{2}", arguments.zone):
        raise UsageProblem(f"--zone {arguments.zone}: write it like +02:00, or Z for UTC")
    answers = Answers(
        named_values("--column", arguments.column), named_values("--probe", arguments.probe),
        named_values("--lag", arguments.lag), named_values("--uncertainty", arguments.uncertainty), arguments.zone,
    )  # fmt: skip
    return asked(source.name, head_of(first_lines(source), source.name, given), answers)


def _said(arguments: argparse.Namespace, columns: Columns) -> dict[str, Value]:
    """What the file cannot tell; its day where its stamps do."""
    day = arguments.date.isoformat() if arguments.date else columns.day
    if not day:
        raise UsageProblem("the file does not say the day; --date 2026-03-31")
    said: dict[str, Value] = {"variant": arguments.variant}
    if arguments.kits:
        said["kits"] = arguments.kits
    said |= {"date": day, "kind": arguments.kind, "invented": "true" if arguments.invented else "false"}
    said |= {
        name: value for name in ("machine", "block", "setpoint", "feed", "drink") if (value := getattr(arguments, name))
    }
    return said | {"logger": arguments.logger}


def _print(arguments: argparse.Namespace, looked: Looked, run: LoggedRun) -> None:
    """Rows, what is left out, and the shots: those of the description where it has some."""
    by_code: dict[str, list[Problem]] = {}
    for one in looked.problems:
        by_code.setdefault(one.code, []).append(one)
    report([one for some in by_code.values() for one in some[:SHOWN]])
    for code, some in by_code.items():
        if len(some) > SHOWN:
            out(f"{code}: {len(some) - SHOWN} more places")
    say(arguments, f"{looked.rows} rows in {looked.seconds:.0f} s, one each {looked.usual:.3g} s")
    for code, count in looked.left_out.items():
        say(arguments, f"left out: {count} {'row' if count == 1 else 'rows'}, {code}: {code.explanation}")
    for number, shot in enumerate(run.shots, 1):
        say(arguments, f"shot {number}: {shot.begins.value:.1f} s to {shot.ends.value:.1f} s, as described")
    if run.shots and len(run.shots) == len(looked.found):
        return
    for number, found in enumerate(looked.found, 1):
        words = "a change of temperature" if found.by == "change" else f"the {found.by}"
        say(arguments, f"{'found, but not described, ' if run.shots else ''}shot {number}: "
            f"{found.begins:.1f} s to {found.ends:.1f} s, by {words}")  # fmt: skip
    if not looked.found:
        say(arguments, "no shot was found")
