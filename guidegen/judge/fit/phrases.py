"""All words of the self-check's page, in one place."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from guidegen.judge.fit.order import NOTHING_TO_ORDER, OUTCOME_WORDS, TITLE
from guidegen.language import gettext, marked

WORDS: dict[str, Any] = {
    "title": marked("Check your own machine"),
    "which": marked("Which one do you have?"),
    "marks": marked("All of them beside each other"),
    "marks_lead": marked("What each one shows from outside, and what its rating plate names."),
    "variant": marked("Variant"),
    "seen": marked("Seen from outside"),
    "plate": marked("The rating plate says"),
    "checks": marked("Does it fit mine?"),
    "no_plate": marked("not known"),
    "with_tool": marked("With"),
    "where": marked("Where"),
    "state": marked("The machine"),
    "state_outside": marked("As it stands, switched off. Nothing is opened."),
    "state_under_lid": marked(
        "Unplugged, the plug in your sight, and left to cool for four hours. Only the top lid comes off. "
        "Touch nothing; hold the ruler beside it and take a photo. Hard-wired: leave it closed and say “not sure”."
    ),
    "takes": marked("Takes"),
    "hint": marked("As it left the factory: {known}. An earlier owner may have changed it."),
    "measures": marked("It measures"),
    "unit": marked("Unit"),
    "not_sure": marked("Not sure"),
    "photo": marked("I can’t tell, here is a photo"),
    "back": marked("Back"),
    "next": marked("Next"),
    "reasons": marked("What stands in the way"),
    "decide": marked("What would decide, the best start first"),
    "remedies": marked("What makes it fit, least effort first"),
    "photos": marked("Photos that help us to tell"),
    "to_order": marked("What to order"),
    "answers": marked("Your answers"),
    "fact": marked("What"),
    "answer": marked("Answer"),
    "edit": marked("Change"),
    "text": marked("As a text"),
    "text_lead": marked(
        "Nothing has been sent. Copy the text or open it as a mail; we check it against the same rules."
    ),
    "copy_text": marked("Copy"),
    "print": marked("Print"),
    "mail": marked("Open as a mail"),
    "again": marked("Start again"),
    "link": marked("Link to this result (your answers are in the link, nowhere else)"),
    "limits": marked("The limits"),
    "requirement": marked("Requirement"),
    "holds_if": marked("Holds if"),
    "if_not": marked("If not"),
    "ends_it": marked("The kit does not fit."),
    "no_help": marked("That does not help; what else mends it counts."),
    "needed_by": marked("Only for “{name}”:"),
}
"""What the template prints."""

SPOKEN: dict[str, Any] = {
    "not_sure": WORDS["not_sure"],
    "photo": WORDS["photo"],
    "pick": marked("Pick an answer. “Not sure” is one."),
    "no_number": marked("Write a number, like 46.5."),
    "too_fine": marked("{unit} is read to {decimals} decimals here: round it."),
    "implausible": marked("Such machines have {low} to {high}. If yours is right, press Next again."),
    "progress": marked("Question {number}, at most {more} more."),
    "progress_last": marked("Question {number}, the last one."),
    "done": marked("Outcome: {outcome}."),
    "outcomes": {
        "fits": marked("Fits"),
        "fits-with-conditions": marked("Fits with conditions"),
        "does-not-fit": marked("Does not fit"),
        "cannot-tell-yet": marked("Cannot tell yet"),
    },
    "sentences": {
        "fits": marked("Every requirement is met on your machine as you describe it."),
        "fits-with-conditions": marked("The kit goes on your machine once what is not met has been mended."),
        "does-not-fit": marked(
            "At least one requirement is not met and nothing mends it. Please do not order this kit."
        ),
        "cannot-tell-yet": marked("Something decisive is not known. Please do not order before it is."),
    },
    "other_edition": marked(
        "The link was made with edition {linked}; this page is edition {here} and uses its own rules."
    ),
    "not_met": marked("Not met{whose}:"),
    "not_known": marked("Not known{whose}:"),
    "whose": marked(", for “{name}”"),
    "picked": marked("{title}: {answer}. Holds if: {wanted}."),
    "low_F": marked("{title}: {answer}. At least {limit} is needed: short by {gap}."),
    "low_U": marked("{title}: {answer}. At least {limit} is needed: too close to tell, measure better."),
    "high_F": marked("{title}: {answer}. At most {limit} is allowed: too much by {gap}."),
    "high_U": marked("{title}: {answer}. At most {limit} is allowed: too close to tell, measure better."),
    "settle": marked("with {tool}, {where}; takes {minutes} min."),
    "unasked": marked("{title}: only the workshop can find that out. Send us a photo of the whole machine."),
    "minutes": marked("{minutes} min"),
    "cuts": marked("cuts something that does not grow back"),
    "no_cutting": marked("the least effort without cutting"),
    "mains_work": marked("mains work, for the electrically skilled only"),
    "provided": marked("Only if this holds on your machine, so look first: {says}"),
    "guide": marked("{kit} on {variant}: the guide"),
    "edit": WORDS["edit"],
    "edit_one": marked("Change the answer: {title}"),
    "copied": marked("Copied."),
    "copy_failed": marked("Could not copy: the text is selected, copy it by hand."),
}
"""What the script says; it puts values in place of {names} and makes no sentence of its own."""

WHICH_PAPER = marked(
    "This page asks one question at a time where scripts may run. Without them, hold your machine against the table "
    "of marks below. If none of them is yours, send the photos that the questions name to {contact}."
)

WHICH: dict[str, Any] = {
    **SPOKEN,
    "outcomes": {
        "one": marked("One is left"),
        "several": marked("Several are left"),
        "none": marked("None of these"),
    },
    "sentences": {
        "one": marked(
            "Of the variants that we know, nothing you saw speaks against this one. Now check the kit on yours."
        ),
        "several": marked(
            "What you saw fits more than one. Compare their marks in the table, or send photos to {contact}."
        ),
        "none": marked(
            "What you saw fits none of the variants that we know. Send the photos to {contact}; "
            "we may not know yours yet."
        ),
    },
    "checks": marked("Does it fit mine?"),
}
"""What the script says where it tells variants apart."""

ORDER: dict[str, Any] = {"title": TITLE, "outcomes": OUTCOME_WORDS, "nothing": NOTHING_TO_ORDER}
"""The order's own words. The program reads them back, so they are a format, and the same in every language."""


def in_words(table: Mapping[str, Any]) -> dict[str, Any]:
    """Return a table of words in the language that is spoken."""
    return {name: in_words(one) if isinstance(one, Mapping) else gettext(one) for name, one in table.items()}
