"""What is asked of a machine to tell its variant: the name that it carries, and what is seen from outside."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from guidegen.judge.fit.answers import SOMETHING_ELSE
from guidegen.judge.fit.subject import Candidate
from guidegen.language import gettext, marked
from guidegen.workshop.facts import UNKNOWN
from guidegen.workshop.questions import OfferedAnswer, Question

MARK = "mark."
MARK_MINUTES = 1.0
WHY = marked("It tells the variants apart.")
PLATE_MARK = f"{MARK}plate"
"""The mark that is seen on the rating plate itself, by its id."""
FAMILY = "family"
FAMILY_MINUTES = 0.2
"""A glance."""


def family_question(machines: Sequence[Candidate]) -> tuple[Question, ...]:
    """Return the question for the name on the machine, where there is more than one."""
    names = {machine.family: machine.family_name for machine in machines}
    if len(names) < 2:
        return ()
    return (
        Question(
            fact=FAMILY,
            ask=gettext("Which name is on the machine?"),
            why=gettext(WHY),
            tool=gettext("your eyes"),
            where=gettext("on the front, on the rating plate, or on the papers that came with it"),
            look="outside",
            minutes=FAMILY_MINUTES,
            photos=(
                gettext("the machine from the front"),
                gettext("the whole rating plate, sharp and straight on"),
            ),
            choices=_offered({**names, SOMETHING_ELSE: gettext("Another name")}),
        ),
    )


def mark_questions(machines: Sequence[Candidate]) -> tuple[Question, ...]:
    """Return one question per mark; its answers are what the variants show there."""
    looks: dict[str, str] = {}
    sees: dict[str, dict[str, None]] = {}
    for machine in machines:
        for mark in seen_marks(machine):
            looks.setdefault(mark.id, mark.look)
            sees.setdefault(mark.id, {})[mark.see] = None
    return tuple(
        Question(
            fact=f"{MARK}{name}",
            ask=gettext("What do you see there?"),
            why=gettext(WHY),
            tool=gettext("your eyes"),
            where=look,
            look="outside",
            minutes=MARK_MINUTES,
            photos=(look,),
            choices=_offered({**dict.fromkeys(sees[name]), SOMETHING_ELSE: gettext("Something else")}),
        )
        for name, look in looks.items()
    )


def _offered(says: Mapping[str, str | None]) -> tuple[OfferedAnswer, ...]:
    return tuple(OfferedAnswer.model_validate({"is": word, "says": text or word}) for word, text in says.items())


def unseen_marks(machine: Candidate) -> Iterator[str]:
    """The marks at which nobody has looked on this variant."""
    yield from (f"{MARK}{mark.id}" for mark in machine.marks if mark.see == UNKNOWN)


def seen_marks(machine: Any) -> Iterator[Any]:
    """The marks at which somebody has looked."""
    yield from (mark for mark in machine.marks if mark.see != UNKNOWN)
