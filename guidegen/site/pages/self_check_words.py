"""All words that only the self-check's pages print, in one place."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from guidegen.language import gettext, marked
from guidegen.record.reference import WordTable

WORDS: WordTable = {
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
    "back": marked("Back"),
    "next": marked("Next"),
    "bars": marked("What bars the kit"),
    "mendable": marked("What can be put right"),
    "ruled_out": marked("What rules out one of the remedies"),
    "open": marked("What is not known yet"),
    "decide": marked("What would decide it, best start first"),
    "remedies": marked("What makes it fit, least effort first"),
    "photos": marked("Photos that help us to tell"),
    "to_order": marked("What to order"),
    "answers": marked("Your answers"),
    "ours": marked("Our data: what we did not ask you about"),
    "assumed": marked("We assume this ({facts}); nobody has measured it yet."),
    "fact": marked("What"),
    "answer": marked("Answer"),
    "instruction": marked("How it is fitted in your case"),
    "own": marked("For the order, if you like"),
    "own_lead": marked(
        "These stay in this browser and in the text below. They are not sent and not put into any link; they reach us "
        "only when you send the text yourself."
    ),
    "own_name": marked("Your name"),
    "own_address": marked("Where to send the kit"),
    "own_serial": marked("Serial number of the machine"),
    "own_forget": marked("Forget these"),
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
    "no_help": marked("Then this remedy is ruled out; any other still counts."),
    "needed_by": marked("Only for “{name}”:"),
}
"""What the templates print beside what the script says, too."""
ALSO_USED = ("not_sure", "photo", "edit")
"""What the templates print of what the script says."""

WHICH_PAPER = marked(
    "With scripts, this page asks one question at a time. Without them, compare your machine with the table of "
    "marks below. If none of them is yours, send the photos that the questions name to {contact}."
)

WHICH: WordTable = {
    "outcomes": {
        "one": marked("Most likely this one"),
        "several": marked("More than one is possible"),
        "none": marked("None of these"),
        "against": marked("Your answers contradict each other"),
    },
    "sentences": {
        "one": marked("You probably have a {variant}. Now check the kit on your own machine."),
        "several": marked(
            "Your answers fit more than one variant. Compare their marks in the table, or send photos to {contact}."
        ),
        "none": marked(
            "Your answers fit none of the variants we know. Send the photos to {contact}; we may not know yours yet."
        ),
        "against": marked(
            "{first}, but {last}: none of the variants we know has both. Look again, or write to {contact}."
        ),
    },
    "said": marked("{title}: “{answer}”"),
    "checks": marked("Does it fit mine?"),
}
"""What the script says otherwise where it distinguishes variants."""


def in_words(table: WordTable, say: Callable[[str], str] = gettext) -> dict[str, Any]:
    """A table of words in the language in use; with `say=str` as they are."""
    return {name: in_words(one, say) if isinstance(one, Mapping) else say(one) for name, one in table.items()}
