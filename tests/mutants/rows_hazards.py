"""Mutants of the statements."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from tests.mutants.draft import Draft
from tests.mutants.edits import hazard, phase, top, write
from tests.mutants.table import BANJO, EXCHANGE, LOOP, TRIM, WIRED, Change, Mutant


def below(block_phase: int, index: int) -> Change:
    """Write the hazards of a step below its imperative."""

    def change(draft: Draft) -> None:
        step = draft.procedure["phases"][block_phase]["steps"][index]
        step["hazards"] = step.pop("hazards")

    return change


def below_shared(block: str, index: int) -> Change:
    """The same in a shared block."""

    def change(draft: Draft) -> None:
        step = draft.shared["blocks"][block]["steps"][index]
        step["hazards"] = step.pop("hazards")

    return change


def reworded(name: str, **fields: object) -> Change:
    """Write several fields of one statement at once."""

    def change(draft: Draft) -> None:
        draft.hazards["hazards"][name].update(fields)

    return change


def own_hazard(**fields: object) -> Change:
    """Put a hazard of the workshop's own before a step."""
    whole = {
        "kind": "pinch",
        "severity": "minor",
        "probability": "could",
        "type_of_hazard": "A heavy machine",
        "consequence": "It can squeeze fingers.",
        "how_to_avoid": ["Lift it by its feet."],
    }

    def change(draft: Draft) -> None:
        draft.hazards["hazards"]["heavy"] = {**whole, **fields}
        draft.procedure["residual"].append({"hazard": "heavy", "remains": "Its weight."})
        step = draft.procedure["phases"][0]["steps"][1]
        draft.procedure["phases"][0]["steps"][1] = {"hazards": ["heavy"], **step}

    return change


def without_statement(name: str) -> Change:
    """Leave a statement out everywhere: where it is written, where steps carry it, where it remains."""

    def change(draft: Draft) -> None:
        del draft.hazards["hazards"][name]
        residual_dropped(name)(draft)
        for steps in every_list(draft):
            for step in steps:
                if name in step.get("hazards", ()):
                    step["hazards"].remove(name)

    return change


def every_list(draft: Draft) -> Iterator[list[dict[str, Any]]]:
    """Every list of steps of a draft, those of shared blocks and remedies too."""
    restore = draft.procedure["restore"]
    parts = [*draft.procedure["phases"], *restore["phases"], *draft.shared["blocks"].values()]
    parts += [*draft.procedure.get("remedies", ()), *restore.get("remedies", ()), *draft.shared["remedies"]]
    for part in parts:
        yield part["steps"]
        yield from (entry["steps"] for entry in part["steps"] if "each" in entry)


def many_dangers(draft: Draft) -> None:
    """Make every statement a DANGER."""
    for one in draft.hazards["hazards"].values():
        if one["severity"] != "property":
            one.update(severity="death", probability="will", designed_out="Not possible.")


def in_many_steps(draft: Draft) -> None:
    """Write one statement into four steps that do not need it, above their imperatives."""
    for name in ("close", "earth-casing", "flush", "record"):
        steps = draft.shared["blocks"][name]["steps"]
        steps[0] = {"hazards": ["live-parts"], **steps[0]}


def residual_dropped(name: str) -> Change:
    """Leave a residual risk out."""

    def change(draft: Draft) -> None:
        draft.procedure["residual"] = [one for one in draft.procedure["residual"] if one["hazard"] != name]

    return change


