"""The assessment record: everything a guide says about one variant with one kit.

`assess` fills it; charts, pages, the bench sheet and `data/<variant>/<kit>.json` read nothing else. Every key
names its unit: `_k` a temperature difference in kelvin, `_degc` a temperature, `_s` seconds, `_j_per_k` a heat
capacity. Numbers are rounded to six significant digits before anyone reads them, so that a record is the same
on every processor. `format` goes up when a key changes its meaning or goes away.
"""

from __future__ import annotations

from typing import Any, Literal

from pydantic import Field

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
    Missing,
    Protrusion,
    Restore,
    Torque,
    VariantPart,
)

FORMAT = 1

__all__ = ["FORMAT", "Assessment", "Evidence", "Figure", "Fit", "Outline", "Trace", "Waiting", "rounded"]


class Outline(Record):
    """What can be told of one variant with one kit before anything is computed over time."""

    variant: VariantPart
    kit: KitPart
    fit: Fit


class Assessment(Record):
    """One variant with one kit. See the module's docstring.

    `same_cup_shot` is the shot with the kit at the setpoint for the same cup beside the one without it at the present
    setpoint; null where a thermostat has one temperature. `self_check` holds the rules and words of the self-check.
    `withheld` says that there is no instruction because of what is `missing`.
    """

    format: Literal[1] = 1
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
    missing: tuple[Missing, ...] = ()
    lint: tuple[dict[str, Any], ...]
    basis: Literal["nominal", "range from our assumptions", "95 % interval"] = "nominal"

    def of_edition(self, name: str) -> Assessment:
        """The same record under an edition's name, which an order that its self-check writes must carry, too."""
        pair = {**self.self_check.get("pair", {}), "edition": name}
        return self.model_copy(update={"edition": name, "self_check": {**self.self_check, "pair": pair}})

    def to_json(self) -> str:
        """The record as it lies in `data/<variant>/<kit>.json`: indented, keys as documented, one line end."""
        return self.model_dump_json(by_alias=True, indent=1) + "\n"
