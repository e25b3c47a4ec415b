"""`guidegen plan`: which runs and probes would narrow which figure, how many shots, in which order; a sheet."""

from __future__ import annotations

import argparse
import math
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

from guidegen.commands.actions import workshop_at
from guidegen.commands.terminal import out, progress_of, say
from guidegen.problems import UsageProblem

if TYPE_CHECKING:
    from guidegen.assess.learn.planning import Expectation, RunPlan
    from guidegen.trade import Catalogue

OK = 0
PLACES = ("sensor", "boiler-wall", "group", "outlet", "coil-out", "coil-metal", "heater")
PAPERS = ("a4", "letter")
"""Both written again, because asking for help must load neither models nor sheets."""
DRAWS, SHOWN, MOST_SHOTS = 256, 12, 200
Add = Callable[[Any, str, Any, str], argparse.ArgumentParser]


def add(group: Any, command: Add) -> None:
    """Add the command to the parser."""
    text = "say which logged runs and probes would narrow which figure, how many shots it takes, and in which order"
    one = command(group, "plan", plan_runs, text)
    one.add_argument("variant", metavar="VARIANT")
    one.add_argument("kits", metavar="KIT", nargs="+", help="in the order in which they go on: no kit, A, A + B, …")
    one.add_argument("--half-width", type=above_zero, default=0.5, metavar="K",
                     help="how well a change of the dip is to be known, in kelvin (default: %(default)s)")  # fmt: skip
    one.add_argument("--probe", metavar="PLACE", choices=PLACES, action="append", default=[],
                     help="where a probe can be put; more than once (default: everywhere)")  # fmt: skip
    one.add_argument(
        "--seed", type=int, default=1, help="of the order of shots; printed with it (default: %(default)s)"
    )
    one.add_argument("--draws", type=draws_of, default=DRAWS, metavar="N",
                     help="how many machines the figures are computed for (default: %(default)s)")  # fmt: skip
    one.add_argument("--out", metavar="FILE", type=Path, help="a sheet to print, which ends in .pdf")
    one.add_argument("--paper", choices=PAPERS, default="a4", help="on which paper (default: %(default)s)")


def above_zero(text: str) -> float:
    """A number above zero."""
    if re.fullmatch(r"[0-9]{1,6}(\.[0-9]{1,6})?", text) and float(text) > 0:
        return float(text)
    raise argparse.ArgumentTypeError(f"{text!r} is no number above zero")


def draws_of(text: str) -> int:
    """A number of draws that is enough for straight lines through them."""
    if re.fullmatch("[0-9]{2,5}", text) and 64 <= int(text) <= 2**14:
        return int(text)
    raise argparse.ArgumentTypeError(f"{text!r} is no number from 64 to {2**14}")


