"""How long skin bears hot water and hot bare metal. Planning figures for healthy adults, never a permission.

Published versions of the scald times differ by a factor of two; the shorter ones are here, and between two rows the
time of the hotter row holds. Children and old people burn sooner.
"""

from __future__ import annotations

from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from guidegen.heat.formula import Formula, Symbol
from guidegen.heat.temperature import ZERO_CELSIUS
from guidegen.heat.validity import FloatArray, Validity

Degree = Literal["second", "third"]

# Water temperature in °C, seconds to a second-degree and to a third-degree burn.
_SCALDS = (
    (45.0, 7200.0, 10_800.0), (47.0, 1200.0, 2700.0), (48.0, 900.0, 1200.0), (49.0, 480.0, 600.0),
    (51.0, 120.0, 252.0), (55.0, 17.0, 30.0), (60.0, 3.0, 5.0),
)  # fmt: skip
# Bare metal in °C, seconds to a burn; from memory, but for the last row, which a secondary source prints.
_CONTACTS = ((43.0, 28_800.0), (48.0, 600.0), (51.0, 60.0), (65.0, 0.5))

SCALD = Validity("water temperature", 45.0 + ZERO_CELSIUS, 373.15, "K", "moritz-henriques-1947, as reprinted")
CONTACT = Validity("metal temperature", 43.0 + ZERO_CELSIUS, 473.15, "K", "iso-13732-1, from memory")


def _time_of_hotter_row(temperature: ArrayLike, rows: FloatArray, column: int) -> FloatArray:
    """Give the time of the first row that is at least as hot; hotter than the last row there is no time left."""
    celsius = np.asarray(temperature, dtype=np.float64) - ZERO_CELSIUS
    # The subtraction above leaves rounding that must not push a row's own temperature to the next row.
    row = np.searchsorted(rows[:, 0], celsius - 1e-9)
    times = np.append(rows[:, column], 0.0)
    return np.asarray(times[row], dtype=np.float64)


def scald_time(temperature: ArrayLike, degree: Degree = "second") -> FloatArray:
    """Give the time in which hot water burns an adult's skin.

    Parameters: water temperature T, K, any shape; degree of the burn.
    Returns: time, s, same shape; 0 above 60 °C, where no published row leaves any.
    Valid for: 45 to 100 °C. Below, no time is published.
    Equation: a table, the time of the row at or above the temperature.
    Source: moritz-henriques-1947, as reprinted by safety bodies (secondary).

    >>> float(scald_time(328.15)), float(scald_time(328.15, "third"))  # moritz-henriques-1947
    (17.0, 30.0)
    """
    SCALD.check(temperature)
    return _time_of_hotter_row(temperature, np.array(_SCALDS), 1 if degree == "second" else 2)


def contact_time(temperature: ArrayLike) -> FloatArray:
    """Give the time in which bare metal burns a finger that touches it.

    Parameters: metal temperature T, K, any shape.
    Returns: time, s, same shape; 0 above 65 °C.
    Valid for: 43 to 200 °C.
    Equation: a table, the time of the row at or above the temperature.
    Source: iso-13732-1 (from memory; the row at 65 °C from a secondary publication).

    >>> float(contact_time(324.15))  # iso-13732-1
    60.0
    """
    CONTACT.check(temperature)
    return _time_of_hotter_row(temperature, np.array(_CONTACTS), 1)


_TEMPERATURE = Symbol("T", "temperature", "K")

FORMULAS = (
    Formula("Scald by hot water", "table, time of the row at or above the temperature", (_TEMPERATURE,), (SCALD,),
            ("moritz-henriques-1947, as reprinted",)),
    Formula("Burn by bare metal", "table, time of the row at or above the temperature", (_TEMPERATURE,), (CONTACT,),
            ("iso-13732-1, from memory",)),
)  # fmt: skip
