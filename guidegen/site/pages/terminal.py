"""Records for the terminal: one in a screenful, verdict, gain, costs; of all of them how large the self-checks are."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from guidegen.judge.fit.identify import which_of
from guidegen.judge.fit.questions import MOST_QUESTIONS
from guidegen.judge.fit.rules import MOST_STEPS, sizes
from guidegen.record import Assessment
from guidegen.record.claims import claimed
from guidegen.record.places import figures
from guidegen.site.charts.quantity import in_unit, shown_as
from guidegen.site.pages import sentences
from guidegen.site.pages.terms import key, term
from guidegen.site.pages.unknown import not_yet
from guidegen.trade import Catalogue
from guidegen.workshop.questions import Questions

SHOWN = (
    "drinks.double.drop_ratio.sensor",
    "drinks.double.without.sensor_drop_k",
    "drinks.double.with.sensor_drop_k",
    "same_cup_degc",
    "warm_up.added_s",
    "energy.day_ratio",
    "energy.idle_added_w",
    "budget.added_kg",
    "coil.parked_degc",
    "coil.height_mm",
)


def summary(record: Assessment) -> str:
    """The summary as text, one line per figure."""
    return "\n".join(_lines(record))


def _lines(record: Assessment) -> Iterator[str]:
    yield f"{record.variant.name} with {record.kit.name}, revision {record.kit.revision}"
    yield f"{sentences.outcome(record.fit.outcome)}; {sentences.status(record)}"
    for reason in record.fit.reasons:
        if reason.met is not True:
            tail = reason.remedy or reason.settles
            state = "not met" if reason.met is False else "not known"
            yield f"  {state}: {reason.detail}" + (f" -> {tail}" if tail else "")
    known = dict(figures(record))
    for place in SHOWN:
        if place not in known:
            continue
        figure = known[place]
        how = shown_as("ratio" if ".drop_ratio." in place else key(place))
        value = in_unit(figure, how, how.metric) if figure.value is not None else figure.reason or ""
        value = value if claimed(record, place) else not_yet()
        side = {"without": " without", "with": " with the kit"}.get(place.split(".")[-2] if "." in place else "", "")
        ends = in_unit(figure, how, how.metric, only_range=True)
        yield f"  {term(place).name + side:<34} {value:>12}  {ends}".rstrip()
    yield sentences.basis(record)


def self_check_sizes(records: Iterable[Assessment]) -> Iterator[str]:
    """How large each pair's compiled self-check is, a line each."""
    for record in records:
        yield f"self-check of {record.variant.id} with {record.kit.id}: {sizes(record.self_check['rules'])}"


def identification_size(known: Catalogue) -> str:
    """How large the page is that tells the variants apart; it alone grows with their number."""
    which = which_of(list(known.machines.values()), known.questions or Questions(), edition="", contact="")
    return f"telling the variants apart: {sizes(which['rules'])}"


def largest_self_check(records: Iterable[Assessment]) -> str:
    """The most questions and the most steps that a self-check of these has, beside what is allowed."""
    known = [sizes(record.self_check["rules"]) for record in records]
    questions = max((one.questions for one in known), default=0)
    steps = max((one.nodes for one in known), default=0)
    return f"self-checks of up to {questions} questions (of {MOST_QUESTIONS}) in {steps} steps (of {MOST_STEPS})"