ROWS = (
    Mutant("HAZ01", "consequence left out of a WARNING", TRIM, hazard("steam-release", "consequence")),
    Mutant("HAZ01", "no way to avoid a hazard of the workshop's own", TRIM, own_hazard(how_to_avoid=[])),
    Mutant("HAZ01", "type left out", BANJO, hazard("first-power", "type_of_hazard")),
    Mutant("HAZ01", "a DANGER that nobody tried to design out", LOOP, hazard("live-parts", "designed_out")),
    Mutant("HAZ02", "NOTICE although skin burns", TRIM, hazard("hot-metal", "severity", "property")),
    Mutant("HAZ02", "minor although it kills", BANJO, hazard("live-parts", "severity", "minor")),
    Mutant("HAZ02", "moderate although it can kill", LOOP, hazard("first-power", "severity", "moderate")),
    Mutant("HAZ02", "more than four DANGERs", TRIM, many_dangers),
    Mutant("HAZ03", "warning moved below its action (tap)", TRIM, below_shared("release", 0)),
    Mutant("HAZ03", "warning moved below its action (waiting)", BANJO, below_shared("cool-down", 0)),
    Mutant("HAZ03", "warning moved below its action (sensor)", LOOP, below(2, 1)),
    Mutant("HAZ05", "steps inside an avoidance", TRIM,
           hazard("steam-release", "how_to_avoid", ["Open the tap, then wait, then close it"])),
    Mutant("HAZ05", "an action inside a note", TRIM,
           write("cool/", "empty-tank", "notes", ["Pull the plug before you begin."])),
    Mutant("HAZ05", "an imperative as type of hazard", LOOP,
           hazard("device-off-seat", "type_of_hazard", "Press the device flat onto its seat")),
    Mutant("HAZ06", "be careful", TRIM, hazard("steam-release", "how_to_avoid", ["Be careful with the steam"])),
    Mutant("HAZ06", "take care", BANJO, hazard("live-parts", "how_to_avoid", ["Take care near live parts."])),
    Mutant("HAZ06", "no imperative", LOOP, hazard("hot-metal", "how_to_avoid", ["The boiler is hot for long."])),
    Mutant("HAZ07", "residual risk dropped", TRIM, residual_dropped("saw-and-file")),
    Mutant("HAZ07", "statement that nobody wrote", BANJO,
           write("exchange/", "banjo-on", "hazards", ["stripped-threads"])),
    Mutant("HAZ02", "mains that only could hurt", TRIM, hazard("live-parts", "probability", "could")),
    Mutant("HAZ02", "a leak described as a matter of property", BANJO,
           reworded("hot-leak", severity="property", consequence="The bench gets wet.", type_of_hazard="A wet bench")),
    Mutant("HAZ02", "steam described as a matter of dust", EXCHANGE, hazard("steam-release", "kind", "dust")),
    Mutant("HAZ07", "statement of a needed hazard left out", TRIM, without_statement("saw-and-file")),
    Mutant("HAZ07", "statement and every mention of it left out", WIRED, without_statement("first-power")),
    Mutant("HAZ07", "residual risk of nothing", LOOP,
           top("residual.0.hazard", "falling-anvil")),
    Mutant("HAZ08", "four statements in a step", TRIM,
           write("release", "open-tap", "hazards", ["live-parts", "first-power", "steam-release", "hot-metal"])),
    Mutant("HAZ08", "one statement in every phase", BANJO,
           in_many_steps),
    Mutant("HAZ08", "four statements in the waiting", LOOP,
           write("cool-down", "wait", "hazards", ["live-parts", "first-power", "dry-heating", "hot-metal"])),
    Mutant("SYM01", "a sign that nobody checked", TRIM, hazard("hot-metal", "sign.id", "W999")),
    Mutant("SYM01", "a sign without words", BANJO, hazard("live-parts", "sign.alt")),
    Mutant("SYM01", "a sign of unknown meaning", LOOP,
           hazard("first-power", "sign", {"id": "P001", "alt": "Prohibited"})),
    Mutant("HLD02", "night stop left out after cooling", TRIM, phase("cool", "stop")),
    Mutant("HLD02", "night stop left out after the first heat", BANJO, phase("heat", "stop")),
    Mutant("HLD02", "night stop left out after opening", LOOP, phase("take-out", "stop")),
    Mutant("LNG01", "two actions in one step", TRIM,
           write("cool/", "empty-tank", "do", "Empty the tank, then wipe it.")),
    Mutant("LNG01", "no imperative", BANJO, write("prepare/", "serial", "do", "The batch number is on the bag.")),
    Mutant("LNG01", "more than twenty words", LOOP, write(
        "fit/", "mount", "do", "Screw the controller with all of the screws that came with the kit to the inside of "
        "the casing right beside the two switches.")),
    Mutant("LNG01", "another word than the glossary's", EXCHANGE,
           write("cool/", "empty-tank", "do", "Empty the bypass."), ("TXT01",)),
)  # fmt: skip
