"""Under what conditions the water of a machine is weighed: cold from the tank, and hot in the boiler and its coil."""

COLD_WATER = 998.0
"""kg/m³ of the feed, and of the water that returns to the tank."""
UNDER_PRESSURE = 3e5
"""Pa; an idle boiler is full of water at some bar, its density hardly depends on how many."""
