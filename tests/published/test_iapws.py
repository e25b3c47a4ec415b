"""Water against IAPWS R7-97(2012): the release's own verification tables, and two libraries at our temperatures."""

from __future__ import annotations

import pytest

from guidegen.heat import water, water_transport
from tests.published.check import Check, printed

TABLE_5 = "IAPWS R7-97(2012), table 5; digits from memory, confirmed with iapws 1.5"
TABLE_35 = "IAPWS R7-97(2012), table 35; digits from memory, confirmed with iapws 1.5"
TABLE_36 = "IAPWS R7-97(2012), table 36; digits from memory, confirmed with iapws 1.5"
INDUSTRIAL = "iapws 1.5, IAPWS97 at 0.101325 MPa"

TRANSPORT = (
    ("viscosity", "viscosity", "µPa·s", "Viscosity of water", water_transport.viscosity, 1e6, 0.01,
     ("1001.60", "466.04", "303.72")),
    ("conductivity", "conductivity", "mW/(m·K)", "Conductivity of water", water_transport.conductivity, 1e3, 0.02,
     ("598.01", "651.02", "674.27")),
    ("prandtl", "Prandtl number", "", "Prandtl number", water_transport.prandtl, 1.0, 0.03,
     ("7.0090", "2.9943", "1.8956")),
)  # fmt: skip

CHECKS = [
    Check("volume-300-3", "specific volume at 300 K, 3 MPa", "m³/kg", *printed("1.00215168e-3"), TABLE_5,
          "M", "outside", ("Density of water",),
          lambda: 1 / water.density(300.0, 3e6)),
    Check("volume-300-80", "specific volume at 300 K, 80 MPa", "m³/kg", *printed("9.71180894e-4"), TABLE_5,
          "M", "outside", ("Density of water",),
          lambda: 1 / water.density(300.0, 80e6)),
    Check("volume-500-3", "specific volume at 500 K, 3 MPa", "m³/kg", *printed("1.20241800e-3"), TABLE_5,
          "M", "outside", ("Density of water",),
          lambda: 1 / water.density(500.0, 3e6)),
    Check("enthalpy-300-3", "enthalpy at 300 K, 3 MPa", "kJ/kg", *printed("115.331273"), TABLE_5,
          "M", "outside", ("Enthalpy of water",),
          lambda: water.enthalpy(300.0, 3e6) / 1e3),
    Check("enthalpy-300-80", "enthalpy at 300 K, 80 MPa", "kJ/kg", *printed("184.142828"), TABLE_5,
          "M", "outside", ("Enthalpy of water",),
          lambda: water.enthalpy(300.0, 80e6) / 1e3),
    Check("enthalpy-500-3", "enthalpy at 500 K, 3 MPa", "kJ/kg", *printed("975.542239"), TABLE_5,
          "M", "outside", ("Enthalpy of water",),
          lambda: water.enthalpy(500.0, 3e6) / 1e3),
    Check("heat-300-3", "specific heat at 300 K, 3 MPa", "kJ/(kg·K)", *printed("4.17301218"), TABLE_5,
          "M", "outside", ("Specific heat of water",),
          lambda: water.specific_heat(300.0, 3e6) / 1e3),
    Check("heat-300-80", "specific heat at 300 K, 80 MPa", "kJ/(kg·K)", *printed("4.01008987"), TABLE_5,
          "L", "outside", ("Specific heat of water",),
          lambda: water.specific_heat(300.0, 80e6) / 1e3),
    *(
        Check(f"boiling-pressure-{kelvin}", f"boiling pressure at {kelvin} K", "MPa", *printed(digits), TABLE_35,
              "M", "outside", ("Boiling pressure of water",),
              lambda kelvin=kelvin: water.saturation_pressure(kelvin) / 1e6)
        for kelvin, digits in ((300, "3.53658941e-3"), (500, "2.63889776"), (600, "12.3443146"))
    ),
    *(
        Check(f"boiling-temperature-{megapascal}", f"boiling temperature at {megapascal} MPa", "K", *printed(digits),
              TABLE_36,
              "M", "outside", ("Boiling temperature of water",),
              lambda megapascal=megapascal: water.saturation_temperature(megapascal * 1e6))
        for megapascal, digits in ((0.1, "372.755919"), (1.0, "453.035632"), (10.0, "584.149488"))
    ),
    *(
        Check(f"density-{celsius}", f"density at {celsius} °C", "kg/m³", *printed(digits), INDUSTRIAL,
              "L", "outside", ("Density of water",),
              lambda celsius=celsius: water.density(celsius + 273.15))
        for celsius, digits in ((20, "998.206"), (60, "983.211"), (93, "963.279"))
    ),
    *(
        Check(f"heat-{celsius}", f"specific heat at {celsius} °C", "J/(kg·K)", *printed(digits), INDUSTRIAL,
              "L", "outside", ("Specific heat of water",),
              lambda celsius=celsius: water.specific_heat(celsius + 273.15))
        for celsius, digits in ((20, "4184.8"), (60, "4182.8"), (93, "4208.3"))
    ),
    *(
        Check(f"expansion-{celsius}", f"cubic expansion at {celsius} °C", "1/MK", *printed(digits), INDUSTRIAL,
              "L", "outside", ("Expansion of water",),
              lambda celsius=celsius: water.thermal_expansion(celsius + 273.15) * 1e6)
        for celsius, digits in ((20, "206.610"), (60, "523.133"), (93, "713.302"))
    ),
    *(
        Check(f"compressibility-{celsius}", f"isothermal compressibility at {celsius} °C", "1/TPa", *printed(digits),
              INDUSTRIAL,
              "L", "outside", ("Compressibility of water",),
              lambda celsius=celsius: water.compressibility(celsius + 273.15) * 1e12)
        for celsius, digits in ((20, "458.248"), (60, "443.410"), (93, "477.607"))
    ),
    # The short correlations claim 1 % of viscosity, 2 % of conductivity, and so 3 % of the Prandtl number.
    *(
        Check(f"{name}-{celsius}", f"{quantity} at {celsius} °C", unit, float(digits), share * float(digits),
              INDUSTRIAL, "L", "outside", (formula,),
              lambda celsius=celsius, law=law, factor=factor: law(celsius + 273.15) * factor)
        for name, quantity, unit, formula, law, factor, share, values in TRANSPORT
        for celsius, digits in zip((20, 60, 93), values, strict=True)
    ),
]  # fmt: skip


