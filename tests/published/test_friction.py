"""Friction, pressure loss and heat transfer of coiled tube against published correlations, by `fluids` and `ht`."""

from __future__ import annotations

import math

import pytest

from guidegen.heat import friction, heat_transfer, hydraulics
from tests.published.check import Check, printed

CURVATURE = 6 / 78
LAMINAR = {
    "white": (friction.coiled_white, "White 1929, with fluids 1.3", ("0.21850", "0.14033", "0.09178")),
    "schmidt": (friction.coiled, "Schmidt 1967, with fluids 1.3", ("0.25131", "0.16490", "0.11457")),
    "mori-nakayama": (friction.coiled_mori_nakayama, "Mori and Nakayama 1964, with fluids 1.3",
                      ("0.22492", "0.14305", "0.09444")),
}  # fmt: skip
CRITICAL = {"seth-stahel-1969": "6116", "schmidt-1967": "8537", "ito-1959": "8802", "srinivasan-1970": "9089"}
TURBULENT_NUSSELT = {
    "xin-ebadian": (heat_transfer.nusselt_xin_ebadian, "58.196"),
    "mori-nakayama": (heat_transfer.nusselt_mori_nakayama, "68.372"),
    "schmidt": (heat_transfer.nusselt_schmidt, "85.262"),
}
LOSSES = {20: ("327", "846", "1517", "3249"), 75: ("178", "499", "932", "2088")}

CHECKS = [
    *(
        Check(f"{name}-{number}", f"friction of a coil at Re {number}, 6 mm in 78 mm", "", *printed(text), source,
              "L", "outside", ("Friction of a coil",),
              lambda law=law, number=number: law(number, CURVATURE))
        for name, (law, source, digits) in LAMINAR.items()
        for number, text in zip((500, 1000, 2000), digits, strict=True)
    ),
    *(
        Check(f"critical-{key}", "critical Reynolds number, 6 mm in 78 mm", "", *printed(text),
              f"{key}, with fluids 1.3",
              "L", "outside", ("Critical Reynolds number of a coil",),
              lambda key=key: friction.critical_reynolds(CURVATURE)[key])
        for key, text in CRITICAL.items()
    ),
    *(
        Check(f"nusselt-{name}", "Nusselt number at Re 10⁴, Pr 3, 6 mm in 78 mm", "", *printed(text),
              f"{name}, with ht 1.2",
              "L", "outside", ("Heat transfer in a coil, turbulent",), lambda law=law: law(1e4, 3.0, CURVATURE))
        for name, (law, text) in TURBULENT_NUSSELT.items()
    ),
    # The printed pascals were computed with another viscosity of water, which may differ by its 1 %.
    *(
        Check(f"loss-{celsius}-{flow}", f"loss of 2.8 m, 6 mm in 78 mm, {flow} ml/s, {celsius} °C", "Pa", float(text),
              0.01 * float(text), "Schmidt 1967, fluids 1.3 friction_factor_curved",
              "L", "outside", ("Pressure loss of a coil",),
              lambda flow=flow, celsius=celsius: hydraulics.pressure_loss(
                  flow * 1e-6, 6e-3, 78e-3, 2.8, celsius + 273.15))
        for celsius, digits in LOSSES.items()
        for flow, text in zip((2, 4, 6, 10), digits, strict=True)
    ),
    Check("colebrook", "friction at Re 10⁵, ε/D 10⁻⁴", "", *printed("0.0185139"), "Colebrook 1939, with fluids 1.3",
          "L", "outside", ("Friction, straight, turbulent",), lambda: friction.colebrook(1e5, 1e-4)),
    Check("laminar", "friction at Re 1000", "", *printed("0.064"), "Hagen and Poiseuille: 64 / Re",
          "L", "derived", ("Friction, straight, laminar",),
          lambda: friction.straight_laminar(1000.0)),
]  # fmt: skip


@pytest.mark.parametrize("check", CHECKS, ids=str)
def test_value(check: Check) -> None:
    """The correlation gives its published value."""
    check.hold()


@pytest.mark.parametrize("number", [150.0, 900.0, 4000.0, 9500.0, 2.1e4, 2.3e4, 1.4e5])
@pytest.mark.parametrize("ratio", [0.02, 6 / 78, 0.13])
def test_coil_friction_agrees_with_an_independent_library(number: float, ratio: float) -> None:
    """Schmidt's law agrees with `fluids` on both sides of the critical Reynolds number and of 22 000."""
    from fluids import friction_factor_curved

    expected = friction_factor_curved(number, Di=ratio, Dc=1.0)
    assert float(friction.coiled(number, ratio)) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("number", [4e3, 3e4, 1e6, 1e8])
@pytest.mark.parametrize("rough", [0.0, 1e-5, 1e-3, 0.05])
def test_colebrook_solves_its_own_equation_and_agrees_with_a_library(number: float, rough: float) -> None:
    """Both sides of Colebrook's equation meet, at the value of `fluids`."""
    from fluids import Colebrook

    factor = float(friction.colebrook(number, rough))
    right = -2 * math.log10(rough / 3.7 + 2.51 / (number * math.sqrt(factor)))
    assert 1 / math.sqrt(factor) == pytest.approx(right, rel=1e-12)
    assert factor == pytest.approx(Colebrook(number, rough), rel=1e-9)


@pytest.mark.parametrize("flow", [1.5e-6, 4e-6, 9e-6])
def test_pressure_loss_agrees_with_one_pieced_together_from_libraries(flow: float) -> None:
    """With density and viscosity of CoolProp and friction of `fluids` the loss agrees to the viscosity's 1 %."""
    from CoolProp.CoolProp import PropsSI
    from fluids import friction_factor_curved

    density, viscosity = (PropsSI(name, "T", 333.15, "P", 1e6, "Water") for name in ("D", "V"))
    velocity = flow / (math.pi / 4 * 6e-3**2)
    factor = friction_factor_curved(density * velocity * 6e-3 / viscosity, Di=6e-3, Dc=78e-3)
    expected = (factor * 2.05 / 6e-3 + 1.5) * density * velocity**2 / 2
    computed = float(hydraulics.pressure_loss(flow, 6e-3, 78e-3, 2.05, 333.15, local_losses=1.5))
    assert computed == pytest.approx(expected, rel=0.01)


def test_still_water_takes_heat_as_the_slowest_wave_in_a_cylinder() -> None:
    """At rest the Nusselt number is the square of the first zero of J₀, found here by scipy."""
    from scipy.special import jn_zeros

    expected = jn_zeros(0, 1)[0] ** 2
    assert pytest.approx(expected, rel=1e-14) == heat_transfer.NUSSELT_AT_REST


def test_laminar_nusselt_number_agrees_with_the_equation_worked_by_hand() -> None:
    """At Re 1000, Pr 3.5, d/D 1/13: (1/13)^0.9 = 0.09941, m = 0.67650, Re^m = 107.03, Pr^⅓ = 1.5183 make Nu 17.694."""
    assert float(heat_transfer.nusselt_laminar(1000.0, 3.5, 1 / 13)) == pytest.approx(17.694, abs=0.001)
