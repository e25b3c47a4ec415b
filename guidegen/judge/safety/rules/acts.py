"""Acts: written as the table has them, looks that are still valid, names in the forms that sentences ask."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from guidegen.judge.safety.flow import Run, settled
from guidegen.judge.safety.guide import Guide
from guidegen.judge.safety.model import ResolvedStep
from guidegen.judge.safety.rules.base import Found, Rule, at_step
from guidegen.language import translation
from guidegen.workshop.base import Place


def written(guide: Guide) -> Iterator[Found]:
    """ACT01."""
    for where, fault in guide.resolved.faults:
        yield Found(where.place(fault.field), fault.message, fix=fault.fix)


def formed(guide: Guide) -> Iterator[Found]:
    """ACT04."""
    catalogue = translation().file
    place = Place(catalogue, 1, 1) if catalogue else guide.resolved.where.place()
    for one in guide.resolved.formless:
        fix = one.fix if catalogue else f"leave `:{one.form}` out: this language has no forms"
        yield Found(place, f'"{one.name}" has no form `{one.form}`, which a sentence asks for', fix=fix)


def looked_at(guide: Guide) -> Iterator[Found]:
    """ACT03."""
    for run in guide.runs:
        setters: dict[str, set[str]] = {}
        for step in run.steps:
            if step.step.looks:
                setters.setdefault(step.step.looks, set()).update(step.step.names)
        for step in run.steps:
            for look in step.step.asks:
                about = setters.get(look, set())
                own = [{part} for part in sorted(about & {*step.step.names})]
                for parts in own or [about]:
                    if not _valid(run, look, parts)[step.key]:
                        of = f" of {', '.join(sorted(parts))}" if parts else ""
                        yield at_step(step, f"asks the look `{look}`{of}, but a path reaches it without that look, or "
                                            "something was done to what was looked at since", "act")  # fmt: skip


def _valid(run: Run, look: str, about: set[str]) -> Mapping[str, bool]:
    """Before each step, whether the look at these things is valid: whatever else names one of them undoes it."""

    def names(step: ResolvedStep) -> bool:
        return bool(about & {*step.step.names})

    def sets(step: ResolvedStep) -> bool:
        return step.step.looks == look and (names(step) or not about)

    return settled(run, sets, names)


RULES = (
    Rule("ACT01", "error", "Every step is an act of the table, done to things that machine and kit have.",
         "`guidegen check --acts` lists the acts and what each takes", written),
    Rule("ACT03", "error", "What an own act asks was looked at before on every path, and nothing disturbed it since.",
         "put the act that sets the look above this step, and everything else that names the same things above that",
         looked_at),
    Rule("ACT04", "error", "In a language with cases, every name has the forms that the sentences ask for.",
         "write the form into the catalogue of the language", formed),
)  # fmt: skip
