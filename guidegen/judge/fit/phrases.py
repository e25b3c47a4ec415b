"""What the self-check says of answers and outcomes, on the page and on the terminal; and the order's own words."""

from __future__ import annotations

from typing import Any

from guidegen.judge.fit.order import NOTHING_TO_ORDER, OUTCOME_WORDS, TITLE
from guidegen.judge.fit.order_words import UNSURE
from guidegen.language import marked

PHRASES: dict[str, Any] = {
    "not_sure": marked("Not sure"),
    "photo": marked("I can’t tell, here is a photo"),
    "pick": marked("Pick an answer. “Not sure” is one."),
    "no_number": marked("Write a number, like {example}. Such machines have {low} to {high}."),
    "too_close": marked("That is too close to a limit for a fraction: write decimals of an inch, or measure in mm."),
    "too_fine": marked("{unit} is read to {decimals} decimals here: round it."),
    "implausible": marked(
        "Such machines have {low} to {high}. Look and measure again. If it is still the same, pick “{photo}” and write "
        "to us."
    ),
    "hidden": marked("{title}: {answer}. What we know of this variant does not describe that, so nothing is sold yet."),
    "only_we": marked("{title}: you answered “{answer}”. Ask us, with a photograph of: {photos}."),
    "progress": marked("Question {number}, at most {more} more."),
    "progress_last": marked("Question {number}, the last one."),
    "progress_screen": marked("Questions {number} to {last}, at most {more} more."),
    "progress_screen_last": marked("Questions {number} to {last}, the last ones."),
    "done": marked("Outcome: {outcome}."),
    "outcomes": {
        "fits": marked("Fits"),
        "fits-with-conditions": marked("Fits with conditions"),
        "does-not-fit": marked("Does not fit"),
        "cannot-tell-yet": marked("Cannot tell yet"),
        "has-already": marked("Has one already"),
    },
    "sentences": {
        "fits": marked("Every requirement is met on your machine as you describe it."),
        "fits-with-conditions": marked("The kit fits your machine once what is not met has been put right."),
        "does-not-fit": marked(
            "At least one requirement is not met and there is no remedy. Please do not order this kit."
        ),
        "cannot-tell-yet": marked("Something decisive is not known. Please do not order before it is."),
        "has-already": marked("Your machine already has what this kit brings. There is nothing to order."),
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
    "cuts": marked("cuts something that cannot be put back"),
    "no_cutting": marked("the least effort without cutting"),
    "mains_work": marked("mains work, for the electrically skilled only"),
    "provided": marked("Only if this is so on your machine, so look first: {says}"),
    "guide": marked("{kit} on {variant}: the guide"),
    "edit": marked("Change"),
    "edit_one": marked("Change the answer: {title}"),
    "copied": marked("Copied."),
    "copy_failed": marked("Could not copy: the text is selected, copy it by hand."),
}
"""What the script says; it puts values in place of {names} and makes no sentence of its own."""

ORDER: dict[str, Any] = {"title": TITLE, "outcomes": OUTCOME_WORDS, "nothing": NOTHING_TO_ORDER, "unsure": UNSURE}
"""The order's own words. The program reads them back, so they are a format, and the same in every language."""
