"""Sentences that are put together from the record: each in one place, each from the numbers it speaks of."""

from __future__ import annotations

from guidegen.language import gettext, marked, ngettext
from guidegen.record import Assessment, Outline
from guidegen.record.carried_out import complete
from guidegen.record.places import headlines
from guidegen.record.stated import Input
from guidegen.site.pages.place import gain_is

LEAD_LIMIT = 200
"""Characters of lead in a search entry; more only makes the index heavy."""

PAGE_NAMES = {
    "overview": marked("overview"),
    "fit": marked("does it fit?"),
    "questions": marked("frequent questions"),
    "charts": marked("charts and what-if"),
    "install": marked("fitting instruction"),
    "brief": marked("brief for the skilled person"),
    "restore": marked("restoring the original"),
    "numbers": marked("the numbers"),
    "changes": marked("what changed"),
}

OUTCOME_WORDS = {
    "fits": marked("fits"),
    "fits-with-conditions": marked("fits with conditions"),
    "does-not-fit": marked("does not fit"),
    "cannot-tell-yet": marked("cannot tell yet"),
    "has-already": marked("not needed: it already has one"),
}

OUTCOMES = {
    "fits": marked(
        "Every requirement is met on the variant as it left the factory. An earlier owner may have changed it."
    ),
    "fits-with-conditions": marked("The kit fits once the unmet requirements have been remedied as described."),
    "does-not-fit": marked("At least one requirement is not met and has no remedy. There is no fitting instruction."),
    "cannot-tell-yet": marked("Something decisive is not known. Do not order before it has been measured."),
    "has-already": marked("This variant already has what the kit brings. There is nothing to order or fit."),
}

VARIANT_STATUS = {
    "reported": marked("known only from a report; nobody at the workshop has seen one"),
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


def measured_on(record: Assessment) -> str:
    """On what the dip was measured, within a sentence; empty while before and after are not compared.

    That is the rule by which pages say measured in place of computed.
    """
    found = record.measured
    if found is None or found.before_after is None:
        return ""
    words = gettext("measured on one machine, {count} shots").format(count=found.shots)
    # What is compared is all invented or all real.
    return gettext("{measured}, all of them invented").format(measured=words) if found.invented else words


def status(record: Assessment) -> str:
    """Whether this pair was ever built, and whether its dip was measured: calculated is neither."""
    if found := measured_on(record):
        built = _built(record) or gettext("not yet carried out on this variant")
        return f"{found}; {built}"
    if gain_is(record) == "stated":
        return _built(record) or gettext("not yet carried out on this variant")
    return _built(record) or gettext("calculated, not yet carried out on this variant")


def _built(record: Assessment) -> str:
    if count := len(complete(record.builds)):
        words = ngettext("carried out once on this variant", "carried out {count} times on this variant", count)
        return words.format(count=count)
    return ""


def compared_with(record: Assessment) -> str:
    """What a machine without the kit is, where that is one with another kit; empty where it is the machine alone."""
    if not record.first:
        return ""
    names = gettext(" and the ").join(one.name for one in record.first)
    return gettext("Without this kit means: on a machine that has the {kit}.").format(kit=names)


def basis(record: Assessment) -> str:
    """What figures are compared with, what was measured, and what ranges are; of a stated gain, that it is stated."""
    return " ".join(filter(None, (compared_with(record), _basis(record))))


def _basis(record: Assessment) -> str:
    if gain_is(record) == "stated":
        return gettext(
            "What it gains is stated by the workshop, not computed. Temperatures and energy stay as they are."
        )
    if found := measured_on(record):
        first = gettext("The dip was {measured}; every other number is computed.").format(measured=found)
        return f"{first} {_computed(record)}"
    return _computed(record)


def _computed(record: Assessment) -> str:
    match record.basis:
        case "nominal":
            if not all(one.stated for one in record.inputs):
                return gettext(
                    "Computed from the stated values and, where a value is not known, from what is usual for such "
                    "machines; no ranges yet."
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
    "questions": marked("What owners of a {variant} ask about the {kit}, answered with computed numbers."),
    "fit": marked("{kit} on {variant} ({years}): every requirement, and how the variant meets it."),
    "charts": marked("{kit} on {variant} ({years}): shots, waiting, warm-up, energy and what-if, computed."),
    "install": marked("{kit} on {variant} ({years}): how to fit it, step by step, with its hazards."),
    "brief": marked("{kit} on {variant} ({years}): visits, tests, limits and signature, to send before ordering."),
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
