"""Mains: off and proved before it can be touched, under control meanwhile, on again only when all is in place."""

from __future__ import annotations

from collections.abc import Iterator

from guidegen.judge.safety.flow import Run, settled
from guidegen.judge.safety.guide import Guide
from guidegen.judge.safety.measure import measured
from guidegen.judge.safety.model import ResolvedStep
from guidegen.judge.safety.rules.base import (
    Found,
    Rule,
    at_step,
    energises,
    every_step,
    heats,
    never,
    opens,
    touches_conductors,
    unmet,
)
from guidegen.judge.safety.state import State

PAIRS = frozenset({"L-N", "L-E", "N-E"})
ORDER = ("prove", "test", "prove")
TRIP_MA = 30.0
HEATER = "heater"


def needs_proof(guide: Guide) -> bool:
    """Return whether proving dead by a tester applies: no plug to look at, or work on mains parts."""
    return guide.machine.hard_wired or guide.resolved.source.mains_work


def isolated(guide: Guide) -> Iterator[Found]:
    """MNS01."""
    yield from unmet(guide, "mains")
    for run in guide.runs:
        checked = settled(run, lambda step, run=run: _checks_again(run, step), _undoes_check)  # type: ignore[misc]
        for step in run.steps:
            before = run.before[step.key]
            if opens(step) and not before.holds("mains", "off"):
                yield at_step(step, f"opens the enclosure, but a path reaches it with mains {before.mains}")
            yield from _by_plug(guide, step)
            if touches_conductors(step) and "mains" not in step.step.sets:
                yield from _dead(guide, step, before, checked[step.key])
            unsafe = before.enclosure == "open" and not before.holds("mains", "off")
            if unsafe and not _looks_after_mains(step) and step.step.role != "electrically-skilled":
                yield at_step(step, f"works in the open enclosure with mains {before.mains}")


def _by_plug(guide: Guide, step: ResolvedStep) -> Iterator[Found]:
    isolate = step.step.isolate
    if isolate is None or isolate.by != "plug":
        return
    if guide.machine.hard_wired:
        yield at_step(step, "isolates by the plug, but this machine has none, or nobody knows", "isolate")
    elif not (isolate.in_sight and isolate.pins_clear):
        yield at_step(step, "the step does not say that the plug is in sight with its pins clear", "isolate")


def _dead(guide: Guide, step: ResolvedStep, before: State, checked: bool) -> Iterator[Found]:
    wanted = "proved_dead" if needs_proof(guide) else "off"
    if not before.holds("mains", wanted):
        words = f"touches a conductor, but a path reaches it with mains {before.mains}; {wanted} is needed"
        yield at_step(step, words)
    elif not checked:
        yield at_step(step, "touches a conductor, but the mains is not checked again after opening")


def _checks_again(run: Run, step: ResolvedStep) -> bool:
    return step.step.sets.get("mains") in ("off", "proved_dead") and run.before[step.key].enclosure == "open"


def _undoes_check(step: ResolvedStep) -> bool:
    return opens(step) or energises(step)


def _looks_after_mains(step: ResolvedStep) -> bool:
    return step.step.isolate is not None or step.step.prove is not None


def proved(guide: Guide) -> Iterator[Found]:
    """MNS02."""
    for _, step in every_step(guide):
        if step.step.sets.get("mains") != "proved_dead":
            continue
        proof = step.step.prove
        if proof is None:
            yield at_step(step, "sets mains proved_dead, but does not say how it is proved", "sets")
            continue
        if "two-pole" not in guide.kind_of(proof.tester):
            yield at_step(step, f"proves dead with `{proof.tester}`; a two-pole tester is needed", "prove")
        if missing := PAIRS - {pair.replace("–", "-") for pair in proof.pairs}:
            yield at_step(step, f"does not test {', '.join(sorted(missing))}", "prove")
        if tuple(proof.order) != ORDER:
            yield at_step(step, "the tester is not proved before and after the test", "prove")
        if not {guide.kind_of(proof.tester), "proving-unit"} <= {guide.kind_of(tool) for tool in step.step.uses.tools}:
            yield at_step(step, "does not use both the tester and the proving unit", "uses")


def controlled(guide: Guide) -> Iterator[Found]:
    """MNS03."""
    for _, step in every_step(guide):
        if step.step.sets.get("mains") == "off" and step.step.isolate is None:
            yield at_step(step, "says that the mains is off, but not by what it was cut off", "sets")
        isolate = step.step.isolate
        if isolate is not None and not isolate.control:
            yield at_step(step, "does not say how nobody else can switch on meanwhile", "isolate")
        skilled = step.step.role == "electrically-skilled"
        if guide.machine.hard_wired and not skilled and (isolate is not None or touches_conductors(step)):
            yield at_step(step, "a hard-wired machine is for an electrically skilled person here", "role")