@pytest.mark.parametrize("check", CHECKS, ids=str)
def test_value(check: Check) -> None:
    """Water has the published value to its last printed digit."""
    check.hold()


@pytest.mark.parametrize("celsius", [1.0, 20.0, 60.0, 93.0, 109.0])
def test_viscosity_and_conductivity_follow_the_full_formulation(celsius: float) -> None:
    """The short correlations stay within their stated 1 % and 2 % of CoolProp's full formulation, at 0.2 MPa."""
    from CoolProp.CoolProp import PropsSI

    kelvin = celsius + 273.15
    full = {name: PropsSI(name, "T", kelvin, "P", 2e5, "Water") for name in ("V", "L", "Prandtl")}
    assert float(water_transport.viscosity(kelvin)) == pytest.approx(full["V"], rel=0.01)
    assert float(water_transport.conductivity(kelvin)) == pytest.approx(full["L"], rel=0.02)
    assert float(water_transport.prandtl(kelvin)) == pytest.approx(full["Prandtl"], rel=0.03)


@pytest.mark.parametrize("kelvin", [275.0, 293.15, 333.15, 366.15, 403.15])
@pytest.mark.parametrize("megapascal", [0.5, 1.0, 1.5])
def test_region_1_agrees_with_an_independent_library(kelvin: float, megapascal: float) -> None:
    """At pump pressure density, specific heat and enthalpy agree with CoolProp's IF97 to eight digits."""
    from CoolProp.CoolProp import PropsSI

    at = ("T", kelvin, "P", megapascal * 1e6, "IF97::Water")
    assert float(water.density(kelvin, megapascal * 1e6)) == pytest.approx(PropsSI("D", *at), rel=1e-8)
    assert float(water.specific_heat(kelvin, megapascal * 1e6)) == pytest.approx(PropsSI("C", *at), rel=1e-8)
    assert float(water.enthalpy(kelvin, megapascal * 1e6)) == pytest.approx(PropsSI("H", *at), rel=1e-8)


@pytest.mark.parametrize("celsius", [10.0, 20.0, 60.0, 93.0, 130.0])
def test_expansion_and_compressibility_follow_the_scientific_formulation(celsius: float) -> None:
    """CoolProp's IAPWS-95 is another equation of state; at 1 MPa they agree within half a per cent."""
    from CoolProp.CoolProp import PropsSI

    at = ("T", celsius + 273.15, "P", 1e6, "Water")
    grown, shrunk = (PropsSI(name, *at) for name in ("isobaric_expansion_coefficient", "isothermal_compressibility"))
    assert float(water.thermal_expansion(celsius + 273.15, 1e6)) == pytest.approx(grown, rel=5e-3)
    assert float(water.compressibility(celsius + 273.15, 1e6)) == pytest.approx(shrunk, rel=5e-3)
