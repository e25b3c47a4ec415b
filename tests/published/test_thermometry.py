"""Pt100 and type K thermocouple against IEC 60751 and NIST's ITS-90 table."""

from __future__ import annotations

import pytest

from guidegen.heat import sensors
from tests.published.check import Check, printed

PLATINUM = "IEC 60751, A and B from memory, arithmetic by hand"
NIST = "NIST ITS-90 table, type K; leading digits seen on a public page"

CLASSES = "IEC 60584-1 and IEC 60751, tables of tolerances, from memory"

CHECKS = [
    *(
        Check(f"class-{kind}-{grade}-{celsius}", f"tolerance of {kind}, class {grade}, at {celsius} °C", "K",
              *printed(text), CLASSES, "M", "typed", ("Tolerance of a probe",),
              lambda kind=kind, grade=grade, celsius=celsius: sensors.class_tolerance(kind, grade, celsius + 273.15))
        for kind, grade, celsius, text in (
            ("type-k", "1", 93, "1.50"), ("type-k", "2", 93, "2.50"), ("type-k", "3", 0, "2.50"),
            ("type-n", "1", 200, "1.50"), ("type-j", "2", 20, "2.50"), ("type-t", "1", 93, "0.50"),
            ("type-t", "1", 150, "0.60"), ("type-t", "2", 200, "1.50"), ("platinum", "AA", 100, "0.270"),
            ("platinum", "A", 100, "0.350"), ("platinum", "B", 0, "0.300"), ("platinum", "B", 100, "0.800"),
            ("platinum", "C", 100, "1.600"), ("platinum", "B", -40, "0.500"),
        )
    ),
    *(
        Check(f"pt100-{celsius}", f"resistance at {celsius} °C", "Ω", *printed(text), PLATINUM,
              "L", "derived", ("Resistance of a Pt100",),
              lambda celsius=celsius: sensors.platinum_resistance(celsius + 273.15))
        for celsius, text in ((20, "107.7935"), (60, "123.2419"), (93, "135.8477"), (100, "138.5055"))
    ),
    # The well-known table value, to the two decimals of the standard's tables.
    Check("pt100-table", "resistance at 100 °C", "Ω", *printed("138.51"), "IEC 60751, table 1, from memory",
          "M", "outside", ("Resistance of a Pt100",),
          lambda: sensors.platinum_resistance(373.15)),
    *(
        Check(f"type-k-{celsius}", f"voltage at {celsius} °C", "mV", *printed(text), NIST,
              "P", "outside", ("Voltage of a type K thermocouple",),
              lambda celsius=celsius: sensors.type_k_voltage(celsius + 273.15) * 1e3)
        for celsius, text in ((20, "0.798"), (60, "2.436"), (93, "3.806"), (100, "4.096"), (120, "4.920"))
    ),
]  # fmt: skip


@pytest.mark.parametrize("check", CHECKS, ids=str)
def test_value(check: Check) -> None:
    """The thermometer gives the table's value."""
    check.hold()


@pytest.mark.parametrize("celsius", [0.0, 20.0, 93.0, 130.0, 849.0])
def test_resistance_and_temperature_are_inverse(celsius: float) -> None:
    """A Pt100's resistance gives the temperature back."""
    there = sensors.platinum_resistance(celsius + 273.15)
    assert float(sensors.platinum_temperature(there)) == pytest.approx(celsius + 273.15, abs=1e-6)


@pytest.mark.parametrize(("kind", "grade"), [("type-k", "A"), ("type-j", "3"), ("platinum", "1"), ("other", "1")])
def test_a_class_that_a_kind_does_not_have(kind: str, grade: str) -> None:
    """It is refused, as is class 3 where it does not hold."""
    with pytest.raises(ValueError, match="no class"):
        sensors.class_tolerance(kind, grade, 293.15)
    with pytest.raises(ValueError, match="40 °C and below"):
        sensors.class_tolerance("type-k", "3", 366.15)
