"""What an instruction's page shows of one case: marks on what only some cases have, for the script that leaves it out.

Without scripts, and for whoever chooses nothing, the page says all of it, each part with its condition.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

from markupsafe import Markup

from guidegen.record import Assessment
from guidegen.record.procedure import Instruction, InstructionCourse, InstructionPhase
from guidegen.record.step import InstructionStep
from guidegen.site.pages import sentences, step_words
from guidegen.site.pages.cases import WorkCase, cases_of
from guidegen.site.pages.page import rel
from guidegen.site.pages.place import has_install, path_of
from guidegen.site.pages.self_check import LeadsTo

SCRIPT = "assets/guidegen/my-case.js"
NO_MARK = Markup("")


@dataclass(frozen=True)
class CaseMarks:
    """The marks of one course. `elsewhere`: hazards that have another reason to be on the page."""

    course: InstructionCourse
    elsewhere: frozenset[str] = frozenset()

    @cached_property
    def cases(self) -> tuple[WorkCase, ...]:
        """What can be chosen; nothing where there is but one case."""
        found = cases_of(self.course)
        return found if len(found) > 1 else ()

    def of(self, steps: Iterable[InstructionStep]) -> Markup:
        """The mark of what belongs to steps; nothing where every case has some of them."""
        own = tuple(steps)
        return self._mark(case for case in self.cases if any(case.takes(step) for step in own))

    def of_numbers(self, numbers: Sequence[str]) -> Markup:
        """The mark of what these steps take in hand."""
        return self.of(step for step in self.course.steps if step.number in numbers)

    def of_hazard(self, name: str) -> Markup:
        """The mark of a hazard; nothing where this course is not its only reason."""
        steps = [step for step in self.course.steps if any(one.id == name for one in step.hazards)]
        return NO_MARK if name in self.elsewhere or not steps else self.of(steps)

    def of_sheet(self, case: str) -> Markup:
        """The mark of a sheet that is made for one case; `case` is its id, empty where it is for all."""
        return self._mark(one for one in self.cases if one.id == case) if case else NO_MARK

    def minutes(self, steps: Iterable[InstructionStep]) -> Markup:
        """How long steps take in each case."""
        own = tuple(steps)
        return self._by_case(lambda case: sentences.minutes(sum(one.minutes for one in own if case.takes(one))))

    def who(self, phase: InstructionPhase) -> Markup:
        """Who works in a phase in each case."""
        return self._by_case(lambda case: step_words.who(one.role for one in phase.steps if case.takes(one)))

    def holds(self, phase: InstructionPhase) -> Markup:
        """How many hold points a phase has in each case."""
        return self._by_case(
            lambda case: str(sum(one.hold is not None for one in phase.steps if case.takes(one)) or "–")
        )

    def waits(self) -> Markup:
        """What is waited for in each case."""
        return self._by_case(
            lambda case: ", ".join(
                wait for phase in self.course.phases if any(map(case.takes, phase.steps)) for wait in phase.waits
            )
        )

    def whole(self) -> Markup:
        """How long the work takes in each case, remedies left out."""
        return self.minutes(step for phase in self.course.phases for step in phase.steps)

    def _mark(self, having: Iterable[WorkCase]) -> Markup:
        found = tuple(having)
        if not self.cases or len(found) == len(self.cases):
            return NO_MARK
        return Markup(' data-cases="{}"').format(" ".join(case.id for case in found))

    def _by_case(self, says: Callable[[WorkCase], str]) -> Markup:
        words = {case.id: says(case) for case in self.cases}
        return Markup(' data-by-case="{}"').format(json.dumps(words, ensure_ascii=False)) if words else NO_MARK


def hazards_elsewhere(procedure: Instruction, course: InstructionCourse) -> frozenset[str]:
    """The hazards that the other course of an instruction has as well."""
    others = (one for one in (procedure.fitting, procedure.restoring) if one is not None and one is not course)
    return frozenset(one.id for other in others for step in other.steps for one in step.hazards)


def carried_over(record: Assessment) -> dict[str, list[str]]:
    """The cases of a pair's fitting, each with what holds in it: the self-check leads to the one that it found."""
    if record.procedure is None:
        return {}
    return {case.id: [*case.common] for case in CaseMarks(record.procedure.fitting).cases}


def leads_to(record: Assessment, path: str) -> LeadsTo | None:
    """Where the self-check leads once it knows the case, as seen from a page."""
    if not has_install(record):
        return None
    return LeadsTo(rel(path, path_of(record, "install")), carried_over(record))
