"""`guidegen print`: a sheet of a variant with a kit as a PDF, for the bench."""

from __future__ import annotations

import argparse
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from guidegen.problems import UsageProblem, nearest

SHEETS = ("bench", "record", "template", "back", "back-record", "guide")
PAPERS = ("a4", "letter")
"""Written again, because asking for help must load no sheets."""


def add(group: Any, command: Any, draws: Any) -> None:
    """Add the command to the command line."""
    one = command(group, "print", print_sheet, "print a sheet of a variant with a kit into a PDF, for the bench")
    one.add_argument("variant", metavar="VARIANT")
    one.add_argument("kit", metavar="KIT", nargs="?", help="may be left out where one kit alone has an instruction")
    one.add_argument("--sheet", choices=SHEETS, default="bench", help="which (default: %(default)s)")
    one.add_argument("--paper", choices=PAPERS, default="a4", help="on which paper (default: %(default)s)")
    text = "of which case, as exchanged (default: the first of the instruction; a wrong one names all)"
    one.add_argument("--case", metavar="CASE", help=text)
    one.add_argument("--out", metavar="FILE", type=Path, required=True, help="the file, which ends in .pdf")
    draws(one)


def print_sheet(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen print VARIANT [KIT] [--sheet NAME] [--paper NAME] [--case CASE] --out FILE`."""
    from guidegen.commands.actions import OK, workshop_at
    from guidegen.commands.terminal import progress_of, say

    if arguments.out.suffix.lower() != ".pdf":
        raise UsageProblem(f"--out {arguments.out.name}: end it in .pdf")
    workshop_at(root)
    from guidegen import pipeline, trade
    from guidegen.site.pages.paper.press import Press
    from guidegen.site.pages.paper.sheets import sheet_bytes, sheets_of
    from guidegen.writing import write_out

    progress = progress_of(arguments)
    with trade.opened(root) as known:
        progress("assessing")
        kits = (arguments.kit,) if arguments.kit else known.kits
        records = [pipeline.assess_kept(known, root, arguments.variant, kit, arguments.draws) for kit in kits]
        sheets = {one.kit.id: [*sheets_of(one)] for one in records}
        kit = _only(kit for kit, found in sheets.items() if found)
        offered = [one for one in sheets[kit] if (one.kind, one.paper) == (arguments.sheet, arguments.paper)]
        if not offered:
            raise UsageProblem(f"{arguments.variant} with {kit} has no sheet {arguments.sheet}")
        cases = [one.case.id for one in offered]
        wanted = cases[0] if arguments.case is None else arguments.case
        if wanted not in cases:
            near = nearest(wanted, cases)
            raise UsageProblem(f"no case {wanted}: " + (f"write {near}" if near else f"there are {', '.join(cases)}"))
        progress("printing")
        sheet = offered[cases.index(wanted)]
        record = next(one for one in records if one.kit.id == kit)
        write_out(arguments.out, sheet_bytes(record, sheet, Press(root)))
        progress("")
        say(arguments, f"{arguments.out}: {sheet.title}")
        others = [case for case in cases if case != wanted]
        say(arguments, f"  other cases: {', '.join(others)}") if others else None
    return OK


def _only(kits: Iterable[str]) -> str:
    found = [*kits]
    if not found:
        raise UsageProblem("there is no instruction that could be printed")
    if len(found) > 1:
        raise UsageProblem(f"say which kit: {', '.join(found)}")
    return found[0]
