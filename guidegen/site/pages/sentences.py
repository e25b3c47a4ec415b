"""Sentences that are put together from the record: each in one place, each from the numbers it speaks of."""

from __future__ import annotations

from collections.abc import Iterable

from markupsafe import Markup

from guidegen.language import gettext, marked, ngettext, translated
from guidegen.language.choices import choice
from guidegen.record import Assessment, Outline
from guidegen.record.claims import claimed, has_coil
from guidegen.record.drinks import Drink
from guidegen.record.places import figures, headlines, neutral, way
from guidegen.record.stated import Downside, Input
from guidegen.site.charts.quantity import both, shown_as
from guidegen.site.pages.numbers import ShownNumbers
from guidegen.site.pages.place import changes_nothing
from guidegen.site.pages.unknown import cuts, not_yet, undo

LEAD_LIMIT = 200
"""Characters of lead in a search entry; more only makes the index heavy."""

PAGE_NAMES = {
    "overview": marked("overview"),
    "fit": marked("does it fit?"),
    "charts": marked("charts and what-if"),
    "install": marked("fitting instruction"),
    "restore": marked("restoring the original"),
    "numbers": marked("the numbers"),
    "changes": marked("what changed"),
}

OUTCOME_WORDS = {
    "fits": marked("fits"),
    "fits-with-conditions": marked("fits with conditions"),
    "does-not-fit": marked("does not fit"),
    "cannot-tell-yet": marked("cannot tell yet"),
    "has-already": marked("has one already"),
}

OUTCOMES = {
    "fits": marked(
        "Every requirement is met on the variant as it left the factory. An earlier owner may have changed it."
    ),
    "fits-with-conditions": marked("The kit fits once the unmet requirements have been remedied as described."),
    "does-not-fit": marked("At least one requirement is not met and has no remedy. There is no fitting instruction."),
    "cannot-tell-yet": marked("Something decisive is not known. Do not order before it has been measured."),
    "has-already": marked("This variant has what the kit brings already. Nothing is to be ordered or fitted."),
}

VARIANT_STATUS = {
    "reported": marked("known from a report only, nobody of the workshop has seen one"),
    "seen": marked("seen by the workshop, not measured"),
    "measured": marked("measured by the workshop, not built"),
    "built": marked("built by the workshop"),
}


SIGNALS = {
    "DANGER": marked("Danger"),
    "WARNING": marked("Warning"),
    "CAUTION": marked("Caution"),
    "NOTICE": marked("Notice"),
}
"""The signal words of hazard statements."""


def outcome(code: str) -> str:
    """A verdict within a sentence; `sentence` makes it stand alone."""
    return gettext(OUTCOME_WORDS[code])


def signal(word: str | None) -> str:
    """The signal word of a hazard statement; none of a statement that nobody wrote yet, as the preview may show it."""
    return gettext(SIGNALS[word]) if word else ""


def sentence(text: str) -> str:
    """The text with a capital letter at its start; the others stay, they may be units.

    >>> sentence("copper coil"), sentence("PTFE tape"), sentence("")
    ('Copper coil', 'PTFE tape', '')
    """
    return text[:1].upper() + text[1:]


def status(record: Assessment) -> str:
    """Whether this pair was ever built: calculated is not built."""
    if record.builds:
        count = len(record.builds)
        return ngettext("built once", "built {count} times", count).format(count=count)
    return gettext("calculated, not yet carried out on this variant")


def basis(record: Assessment) -> str:
    """What the ranges are, in one sentence."""
    match record.basis:
        case "nominal":
            if not all(one.stated for one in record.inputs):
                return gettext(
                    "Computed from the stated values, and from what such machines have where nobody knows the value; "
                    "no ranges yet."
                )
            return gettext("Computed from the stated values; no ranges yet.")
        case "range from our assumptions":
            return gettext(
                "The ranges come from our assumptions: most inputs that matter are assumed, not measured. "
                "They are not confidence intervals."
            )
        case _:
            return gettext("The ranges are 95 % intervals from the measured inputs' uncertainties.")


