"""Tools, parts and consumables as listed; every disconnection with its reconnection."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from guidegen.judge.safety.flow import Run, settled
from guidegen.judge.safety.guide import Guide
from guidegen.judge.safety.model import ResolvedStep
from guidegen.judge.safety.rules.base import Found, Rule, at_step, never, printed_steps
from guidegen.judge.safety.state import Named
from guidegen.problems import nearest

LISTS = ("tools", "parts", "consumables")


def listed(guide: Guide) -> Iterator[Found]:
    """PAR01."""
    for name in LISTS:
        known = getattr(guide.kit, name)
        used: set[str] = set()
        for step in printed_steps(guide):
            for one in getattr(step.step.uses, name):
                if not _only_looked_at(step, one):
                    used.add(one)
                if one not in known:
                    near = nearest(one, known)
                    yield at_step(step, f"uses `{one}`, which is not among the kit's {name}", "uses",
                                  fix=f"write {near}, or add it to the kit" if near else None)  # fmt: skip
        for one in sorted(set(known) - used):
            yield Found(guide.kit.place, f"the kit lists `{one}` among its {name}, but no step fits it or uses it",
                        fix="use it in a step, or take it off the list for this machine")  # fmt: skip


def _only_looked_at(step: ResolvedStep, name: str) -> bool:
    """Whether a step does no more with it than look; what it looks with it uses."""
    return step.step.only_looks and name in step.step.names


def reconnected(guide: Guide) -> Iterator[Found]:
    """PAR02."""
    for run in guide.runs:
        main = [run.graph.steps[key] for key in run.graph.main]
        start = run.graph.course.start.out
        yield from _pairs(main, start)
        for remedy in run.graph.course.remedies:
            yield from _remedied(run, [step for step in remedy.steps if step.key in run.before])
        for step in run.steps:
            for kind, name in step.removes:
                known = settled(run, lambda one, name=name: name in one.step.records, never)  # type: ignore[misc]
                if not known[step.key] and name not in step.step.records:
                    yield at_step(step, f"takes {name} ({kind}) off before it is labelled or photographed", "removes")


def _remedied(run: Run, steps: list[ResolvedStep]) -> Iterator[Found]:
    """What a remedy takes off may be put back by the main line, if its way leads there before the refit."""
    if not steps:
        return
    later = run.graph.reached([steps[0].key], avoiding="")
    back = {one for key in later for one in run.graph.steps[key].refits}
    for step in steps:
        for one in step.removes:
            if one not in back:
                yield at_step(step, f"{one[1]} ({one[0]}) is taken off in a remedy and never put back", "removes")


def _pairs(steps: Iterable[ResolvedStep], start: Iterable[Named]) -> Iterator[Found]:
    off: Counter[Named] = Counter(start)
    on: Counter[Named] = Counter()
    last: dict[Named, ResolvedStep] = {}
    for step in steps:
        permanent = step.step.removes is not None and step.step.removes.permanent
        for one in step.removes:
            if not permanent:
                off[one] += 1
            last[one] = step
        for one in step.refits:
            on[one] += 1
            last[one] = step
    for one, step in last.items():
        if off[one] != on[one]:
            kind, name = one
            yield at_step(step, f"{name} ({kind}) is taken off {off[one]} times and put back {on[one]} times")


RULES = (
    Rule("PAR01", "error", "Tools, parts and consumables used are those listed, both ways; a look at a part is no "
         "use of it.",
         "add it to the kit's list", listed),
    Rule("PAR02", "error", "Each disconnection has exactly one reconnection or is permanent; label or photograph "
         "comes first.", "add the missing step, or `permanent: true`", reconnected),
)  # fmt: skip
