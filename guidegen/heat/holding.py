"""What it takes to hold a machine at the temperature that it is set to."""

from __future__ import annotations

import numpy as np

from guidegen.heat.idle import settled
from guidegen.heat.layout import LUMPED, SETPOINT
from guidegen.heat.network import Network, Rows


def holding_power(network: Network) -> Rows:
    """Give the heater power that holds what each row is set to.

    Parameters: network of n rows.
    Returns: W, shape (n,); zero or less where nothing has to be heated.
    Valid for: what `network` says.
    Equation: those of `network`, with all rates zero.
    Source: none; a balance of energy.

    >>> from guidegen.heat.example import example
    >>> bool(20.0 < holding_power(example())[0] < 200.0)  # a small machine loses some tens of watts
    True
    """
    parameters, state = network.parameters(), np.zeros(LUMPED)
    return np.array([settled(row, row[SETPOINT], state) for row in parameters])