def heading(record: Assessment, kind: str) -> str:
    """A page of a pair by its pair and what it is about; the overview is about the pair."""
    return pair_name(record) if kind == "overview" else title(record, kind)


def pair_name(record: Outline | Assessment) -> str:
    """What a pair is called."""
    return gettext("{variant} with {kit}").format(variant=record.variant.name, kit=record.kit.name)


def title(record: Assessment, kind: str) -> str:
    """What a window that shows a page of a pair is called, and a find of the search."""
    names = {"variant": record.variant.name, "kit": record.kit.name, "page": gettext(PAGE_NAMES[kind])}
    return gettext("{variant} with {kit}: {page}").format(**names)


def costs(record: Assessment, numbers: ShownNumbers) -> Iterable[Markup]:
    """What the kit costs, each with its number."""
    if not changes_nothing(record):
        yield _ready(record, numbers)
        known, open_ = marked("energy {ratio}"), marked("energy: {ratio}")
        energy = known if claimed(record, "energy.day_ratio") else open_
        yield translated(energy, ratio=numbers.show("energy.day_ratio", lead="×", ranged=True))
    if has_coil(record):
        yield translated("{mass} more on the boiler", mass=numbers.show("budget.added_kg", ranged=True))
    found = cuts(record)
    if found.undecided:
        yield Markup("{}").format(gettext("whether something has to be cut is not known yet"))
    elif found.count:
        words = ngettext("one cut that stays", "{count} cuts that stay", found.count)
        yield Markup("{}").format(words.format(count=found.count))
    if record.procedure is not None:
        yield translated("{time} of work", time=minutes(record.procedure.minutes))
    if record.withheld:
        yield Markup("{}").format(gettext("how long the work takes is not known yet"))
    yield Markup('<a href="#undo">{}</a>').format(undo(record))


READY = {
    "more": marked("ready {time} later"),
    "less": marked("ready {time} earlier"),
    "either": marked("ready later or earlier, that cannot be told: {time}"),
}


def _ready(record: Assessment, numbers: ShownNumbers) -> Markup:
    """How much later it is ready, or earlier, or that it may be either."""
    place = "warm_up.added_s"
    if not claimed(record, place):
        return translated(marked("how much later it is ready: {time}"), time=numbers.show(place))
    found = way(place, record.warm_up.added_s)
    return translated(READY[found], time=numbers.show(place, ranged=True, other_sign=found == "less"))


def phases(record: Assessment, drink: Drink) -> list[Markup]:
    """With a thermostat the drop depends on when you pull: between what and what, for each side that has one."""
    made = []
    ranges = [side.sensor_drop_phases_k for side in (drink.without, drink.with_)]
    printed = [both(one, shown_as("k"), only_range=True) for one in ranges if one is not None]
    if len(printed) == len(ranges):
        without, with_kit = printed
        words = marked("It depends on when you pull: {without} without it, {with_kit} with it.")
        return [translated(words, without=without, with_kit=with_kit)]
    for words, side in (
        (marked("Without the kit it depends on when you pull: {range}."), drink.without),
        (marked("With it it depends on when you pull: {range}."), drink.with_),
    ):
        ends = side.sensor_drop_phases_k
        if ends is not None:
            made.append(translated(words, range=both(ends, shown_as("k"), only_range=True)))
    return made


def amount(record: Assessment, numbers: ShownNumbers, downside: Downside) -> Markup | None:
    """How much a downside is, where it was computed for this pair."""
    if downside.figure is None:
        return None
    if downside.figure == "protrusions":
        words = cuts(record).words
        return Markup("{}").format(words) if words else None
    if downside.figure == "bolts":
        return Markup("{}").format(bolts(record)) if record.bolts else None
    if downside.figure == "procedure.minutes":
        unknown = Markup("{}").format(not_yet()) if record.withheld else None
        return Markup("{}").format(minutes(record.procedure.minutes)) if record.procedure else unknown
    if downside.figure not in numbers.known:
        # Of a coil that cannot be laid out there are no figures.
        return Markup("{}").format(not_yet()) if has_coil(record) else None
    return numbers.show(downside.figure)


