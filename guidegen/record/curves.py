"""What the record holds for the charts: curves over time, and points at other conditions than the stated ones."""

from __future__ import annotations

from pydantic import Field

from guidegen.record.base import Record


class Trace(Record):
    """Curves over time, for a chart: equal lengths, in seconds and degrees Celsius."""

    time_s: tuple[float, ...]
    sensor_degc: tuple[float, ...]
    outlet_degc: tuple[float | None, ...] = ()
    outlet_low_degc: tuple[float | None, ...] = ()
    outlet_high_degc: tuple[float | None, ...] = ()


class Shot(Record):
    """The main drink, named by its id, without and with the kit."""

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
    """Curves from switching on in a cold room, of the typical machine."""

    time_s: tuple[float, ...]
    drop_minutes: tuple[int, ...]
    without: ColdSide
    with_: ColdSide = Field(alias="with")


class WhatIf(Record):
    """The sensor drop at other conditions than the stated ones: points of the typical machine.

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
