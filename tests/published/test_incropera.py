"""Metals, effectiveness and a thermocouple's bead against Incropera's textbook, and a stirred tank's exact law."""

from __future__ import annotations

import math

import pytest

from guidegen.heat import heat_transfer, materials, mixing, sensors
from tests.published.check import Check, printed

TABLE_A1 = "Incropera, table A.1, 300 K, as reprinted on a public page"
TABLE_A1_MEMORY = "Incropera, table A.1, 300 K, AISI 304, from memory"

METALS = {
    "copper": (("8933", "385", "401"), TABLE_A1, "P"),
    "aluminium": (("2702", "903", "237"), TABLE_A1, "P"),
    "brass": (("8530", "380", "110"), TABLE_A1, "P"),
    "stainless": (("7900", "477", "14.9"), TABLE_A1_MEMORY, "M"),
}


def _metals() -> list[Check]:
    rows = []
    for name, (digits, source, tag) in METALS.items():
        metal = materials.material(name)
        for quantity, unit, text in zip(
            ("density", "specific_heat", "conductivity"), ("kg/m³", "J/(kg·K)", "W/(m·K)"), digits, strict=True
        ):
            rows.append(
                Check(f"{name}-{quantity}", f"{quantity} of {name}", unit, *printed(text), source, tag,  # type: ignore[arg-type]
                      "typed", (),
                      lambda metal=metal, quantity=quantity: getattr(metal, quantity))
            )  # fmt: skip
    return rows


def _bead_time() -> float:
    """Give the time in which the bead of example 5.1 comes from 25 to 199 °C in gas at 200 °C."""
    lag = float(sensors.bead_lag(0.706e-3, 8500.0, 400.0, 400.0, 20.0))
    return -lag * math.log((200 - 199) / (200 - 25))


CHECKS = [
    *_metals(),
    *(
        Check(f"effectiveness-{units}", f"effectiveness at NTU {units}, C_r = 0", "", *printed(digits),
              "ht 1.2, effectiveness_from_NTU(Cr=0)",
              "L", "outside", ("Effectiveness",), lambda units=units: heat_transfer.effectiveness(units))
        for units, digits in ((0.1, "0.095163"), (0.5, "0.393469"), (1.0, "0.632121"), (3.0, "0.950213"))
    ),
    Check("stirred-tank", "water left at 100 °C after 55 g of 20 °C went through 90 g", "°C",
          20 + 80 * math.exp(-55 / 90), 1e-9, "exact: exp(−m/M)", "L", "derived", ("Dilution of a vessel",),
          lambda: 20 + 80 * mixing.share_of_old_water(55 / 90)),
    Check("bead", "time to 199 °C of a bead, h 400, ρ 8500, c 400, D 0.706 mm", "s", *printed("5.2"),
          "Incropera, example 5.1, from memory; arithmetic gives 5.16", "M", "outside", ("Lag of a bead",), _bead_time),
    Check("bead-arithmetic", "the same, ρ c D / (6 h) · ln 175", "s",
          8500 * 400 * 0.706e-3 / (6 * 400) * math.log(175), 1e-9, "exact: lumped capacitance",
          "L", "derived", ("Lag of a bead",), _bead_time),
]  # fmt: skip


@pytest.mark.parametrize("check", CHECKS, ids=str)
def test_value(check: Check) -> None:
    """The textbook's value comes out to its last printed digit."""
    check.hold()


@pytest.mark.parametrize("units", [0.0, 0.03, 0.2, 2.0, 8.0])
def test_effectiveness_agrees_with_an_independent_library(units: float) -> None:
    """Effectiveness agrees with `ht` where one side has one temperature."""
    from ht import effectiveness_from_NTU

    assert float(heat_transfer.effectiveness(units)) == pytest.approx(effectiveness_from_NTU(units, 0.0), abs=1e-12)


@pytest.mark.parametrize("cells", [1, 2, 5, 10])
@pytest.mark.parametrize("drawn", [0.0, 0.3, 1.0, 2.5])
def test_dilution_is_the_tail_of_an_erlang_distribution(cells: int, drawn: float) -> None:
    """Cells in series hold their old water as a sum of as many exponential ages: scipy's gamma distribution."""
    from scipy.stats import gamma

    expected = gamma.sf(drawn, a=cells, scale=1 / cells)
    assert float(mixing.share_of_old_water(drawn, cells)) == pytest.approx(expected, abs=1e-12)