def likely(record: Assessment, downside: Downside) -> str:
    """How likely a downside is: as the kit says, or not at all where it is known that this variant needs no cut."""
    if downside.figure == "protrusions" and not cuts(record).words:
        return gettext("not on this variant")
    figure = dict(figures(record)).get(downside.figure or "")
    same = neutral(downside.figure or "")
    if figure is None or same is None or not claimed(record, downside.figure or ""):
        return choice(downside.likely)
    # Each of these sentences says that something grows; the figure beside it decides whether it does.
    found = way(downside.figure or "", figure)
    if found == "less":
        return gettext("not on this variant, the other way round")
    return gettext("it may be either") if found == "either" else choice(downside.likely)


BOLTS = {
    "usual": marked("the boiler's bolts can be reached with the coil on"),
    "short-key": marked("only the shortened key of the kit reaches the boiler's bolts: keep it with the machine"),
    "coil-off-first": marked("the coil has to come off before the boiler's bolts can be reached: {time} each time"),
    "unknown": marked("not known whether the boiler's bolts can be reached with the coil on"),
}


def bolts(record: Assessment) -> str:
    """What it means for later work on the boiler that the coil stands over its bolts."""
    access = record.bolts
    if access is None:
        return ""
    time = minutes(access.coil_off_minutes) if access.coil_off_minutes is not None else gettext("some time")
    return gettext(BOLTS.get(access.way, BOLTS["unknown"])).format(time=time)


def minutes(total: float) -> str:
    """Working time as people say it.

    >>> minutes(35), minutes(160), minutes(180)
    ('35 min', '2 h 40 min', '3 h')
    """
    hours, rest = divmod(round(total), 60)
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest} min" if rest else f"{hours} h"


def most_wanted(record: Assessment) -> list[Input]:
    """The assumed inputs, those that move the main number most first."""
    weight = record.influence.get(headlines(record.main_drink)[0], {})
    assumed = [one for one in record.inputs if one.evidence == "assumed" and one.high > one.low]
    return sorted(assumed, key=lambda one: (-abs(weight.get(one.id, 0.0)), one.id))


DESCRIPTIONS = {
    "overview": marked("{kit} on {variant} ({years}): does it fit, what it gains, what it costs."),
    "fit": marked("{kit} on {variant} ({years}): every requirement, and how the variant meets it."),
    "charts": marked("{kit} on {variant} ({years}): shots, waiting, warm-up, energy and what-if, computed."),
    "install": marked("{kit} on {variant} ({years}): how to fit it, step by step, with its hazards."),
    "restore": marked("{kit} on {variant} ({years}): how to take it off again and restore the original."),
    "numbers": marked("{kit} on {variant} ({years}): every computed number with its range, meaning and inputs."),
}


def description(record: Assessment, kind: str) -> str:
    """One plain sentence about a page."""
    names = {"kit": record.kit.name, "variant": record.variant.name, "years": record.variant.years}
    return gettext(DESCRIPTIONS.get(kind, DESCRIPTIONS["numbers"])).format(**names)


def search_text(record: Assessment, kind: str) -> str:
    """What the search finds a page by: ids and the lead."""
    lead = f"{record.kit.summary} {record.variant.summary}"[:LEAD_LIMIT]
    return f"{record.variant.id} {record.kit.id} {record.variant.years} {gettext(PAGE_NAMES[kind])}. {lead}"


def variant_search(record: Assessment) -> str:
    """What the search finds a variant by: its ids and outside marks."""
    marks = " ".join(f"{mark.look}: {mark.see}" for mark in record.variant.marks)
    return f"{record.variant.id} {record.variant.years} {record.variant.summary} {marks}"[: 2 * LEAD_LIMIT]
