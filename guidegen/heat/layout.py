"""Where everything stands: in a state of the network, in a row of parameters, in a trace."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

Vector = NDArray[np.float64]
Matrix = NDArray[np.float64]
Tower = NDArray[np.float64]
Whole = NDArray[np.int64]

# Where the lumps stand in a state: temperatures in K, the controller's integral in W, energies in J, and its mode.
(
    ELEMENT, BOILER, GROUP, CASE_AIR, SENSOR, INTEGRAL, HEATER_ENERGY, LOST_ENERGY, DRAWN_ENERGY, RETURNED_ENERGY, MODE,
) = range(11)  # fmt: skip
LUMPS = 11
"""Behind them stand the boiler's water in mixed cells, then the coil's water and its metal in cells along the flow."""
LUMPED = 16
"""Length of a state of means: the lumps, one cell of each kind, and zeros up to whole vector registers."""

# Skins that lose heat to air, by number.
BOILER_SKIN, GROUP_SKIN, CASE_SKIN, COIL_SKIN = range(4)
SKINS = 4
BESIDE = (DRAWN_ENERGY, RETURNED_ENERGY, LUMPS + 3, LUMPS + 4)
"""Where a step at rest carries what each skin loses beside its stated conductance, W: in places that nothing else needs
there, as nothing is drawn."""

# Modes of a controller. A relay knows ON and BETWEEN (which is off). PID control is saturated at full power or at zero
# with the integral at rest; or while the error already has the other sign, so that the integral moves; or it slides
# along the limit: with the integral at rest it would leave the limit, with the integral moving it would come back.
ZERO, BETWEEN, ON = -1, 0, 1
ZERO_WHILE_BELOW, ON_WHILE_ABOVE = -2, 2
ZERO_SLIDING, ON_SLIDING = -3, 3
FIRST_MODE, MODES = -3, 7

# Where the parameters stand in a row.
(
    HEATER_POWER, HEATER_CAPACITY, HEATER_TO_BOILER, HEATER_TO_WATER,
    BOILER_CAPACITY, BOILER_TO_WATER, BOILER_TO_GROUP, BOILER_TO_CASE,
    WATER_CAPACITY, MIXING, GROUP_CAPACITY, GROUP_TO_WATER, GROUP_TO_ROOM,
    SENSOR_LAG, SENSOR_METAL_SHARE, CASE, ROOM, FEED,
    RELAY_CONTROL, SETPOINT, PROPORTIONAL, INTEGRATING, DERIVING, OPENS, CLOSES,
    HAS_COIL, COIL_WATER_CAPACITY, COIL_METAL_CAPACITY, BOILER_TO_COIL, COIL_TO_CASE,
    COIL_INSIDE_AT_REST, COIL_INSIDE_IN_FLOW, COIL_ALONG, SHIELD, BYPASS, CASE_CAPACITY, CASE_TO_ROOM,
    CELLS, FINER, LAWS,
) = range(40)  # fmt: skip
LAW = 4
PARAMETERS = LAWS + SKINS * LAW
"""CELLS and FINER are numerical: cells of the coil, none without one, and what divides every step. Behind them stand
the laws by which the skins' conductances follow temperature, in so many numbers each (`skins`)."""

# Columns of a trace: s, K, and W (the mean over the step that ends there).
TIME, SEEN, MEAN_WATER, OUTLET, GROUP_METAL, BOILER_METAL, COIL_WATER, COIL_OUTLET, POWER, SWITCHED = range(10)
COLUMNS = 10
"""The last column is when the controller changed its mode within the step that ends there, s, or nan."""


# Where one mode's matrices stand: what each state adds to the rates at rest, and to the state one whole step later; and
# two of scratch to make them with.
RATES, STEP, TERM, PRODUCT = range(4)
MATRICES = 4

WORK = 9
"""Rows of scratch that a step needs, each as long as a state."""
HELD, MEMORY = 7, 8
"""Of them those in which `held` has what the skins conduct and lose over a step, and where they stood."""
MORE, LEAKED = SKINS, 2 * SKINS
"""Where the former has, behind the conductances by skin, W/K, what is lost beside them at rest, W; and what the coil's
skin conducted in a rest, J/K."""

NOUGHT: Any = np.int64(0)
"""A zero that is no literal: for a literal argument the compiler makes a function of its own."""
