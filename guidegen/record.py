"""The assessment record: everything a guide says about one variant with one kit.

`assess` fills it; charts, pages, the bench sheet and `data/<variant>/<kit>.json` read nothing else. Every key
names its unit: `_k` a temperature difference in kelvin, `_degc` a temperature, `_s` seconds, `_j_per_k` a heat
capacity. Numbers are rounded to six significant digits before anyone reads them, so that a record is the same
on every processor. `format` goes up when a key changes its meaning or goes away.
"""

from __future__ import annotations

import math
from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field

FORMAT = 1
SIGNIFICANT_DIGITS = 6

Outcome = Literal["fits", "fits-with-conditions", "does-not-fit", "cannot-tell-yet"]
Evidence = Literal["measured", "maker-document", "standard", "calculated", "assumed"]


def rounded(number: float) -> float:
    """The number at six significant digits; infinities and not-a-numbers are refused.

    >>> rounded(0.123456789), rounded(-98765432.1), rounded(0.0)
    (0.123457, -98765400.0, 0.0)
    """
    if not math.isfinite(number):
        raise ValueError(f"a record holds finite numbers only, got {number}")
    return float(f"{number:.{SIGNIFICANT_DIGITS - 1}e}")


class Record(BaseModel):
    """Base of every part of the record: frozen, closed, keys as in the JSON."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)


class Figure(Record):
    """A computed quantity: its value, the ends of its range, and why it is missing where it is.

    `low` and `high` hold 95 % of the draws from the inputs' uncertainties. `value` is null with a `reason`
    where the quantity has no value, as a recovery time that was not reached.
    """

    value: float | None
    low: float | None = None
    high: float | None = None
    reason: str | None = None


class Both(Record):
    """One figure without and with the kit."""

    without: Figure
    with_: Figure = Field(alias="with")


class Named(Record):
    """An id and the words that go with it."""

    id: str
    name: str


class VariantPart(Record):
    """Which machine this is and how to tell it from its neighbours."""

    id: str
    family: str
    name: str
    family_name: str
    years: str
    summary: str
    status: Literal["reported", "seen", "measured", "built"]
    invented: bool
    voltage_v: float
    connection: Literal["corded", "hard-wired"]
    boiler_material: str
    control: Literal["pid", "thermostat"]
    setpoint_degc: float
    marks: tuple[Mark, ...]
    water_path: tuple[str, ...]


class Mark(Record):
    """An outside mark: where to look, and what this variant shows there."""

    look: str
    see: str


class KitPart(Record):
    """Which kit this is, at which revision."""

    id: str
    name: str
    revision: str
    summary: str
    reason: str
    invented: bool


class Reason(Record):
    """One requirement of the kit on this variant. `met` is null while it cannot be told."""

    id: str
    says: str
    met: bool | None
    detail: str
    remedy: str | None = None
    settles: str | None = None


class Fit(Record):
    """Whether the kit goes on, and why."""

    outcome: Outcome
    reasons: tuple[Reason, ...]


class BudgetSide(Record):
    """Mass and heat capacity of boiler, group, water and coil together."""

    mass_kg: Figure
    heat_capacity_j_per_k: Figure


class Budget(Record):
    """Mass and heat capacity without and with the kit."""

    without: BudgetSide
    with_: BudgetSide = Field(alias="with")
    parts: tuple[BudgetPart, ...]


class BudgetPart(Record):
    """One part of the machine in the budget."""

    id: str
    name: str
    kit: bool
    mass_kg: float
    heat_capacity_j_per_k: float


class DropRatio(Record):
    """The drop with the kit over the drop without it, by where it is looked at."""

    sensor: Figure
    water: Figure
    outlet: Figure


class DrinkSide(Record):
    """What one shot does to the machine."""

    sensor_drop_k: Figure
    water_drop_k: Figure
    outlet_fall_k: Figure
    stability_band_k: Figure
    mean_outlet_degc: Figure
    sensor_recovery_s: Figure
    coil_recovery_s: Figure


class Drink(Record):
    """One drink, without and with the kit."""

    name: str
    beverage_g: float
    duration_s: float
    withdrawn_g: Figure
    mass_share: Figure
    heat_share: Figure
    drop_ratio: DropRatio
    without: DrinkSide
    with_: DrinkSide = Field(alias="with")


class WarmUpSide(Record):
    """Times from a cold start."""

    boiler_ready_s: Figure
    group_ready_s: Figure
    coil_settled_s: Figure
    shot_ready_s: Figure


class WarmUp(Record):
    """Warm-up without and with the kit, and what the kit adds."""

    without: WarmUpSide
    with_: WarmUpSide = Field(alias="with")


class EnergySide(Record):
    """Mean heater power at idle, and the energy of the stated usage."""

    idle_w: Figure
    session_wh: Figure
    day_wh: Figure
    session_cost: Figure


class Energy(Record):
    """Energy without and with the kit, for the usage the workshop states."""

    usage: str
    currency: str
    without: EnergySide
    with_: EnergySide = Field(alias="with")
    day_ratio: Figure


class CoilPart(Record):
    """The feed coil as it is wound for this boiler."""

    parked_degc: Figure
    held_ml: Figure
    preheated_ml: Figure
    length_m: Figure
    turns: Figure
    layers: int
    height_mm: Figure
    dry_kg: Figure
    filled_kg: Figure
    pressure_loss_pa: Figure
    allowable_pressure_bar: Figure


class CoolDownSide(Record):
    """Upper bounds from switching off: for planning only; a measurement decides."""

    touch_s: Figure
    below_90_s: Figure


class CoolDown(Record):
    """Cool-down without and with the kit."""

    without: CoolDownSide
    with_: CoolDownSide = Field(alias="with")


class Torque(Record):
    """A tightening torque with its tolerance, thread state and origin."""

    id: str
    what: str
    nominal_n_m: float
    plus_minus_n_m: float
    thread: str
    state: str
    source: str


class Protrusion(Record):
    """Something that stands out of the boiler's straight wall, and what has to happen to it."""

    id: str
    name: str
    kind: str
    carries: str | None
    stands_out_mm: float
    overlap_mm: float
    action: Literal["leave", "trim", "cannot"]
    why: str
    metal_mm3: float | None = None
    minutes: float | None = None


