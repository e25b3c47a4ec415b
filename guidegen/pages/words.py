"""Sentences that are put together from the record: each in one place, each from the numbers it speaks of."""

from __future__ import annotations

from collections.abc import Iterable

from markupsafe import Markup

from guidegen.catalogue.paths import known_facts
from guidegen.charts.quantity import both, shown_as
from guidegen.pages.numbers import Numbers
from guidegen.pages.place import changes_nothing
from guidegen.record import Assessment
from guidegen.record.computed import Drink
from guidegen.record.told import Downside, Input

LEAD_LIMIT = 200
"""Characters of lead in a search entry; more only makes the index heavy."""

PAGE_NAMES = {
    "overview": "overview",
    "fit": "does it fit?",
    "charts": "charts and what-if",
    "install": "fitting instruction",
    "restore": "restoring the original",
    "numbers": "the numbers",
    "changes": "what changed",
}

OUTCOME_WORDS = {
    "fits": "fits",
    "fits-with-conditions": "fits with conditions",
    "does-not-fit": "does not fit",
    "cannot-tell-yet": "cannot tell yet",
}
"""Verdicts within a sentence; `sentence` makes them stand alone."""

OUTCOMES = {
    "fits": "Every requirement is met on the variant as it left the factory. An earlier owner may have changed it.",
    "fits-with-conditions": "The kit goes on once the requirements that are not met have been mended as described.",
    "does-not-fit": "At least one requirement is not met and cannot be mended. There is no fitting instruction.",
    "cannot-tell-yet": "Something decisive is not known. Do not order before it has been measured.",
}

VARIANT_STATUS = {
    "reported": "known from a report only, nobody of the workshop has seen one",
    "seen": "seen by the workshop, not measured",
    "measured": "measured by the workshop, not built",
    "built": "built by the workshop",
}


ROLES = {
    "electrically-skilled": "An electrically skilled person only.",
}
"""Roles that a step names; everybody else is covered by the instruction's target group."""

SENSES = {"at_least": "at least", "at_most": "at most", "is": "exactly", "equals": "exactly", "within": "within"}


COMPUTED_NAMES = {
    "cool_down.wait": "Waiting time",
    "flush.volume": "Volume to flush",
    "display.low": "Lowest on the display",
    "display.high": "Highest on the display",
    "coil.turns": "Turns of the coil",
    "coil.layers": "Layers of the coil",
    "coil.height": "Height of the coil",
    "coil.length": "Length of the coil",
    "coil.held": "Water in the coil",
    "item.stands_out": "It stands out",
    "item.metal_left": "Metal that must remain",
    "item.width": "Its width",
}


def number_name(name: str) -> str:
    """What a page calls a number that a step prints.

    >>> number_name("boiler.bolts.torque"), number_name("cool_down.wait"), number_name("touch_limit")
    ('Tightening torque', 'Waiting time', 'Touch limit')
    """
    field = known_facts().get(name)
    if field is not None and field.spec is not None:
        return field.spec.title
    return COMPUTED_NAMES.get(name) or name.rpartition(".")[2].replace("_", " ").capitalize()


def sentence(text: str) -> str:
    """The text with a capital letter at its start; the others stay, they may be units.

    >>> sentence("copper coil"), sentence("PTFE tape"), sentence("")
    ('Copper coil', 'PTFE tape', '')
    """
    return text[:1].upper() + text[1:]


def edition(record: Assessment) -> str:
    """How the page names its edition."""
    return "draft of the next edition" if record.edition == "next" else f"edition {record.edition}"


def status(record: Assessment) -> str:
    """Whether this pair was ever built: calculated is not built."""
    if record.builds:
        return f"built {len(record.builds)} times" if len(record.builds) > 1 else "built once"
    return "calculated, not yet carried out on this variant"


def basis(record: Assessment) -> str:
    """What the ranges are, in one sentence."""
    match record.basis:
        case "nominal":
            return "Computed from the stated values; no ranges yet."
        case "range from our assumptions":
            return (
                "The ranges come from our assumptions: most inputs that matter are assumed, not measured. "
                "They are not confidence intervals."
            )
        case _:
            return "The ranges are 95 % intervals from the measured inputs' uncertainties."


