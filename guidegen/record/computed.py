"""What the record holds of the computation: every figure with its range, and curves for the charts."""

from __future__ import annotations

from pydantic import Field

from guidegen.record.base import Both, Figure, Record


class BudgetSide(Record):
    """Mass and heat capacity of boiler, group, water and coil together."""

    mass_kg: Figure
    heat_capacity_j_per_k: Figure


class BudgetPart(Record):
    """One part of the machine in the budget."""

    id: str
    name: str
    kit: bool
    mass_kg: float
    heat_capacity_j_per_k: float


class Budget(Record):
    """Mass and heat capacity without and with the kit, and the mass that it adds."""

    added_kg: Figure
    without: BudgetSide
    with_: BudgetSide = Field(alias="with")
    parts: tuple[BudgetPart, ...]


class DropRatio(Record):
    """The drop with the kit over the drop without it, by where it is looked at."""

    sensor: Figure
    water: Figure
    outlet: Figure


class DrinkSide(Record):
    """What one shot does to the machine.

    With a thermostat the sensor drop is the mean over start phases of its cycle, and `sensor_drop_phases_k` holds the
    smallest and the largest of them; else it is null.
    """

    sensor_drop_k: Figure
    sensor_drop_phases_k: Figure | None
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
    """Warm-up without and with the kit, and what the kit adds to shot ready."""

    added_s: Figure
    added_means: str
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
    idle_added_w: Figure
    day_added_wh: Figure


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


class ColdSide(Record):
    """One side's warm-up: temperatures at `time_s`, and the drop of a first drink so many minutes after switching on.

    `coil_degc` is empty where there is no coil; a drop is null while the boiler is not ready.
    """

    sensor_degc: tuple[float, ...]
    group_degc: tuple[float, ...]
    coil_degc: tuple[float, ...]
    drop_k: tuple[float | None, ...]


class FromCold(Record):
    """Curves from switching on in a cold room, at the stated values."""

    time_s: tuple[float, ...]
    drop_minutes: tuple[int, ...]
    without: ColdSide
    with_: ColdSide = Field(alias="with")


class WhatIf(Record):
    """The sensor drop at other conditions than the stated ones: points, at the stated values of all other inputs.

    The lists of drops hold every combination, the last quantity fastest: drink, change of the setpoint, feed, wait.
    A wait of null is a machine at rest, else the same drink was made so long before. A thermostat keeps its
    temperatures whatever the change; where both sides have one, there is no change but 0. A change above 0 stands
    here only where it stays well below what the machine's protective devices open at. The ratio is null where there
    is no drop without the kit.
    """

    drinks: tuple[str, ...]
    setpoint_changes_k: tuple[float, ...]
    feeds_degc: tuple[float, ...]
    waits_s: tuple[float | None, ...]
    without_drop_k: tuple[float | None, ...]
    with_drop_k: tuple[float | None, ...]
    drop_ratio: tuple[float | None, ...]


class Waiting(Record):
    """The main drink again so many seconds after the first."""

    wait_s: float
    sensor_drop_k: Both
    stability_band_k: Both


class AfterFlush(Record):
    """The main drink so many seconds after a flush of so many grams."""

    flush_g: float
    pause_s: float
    sensor_drop_k: Both
    stability_band_k: Both


class AfterSteam(Record):
    """The way back from steam to brewing: waiting, or flushing; and the hottest the coil gets."""

    wait_s: Both
    flush_ml: Both
    coil_highest_degc: Figure | None


class Display(Record):
    """What the display shows in a test shot of the main drink with the kit: is mine right?"""

    before_degc: Figure
    lowest_degc: Figure
