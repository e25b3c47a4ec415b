"""How often an electrically skilled person has to come: the phases in which one is needed, and the waits between."""

from __future__ import annotations

from string import ascii_letters

from guidegen.judge.acts.sentence import listed
from guidegen.judge.safety.model import Course
from guidegen.language import gettext, ngettext

Visits = tuple[tuple[str, ...], ...]
"""For each visit the numbers of its phases."""


def visits(course: Course) -> Visits:
    """The visits of a course: phases with work for that person are one visit until the machine has to cool."""
    found: list[list[str]] = []
    waited = True
    for phase in course.phases:
        for step in phase.steps:
            cooling = step.step.cooling
            if cooling is not None and cooling.by == "waiting":
                waited = True
            elif step.step.role == "electrically-skilled":
                if waited:
                    found.append([])
                waited = False
                if phase.number not in found[-1]:
                    found[-1].append(phase.number)
    return tuple(map(tuple, found))


def visit_words(found: Visits) -> str:
    """How often and for which phases, as a sentence goes on behind "to come".

    >>> visit_words((("8", "9"), ("11",)))
    'twice, for phases 8 and 9 and for phase 11'
    """
    times = {1: gettext("once"), 2: gettext("twice")}.get(len(found), gettext("{n} times").format(n=len(found)))
    each = [
        ngettext("for phase {phases}", "for phases {phases}", len(one)).format(phases=_phases(one)) for one in found
    ]
    return gettext("{times}, {phases}").format(times=times, phases=listed(each)) if found else gettext("at no time")


def _phases(numbers: tuple[str, ...]) -> str:
    """Numbers as a sentence says them; three or more in a row by the first and the last."""
    ends = gettext("{first} to {last}").format(first=numbers[0], last=numbers[-1])
    first, last = (int(one.lstrip(ascii_letters)) for one in (numbers[0], numbers[-1]))
    return ends if len(numbers) > 2 and last - first == len(numbers) - 1 else listed(numbers)