def costs(record: Assessment, numbers: Numbers) -> Iterable[Markup]:
    """What the kit costs, each with its number."""
    if not changes_nothing(record):
        yield Markup("ready {} later").format(numbers.show("warm_up.added_s", ranged=True))
        yield Markup("energy {}").format(numbers.show("energy.day_ratio", lead="×", ranged=True))
    if record.coil is not None:
        yield Markup("{} more on the boiler").format(numbers.show("budget.added_kg", ranged=True))
    cuts = sum(one.action == "trim" for one in record.protrusions) if record.coil is not None else 0
    if cuts:
        yield Markup("{}").format("one cut that stays" if cuts == 1 else f"{cuts} cuts that stay")
    if record.procedure is not None:
        yield Markup("{} of work").format(minutes(record.procedure["minutes"]))
    undo = "can be undone" if record.restore.possible else "cannot be undone"
    if record.restore.possible and cuts:
        undo = "can be undone, but for what is cut"
    yield Markup('<a href="#undo">{}</a>').format(undo)


BANDS = (
    (0.34, "A third as far, or less."),
    (0.5, "Half as far, or less."),
    (0.8, "Somewhat less far."),
    (0.95, "Little: most of the drop stays."),
    (1.05, "Nothing that the sensor would show."),
)
"""What a drop ratio means, up to each bound."""


def gain(record: Assessment) -> str:
    """The headline's ratio in plain words.

    A range that reaches beyond one is said, as then the kit may also make it worse.
    """
    ratio = record.drinks["double"].drop_ratio.sensor
    if ratio.value is None:
        return ""
    words = next((text for bound, text in BANDS if ratio.value <= bound), "Further than without.")
    if ratio.value <= BANDS[-1][0] and ratio.high is not None and ratio.high > BANDS[-1][0]:
        return f"{words} It may also be more than without."
    return words


def phases(record: Assessment, drink: Drink) -> list[Markup]:
    """With a thermostat the drop depends on when you pull: between what and what, for each side that has one."""
    made = []
    for name, side in (("Without the kit", drink.without), ("With it", drink.with_)):
        ends = side.sensor_drop_phases_k
        if ends is not None:
            shown = both(ends, shown_as("k"), only_range=True)
            made.append(Markup("{} it depends on when you pull: {}.").format(name, shown))
    return made


def amount(record: Assessment, numbers: Numbers, downside: Downside) -> Markup | None:
    """How much a downside is, where it was computed for this pair."""
    if downside.figure is None:
        return None
    if downside.figure == "procedure.minutes":
        return Markup("{}").format(minutes(record.procedure["minutes"])) if record.procedure else None
    return numbers.show(downside.figure)


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
    weight = record.influence.get("drinks.double.drop_ratio.sensor", {})
    assumed = [one for one in record.inputs if one.evidence == "assumed" and one.high > one.low]
    return sorted(assumed, key=lambda one: (-abs(weight.get(one.id, 0.0)), one.id))


def description(record: Assessment, kind: str) -> str:
    """One plain sentence about a page."""
    pair = f"{record.kit.name} on {record.variant.name} ({record.variant.years})"
    match kind:
        case "overview":
            return f"{pair}: does it fit, what it gains, what it costs."
        case "fit":
            return f"{pair}: every requirement, and how the variant meets it."
        case "charts":
            return f"{pair}: shots, waiting, warm-up, energy and what-if, computed."
        case "install":
            return f"{pair}: how to fit it, step by step, with its hazards."
        case "restore":
            return f"{pair}: how to take it off again and restore the original."
        case _:
            return f"{pair}: every computed number with its range, meaning and inputs."


def search_text(record: Assessment, kind: str) -> str:
    """What the search finds a page by: ids and the lead."""
    lead = f"{record.kit.summary} {record.variant.summary}"[:LEAD_LIMIT]
    return f"{record.variant.id} {record.kit.id} {record.variant.years} {PAGE_NAMES[kind]}. {lead}"


def variant_search(record: Assessment) -> str:
    """What the search finds a variant by: its ids and outside marks."""
    marks = " ".join(f"{mark.look}: {mark.see}" for mark in record.variant.marks)
    return f"{record.variant.id} {record.variant.years} {record.variant.summary} {marks}"[: 2 * LEAD_LIMIT]
