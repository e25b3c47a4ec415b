"""The zero of the Celsius scale: everything here is in kelvin, and people read degrees."""

ZERO_CELSIUS = 273.15
"""K; exact by definition, ITS-90. `unit_table` states it once more, for text: it stands on nothing; a test compares."""
