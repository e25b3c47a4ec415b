"""The rows of the mutation table: rule, what is changed, which guide, the change, and other rules it must trip.

Every row is one change of one clean guide. `also` lists further E rules that the same change breaks for a reason
of their own: a guide that is energised without an earth test breaks the rule of the test and that of energising.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from tests.mutants.draft import draft
from tests.mutants.edits import Change
from tests.whole import some

TRIED = 30
"""Of the mutants that are made from a table and not chosen, one in so many is tried by `make test`."""


@dataclass(frozen=True)
class Mutant:
    """One row."""

    rule: str
    says: str
    guide: tuple[str, str]
    change: Change
    also: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """Return what a test run calls it."""
        return f"{self.rule}: {self.says} [{'/'.join(self.guide)}]"

    def findings(self):  # type: ignore[no-untyped-def]
        """Return what the lint finds in the changed guide."""
        one = draft(*self.guide)
        self.change(one)
        return one.findings()


#: guides: Feed Preheater on the Mark 2 (trimmed or exchanged), the Mark 1b (exchanged), a hard-wired Bracken
TRIM = ("tamsin-mk2", "feed-preheater")
EXCHANGE = ("tamsin-mk1b", "feed-preheater")
WIRED = ("bracken-a", "feed-preheater")
SPREAD = ("bracken-c", "feed-preheater")
#: Banjo Feed with plug and hard-wired, Loop Controller with plug and hard-wired
BANJO = ("tamsin-mk1", "banjo-feed")
BANJO_WIRED = ("bracken-a", "banjo-feed")
LOOP = ("tamsin-mk1", "loop-controller")
LOOP_WIRED = ("bracken-a", "loop-controller")
CLEAN = (TRIM, EXCHANGE, WIRED, SPREAD, BANJO, BANJO_WIRED, LOOP, LOOP_WIRED)


def survivors(mutants: Iterable[Mutant]) -> list[str]:
    """What the changes say that the lint lets pass: neither refused, with file, line and fix, nor impossible to write.

    A mutant that names a rule is caught by that rule alone. One that leaves every step of its guide as it is, as where
    it changes a case of another machine, is none of that guide.
    """
    return [one.says for one in some(mutants, TRIED) if not _caught(one) and not _idle(one)]


def _idle(mutant: Mutant) -> bool:
    one, clean = draft(*mutant.guide), draft(*mutant.guide)
    mutant.change(one)
    courses = (each.guide().resolved.courses for each in (one, clean))
    return all([*a.steps] == [*b.steps] for a, b in zip(*courses, strict=True))


def _caught(mutant: Mutant) -> bool:
    try:
        findings = mutant.findings()
    except ValueError:  # a document that does not validate
        return not mutant.rule
    blocking = [one for one in findings if one.blocks and mutant.rule in ("", one.rule)]
    return any(one.place.path.endswith(".yml") and one.place.line >= 1 and one.fix for one in blocking)
