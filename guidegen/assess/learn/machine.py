"""A machine with several kits as rows of a network, one row for each set of parameters."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from guidegen.assess import inputs
from guidegen.assess.asking import supplied
from guidegen.assess.learn.parameters import Learnable
from guidegen.assess.network_of import machine_parts, without_kit
from guidegen.heat.network import Network, Rows
from guidegen.trade import Catalogue
from guidegen.trade.effects import with_several
from guidegen.trade.effects.base import Fitted
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine
from guidegen.trade.uncertain import Uncertain, Values


@dataclass(frozen=True)
class Bench:
    """One machine with the kits that were on it, and its parameters in their order."""

    known: Catalogue
    machine: Machine
    kits: tuple[Kit, ...]
    parameters: tuple[Learnable, ...]

    def network(self, kits: Sequence[str], steps: Rows, told: Mapping[str, float | Rows]) -> Network:
        """The machine with some of the kits, a row for each row of steps, shape (n, parameters).

        told: inputs of the machine that a run has measured by itself, by name, in SI; of all rows or each.
        """
        count = len(steps)
        own = self._rows(inputs.of_machine(self.machine, self.known), "", steps)
        own |= {name: np.broadcast_to(value, count).astype(float) for name, value in told.items()}
        values = Values(own, np.zeros(count))
        plain = without_kit(self.machine, values)
        fitted = [one for one in self.kits if one.id in kits]
        each = [
            (kit.effects, Values(own | self._rows(kit.inputs(), kit.id, steps) | _told(told, kit, count), values.phase))
            for kit in fitted
        ]
        parts = machine_parts(self.machine, values, plain)
        return supplied(with_several(self.machine, each, Fitted(plain, parts)).network, values)

    def _rows(self, listed: Iterable[Uncertain], kit: str, steps: Rows) -> dict[str, Rows]:
        """By input, its value in each row: that of its parameter, or the one that stands in the catalogue."""
        at = {one.input.id: number for number, one in enumerate(self.parameters) if one.kit == kit}
        rows = {}
        for one in listed:
            number = at.get(one.id)
            if number is None:
                rows[one.id] = np.full(len(steps), one.value)
                continue
            value = self.parameters[number].prior.value(steps[:, number])
            # No boiler has less than one cell, though the prior's tail has.
            rows[one.id] = np.maximum(value, 1.0) if one.id == "mixing" else value
        return rows


def _told(told: Mapping[str, float | Rows], kit: Kit, count: int) -> dict[str, Rows]:
    """A setpoint that was read off the display is that of the kit's control, where it brings one."""
    names = {one.id for one in kit.inputs()}
    setpoint = told.get("control.setpoint")
    if setpoint is None or "kit.control.setpoint" not in names:
        return {}
    return {"kit.control.setpoint": np.broadcast_to(setpoint, count).astype(float)}
