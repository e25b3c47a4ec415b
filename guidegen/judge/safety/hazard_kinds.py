"""The hazards of this work that the program knows: how bad each is at least, how to avoid it, which step needs it.

A workshop writes the statement of each in content/hazards.yml. It may say more, add avoidances and hazards of its own,
and take one for worse; it can neither soften these nor leave them out: a step that needs one carries it.

Severities and avoidances are common practice of such work, no source; the words of the signal are derived elsewhere.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator
from dataclasses import dataclass, replace

from guidegen.judge.safety.model import ResolvedStep
from guidegen.judge.safety.signal_words import Probability, Severity
from guidegen.language import marked
from guidegen.workshop.procedures import Hazard
from guidegen.workshop.steps import Step

Needs = Callable[[Step], bool]

SEVERITIES: tuple[Severity, ...] = ("property", "minor", "moderate", "serious", "death")
"""Mildest first."""
PROBABILITIES: tuple[Probability, ...] = ("could", "will")


@dataclass(frozen=True)
class KnownHazard:
    """One hazard by its id: its kind, how bad and how likely it is at least, avoidances, and the steps that need it."""

    kind: str
    severity: Severity
    probability: Probability
    avoid: tuple[str, ...]
    needed: Needs = lambda step: False
    instead: tuple[str, ...] = ()
    """Hazards that warn of the same where they stand above: cold water from the pump, where nothing was heated."""

    def milder(self, hazard: Hazard) -> str | None:
        """The field in which a workshop's statement makes less of it than it is, if there is one."""
        if hazard.kind != self.kind:
            return "kind"
        if SEVERITIES.index(hazard.severity) < SEVERITIES.index(self.severity):
            return "severity"
        if PROBABILITIES.index(hazard.probability) < PROBABILITIES.index(self.probability):
            return "probability"
        return None


def _opens(step: Step) -> bool:
    return step.sets.get("enclosure") == "open" or "undo-screws" in step.acts


def _energises(step: Step) -> bool:
    return step.sets.get("mains") in ("live", "pump_only")


def _pumps(step: Step) -> bool:
    return step.sets.get("mains") == "pump_only"


def _first_heat(step: Step) -> bool:
    return step.sets.get("mains") == "live" and step.requires.get("leak") in ("bench_ok", "cold_ok")


def _moves_device(step: Step) -> bool:
    return step.seat is not None or (step.disturbs is not None and bool(step.disturbs.devices))


def _heater_back(step: Step) -> bool:
    return step.refits is not None and bool(step.refits.leads) and step.requires.get("primed") == "yes"


