"""Hold every rule against a guide, apply its waivers, and say what blocks the build.

An error blocks. A warning with `waiver` blocks until somebody answers for it in writing, by role and date; the
guide prints the waiver. An editorial warning stays on the terminal. No waiver covers an error.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from guidegen.judge.safety.guide import Guide
from guidegen.judge.safety.rules import RULES
from guidegen.judge.safety.rules.base import Found, Rule, Severity
from guidegen.problems import Problem
from guidegen.workshop.base import Place
from guidegen.workshop.procedures import Waiver

WAIVER_RULE = Rule(
    "WVR01", "error", "A waiver names a rule that has waivers, by role and date, gives a reason, and covers something "
    "that was found; what follows from an act or is said in a text has none.",
    "fix the guide, and delete the waiver", lambda guide: iter(()),
)  # fmt: skip
DOCUMENTED: tuple[Rule, ...] = (*RULES, WAIVER_RULE)
"""What the rules page lists. The rule about waivers has no check of its own: `lint` applies it to what was found."""
OF_ACTS = ("ACT", "TXT")
"""Rules about what follows from acts, and about texts."""
LEAST_WORDS = 5
"""Words that a reason has at least."""
_NUMBER = re.compile(r"step [A-Z0-9]+\.[0-9]+ ?")


@dataclass(frozen=True, order=True)
class Finding:
    """What a rule found, ready for the terminal, the record and the page.

    `asks` are the facts whose being unknown is all that was found; `whatever_is_missing` is as in its rule.
    """

    place: Place
    rule: str
    message: str
    fix: str
    severity: Severity
    blocks: bool
    step: str | None = None
    waived: bool = False
    asks: tuple[str, ...] = ()
    whatever_is_missing: bool = False

    def problem(self) -> Problem:
        """Return the finding as the terminal shows it."""
        severity: Severity = "error" if self.blocks else "warning"
        place = self.place
        return Problem(place.path, place.line, place.column, self.rule, self.message, self.fix, severity)


def lint(guide: Guide, rules: Sequence[Rule] = RULES) -> tuple[Finding, ...]:
    """Return all findings, each once, in the order of their places."""
    found = {_finding(rule, one) for rule in rules for one in rule.check(guide)}
    return tuple(sorted(_waived(guide, _gathered(found), rules)))


def _gathered(found: Iterable[Finding]) -> Iterator[Finding]:
    """Yield each mistake of the author once: a shared block may stand in many steps of a guide."""
    groups: dict[tuple[str, Place, str], list[Finding]] = {}
    for one in sorted(found):
        groups.setdefault((one.rule, one.place, _NUMBER.sub("", one.message)), []).append(one)
    for same in groups.values():
        more = len(same) - 1
        again = f" (and {more} more {'step' if more == 1 else 'steps'})" if more else ""
        yield replace(same[0], message=same[0].message + again)


def _finding(rule: Rule, one: Found) -> Finding:
    severity = one.severity or rule.severity
    blocks = severity == "error" or rule.waiver
    fix, missing = one.fix or rule.fix, rule.whatever_is_missing
    return Finding(one.place, rule.id, one.message, fix, severity, blocks, one.step, False, one.asks, missing)


def _waived(guide: Guide, found: Iterable[Finding], rules: Sequence[Rule]) -> Iterator[Finding]:
    """Yield the findings with the written waivers applied, and a finding for each waiver that waives nothing."""
    kept = list(found)
    known: Mapping[str, Rule] = {rule.id: rule for rule in rules}
    for index, waiver in enumerate(guide.resolved.source.waivers):
        place = guide.resolved.where.place("waivers", index)
        rule = known.get(waiver.rule)
        if waiver.rule.startswith(OF_ACTS):
            yield _refused(place, f"no waiver exists for {waiver.rule}: what follows from an act, or is said in a "
                                  "text, can only be written otherwise")  # fmt: skip
            continue
        if rule is None or not rule.waiver:
            yield _refused(place, f"no waiver exists for {waiver.rule}")
            continue
        if not is_reason(waiver.because):
            fix = f"say in at least {LEAST_WORDS} words why the guide is safe without it"
            yield _refused(guide.resolved.where.place("waivers", index, "because"),
                           f"the waiver for {waiver.rule} gives no reason: {waiver.because}", fix)  # fmt: skip
            continue
        covered = [one for one in kept if _covers(waiver, one)]
        if not covered:
            yield _refused(place, f"the waiver for {waiver.rule} covers nothing that was found")
        for one in covered:
            kept[kept.index(one)] = replace(one, blocks=False, waived=True)
    yield from kept


def _covers(waiver: Waiver, one: Finding) -> bool:
    if one.rule != waiver.rule or one.severity != "warning":
        return False
    return waiver.step is None or (one.step is not None and one.step.rsplit("/", 1)[-1] == waiver.step)


def is_reason(text: str) -> bool:
    """Whether a text is more than a placeholder.

    >>> is_reason("x"), is_reason("ok ok ok ok ok"), is_reason("The bench has a fixed disconnector.")
    (False, False, True)
    """
    words = re.findall(r"[^\W\d_]{2,}", text.lower())
    return len(words) >= LEAST_WORDS and len({*words}) >= LEAST_WORDS - 1


def _refused(place: Place, message: str, fix: str = WAIVER_RULE.fix) -> Finding:
    return Finding(place, WAIVER_RULE.id, message, fix, WAIVER_RULE.severity, True)
