"""`guidegen check --states`: the state of the machine after every step of the pairs asked for, and what differs."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Any

from guidegen import pipeline, trade
from guidegen.assess import guiding, verdict
from guidegen.editions import kept
from guidegen.judge.safety.report import ROLES, StateRow, difference
from guidegen.problems import UsageProblem, nearest
from guidegen.record import Assessment
from guidegen.trade import Catalogue

Progress = Callable[[str], None]
SIDE = re.compile(r"(?:(?P<edition>[^:/]+):)?(?P<variant>[a-z0-9-]+)/(?P<kit>[a-z0-9-]+)")


def reports(root: Path, variant: str | None, kit: str | None, progress: Progress) -> Iterator[str]:
    """The report of each pair, in the order of their ids: of all, of one variant, or of one pair."""
    known = trade.load(root)
    if variant is None:
        records = pipeline.assess_all(known, root, progress, draws=0)
    else:
        kits = known.kits if kit is None else (kit,)
        records = tuple(pipeline.assess_kept(known, root, variant, one, draws=0) for one in kits)
    progress("")
    return (report(known, record) for record in records)


def report(known: Catalogue, record: Assessment) -> str:
    """The report of one pair, from its record."""
    return guiding.states(known, *parts_of(known, record))


def compared(root: Path, one: str, other: str) -> str:
    """What differs between the instructions of two pairs, each `VARIANT/KIT` or `EDITION:VARIANT/KIT`.

    An edition keeps the steps as they were printed, and no states; against one only words and roles are compared.
    """
    sides = [_side(one), _side(other)]
    known = trade.load(root)
    if any(edition for edition, _, _ in sides):
        tables = [tuple(_printed(_record(root, known, *side))) for side in sides]
    else:
        tables = [guiding.rows(known, *parts_of(known, _today(root, known, *pair))) for _, *pair in sides]
    return difference(tables[0], tables[1], (one, other))


def _side(text: str) -> tuple[str | None, str, str]:
    found = SIDE.fullmatch(text)
    if found is None:
        raise UsageProblem(f'--diff compares VARIANT/KIT or EDITION:VARIANT/KIT, not "{text[:80]}"')
    return found["edition"], found["variant"], found["kit"]


def _today(root: Path, known: Catalogue, variant: str, kit: str) -> Assessment:
    return pipeline.assess_kept(known, root, variant, kit, draws=0)


def parts_of(known: Catalogue, record: Assessment) -> tuple[Any, ...]:
    """What the instruction of a record is resolved from, as `guiding.made_guide` takes it after the catalogue."""
    parts = record.coil, record.closed_coil, record.cool_down.with_, record.display, record.warm_up
    values = dict(guiding.computed(*parts))
    machine, kit = known.machine(record.variant.id), known.kit(record.kit.id)
    pair = verdict.judged(known, machine, kit, record.edition)
    return machine, kit, record.fit, pair, values, record.edition


def _record(root: Path, known: Catalogue, edition: str | None, variant: str, kit: str) -> Mapping[str, Any]:
    if edition is None:
        return _today(root, known, variant, kit).model_dump(mode="json", by_alias=True)
    pairs = {(one["variant"]["id"], one["kit"]["id"]): one for one in kept.records(root, edition)}
    if (variant, kit) not in pairs:
        near = nearest(f"{variant}/{kit}", {"/".join(pair) for pair in pairs})
        raise UsageProblem(
            f"edition {edition} has no guide {variant}/{kit}" + (f"; did you mean {near}?" if near else "")
        )
    return pairs[variant, kit]


def _printed(record: Mapping[str, Any]) -> Iterator[StateRow]:
    """The steps of a record as they are printed, with what follows where a hold point is not passed."""
    procedure = record["procedure"] or {}
    for course in ("fitting", "restoring"):
        made = procedure.get(course) or {"phases": (), "remedies": ()}
        for part in (*made["phases"], *made["remedies"]):
            yield StateRow(f"{course}: {part['name']}")
            for step in part["steps"]:
                yield StateRow(step["do"], who=ROLES.get(step["role"], step["role"]))
                fails = (step["hold"] or {}).get("on_fail") or {}
                if fails:
                    yield StateRow(f"  fails: {fails['stop'] or 'back, or to its remedy'}")
