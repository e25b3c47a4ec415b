"""The assessment record: everything a guide says about one variant with one kit.

`assess` fills it; charts, pages, the bench sheet and `data/<variant>/<kit>.json` read nothing else. Every key
names its unit: `_k` a temperature difference in kelvin, `_degc` a temperature, `_s` seconds, `_j_per_k` a heat
capacity. Numbers are rounded to six significant digits before anyone reads them, so that a record is the same
on every processor. `format` goes up when a key comes, changes its meaning or goes away; `upgrades` brings what an
older edition kept to today's, and `read` is the only door through which a kept record comes in.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Literal

from pydantic import Field, ValidationError

from guidegen.record.base import Figure, Record, rounded
from guidegen.record.computed import (
    AfterFlush,
    AfterSteam,
    Budget,
    CoilPart,
    CoolDown,
    Display,
    Drink,
    Energy,
    FromCold,
    Shot,
    Trace,
    Waiting,
    WarmUp,
    WhatIf,
)
from guidegen.record.stated import (
    Build,
    Downside,
    Evidence,
    Fit,
    Input,
    KitPart,
    Origin,
    Protrusion,
    Restore,
    Torque,
    VariantPart,
)
from guidegen.record.upgrades import FORMAT, Unreadable, Words, upgraded

__all__ = [
    "FORMAT",
    "Assessment",
    "Evidence",
    "Figure",
    "Fit",
    "Outline",
    "Trace",
    "Unreadable",
    "Waiting",
    "Words",
    "read",
    "rounded",
    "upgraded",
]


class Outline(Record):
    """What can be told of one variant with one kit before anything is computed over time."""

    variant: VariantPart
    kit: KitPart
    fit: Fit


class Assessment(Record):
    """One variant with one kit. See the module's docstring.

    `same_cup_shot` is the shot with the kit at the setpoint for the same cup beside the one without it at the present
    setpoint; null where a thermostat has one temperature. `self_check` holds the rules and words of the self-check.
    `origin` is null in a record that an edition kept before records stated it.
    """

    format: Literal[2] = FORMAT
    origin: Origin | None
    variant: VariantPart
    kit: KitPart
    edition: str
    fit: Fit
    budget: Budget
    drinks: dict[str, Drink]
    shot: Shot
    same_cup_shot: Shot | None
    from_cold: FromCold
    what_if: WhatIf
    waiting: tuple[Waiting, ...]
    same_cup_degc: Figure
    after_flush: AfterFlush | None = None
    after_steam: AfterSteam
    display: Display
    warm_up: WarmUp
    energy: Energy
    coil: CoilPart | None
    cool_down: CoolDown
    torques: tuple[Torque, ...]
    protrusions: tuple[Protrusion, ...]
    downsides: tuple[Downside, ...]
    restore: Restore
    self_check: dict[str, Any]
    builds: tuple[Build, ...]
    inputs: tuple[Input, ...]
    influence: dict[str, dict[str, float]] = Field(default_factory=dict)
    procedure: dict[str, Any] | None
    withheld: str | None
    lint: tuple[dict[str, Any], ...]
    basis: Literal["nominal", "range from our assumptions", "95 % interval"] = "nominal"

    def of_edition(self, name: str) -> Assessment:
        """The same record under an edition's name, which an order that its self-check writes must carry, too."""
        pair = {**self.self_check.get("pair", {}), "edition": name}
        return self.model_copy(update={"edition": name, "self_check": {**self.self_check, "pair": pair}})

    def to_json(self) -> str:
        """The record as it lies in `data/<variant>/<kit>.json`: indented, keys as documented, one line end."""
        return self.model_dump_json(by_alias=True, indent=1) + "\n"


def read(data: Mapping[str, Any], words: Words) -> Assessment:
    """A record that an edition kept, whatever its format. Raises `Unreadable` with the fields that are the matter."""
    try:
        return Assessment.model_validate(upgraded(data, words))
    except ValidationError as error:
        raise Unreadable(_faults(error)) from error


def _faults(error: ValidationError) -> str:
    """What a record lacks, or has otherwise, in words for whoever changes its form."""
    details = error.errors(include_url=False)
    lacks = [".".join(map(str, one["loc"])) for one in details if one["type"] == "missing"]
    if lacks:
        return f"the record lacks {', '.join(lacks)}; add what stands in to guidegen/record/upgrades.py"
    return "; ".join(f"{'.'.join(map(str, one['loc']))}: {one['msg']}" for one in details)
