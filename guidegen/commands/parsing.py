"""The whole command line: commands, options, and their help texts."""

from __future__ import annotations

import argparse
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

from guidegen import __version__
from guidegen.commands import (
    actions,
    converting,
    doctor,
    drawing,
    editions,
    explaining,
    fit,
    fitted,
    pictures,
    planning,
    printing,
    reading,
    running,
    setting,
    which,
    why,
)
from guidegen.commands.terminal import VisibleParser

ENGINES = ("mkdocs", "properdocs", "zensical")
MOST_DRAWS = 2**16
MOST_PORTS = 2**16 - 1
MOST_WORKERS = 256
FROM = "what is known of it: a YAML file, or an order text of the self-check; - reads standard input"
DEFAULT_DRAWS = 2**11
"""As many as an assessment has by itself, written again because asking for help must not load numpy."""

Run = Callable[[argparse.Namespace, Path], int]


def parser() -> argparse.ArgumentParser:
    """The whole command line."""
    top = VisibleParser(
        prog="guidegen",
        description="From a workshop's data about machines and retrofit kits to a computed, safe guide site.",
        epilog="Exit codes: 0 all well, 1 mistakes in the workshop's data, 2 wrong usage, 3 something missing on this "
        "machine, 4 refused: a rule forbids it and nothing was changed, 70 a fault of guidegen itself.",
    )
    top.add_argument("--version", action="version", version=f"guidegen {__version__}")
    _everywhere(top, root=".", verbose=False, quiet=False)
    group = top.add_subparsers(title="commands", required=True, metavar="COMMAND")

    one = _command(group, "new", None, "lay down a new workshop, or a new variant or kit in it")
    _new(one.add_subparsers(title="what", required=True, metavar="WHAT"))

    _look_and_build(group)
    editions.add(group, _command, _engine, _draws, _workers)
    _compute(group)
    which.add(group, _command)
    fit.add(group, _command)
    fitted.add(group, _command)
    why.add(group, _command, _draws)
    _print(group)
    return top


def _look_and_build(group: Any) -> None:
    one = _command(group, "check", actions.check, "read and cross-check all data, and lint every procedure")
    one.add_argument(
        "--states", action="store_true", help="print a table of steps and what each changes, for a reviewer"
    )
    one.add_argument(
        "--diff",
        metavar=("A", "B"),
        nargs=2,
        help="print in which steps and states two instructions differ, each VARIANT/KIT or EDITION:VARIANT/KIT",
    )
    one.add_argument(
        "--acts",
        metavar="NAME",
        nargs="?",
        const="",
        help="print the acts that a step can be: all, those with this word in them, or one in full with an example",
    )
    one.add_argument("variant", metavar="VARIANT", nargs="?", help="with --states: of this variant only")
    one.add_argument("kit", metavar="KIT", nargs="?", help="with --states: with this kit only")

    one = _command(group, "build", actions.build, "build the site's draft into site/next/")
    _engine(one)
    _draws(one)
    _workers(one)

    one = _command(group, "serve", actions.serve, "show the draft on this machine, and follow every edit")
    _engine(one)
    _draws(one)
    one.add_argument("--port", type=port, default=8620, help="the port on this machine (default: %(default)s)")


def _compute(group: Any) -> None:
    one = _command(group, "assess", actions.assess, "compute one variant with one kit and print the result")
    one.add_argument("variant", metavar="VARIANT")
    one.add_argument("kit", metavar="KIT")
    one.add_argument("--json", action="store_true", help="the whole record as JSON")
    _draws(one)


def _print(group: Any) -> None:
    _command(group, "list", actions.list_all, "list all variants and kits")

    one = _command(group, "show", actions.show, "print every value of a variant, its evidence and where it stands")
    one.add_argument("variant", metavar="VARIANT")

    explaining.add(group, _command)

    drawing.add(group, _command)
    printing.add(group, _command, _draws)
    setting.add(group, _command)
    converting.add(group, _command)

    reading.add(group, _command)
    pictures.add(group, _command)
    planning.add(group, _command)
    running.add(group, _command, _draws)

    one = _command(group, "assumed", actions.assumed, "rank the assumed numbers by how much they move what is shown")
    one.add_argument("--all", action="store_true", help="also those that move next to nothing")
    _draws(one)

    doctor.add(group, _command)

    one = _command(group, "schema", actions.schema, "print the JSON Schema of the YAML files, for editors")
    one.add_argument("kind", metavar="KIND", nargs="?", help="of one kind of file only, as machine, kit or procedure")


