"""Vessels: one that was cut, or put in place of another, has borne more than it has to bear before it is heated."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from guidegen.judge.safety.flow import Run, settled
from guidegen.judge.safety.guide import Guide
from guidegen.judge.safety.model import ResolvedStep
from guidegen.judge.safety.rules.base import Found, Rule, at_step, comes_too_early, every_step, heats, never
from guidegen.judge.safety.rules.water import GAS

CONNECTED = "joints"


def proven(guide: Guide) -> Iterator[Found]:
    """PRS06."""
    for run in guide.runs:
        for vessel, done in _vessels(guide, run):
            words = f"heats {vessel}, but a path reaches it without a proof since it was cut or put in"
            yield from comes_too_early(run, heats, done, words)
    for _, step in every_step(guide):
        if step.step.proof is not None:
            yield from _proves(step)


def _vessels(guide: Guide, run: Run) -> Iterator[tuple[str, Mapping[str, bool]]]:
    """Each vessel that has to be proven in a run, and whether it is before each step, on every path."""
    for thing in guide.resolved.things.by_id.values():

        def proves(step: ResolvedStep, vessel: str = thing.id) -> bool:
            return step.step.proof is not None and vessel in step.step.proof.vessels

        if thing.kind == "boiler" and any(_cuts(step) for step in run.steps):
            yield thing.id, settled(run, proves, _cuts, start=True)
        if thing.kind == "spare-boiler" and any(_puts_in(step, thing.id) for step in run.steps):
            yield thing.id, settled(run, proves, never)


def _cuts(step: ResolvedStep) -> bool:
    return step.step.cut is not None


def _puts_in(step: ResolvedStep, vessel: str) -> bool:
    """Whether something is joined to a vessel that came from elsewhere."""
    return vessel in step.step.names and any(kind == CONNECTED for kind, _ in step.refits)


def _proves(step: ResolvedStep) -> Iterator[Found]:
    proof, hold = step.step.proof, step.step.hold
    if hold is None:
        yield at_step(step, "a proof that is no hold point", "proof")
    if proof is not None and proof.relief not in (None, "upstream"):
        words = "the relief valve lies between the hand pump and what is proven, and opens before it is"
        yield at_step(step, words, "proof", fix="connect the hand pump at the boiler's own inlet, behind the valve")
    text = " ".join(filter(None, (step.step.do, hold.method if hold else "")))
    if GAS.search(text):
        yield at_step(step, "speaks of air or gas in a proof; cold water only", "do")


RULES = (
    Rule("PRS06", "error", "A vessel that was cut, or put in place of another, is proven with cold water, above the "
         "pressure of its relief valve, before it is heated.",
         "put `prove-vessel` behind the last cut, or `compare-proof` where a boiler comes from the workshop", proven),
)  # fmt: skip
