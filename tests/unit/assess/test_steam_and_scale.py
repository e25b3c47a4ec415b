"""The pressure at which steam figures hold, and what scale in the coil costs."""

from __future__ import annotations

import pytest

from guidegen.assess import Assessor
from tests.mutants.draft import catalogue

pytestmark = pytest.mark.slow


def test_steam_stands_at_its_saturation_pressure() -> None:
    """At 130 °C 2.70 bar, of which the room has 1.01 (steam tables, from memory; iapws holds every pair)."""
    record = Assessor(catalogue(), "next", 0).assess(
        catalogue().machine("tamsin-mk2"), catalogue().kit("feed-preheater")
    )
    assert record.after_steam.pressure_bar.value == pytest.approx(1.69, abs=0.01)


def test_half_a_millimetre_of_scale_narrows_six_millimetres_to_five() -> None:
    """Between Poiseuille's d⁻⁴ and the d⁻⁴·⁷⁵ of Blasius' turbulence; in a coil a little more than in straight tube."""
    record = Assessor(catalogue(), "next", 0).assess(
        catalogue().machine("tamsin-mk2"), catalogue().kit("feed-preheater")
    )
    assert record.coil is not None
    clean, scaled = record.coil.pressure_loss_pa.value, record.coil.scaled_loss_pa.value
    assert clean is not None
    assert scaled is not None
    assert (6 / 5) ** 4 < scaled / clean < (6 / 5) ** 4.75