def plan_runs(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen plan VARIANT KIT…`."""
    if arguments.out is not None and arguments.out.suffix.lower() != ".pdf":
        raise UsageProblem(f"--out {arguments.out.name}: end it in .pdf")
    if len(set(arguments.kits)) < len(arguments.kits):
        raise UsageProblem("a kit is named twice")
    workshop_at(root)
    from guidegen import trade
    from guidegen.assess.learn.planning import plan

    known = trade.load(root)
    machine, kits = known.machine(arguments.variant), [known.kit(one) for one in arguments.kits]
    progress = progress_of(arguments)
    made = plan(known, machine, kits, arguments.probe, arguments.draws, progress)
    progress("")
    count = made.shots_needed(arguments.half_width)
    for line in lines(made, arguments.half_width, count, arguments.seed):
        out(line)
    if arguments.out is not None:
        if count > MOST_SHOTS:
            words = f"{arguments.out.name} was not written: a sheet holds {MOST_SHOTS} blocks, and this takes {count}"
            raise UsageProblem(f"{words}; write --half-width {wide_enough(made, arguments.half_width):g} or more")
        _print(arguments, known, made, count)
    return OK


def wide_enough(made: RunPlan, half_width: float) -> float:
    """The next half-width of two digits whose shots fit on a sheet, K."""
    while made.shots_needed(half_width) > MOST_SHOTS:
        step = 10.0 ** (math.floor(math.log10(half_width)) - 1)
        half_width = round((math.floor(half_width / step + 1e-9) + 1) * step, 12)
    return half_width


def lines(made: RunPlan, half_width: float, count: int, seed: int) -> Iterator[str]:
    """The plan for the terminal."""
    from guidegen.trade.listing import table

    names = [one.title for one in made.figures]
    yield "half of each figure's 95 % range: today, and as it is expected after runs that have not been made"
    yield ""
    head = ("run", "probe", *names)
    now = ("today", "", *(f"{one.median:.3g} ± {one.before:.2g}" for one in made.figures))
    yield from table(head, [now, *(_row(made, one) for one in made.alone[:SHOWN])])
    if len(made.alone) > SHOWN:
        yield f"{len(made.alone) - SHOWN} more narrow less"
    yield ""
    yield "together, each with all before it"
    yield from table(head, [_row(made, one) for one in made.together])
    yield ""
    yield from _shots(made, half_width, count)
    if count <= MOST_SHOTS:
        yield f"order of the shots, drawn with --seed {seed}:"
        for number, one in enumerate(made.order(count, seed), 1):
            yield f"  block {number}: {', '.join(one)}"


def _row(made: RunPlan, one: Expectation) -> tuple[str, ...]:
    cells = (
        f"± {after:.2g} ({after / figure.before:.0%})" for after, figure in zip(one.after, made.figures, strict=True)
    )
    return (one.of.words, one.of.place, *cells)


def _shots(made: RunPlan, half_width: float, count: int) -> Iterator[str]:
    for name, scatter in made.scatter.items():
        yield f"dips of single drinks, {name}: scatter by {scatter:.2f} K"
    yield f"a change of the dip known to ± {half_width:g} K takes {count} shots of each configuration"


def _print(arguments: argparse.Namespace, known: Catalogue, made: RunPlan, count: int) -> None:
    from guidegen.assess.drawing import drawing_of
    from guidegen.site.pages.paper.plan import PlanSheet, plan_data
    from guidegen.site.pages.paper.press import Typeset
    from guidegen.writing import write_out

    machine = made.bench.machine
    with_coil = next((one for one in made.bench.kits if one.coil is not None), made.bench.kits[0])
    scene, protrusions = drawing_of(known, machine, with_coil)
    taken = list(dict.fromkeys(("sensor", *(one.of.place for one in made.together))))
    things = {place: one for place in taken if (one := _thing(scene, place))}
    sheet = PlanSheet(
        variant=machine.name, kits=tuple(one.name for one in made.bench.kits), paper=arguments.paper,
        invented=machine.invented, scene=scene, protrusions=protrusions, probes=tuple(taken), things=things,
        runs=tuple((one.of.kind, _names(made, one.of.kits), one.of.place) for one in made.together),
        blocks=tuple(tuple(_names(made, _kits(name)) for name in one)
                     for one in made.order(count, arguments.seed)),
        seed=arguments.seed, half_width=arguments.half_width,
    )  # fmt: skip
    write_out(arguments.out, Typeset("plan", plan_data(sheet)).pdf())
    say(arguments, f"wrote {arguments.out}")


def _kits(name: str) -> tuple[str, ...]:
    return () if name == "stock" else tuple(name.split(" + "))


def _names(made: RunPlan, kits: tuple[str, ...]) -> tuple[str, ...]:
    names = {one.id: one.name for one in made.bench.kits}
    return tuple(names[one] for one in kits)


def _thing(scene: Any, place: str) -> str | None:
    """What of the drawing a probe's place is at."""
    by_kind = {one.kind: one.id for one in reversed(scene.things)}
    there = {one.id for one in scene.things}
    return {
        "sensor": by_kind.get("sensor"), "boiler-wall": "wall", "coil-metal": "coil" if "coil" in there else None,
        "coil-out": "coil-outlet" if "coil-outlet" in there else None,
        "group": "group-head" if "group-head" in there else None,
        "outlet": "group-head" if "group-head" in there else None,
    }.get(place)  # fmt: skip
