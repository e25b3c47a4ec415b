"""Scald and contact times against the published reprints; the contact rows come from memory and say so."""

from __future__ import annotations

import pytest

from guidegen.heat import burns
from tests.published.check import Check

SCALD = "Moritz and Henriques 1947, as reprinted by a maker of mixing valves (secondary)"
SECONDARY = "65 °C for 0.5 s on bare metal, from a secondary publication"
MEMORY = "ISO 13732-1, from memory; nothing published was to hand to cover it, and the page says so"
# °C: seconds to a second-degree and to a third-degree burn
ROWS = {45: (7200, 10_800), 47: (1200, 2700), 48: (900, 1200), 49: (480, 600), 51: (120, 252), 55: (17, 30), 60: (3, 5)}

CHECKS = [
    *(
        Check(f"scald-{degree}-{celsius}", f"{degree}-degree scald at {celsius} °C", "s", float(seconds), 1e-9, SCALD,
              "P", "typed", ("Scald by hot water",),
              lambda celsius=celsius, degree=degree: burns.scald_time(celsius + 273.15, degree))
        for celsius, both in ROWS.items()
        for degree, seconds in zip(("second", "third"), both, strict=True)
    ),
    Check("contact-65", "burn by bare metal at 65 °C", "s", 0.5, 1e-9, SECONDARY, "P", "typed", ("Burn by bare metal",),
          lambda: burns.contact_time(338.15)),
    *(
        Check(f"contact-{celsius}", f"burn by bare metal at {celsius} °C", "s", seconds, 1e-9, MEMORY,
              "M", "typed", ("Burn by bare metal",),
              lambda celsius=celsius: burns.contact_time(celsius + 273.15))
        for celsius, seconds in ((43, 28_800.0), (48, 600.0), (51, 60.0))
    ),
]  # fmt: skip


@pytest.mark.parametrize("check", CHECKS, ids=str)
def test_value(check: Check) -> None:
    """The row of the table comes out."""
    check.hold()


@pytest.mark.parametrize("celsius", [45.5, 48.2, 50.0, 53.0, 58.0, 70.0, 99.0])
def test_between_rows_the_shorter_time_holds(celsius: float) -> None:
    """A temperature between two rows has the time of the hotter one; above the last row no time is left."""
    hotter = [both[0] for row, both in ROWS.items() if row >= celsius]
    assert float(burns.scald_time(celsius + 273.15)) == (hotter[0] if hotter else 0.0)