def ready_for_power(guide: Guide) -> Iterator[Found]:
    """MNS04."""
    yield from unmet(guide, "enclosure", "primed")
    for run in guide.runs:
        insulated = settled(run, lambda step: "insulate-leads" in step.step.acts, _bares_leads)
        for step in run.steps:
            before = run.before[step.key]
            says_primed = step.step.sets.get("primed") == "yes"
            if says_primed and "prime" not in step.step.acts and not step.step.as_found:
                yield at_step(step, "says that boiler and coil are primed without running water through them", "sets")
            live_now = before.mains in ("live", "pump_only")
            if live_now and before.enclosure == "open" and step.step.role != "electrically-skilled":
                yield at_step(step, "covers are off while live: for an electrically skilled person only", "role")
            if not energises(step):
                continue
            for variable, wanted in (("enclosure", "closed"), ("earth", "tested")):
                if not before.holds(variable, wanted):
                    yield at_step(step, f"puts power on with {variable} {before.get(variable)}; {wanted} is needed")
            for kind in ("devices", "joints"):
                if missing := before.missing(kind):
                    yield at_step(step, f"puts power on with {kind} out: {', '.join(missing)}")
            yield from _full(run, step) if heats(step) else _pump_only(run, step, insulated[step.key])
            yield from () if heats(step) else _loose(guide, run, step)


def _bares_leads(step: ResolvedStep) -> bool:
    """Full power was on, or something was done to the heater's leads that may have taken their insulation off."""
    return heats(step) or any(kind == "leads" and name.startswith(HEATER) for kind, name in step.disturbs)


def _full(run: Run, step: ResolvedStep) -> Iterator[Found]:
    before = run.before[step.key]
    if missing := before.missing("leads"):
        yield at_step(step, f"puts full power on with leads off: {', '.join(missing)}")
    if before.primed != "yes":
        yield at_step(step, "heats, but a path reaches it with the boiler and coil not primed")


def _pump_only(run: Run, step: ResolvedStep, insulated: bool) -> Iterator[Found]:
    before = run.before[step.key]
    if not before.holds("leak", "bench_ok"):
        yield at_step(step, f"pumps with leak {before.leak}; bench_ok is needed")
    if not any(kind == "leads" and name.startswith(HEATER) for kind, name in before.out):
        yield at_step(step, "pumps, but a path reaches it with the heater's leads on: the boiler could heat dry")
    elif not insulated:
        yield at_step(step, "pumps with the heater's leads off, but nothing says that they are insulated")


def _loose(guide: Guide, run: Run, step: ResolvedStep) -> Iterator[Found]:
    """The machine's own leads that are off for good hang loose, and live, until something else is joined to them.

    Their caps come off only for that, so what counts is that they were capped since they were pulled.
    """
    loose = run.before[step.key].gone - guide.resolved.brought
    for name in sorted(name for kind, name in loose if kind == "leads"):
        capped = settled(
            run,
            lambda one, name=name: "insulate-leads" in one.step.acts and name in one.step.names,  # type: ignore[misc]
            lambda one, name=name: ("leads", name) in (*one.removes, *one.disturbs),  # type: ignore[misc]
        )
        if not capped[step.key]:
            yield at_step(step, f"pumps while {name} is off for good, and nothing says that it is insulated")


def first_power(guide: Guide) -> Iterator[Found]:
    """MNS05."""
    for run in guide.runs:
        powered = settled(run, energises, never)
        for step in run.steps:
            if not energises(step) or powered[step.key]:
                continue
            supply = step.step.supply
            rcd = measured(supply.rcd.is_) if supply and supply.rcd else None
            if rcd is None or rcd.unit != "mA" or rcd.number > TRIP_MA:
                yield at_step(step, "first power-up without a residual-current device of 30 mA or less", "supply")
            if supply is None or not supply.watched or not supply.hands_off:
                yield at_step(step, "first power-up is not watched with hands off", "supply")
            if step.step.hold is None:
                yield at_step(step, "first power-up is no hold point: nothing says what is right, and what to do if "
                                    "the device trips")  # fmt: skip


RULES = (
    Rule("MNS01", "error", "Before the enclosure opens the machine is isolated (plug out, in sight, pins clear), and "
         "nothing is energised between; before a conductor is touched it is checked again.",
         "include the block that isolates, or checks again, above this step", isolated),
    Rule("MNS02", "error", "Proving dead is L–N, L–E and N–E with a two-pole tester, prove–test–prove on a proving "
         "unit; a non-contact pen alone proves nothing.", "write tester, pairs and order under `prove:`", proved),
    Rule("MNS03", "error", "Isolating says how control of the plug is kept; a hard-wired machine is for an "
         "electrically skilled person only.", "write isolate.control, or role: electrically-skilled", controlled),
    Rule("MNS04", "error", "Power needs covers closed, earth tested, safety devices and joints in; full power leads on "
         "and boiler and coil primed; pump alone the heater's leads off and insulated, as every lead that is off for "
         "good, and leak bench_ok or better; covers off while live is for the electrically skilled.",
         "put the missing step above this one", ready_for_power),
    Rule("MNS05", "warning", "The first power-up is behind a residual-current device of 30 mA or less, watched, hands "
         "off, and a hold point with its failing side.",
         "write supply: {rcd, watched, hands_off} and hold, or a waiver", first_power, waiver=True),
)  # fmt: skip
