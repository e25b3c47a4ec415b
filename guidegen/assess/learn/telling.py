"""A lesson in lines for the terminal."""

from __future__ import annotations

from collections.abc import Iterator

from guidegen.assess.learn.lesson import Lesson, LessonOfParameter
from guidegen.assess.learn.reading import ReadCampaign
from guidegen.assess.learn.written import quantity_text
from guidegen.heat.repeats import between, repeats
from guidegen.trade.listing import table

BARELY = 0.95
"""A parameter whose interval stayed wider than this share of what it was is only counted."""


def lines(read: ReadCampaign, lesson: Lesson) -> Iterator[str]:
    """What was learned, what was not and what would settle it, and how well the runs foretell each other."""
    runs = read.campaign.runs
    kits = sorted({" and ".join(run.kits) or "no kit" for run in runs})
    yield f"{read.campaign.bench.machine.name}: {len(runs)} runs, with {', '.join(kits)}"
    yield from (f"left out: {one.path}: {one.because}" for one in read.left_out)
    if lesson.set_aside:
        names = ", ".join(one.name for one in lesson.set_aside)
        yield f"set aside, because the search cannot follow their thermostat: {names}"
    yield ""
    if lesson.learned:
        head = ("learned", "before", "after, 95 %", "narrower by", "strongest tie")
        yield from table(head, [
            (one.of.key, _range(one, before=True), _range(one), f"{1.0 / one.width:.1f}",
             f"{one.coupled} {one.coupling:.2f}")
            for one in lesson.learned
        ])  # fmt: skip
    else:
        yield "nothing was learned"
    yield ""
    missed = [one for one in lesson.parameters if not one.learned and one.width < BARELY]
    if missed:
        head = ("not learned", "before", "fits best at, 95 %", "because", "what would settle it")
        yield from table(head, [
            (one.of.key, _range(one, before=True), _range(one), one.because, one.settled_by) for one in missed
        ])  # fmt: skip
        yield ""
    untold = len(lesson.untouched) + sum(not one.learned and one.width >= BARELY for one in lesson.parameters)
    yield f"of {untold} more inputs these runs tell next to nothing"
    yield from _foretold(lesson)
    yield ""
    yield from table(
        ("residuals of", "values", "root mean square", "fade in", "chance alone"),
        [(one.place, str(one.count), f"{one.deviation:.3g} {'W' if one.place == 'heater' else 'K'}",
          f"{one.fades:g} s" if one.fades else "-", f"{one.probability:.2g}") for one in lesson.residuals],
    )  # fmt: skip
    if lesson.disagrees:
        yield ("residuals follow each other: the network lacks something that this machine has; the intervals are "
               "widened by it, and are only as good as the form of the network")  # fmt: skip


def _foretold(lesson: Lesson) -> Iterator[str]:
    if not lesson.foretold:
        return
    yield ""
    yield from table(("predicted from the others", "off by (rms)", "dips, measured and predicted"), [
        (one.name, f"{one.error:.2f} K", ", ".join(f"{seen:.2f} and {there:.2f} K" for seen, there in one.dips))
        for one in lesson.foretold
    ])  # fmt: skip
    of = {run.name: run.kits for run in lesson.campaign.runs}
    groups: dict[tuple[str, ...], list[float]] = {}
    for one in lesson.foretold:
        groups.setdefault(of[one.name], []).extend(there - seen for seen, there in one.dips)
    every = [gap for some in groups.values() for gap in some]
    if len(every) < 2:
        return
    whole = repeats(every)
    yield f"predicted dips are off by {whole.mean:+.2f} K on average, and scatter by {whole.deviation:.2f} K"
    filled = [some for some in groups.values() if some]
    if len(filled) > 1 and len(every) > len(filled):
        chance = between(filled).probability
        yield f"between configurations these errors differ as much by chance alone in {chance:.2g} of all cases"


def _range(one: LessonOfParameter, before: bool = False) -> str:
    value, low, high = one.before if before else one.after
    return quantity_text(one.of.input, value, low, high)
