"""What each command does. What it needs is imported when it runs, so that the help answers immediately."""

from __future__ import annotations

import argparse
import sys
import time
from pathlib import Path

from guidegen.commands.given import named_values
from guidegen.commands.terminal import out, progress_of, report, say
from guidegen.problems import UsageProblem

OK, AUTHOR = 0, 1
FEWEST_DRAWS = 8
"""With fewer, a record holds no rank correlations."""


def check(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen check [--states [VARIANT [KIT]]] [--diff A B] [--acts [NAME]]`."""
    if arguments.acts is not None:
        return _acts(arguments)
    if arguments.states or arguments.diff:
        return _states(arguments, root)
    if arguments.variant is not None:
        raise UsageProblem("check looks at the whole workshop; VARIANT and KIT go with --states")
    workshop_at(root)
    from guidegen import pipeline

    checked = pipeline.check(root, progress_of(arguments))
    report(checked.warnings)
    for line in checked.sizes if arguments.verbose else ():
        out(line)
    say(arguments, f"{checked.summary}: no errors")
    return OK


def _states(arguments: argparse.Namespace, root: Path) -> int:
    workshop_at(root)
    from guidegen.commands.states import compared, reports

    if arguments.diff:
        out(compared(root, *arguments.diff).rstrip() or "no difference")
        return OK
    for text in reports(root, arguments.variant, arguments.kit, progress_of(arguments)):
        out(text)
    return OK


def _acts(arguments: argparse.Namespace) -> int:
    """The table is the program's own, so it is printed in any folder."""
    if arguments.states or arguments.diff or arguments.variant is not None:
        raise UsageProblem("--acts stands alone, with at most one NAME")
    from guidegen.commands.acts import table

    out(table(arguments.acts))
    return OK


def build(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen build`."""
    workshop_at(root)
    from guidegen import pipeline

    started = time.perf_counter()
    built = pipeline.build(root, arguments.engine, progress_of(arguments), arguments.draws, workers_of(arguments))
    report((*built.left_out, *built.warnings))
    took = time.perf_counter() - started
    say(arguments, f"{built.summary} in {took:.1f} s: {built.changes}")
    say(arguments, f"open {(built.folder / 'index.html').as_posix()}")
    return AUTHOR if built.left_out else OK


def workers_of(arguments: argparse.Namespace) -> int | str:
    """The cluster that makes records, or in how many processes: those asked for, else one for each processor."""
    from guidegen.assess.workers import processors

    return arguments.cluster or arguments.workers or processors()


def serve(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen serve`."""
    workshop_at(root)
    from guidegen.commands import serve

    return serve.serve(root, arguments.engine, arguments.port, arguments.draws, progress_of(arguments))


def assess(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen assess VARIANT KIT`."""
    workshop_at(root)
    from guidegen import pipeline
    from guidegen.site.pages.terminal import summary

    record = pipeline.assess_one(root, arguments.variant, arguments.kit, arguments.draws)
    out(record.to_json() if arguments.json else summary(record), end="" if arguments.json else "\n")
    return OK


def list_all(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen list`."""
    workshop_at(root)
    from guidegen import trade
    from guidegen.trade.listing import listing

    out(listing(trade.load(root)))
    return OK


def show(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen show VARIANT`."""
    workshop_at(root)
    from guidegen import trade
    from guidegen.trade import listing

    out(listing.show(trade.load(root), arguments.variant))
    return OK


def assumed(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen assumed`."""
    if arguments.draws < FEWEST_DRAWS:
        raise UsageProblem(f"--draws: at least {FEWEST_DRAWS} are needed to see what moves the numbers")
    workshop_at(root)
    from guidegen import pipeline, trade
    from guidegen.commands.assumed import table
    from guidegen.commands.builds import every

    known = trade.load(root)
    records = pipeline.assess_all(known, root, progress_of(arguments), arguments.draws)
    progress_of(arguments)("")
    out(table(records, arguments.all, every(known)))
    return OK


def schema(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen schema [KIND]`."""
    import json

    from guidegen.judge.acts.row import sentences
    from guidegen.problems import nearest, one_of
    from guidegen.trade.load import own_facts
    from guidegen.trade.schema import KINDS, json_schema

    if arguments.kind is not None and arguments.kind not in KINDS:
        near = nearest(arguments.kind, KINDS)
        fix = f"write {near}" if near else f"write one of {one_of(KINDS)}"
        raise UsageProblem(f'there is no kind of file "{arguments.kind}"; {fix}')
    out(json.dumps(json_schema(arguments.kind, sentences(), own_facts(root)), indent=2, ensure_ascii=False))
    return OK


# --- new ---------------------------------------------------------------------------------------------


def new_workshop(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen new workshop DIR`."""
    from guidegen.commands import starting

    say(arguments, starting.new_workshop(root / arguments.folder, arguments.example))
    return OK


def new_variant(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen new variant`."""
    workshop_at(root)
    from guidegen.commands import starting
    from guidegen.trade.new_variant import ASKED

    given: dict[str, str] = {}
    family, stem = arguments.family, arguments.stem
    if arguments.file is not None:
        from_family, from_stem, given = _begun_from(root, *received_bytes(arguments.file))
        family, stem = family or from_family, stem or from_stem
    given |= named_values("--set", arguments.facts, empty=True)
    if arguments.name is not None:
        given["name"] = arguments.name
    missing = family is None or any(not given.get(name, "").strip() for name in ASKED)
    if missing and sys.stdin.isatty():
        try:
            family, given = starting.asked_variant(root, family, given, input, out)
        except EOFError:
            raise UsageProblem("the questions were left; nothing was written") from None
    if family is None:
        raise UsageProblem("--family is missing; `guidegen list` shows the families there are, or name a new one")
    say(arguments, starting.new_variant(root, stem, family, given))
    return OK


def _begun_from(root: Path, path: str, data: bytes) -> tuple[str | None, str | None, dict[str, str]]:
    """Family, stem and facts from a YAML file, which names neither, or from an order, whose owner took it for one."""
    from guidegen import trade
    from guidegen.commands import orders
    from guidegen.judge.fit.order_text import is_order
    from guidegen.judge.letter import text_of
    from guidegen.trade.new_variant import given_from

    if not is_order(data.decode("utf-8", errors="replace")):
        return None, None, given_from(data, path)
    with trade.opened(root) as known:
        received = orders.receive(root, known, text_of(data, path, "order text"), path)
    report(received.warnings)
    return *orders.stem_of(received), orders.reported(received, known)


def received_bytes(name: str) -> tuple[str, bytes]:
    """What messages call a file that somebody sent, and its bytes; `-` is the standard input."""
    from guidegen.workshop.reader import bytes_of

    if name == "-":
        return "standard-input", _from_stdin()
    return name, bytes_of(Path(name), name, plain=False)


def _from_stdin() -> bytes:
    from guidegen.problems import CatalogueError, Code, Problem
    from guidegen.reading import bytes_from
    from guidegen.workshop.reader import MAX_BYTES

    try:
        return bytes_from(sys.stdin.buffer, "standard input", MAX_BYTES)
    except OSError as error:
        words = f"cannot be read: {error.strerror}"
        raise CatalogueError([Problem("standard-input", 1, 1, Code.TOO_LARGE, words, "send the text alone")]) from None


def new_kit(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen new kit ID`."""
    workshop_at(root)
    from guidegen.commands import starting

    say(arguments, starting.new_kit(root, arguments.kit, arguments.name))
    return OK


def new_procedure(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen new procedure KIT`."""
    workshop_at(root)
    from guidegen.commands import drafting

    say(arguments, drafting.new_procedure(root, arguments.kit))
    return OK


def workshop_at(root: Path) -> None:
    """Refuse a folder that is no workshop, before anything is written into it."""
    if not root.is_dir():
        raise UsageProblem(f"there is no folder {root.as_posix()}")
    if not (root / "content").exists() and not (root / "machines").exists():
        where = "this folder" if root == Path() else root.as_posix()
        raise UsageProblem(f"{where} is no workshop; `guidegen new workshop DIR` lays one down")
