"""The command line: each command a few lines over `pipeline` and the catalogue.

Exit codes: 0 all well, 1 a mistake in the workshop's data, 2 wrong usage, 3 something missing on this machine,
70 a fault of guidegen itself. Heavy libraries are imported by the command that needs them, so that `--help`
answers at once.
"""

from __future__ import annotations

import argparse
import logging
import os
import sys
import time
import traceback
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from guidegen import __version__
from guidegen.problems import CatalogueError, EnvironmentProblem, Problem

if TYPE_CHECKING:
    from guidegen.pipeline import Progress

OK, AUTHOR, USAGE, ENVIRONMENT, OURS = 0, 1, 2, 3, 70
ENGINES = ("mkdocs", "properdocs", "zensical")

log = logging.getLogger("guidegen.cli")


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code."""
    arguments = parser().parse_args(argv)
    logging.basicConfig(format="%(levelname)s %(name)s: %(message)s")
    logging.getLogger("guidegen").setLevel(logging.DEBUG if arguments.verbose else logging.WARNING)
    root = Path(arguments.root)
    try:
        code: int = arguments.run(arguments, root)
        return code
    except CatalogueError as error:
        report(error.problems)
        return AUTHOR
    except EnvironmentProblem as error:
        print(f"guidegen: {error}", file=sys.stderr)
        return ENVIRONMENT
    except KeyboardInterrupt:
        return 130
    except BrokenPipeError:
        # The reader of a pipe went away; say nothing more, not even at exit.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return OK
    except Exception:
        return own_fault(root)


def own_fault(root: Path) -> int:
    """Keep the traceback of a fault of ours where it can be sent to us, and say where."""
    text = traceback.format_exc()
    note = root / ".guidegen" / "last-error.txt"
    try:
        note.parent.mkdir(parents=True, exist_ok=True)
        note.write_text(f"guidegen {__version__}\n{text}", encoding="utf-8")
        print(f"guidegen: a fault of guidegen itself; the details are in {note.as_posix()}", file=sys.stderr)
    except OSError:
        print(f"guidegen: a fault of guidegen itself:\n{text}", file=sys.stderr)
    return OURS


def parser() -> argparse.ArgumentParser:
    """The whole command line."""
    top = argparse.ArgumentParser(
        prog="guidegen",
        description="From a workshop's data about machines and retrofit kits to a computed, safe guide site.",
    )
    top.add_argument("--version", action="version", version=f"guidegen {__version__}")
    top.add_argument("--root", default=".", metavar="DIR", help="the workshop's folder (default: this one)")
    loudness = top.add_mutually_exclusive_group()
    loudness.add_argument("-v", "--verbose", action="store_true", help="say what is being done")
    loudness.add_argument("-q", "--quiet", action="store_true", help="say nothing but problems")
    commands = top.add_subparsers(title="commands", required=True, metavar="COMMAND")

    def command(name: str, run: Callable[[argparse.Namespace, Path], int], text: str) -> argparse.ArgumentParser:
        one = commands.add_parser(name, help=text, description=text[0].upper() + text[1:] + ".")
        one.set_defaults(run=run)
        return one

    command("check", check, "read and cross-check all data, and lint every procedure")

    one = command("build", build, "build the site's draft into site/next/")
    one.add_argument("--engine", choices=ENGINES, default="mkdocs", help="what makes the shell of the site")

    one = command("serve", serve, "build, serve on this machine, and follow every edit")
    one.add_argument("--engine", choices=ENGINES, default="mkdocs", help="what makes the shell of the site")
    one.add_argument("--port", type=int, default=8620, help="the port on this machine (default: 8620)")

    one = command("assess", assess, "compute one variant with one kit and print the result")
    one.add_argument("variant", metavar="VARIANT")
    one.add_argument("kit", metavar="KIT")
    one.add_argument("--json", action="store_true", help="the whole record as JSON")

    command("schema", schema, "print the JSON Schema of the YAML files, for editors")

    one = command("new", new, "lay down a new workshop, or a new variant or kit in it")
    one.add_argument("what", choices=("workshop", "variant", "kit"))
    one.add_argument("name", metavar="NAME", nargs="?", help="folder of the workshop, or id of the variant or kit")
    return top


# --- commands ----------------------------------------------------------------------------------------


def check(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen check`."""
    from guidegen import pipeline

    checked = pipeline.check(root, progress_of(arguments))
    report(checked.warnings)
    say(arguments, f"{checked.summary}: no errors")
    return OK


def build(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen build`."""
    from guidegen import pipeline

    started = time.perf_counter()
    built = pipeline.build(root, engine_name=arguments.engine, progress=progress_of(arguments))
    report(built.warnings)
    say(
        arguments,
        f"{built.summary} in {time.perf_counter() - started:.1f} s: {built.changes}\n"
        f"open {(built.folder / 'index.html').as_posix()}",
    )
    return OK


def serve(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen serve`."""
    from guidegen import pipeline, serve

    return serve.serve(root, lambda: pipeline.build(root, engine_name=arguments.engine), port=arguments.port)


def assess(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen assess VARIANT KIT`."""
    from guidegen import pipeline
    from guidegen.pages.terminal import summary

    record = pipeline.assess_one(root, arguments.variant, arguments.kit)
    print(record.to_json() if arguments.json else summary(record))
    return OK


def schema(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen schema`."""
    import json

    from guidegen.catalogue.schema import json_schema

    print(json.dumps(json_schema(), indent=2, ensure_ascii=False))
    return OK


def new(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen new`."""
    from guidegen import starting

    print(starting.new(arguments.what, arguments.name, root))
    return OK


# --- what the terminal sees --------------------------------------------------------------------------


def report(problems: Sequence[Problem]) -> None:
    """Print problems on the terminal's error stream, sorted by place, with a count at the end."""
    coloured = sys.stderr.isatty() and "NO_COLOR" not in os.environ
    for problem in sorted(problems):
        text = str(problem)
        if coloured:
            place, _, rest = text.partition(" ")
            text = f"\033[1m{place}\033[0m \033[{31 if problem.severity == 'error' else 33}m{rest}\033[0m"
        print(text, file=sys.stderr)
    errors = sum(problem.severity == "error" for problem in problems)
    if errors:
        print(f"{errors} {'problem' if errors == 1 else 'problems'} to mend", file=sys.stderr)


def say(arguments: argparse.Namespace, text: str) -> None:
    """Print a closing line unless the user asked for quiet."""
    if not arguments.quiet:
        print(text)


def progress_of(arguments: argparse.Namespace) -> Progress:
    """Show each stage on a terminal, overwriting one line; nothing in a pipe."""
    if arguments.quiet or not sys.stderr.isatty():
        return lambda stage: None

    def show(stage: str) -> None:
        print(f"\r\033[K{stage}", end="" if stage else "\r", file=sys.stderr, flush=True)

    return show
