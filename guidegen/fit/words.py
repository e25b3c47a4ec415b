"""All words of the self-check's page, in one place."""

from __future__ import annotations

from typing import Any

from guidegen.fit.order import NOTHING_TO_ORDER, OUTCOME_WORDS, TITLE

WORDS: dict[str, Any] = {
    "title": "Check your own machine",
    "which": "Which one do you have?",
    "marks": "All of them beside each other",
    "marks_lead": "What each one shows from outside, and what its rating plate names.",
    "variant": "Variant",
    "seen": "Seen from outside",
    "plate": "The rating plate says",
    "checks": "Does it fit mine?",
    "no_plate": "not known",
    "with_tool": "With",
    "where": "Where",
    "state": "The machine",
    "state_outside": "As it stands, switched off. Nothing is opened.",
    "state_under_lid": (
        "Unplugged, the plug in your sight, and left to cool for four hours. Only the top lid comes off. "
        "Touch nothing; hold the ruler beside it and take a photo. Hard-wired: leave it closed and say “not sure”."
    ),
    "takes": "Takes",
    "hint": "As it left the factory: {known}. An earlier owner may have changed it.",
    "measures": "It measures",
    "unit": "Unit",
    "not_sure": "Not sure",
    "photo": "I can’t tell, here is a photo",
    "back": "Back",
    "next": "Next",
    "reasons": "What stands in the way",
    "decide": "What would decide, the best start first",
    "remedies": "What makes it fit, least effort first",
    "photos": "Photos that help us to tell",
    "to_order": "What to order",
    "answers": "Your answers",
    "fact": "What",
    "answer": "Answer",
    "edit": "Change",
    "text": "As a text",
    "text_lead": "Nothing has been sent. Copy the text or open it as a mail; we check it against the same rules.",
    "copy_text": "Copy",
    "print": "Print",
    "mail": "Open as a mail",
    "again": "Start again",
    "link": "Link to this result (your answers are in the link, nowhere else)",
    "limits": "The limits",
    "requirement": "Requirement",
    "holds_if": "Holds if",
    "if_not": "If not",
    "ends_it": "The kit does not fit.",
}
"""What the template prints."""

SPOKEN: dict[str, Any] = {
    "not_sure": WORDS["not_sure"],
    "photo": WORDS["photo"],
    "pick": "Pick an answer. “Not sure” is one.",
    "no_number": "Write a number, like 46.5.",
    "too_fine": "{unit} is read to {decimals} decimals here: round it.",
    "implausible": "Such machines have {low} to {high}. If yours is right, press Next again.",
    "progress": "Question {number}, at most {more} more.",
    "progress_last": "Question {number}, the last one.",
    "done": "Outcome: {outcome}.",
    "outcomes": {
        "fits": "Fits",
        "fits-with-conditions": "Fits with conditions",
        "does-not-fit": "Does not fit",
        "cannot-tell-yet": "Cannot tell yet",
    },
    "sentences": {
        "fits": "Every requirement is met on your machine as you describe it.",
        "fits-with-conditions": "The kit goes on your machine once what is not met has been mended.",
        "does-not-fit": "At least one requirement is not met and nothing mends it. Please do not order this kit.",
        "cannot-tell-yet": "Something decisive is not known. Please do not order before it is.",
    },
    "other_edition": "The link was made with edition {linked}; this page is edition {here} and uses its own rules.",
    "not_met": "Not met{whose}:",
    "not_known": "Not known{whose}:",
    "whose": ", for “{name}”",
    "picked": "{title}: {answer}. Holds if: {wanted}.",
    "low_F": "{title}: {answer}. At least {limit} is needed: short by {gap}.",
    "low_U": "{title}: {answer}. At least {limit} is needed: too close to tell, measure better.",
    "high_F": "{title}: {answer}. At most {limit} is allowed: too much by {gap}.",
    "high_U": "{title}: {answer}. At most {limit} is allowed: too close to tell, measure better.",
    "settle": "with {tool}, {where}; takes {minutes} min.",
    "unasked": "{title}: only the workshop can find that out. Send us a photo of the whole machine.",
    "minutes": "{minutes} min",
    "cuts": "cuts something that does not grow back",
    "no_cutting": "the least effort without cutting",
    "mains_work": "mains work, for the electrically skilled only",
    "provided": "Only if this holds on your machine, so look first: {says}",
    "guide": "{kit} on {variant}: the guide",
    "edit": WORDS["edit"],
    "edit_one": "Change the answer: {title}",
    "copied": "Copied.",
    "copy_failed": "Could not copy: the text is selected, copy it by hand.",
    "order": {"title": TITLE, "outcomes": OUTCOME_WORDS, "nothing": NOTHING_TO_ORDER},
}
"""What the script says; it puts values in place of {names} and makes no sentence of its own."""

WHICH_PAPER = (
    "This page asks one question at a time where scripts may run. Without them, hold your machine against the table "
    "of marks below. If none of them is yours, send the photos that the questions name to {contact}."
)

WHICH: dict[str, Any] = {
    **SPOKEN,
    "outcomes": {"one": "One is left", "several": "Several are left", "none": "None of these"},
    "sentences": {
        "one": "Of the variants that we know, nothing you saw speaks against this one. Now check the kit on yours.",
        "several": "What you saw fits more than one. Compare their marks in the table, or send photos to {contact}.",
        "none": (
            "What you saw fits none of the variants that we know. Send the photos to {contact}; "
            "we may not know yours yet."
        ),
    },
    "checks": "Does it fit mine?",
}
"""What the script says where it tells variants apart."""