def _new(what: Any) -> None:
    one = _command(what, "workshop", actions.new_workshop, "lay down a workshop that checks and builds, to begin with")
    one.add_argument("folder", metavar="DIR", help="a folder that does not exist yet or is empty")
    text = "the whole demonstration in place of an empty workshop, to try and to copy from; all of it is invented"
    one.add_argument("--example", action="store_true", help=text)

    text = "write the file of a variant from what is known of it; on a terminal it asks for what is missing"
    one = _command(what, "variant", actions.new_variant, text)
    one.add_argument("stem", metavar="STEM", nargs="?", help="name of the file (default: made from the variant's name)")
    one.add_argument("--family", metavar="ID", help="the family; a new one gets its file too")
    one.add_argument("--name", metavar="NAME", help="the variant's name, as guides print it")
    one.add_argument("--from", metavar="FILE", dest="file", help=FROM)
    text = "one fact, as boiler.mass='520 g'; may be given more than once"
    one.add_argument("--set", metavar="FACT=VALUE", dest="facts", action="append", default=[], help=text)

    text = "lay down a fitting instruction for what a kit does, and add to the kit what its steps take"
    one = _command(what, "procedure", actions.new_procedure, text)
    one.add_argument("kit", metavar="KIT", help="the kit's id; its effects say which draft is taken")

    one = _command(what, "kit", actions.new_kit, "write the skeleton of a kit, a draft that passes the check")
    one.add_argument("kit", metavar="ID", help="the kit's id")
    one.add_argument("--name", metavar="NAME", help="the kit's name, as guides print it (default: made from the id)")


def _command(group: Any, name: str, run: Run | None, text: str) -> argparse.ArgumentParser:
    one: argparse.ArgumentParser = group.add_parser(name, help=text, description=text[0].upper() + text[1:] + ".")
    # Given before or after the command, an option means the same.
    _everywhere(one, root=argparse.SUPPRESS, verbose=argparse.SUPPRESS, quiet=argparse.SUPPRESS)
    if run is not None:
        one.set_defaults(run=run)
    return one


def _everywhere(one: argparse.ArgumentParser, root: str, verbose: bool | str, quiet: bool | str) -> None:
    one.add_argument("--root", default=root, metavar="DIR", help="the workshop's folder (default: this one)")
    loudness = one.add_mutually_exclusive_group()
    loudness.add_argument("-v", "--verbose", action="store_true", default=verbose, help="say what is being done")
    loudness.add_argument("-q", "--quiet", action="store_true", default=quiet, help="say nothing but problems")


def _engine(one: argparse.ArgumentParser) -> None:
    one.add_argument("--engine", choices=ENGINES, default="mkdocs", help="what makes the shell of the site")


def _draws(one: argparse.ArgumentParser) -> None:
    text = f"how many times the uncertain inputs are drawn: 0, or a power of two (default: {DEFAULT_DRAWS})"
    one.add_argument("--draws", type=draws, default=DEFAULT_DRAWS, metavar="N", help=text)


def _workers(one: argparse.ArgumentParser) -> None:
    text = "in how many processes variants are assessed (default: one for each processor)"
    where = one.add_mutually_exclusive_group()
    where.add_argument("--workers", type=workers, metavar="N", help=text)
    text = "the address of a Dask scheduler, as tcp://192.0.2.7:8786, whose workers assess them; trust them as this one"
    where.add_argument("--cluster", type=scheduler, metavar="ADDRESS", help=text)


def workers(text: str) -> int:
    """A number of processes."""
    if re.fullmatch("[0-9]{1,3}", text) and 1 <= int(text) <= MOST_WORKERS:
        return int(text)
    raise argparse.ArgumentTypeError(f"{text!r} is no number of processes: from 1 to {MOST_WORKERS}")


def scheduler(text: str) -> str:
    """Where a scheduler listens: a host and its port, and how it is spoken to."""
    if re.fullmatch(r"([a-z]+://)?[^\s/]+:[0-9]{1,5}", text):
        return text
    raise argparse.ArgumentTypeError(f"{text!r} is no address of a scheduler: write it as tcp://192.0.2.7:8786")


def port(text: str) -> int:
    """A port of this machine; 0 takes a free one."""
    if re.fullmatch("[0-9]{1,5}", text) and int(text) <= MOST_PORTS:
        return int(text)
    raise argparse.ArgumentTypeError(f"{text!r} is no port: a number from 0 to {MOST_PORTS}")


def draws(text: str) -> int:
    """A number of draws: none, or a power of two from 4 on, as the sequence that they come from wants it."""
    count = int(text) if re.fullmatch("[0-9]{1,9}", text) else -1
    if count == 0 or (4 <= count <= MOST_DRAWS and count & (count - 1) == 0):
        return count
    raise argparse.ArgumentTypeError(f"{text!r} is neither 0 nor a power of two from 4 to {MOST_DRAWS}")