KNOWN: dict[str, KnownHazard] = {
    "live-parts": KnownHazard(
        "mains",
        "death",
        "will",
        (
            marked("Keep the plug, or the key of the padlock, where only you can reach it."),
            marked("Stop immediately if you cannot see the plug or your padlock."),
        ),
        _opens,
    ),
    "first-power": KnownHazard(
        "mains",
        "death",
        "could",
        (
            marked("Keep both hands off the machine while the power comes on, and for a minute after."),
            marked("Stand where you can cut the power without reaching over the machine."),
        ),
        _energises,
    ),
    "hot-water": KnownHazard(
        "heat",
        "moderate",
        "could",
        (
            marked("Stand the jug on the drip tray before the pump runs."),
            marked("Keep hands and face away until the last drop has fallen."),
        ),
        lambda step: "flush" in step.acts and step.requires.get("mains") == "live",
    ),
    "hot-metal": KnownHazard(
        "heat",
        "moderate",
        "could",
        (
            marked("Wait the full time."),
            marked("Measure with a contact probe, never with an infrared thermometer."),
        ),
        lambda step: step.cooling is not None and step.cooling.by == "waiting",
    ),
    "steam-release": KnownHazard(
        "pressure",
        "serious",
        "could",
        (
            marked("Point the steam pipe into the jug, away from yourself."),
            marked("Open the steam tap slowly."),
        ),
        lambda step: step.release is not None and step.disturbs is None,
        instead=("water-under-pressure", "proof-pressure"),
    ),
    "locked-water": KnownHazard(
        "pressure",
        "moderate",
        "could",
        (marked("Wear eye protection."), marked("Hold the cloth over the joint, and keep your face away from it.")),
        lambda step: step.release is not None and step.disturbs is not None,
    ),
    "water-under-pressure": KnownHazard(
        "pressure", "minor", "could", (marked("Keep the covers closed while the pump runs."),), _pumps
    ),
    "proof-pressure": KnownHazard(
        "pressure",
        "moderate",
        "could",
        (
            marked("Wear eye protection."),
            marked("Use cold water only, never compressed air."),
            marked("Stand to one side of what is under test."),
        ),
        lambda step: step.proof is not None and step.sets.get("pressure") == "unknown",
    ),
    "trapped-water": KnownHazard(
        "pressure",
        "serious",
        "could",
        (marked("Leave nothing that can close between what is heated and its relief valve."),),
        lambda step: step.relief is not None,
    ),
    "saw-and-file": KnownHazard(
        "cutting",
        "moderate",
        "could",
        (marked("Wear eye protection."), marked("Keep your free hand behind the blade.")),
        lambda step: step.cut is not None,
    ),
    "metal-dust": KnownHazard(
        "dust",
        "moderate",
        "could",
        (
            marked("Catch the dust in a damp cloth used for nothing else."),
            marked("Never use a household vacuum cleaner for it."),
        ),
        lambda step: step.cut is not None,
    ),
    "device-off-seat": KnownHazard(
        "dry-heating",
        "serious",
        "could",
        (marked("Press each device flat onto its own seat."), marked("Keep everything else off every seat.")),
        _moves_device,
    ),
    "dry-heating": KnownHazard(
        "dry-heating",
        "serious",
        "could",
        (marked("Never apply full power before water has run from the group."),),
        _heater_back,
    ),
    "hot-leak": KnownHazard(
        "leak",
        "serious",
        "could",
        (marked("Stay at arm's length and watch."), marked("Cut the power at the first drop.")),
        _first_heat,
    ),
    "copper-on-aluminium": KnownHazard(
        "property", "property", "will", (marked("Fit the coil to the exchange boiler only."),)
    ),
    "stripped-thread": KnownHazard(
        "property",
        "property",
        "could",
        (marked("Use the torque wrench for the last turn."),),
        lambda step: step.torque is not None,
    ),
    "swarf": KnownHazard("property", "property", "could", (marked("Rinse until nothing glitters in the jug."),)),
}


def avoidances(name: str, hazard: Hazard) -> tuple[str, ...]:
    """How a hazard is avoided: what the program knows, untranslated, then what the workshop adds."""
    fixed = KNOWN[name].avoid if name in KNOWN else ()
    return (*fixed, *hazard.how_to_avoid)


def needed_by(step: Step) -> Iterator[str]:
    """The known hazards that a step must not do unannounced."""
    return (name for name, one in KNOWN.items() if one.needed(step))


def missing_in(step: Step, above: Collection[str]) -> Iterator[str]:
    """Those of them that neither the step nor those above it warn of."""
    warned = {*above, *step.hazards}
    return (name for name in needed_by(step) if not warned & {name, *KNOWN[name].instead})


def announced(steps: Iterable[ResolvedStep]) -> Iterator[ResolvedStep]:
    """The steps of a phase or remedy, each with the hazards that it needs and that no step above it warns of.

    In every case by itself: a step of another case warns nobody.
    """
    above: dict[int, set[str]] = {}
    for step in steps:
        seen = [above.setdefault(case, set()) for case in step.scenarios]
        own = [name for name in step.step.hazards if not step.acts or not all(name in one for one in seen)]
        missing = [name for one in seen for name in missing_in(step.step, {*one, *own})]
        hazards = (*own, *dict.fromkeys(missing))
        if hazards != step.step.hazards:
            step = replace(step, step=step.step.model_copy(update={"hazards": hazards}))
        for one in seen:
            one |= {*hazards}
        yield step