class Downside(Record):
    """What the kit costs: said before anything that could lead to an order."""

    id: str
    about: str
    what: str
    how_much: str | None
    likely: str
    do: str


class Input(Record):
    """One number that went into the computation, with its evidence and what would settle it."""

    id: str
    name: str
    value: float
    low: float
    high: float
    unit: str
    text: str
    evidence: Evidence
    source: str | None
    settles: str | None
    place: str


class Trace(Record):
    """Curves over time, for a chart: equal lengths, in seconds and degrees Celsius."""

    time_s: tuple[float, ...]
    sensor_degc: tuple[float, ...]
    outlet_degc: tuple[float | None, ...] = ()
    outlet_low_degc: tuple[float | None, ...] = ()
    outlet_high_degc: tuple[float | None, ...] = ()


class Shot(Record):
    """One double without and with the kit, at equal setpoint."""

    drink: str
    flow_end_s: float
    without: Trace
    with_: Trace = Field(alias="with")


class Assessment(Record):
    """One variant with one kit. See the module's docstring."""

    format: Literal[1] = 1
    variant: VariantPart
    kit: KitPart
    edition: str
    fit: Fit
    budget: Budget
    drinks: dict[str, Drink]
    shot: Shot
    warm_up: WarmUp
    energy: Energy
    coil: CoilPart | None
    cool_down: CoolDown
    torques: tuple[Torque, ...]
    protrusions: tuple[Protrusion, ...]
    downsides: tuple[Downside, ...]
    inputs: tuple[Input, ...]
    influence: dict[str, dict[str, float]] = Field(default_factory=dict)
    procedure: dict[str, Any] | None
    lint: tuple[dict[str, Any], ...]
    basis: Literal["nominal", "range from our assumptions", "95 % interval"] = "nominal"


for _part in (VariantPart, Budget, Assessment):
    _part.model_rebuild()
