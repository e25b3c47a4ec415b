"""`guidegen why VARIANT KIT FIGURE`: what a number rests on, how far each input moves it, and what would settle it."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

from guidegen.commands.actions import FEWEST_DRAWS, workshop_at
from guidegen.commands.terminal import out, progress_of
from guidegen.problems import UsageProblem, nearest, one_of

if TYPE_CHECKING:
    from guidegen.assess.swings import Swing
    from guidegen.record import Assessment, Figure

OK = 0
MOST = 6
"""So many inputs are moved from end to end; each takes two runs."""
Add = Callable[[Any, str, Any, str], argparse.ArgumentParser]
Draws = Callable[[argparse.ArgumentParser], None]


def add(group: Any, command: Add, draws: Draws) -> None:
    """Add the command to the parser."""
    one = command(group, "why", run, "say what one computed number rests on, and what would settle it")
    one.add_argument("variant", metavar="VARIANT")
    one.add_argument("kit", metavar="KIT")
    text = "as warm_up.added or drop_ratio.sensor; of a drink the main one is meant, of two sides the one with the kit"
    one.add_argument("figure", metavar="FIGURE", help=text)
    draws(one)


def run(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen why VARIANT KIT FIGURE`."""
    if arguments.draws < FEWEST_DRAWS:
        raise UsageProblem(f"--draws: at least {FEWEST_DRAWS} are needed to see what moves a number")
    workshop_at(root)
    from guidegen import pipeline, trade
    from guidegen.assess.swings import CHANCE, swings
    from guidegen.record.claims import shares
    from guidegen.record.places import figures

    progress = progress_of(arguments)
    with trade.opened(root) as known:
        record = pipeline.assess_kept(known, root, arguments.variant, arguments.kit, arguments.draws)
        place = place_of(arguments.figure, [name for name, _ in figures(record)], record.main_drink)
        weights = shares(record.influence.get(place, {}))
        moved = [name for name in weights if name != CHANCE][:MOST]
        progress(f"moving {len(moved)} inputs")
        ends = swings(known, arguments.variant, arguments.kit, place, moved)
        progress("")
    out("\n".join(told(record, place, weights, ends)))
    return OK


def place_of(asked: str, places: list[str], main: str) -> str:
    """The place of a figure that somebody names; refuses a name that none has."""
    from guidegen.record.places import place_named, short

    found = place_named(asked, places, main)
    if found is not None:
        return found
    near = nearest(asked, [short(place) for place in places])
    fix = f"did you mean {near}?" if near else f"there are {one_of(sorted({place.split('.')[0] for place in places}))}"
    raise UsageProblem(f'no number is called "{asked[:60]}"; {fix}')


# --- what is said -----------------------------------------------------------------------------------------


def told(record: Assessment, place: str, weights: dict[str, float], ends: dict[str, Swing]) -> Iterator[str]:
    """The number, then its inputs by weight, each with its place and how far it moves the number."""
    from guidegen.record.places import figure_at
    from guidegen.site.charts.quantity import in_kelvin, in_unit, shown_at
    from guidegen.site.pages.terms import term

    figure, how = figure_at(record, place), in_kelvin(shown_at(place))
    assert figure is not None
    what = term(place)
    yield f"{record.variant.name} with {record.kit.name}: {what.name}{_side(place)} ({place})"
    if figure.value is None:
        yield f"  {figure.reason or 'no value'}"
        return
    ranged = in_unit(figure, how, how.metric, only_range=True)
    yield f"  {in_unit(figure, how, how.metric)}" + (f", {ranged}; {record.basis}" if ranged else "")
    if figure.stated is not None:
        alone = in_unit(figure.model_copy(update={"value": figure.stated}), how, how.metric, like=(figure,))
        yield f"  {alone} with the stated values, from which each input is moved to its ends below"
    yield f"  {what.meaning}"
    yield ""
    if not weights:
        yield "nothing that is drawn moves it beyond chance; it follows from what is stated"
        return
    yield from _inputs(record, place, weights, ends, figure)
    yield ""
    yield from _settled(record, weights)


def _side(place: str) -> str:
    parts = place.split(".")
    return " with the kit" if "with" in parts else " without" if "without" in parts else ""


def _inputs(
    record: Assessment, place: str, weights: dict[str, float], ends: dict[str, Swing], figure: Figure
) -> Iterator[str]:
    from guidegen.site.charts.bars import input_names
    from guidegen.site.charts.quantity import in_kelvin, in_unit, shown_at
    from guidegen.trade.listing import table

    known, names, how = {one.id: one for one in record.inputs}, input_names(record), in_kelvin(shown_at(place))

    def shown(value: float | None) -> str:
        if value is None:
            return "no value"
        return in_unit(figure.model_copy(update={"value": value}), how, how.metric, like=(figure,))

    rows = []
    for name, weight in weights.items():
        one, swing = known.get(name), ends.get(name)
        moved = f"{shown(swing.low)} to {shown(swing.high)}" if swing else ""
        source = f", {one.source}" if one and one.source else ""
        rows.append(
            (
                f"{weight:.0%}",
                names.get(name, name),
                one.text if one else "",
                f"{one.evidence}{source}" if one else "",
                (one.place if one else "") or "in the program",
                moved,
            )
        )
    yield from table(("weight", "input", "is", "evidence", "written at", "from its lower to its upper end"), rows)


def _settled(record: Assessment, weights: dict[str, float]) -> Iterator[str]:
    from guidegen.record.claims import assumed_of

    known, assumed = {one.id: one for one in record.inputs}, assumed_of(record, weights)
    if not assumed:
        yield "nothing that moves it is assumed"
        return
    yield f"{sum(assumed.values()):.0%} of what moves it is assumed; what would settle it, the most first:"
    by_measurement: dict[str, float] = {}
    for name, weight in assumed.items():
        settles = known[name].settles or "nothing that the catalogue knows"
        by_measurement[settles] = by_measurement.get(settles, 0.0) + weight
    for settles, weight in sorted(by_measurement.items(), key=lambda one: -one[1]):
        yield f"  {weight:4.0%}  {settles}"
