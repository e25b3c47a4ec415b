"""What depends on the course and not on a step: the facts of the course, and the texts around the steps."""

from __future__ import annotations

from typing import Any

from guidegen.judge.logic import Truth
from guidegen.judge.safety.facts import Facts, holds, word
from guidegen.judge.safety.fill import Filler, texts_in
from guidegen.judge.safety.measure import IN_TEXT
from guidegen.language import gettext
from guidegen.workshop.procedures import Procedure, SharedBlocks

#: what a procedure prints outside of its steps
_AROUND_STEPS = ("effectivity", "preliminary", "residual")
_ACTS_AROUND = ("aftercare", "faults", "stop_use")


def printed_around(
    procedure: Procedure, shared: SharedBlocks, facts: Facts
) -> tuple[Procedure, Filler, tuple[str, ...]]:
    """Return the procedure with the texts around its steps filled, what filled them, and bare numbers.

    A precaution that may apply is printed: leaving it out would be the unsafe side.
    """
    filler = Filler(facts, {**shared.values, **procedure.values}, {})
    changes: dict[str, Any] = {}
    unstated: list[str] = []
    for name in _AROUND_STEPS:
        value = getattr(procedure, name)
        if isinstance(value, tuple):
            value = tuple(one for one in value if holds(getattr(one, "when", None), facts) is not Truth.FALSE)
        changes[name] = filler.any(value)
        unstated += _bare(value)
    unstated += [hit for name in _ACTS_AROUND for hit in _bare(getattr(procedure, name))]
    printed = procedure.model_copy(update=changes)
    return printed, filler, tuple(dict.fromkeys(unstated))


def _bare(value: Any) -> list[str]:
    """Numbers with a unit in the texts of a field."""
    return [hit.group() for text in texts_in(value) if (hit := IN_TEXT.search(text))]


def on_course(facts: Facts, course: str, procedure: Procedure) -> Facts:
    """Return the facts with those of the course: which, whether it is mains work, how the mains is kept off."""
    corded = facts.get("mains.connection").value == "corded"
    return facts.having({
        "course": word(course),
        "work.mains": word("yes" if procedure.mains_work else "no"),
        "work.off": word(gettext("unplugged") if corded else gettext("locked off")),
        "work.guard": word(gettext("the plug in sight") if corded else gettext("your padlock")),
        "work.earth": word("the plug's earth pin" if corded else "the circuit's earth terminal"),
    })  # fmt: skip
