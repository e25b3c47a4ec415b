"""Formulas refuse what their source does not cover, and say what, how much, between which limits, and by whom."""

from __future__ import annotations

import pickle
from collections.abc import Callable

import numpy as np
import pytest

from guidegen.heat import (
    bend,
    burns,
    coil,
    cuts,
    friction,
    heat_transfer,
    hydraulics,
    mixing,
    pressure,
    sensors,
    statistics,
    threads,
    water,
    water_transport,
)
from guidegen.heat.validity import Validity, ValidityError

REFUSED: dict[str, tuple[Callable[[], object], str]] = {
    "ice": (lambda: water.density(270.0), "water temperature"),
    "steam": (lambda: water.density(400.0), "water pressure"),
    "steam in a row of liquids": (lambda: water.specific_heat([300.0, 390.0]), "water pressure"),
    "hot beyond the correlation": (lambda: water_transport.viscosity(384.0), "water temperature"),
    "beyond the critical point": (lambda: water.saturation_pressure(650.0), "boiling temperature"),
    "vacuum": (lambda: water.saturation_temperature(600.0), "boiling pressure"),
    "thick tube": (lambda: bend.minimum_bend_radius(40e-3), "tube outside diameter"),
    "tube without a bore": (lambda: coil.bore_area(8e-3, 4e-3), "tube wall over outside diameter"),
    "coil of a negative volume": (lambda: coil.wind(coil.CoilDemand(0.07, 0.05, 8e-3, 1e-3, -1e-6)), "length, volume"),
    "coil without layers": (lambda: coil.wind(coil.CoilDemand(0.07, 0.05, 8e-3, 1e-3, 5e-5, layers_max=0)), "layers"),
    "coil on no known wall": (lambda: coil.wind(coil.CoilDemand(0.07, np.nan, 8e-3, 1e-3, 5e-5)), "straight wall"),
    "creeping flow": (lambda: friction.coiled(50.0, 0.08), "Reynolds number"),
    "tight coil": (lambda: friction.coiled(1000.0, 0.2), "tube bore over coil diameter"),
    "between laminar and turbulent": (lambda: friction.colebrook(3000.0), "Reynolds number"),
    "turbulent as laminar": (lambda: friction.straight_laminar(3000.0), "Reynolds number"),
    "White below his range": (lambda: friction.coiled_white(20.0, 0.08), "Dean number"),
    "Mori and Nakayama below theirs": (lambda: friction.coiled_mori_nakayama(300.0, 0.08), "Dean number"),
    "flow backwards": (lambda: hydraulics.speed(-1e-6, 6e-3), "volume flow"),
    "laminar heat in turbulent flow": (lambda: heat_transfer.nusselt_laminar(9e3, 3.0, 0.077), "Reynolds number"),
    "Xin and Ebadian beyond theirs": (lambda: heat_transfer.nusselt_xin_ebadian(1e4, 7.0, 0.077), "Prandtl number"),
    "negative transfer units": (lambda: heat_transfer.effectiveness(-0.1), "transfer units"),
    "half a cell": (lambda: mixing.share_of_old_water(0.5, 0), "mixed cells"),
    "hot copper": (lambda: pressure.allowable_pressure(8e-3, 1e-3, 430.0), "tube temperature"),
    "foil": (lambda: pressure.allowable_pressure(8e-3, 0.05e-3, 300.0), "tube wall"),
    "ice on the thread": (lambda: threads.torque(1e3, 5e-3, 0.8e-3, 0.01), "friction"),
    "pitch of no thread": (lambda: threads.stress_area(5e-3, 2e-3), "pitch"),
    "lukewarm scald": (lambda: burns.scald_time(310.0), "water temperature"),
    "lukewarm metal": (lambda: burns.contact_time(310.0), "metal temperature"),
    "frost on the Pt100": (lambda: sensors.platinum_resistance(263.15), "Pt100"),
    "broken Pt100": (lambda: sensors.platinum_temperature(1e6), "Pt100"),
    "molten junction": (lambda: sensors.type_k_voltage(2000.0), "type K"),
    "no lag": (lambda: sensors.lagged(1.0, 1.0, 0.0), "lag"),
    "bead that is not of one temperature": (lambda: sensors.bead_lag(0.1, 8500.0, 400.0, 4000.0, 20.0), "Biot"),
    "tool that takes nothing": (lambda: cuts.saw_time(1e-4, 0.0), "rate of the tool"),
    "band upside down": (lambda: cuts.overlap((0.2, 0.1), (0.0, 1.0)), "band"),
    "one draw": (lambda: statistics.uniforms(1, 1), "draws"),
    "draws without a column": (lambda: statistics.uniforms(0, 4), "columns"),
    "rectangle upside down": (lambda: statistics.Rectangular(2.0, 1.0), "rectangle"),
    "negative uncertainty": (lambda: statistics.Normal(0.0, -1.0), "standard uncertainty"),
    "coverage of more than all": (lambda: statistics.interval([1.0, 2.0], 1.2), "coverage"),
}


@pytest.mark.parametrize("name", REFUSED)
def test_outside_its_range_a_formula_refuses_and_names_the_quantity(name: str) -> None:
    """Nothing is extrapolated in silence."""
    call, quantity = REFUSED[name]
    with pytest.raises(ValidityError, match=quantity):
        call()


def test_message_names_quantity_value_limits_and_source() -> None:
    """The message has all that is needed to see what was wrong."""
    with pytest.raises(ValidityError) as caught:
        Validity("temperature", 273.15, 383.15, "K", "iapws-sr6").check([300.0, 400.0])
    assert str(caught.value) == "temperature is 400 K, outside 273.15 to 383.15 K (iapws-sr6)"
    assert (caught.value.quantity, caught.value.value, caught.value.source) == ("temperature", 400.0, "iapws-sr6")


def test_limits_themselves_are_inside_and_not_a_number_is_outside() -> None:
    """Both ends may be used; a missing value may not pass as a number."""
    limit = Validity("length", 0.0, 1.0, "m", "geometry")
    limit.check([0.0, 1.0])
    for bad in (np.nan, -1e-9, 1 + 1e-9, np.inf):
        with pytest.raises(ValidityError):
            limit.check(bad)


def test_error_travels_between_processes() -> None:
    """An error that a worker raises arrives with its message."""
    error = ValidityError("length", 2.0, 0.0, 1.0, "m", "geometry")
    assert str(pickle.loads(pickle.dumps(error))) == str(error)


def test_validity_reads_as_a_line_for_the_methods_page() -> None:
    """The methods page prints the limit as one line."""
    limit = Validity("Reynolds number", 100.0, 1.5e5, "", "schmidt-1967")
    assert str(limit) == "Reynolds number: 100 to 150000 (schmidt-1967)"
