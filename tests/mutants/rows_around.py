"""Mutants of what stands around the steps: ends of failing sides, after-care, faults."""

from __future__ import annotations

from typing import Any

from tests.mutants.edits import Change, remedy, top
from tests.mutants.table import BANJO, BANJO_WIRED, EXCHANGE, LOOP, LOOP_WIRED, TRIM, WIRED, Mutant


def ends(name: str, *acts: str | dict[str, Any]) -> Change:
    """End a remedy with other acts."""
    return remedy(name, "then", {"stop": acts})


def fault(symptom: str, check: tuple[Any, ...] = (), do: tuple[Any, ...] = ()) -> Change:
    """Write one more row into the table of faults."""
    row = {"symptom": symptom, "cause": ("damaged-lead",), "check": check, "do": do}
    return lambda draft: draft.procedure["faults"].append(row)


def care(act: str, **more: Any) -> Change:
    """Write one more act of after-care."""
    one = {"id": "more", "occasion": "after-a-year", "act": act, **more}
    return lambda draft: draft.procedure["aftercare"].append(one)


ROWS = (
    # ACT01: what may not stand there
    Mutant("ACT01", "a step as after-care", TRIM, care("saw", of=("drain-boss",))),
    Mutant("ACT01", "after-care of another thing", BANJO, care("look-joint", of=("tank",))),
    Mutant("ACT01", "a stop that the table does not have", LOOP, ends("make-safe", "no-power", "hang-sign", "go-home")),
    Mutant("ACT01", "a step as a stop", WIRED, ends("no-water", "no-pump", "energise-pump"), ("ACT09",)),
    Mutant("ACT01", "a stop of nothing", EXCHANGE, ends("no-water", "no-pump", "no-fit"), ("ACT09",)),
    Mutant("ACT01", "a cause as a symptom", TRIM, top("faults.0.symptom", "damaged-lead")),
    Mutant("ACT01", "a symptom as a cause", BANJO, top("faults.0.cause", ("trip",))),
    Mutant("ACT01", "a stop in the table of faults", LOOP, fault("weak-flow", do=("no-power",)), ("ACT10",)),
    Mutant("ACT01", "a limit where none is asked", TRIM, care("look-beneath", limit="3 drops")),
    # ACT02
    Mutant("ACT02", "water of pH 4", TRIM, top("values.water_acidity.is", "pH 4")),
    Mutant("ACT02", "water a little below the bound", EXCHANGE, top("values.water_acidity.is", "pH 5.9")),
    Mutant("ACT02", "water of some kind", WIRED, top("values.water_acidity.is", "soft")),
    Mutant("ACT02", "water of 7 bar", TRIM, top("values.water_acidity.is", "7 bar")),
    # ACT09
    Mutant("ACT09", "power again after a failed first heat", TRIM, ends("make-safe", "no-pump")),
    Mutant("ACT09", "no sign", LOOP, ends("make-safe", "no-power")),
    Mutant("ACT09", "a sign that says nothing", BANJO, ends("make-safe", "hang-sign"), ("HLD01",)),
    Mutant("ACT09", "the sign before what it says", LOOP_WIRED, ends("make-safe", "hang-sign", "no-power")),
    Mutant("ACT09", "the pump run again", WIRED, ends("no-water", "stays-off")),
    Mutant("ACT09", "going on at live terminals", LOOP, ends("still-live", "stays-off")),
    Mutant("ACT09", "the leak test once more without water", BANJO_WIRED,
           remedy("no-water", "then", {"goto": "cold-test"})),
    Mutant("ACT09", "the first heat once more", LOOP, remedy("make-safe", "then", {"goto": "heat"})),
    # ACT10
    Mutant("ACT10", "water run at a drop", TRIM, top("faults.0.check", ("run-plain",))),
    Mutant("ACT10", "waiting at a tripped breaker", LOOP,
           fault("trip", ({"act": "wait-longer", "amount": "{settle_time}"},), ("call-skilled",))),
    Mutant("ACT10", "descaling at a smell", BANJO, fault("smell", do=("descale-once",))),
    Mutant("ACT10", "a device replaced that nobody asked why", WIRED, top("faults.2.do", ("replace-same",))),
    Mutant("ACT10", "nothing to do", EXCHANGE, fault("weak-flow", ("run-plain",))),
)  # fmt: skip
