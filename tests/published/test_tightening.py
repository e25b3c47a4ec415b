"""The greatest torque of a joint against ISO 228-1, VDI 2230's friction classes, and a textbook's hollow shaft."""

from __future__ import annotations

import math

import pytest

from guidegen.heat import threads, tightening
from tests.published.check import Check, printed

POCKET_BOOK = "ISO pipe threads, basic sizes, as a pocket book of mechanical engineers prints them"
BEER_JOHNSTON = (
    "Beer and Johnston, Mechanics of Materials, sample problem 3.7 (from memory): 21 ksi, 2.25 in, bore 1.5 in"
)
KSI, INCH, KIP_INCH = 6.894757e6, 25.4e-3, 112.98483

# outside, pitch, and minor diameter and pitch, mm
PIPE = {
    "G 1/8": ("9.728", "9.147", "8.566", "0.907"), "G 1/4": ("13.157", "12.301", "11.445", "1.337"),
    "G 3/8": ("16.662", "15.806", "14.950", "1.337"), "G 1/2": ("20.955", "19.793", "18.631", "1.814"),
}  # fmt: skip
FIELDS = ("diameter", "pitch_diameter", "minor_diameter", "pitch")
HOLLOW = tightening.Screw(threads.named("G 1/8"), 150e6, 0.14, 108e6, 7e-3, bore=5e-3, cross=3e-3)

CHECKS = [
    *(
        Check(f"{name}-{field}", f"{field.replace('_', ' ')} of {name}", "mm", *printed(text), POCKET_BOOK,
              "P", "typed", (),
              lambda name=name, field=field: getattr(threads.named(name), field) * 1e3)
        for name, texts in PIPE.items() for field, text in zip(FIELDS, texts, strict=True)
    ),
    Check("plastic-hollow", "torque that twists a hollow shaft off, shear yield 21 ksi", "kip·in", *printed("44.1"),
          BEER_JOHNSTON, "M", "outside", ("Plastic modulus of a hollow screw",),
          lambda: tightening.twisting_torque(tightening.plastic_modulus(2.25 * INCH, 1.5 * INCH),
                                             21 * KSI * math.sqrt(3)) / KIP_INCH),
]  # fmt: skip


@pytest.mark.parametrize("check", CHECKS, ids=str)
def test_value(check: Check) -> None:
    """The published value comes out."""
    check.hold()


@pytest.mark.parametrize(("metal", "dry", "least"), [
    ("A2-70", True, 0.20), ("A4-80", True, 0.20), ("8.8", True, 0.14), ("brass", True, 0.14), ("A2-70", False, 0.08),
])  # fmt: skip
def test_friction_is_the_low_end_of_its_class(metal: str, dry: bool, least: float) -> None:
    """VDI 2230 part 1, table A5, as two public pages reprint it.

    Class B 0.08 to 0.16, C from 0.14, D 0.20 to 0.35, E from 0.30.
    """
    assert tightening.least_friction(metal, dry) == least


@pytest.mark.parametrize("thread", ["M4", "M5", "M6", "M8"])
@pytest.mark.parametrize("friction", [0.08, 0.2])
def test_a_solid_metric_screw_is_that_of_the_guideline(thread: str, friction: float) -> None:
    """Without a bore the hollow section's equation is R8/4, which `test_threads` holds against published tables."""
    size = threads.nominal_diameter(thread), threads.COARSE_PITCH[thread]
    one = threads.named(thread)
    load = tightening.preload_at_yield(one, one.stress_diameter, 0.0, 0.0, friction, 450e6)
    assert float(load) == pytest.approx(float(threads.preload_at_yield(*size, friction, 450e6)), rel=1e-9)
    assert float(tightening.torque_of(one, load, friction)) == pytest.approx(
        float(threads.torque(load, *size, friction, head_ratio=1.2)), rel=1e-9
    )
    assert float(tightening.stripping_load(one, 8e-3, 1e8)) == pytest.approx(
        float(threads.stripping_load(*size, 8e-3, 1e8)), rel=1e-9
    )


@pytest.mark.parametrize("thread", PIPE)
def test_a_pipe_thread_is_sheared_on_five_sixths_of_its_length(thread: str) -> None:
    """Whitworth's profile is cut a sixth of its triangle deep, so at the outside the nut's tooth is 5/6 P wide."""
    one = threads.named(thread)
    whole = 1e8 * math.pi * one.diameter * 8e-3
    assert float(tightening.stripping_load(one, 8e-3, 1e8)) / whole == pytest.approx(5 / 6, abs=1e-3)


def test_three_ends_of_a_hollow_brass_screw() -> None:
    """By hand, with a pocket calculator from the equations: 27.3 mm², 95.6 mm³, 3.39 kN; 16.1 kN strip."""
    limits = tightening.greatest_torque(HOLLOW)
    # 150 * 27.3 * .9 / sqrt(1 + 3 * (27.3 * 4.5735 * (.907/pi/9.147 + .14/cos 27.5°) / 95.6)²) = 3388 N, arm 1.683 mm
    assert limits.screw == pytest.approx(5.70, abs=0.02)
    # .75 * 108 * pi * 9.728 * 7 * 5/6 = 14.44 kN, arm 1.683 mm
    assert limits.hole == pytest.approx(24.3, abs=0.1)
    # .75 * 95.6e-3 * 150 / sqrt 3
    assert limits.neck == pytest.approx(6.21, abs=0.02)
    assert limits.most == limits.screw


def test_a_solid_screw_has_no_neck() -> None:
    """M5 of A2-70, dry, in 8 mm of brass: 90 % of its yield decides, 5.6 N·m; a table prints 5.7 for wider heads."""
    limits = tightening.greatest_torque(tightening.Screw(threads.named("M5"), 450e6, 0.2, 108e6, 8e-3))
    assert limits.neck == math.inf
    assert limits.most == limits.screw == pytest.approx(5.6, abs=0.05)


def test_a_short_hole_decides() -> None:
    """1.5 mm of aluminium strip long before the screw yields."""
    limits = tightening.greatest_torque(tightening.Screw(threads.named("M5"), 450e6, 0.2, 90e6, 1.5e-3))
    assert limits.most == limits.hole < limits.screw


@pytest.mark.parametrize("change", [{"bore": 6e-3}, {"cross": 4e-3}, {"friction": 0.08}, {"yield_stress": 120e6}])
def test_less_metal_less_friction_and_less_strength_allow_less(change: dict[str, float]) -> None:
    """Each alone."""
    values = {name: getattr(HOLLOW, name) for name in HOLLOW.__slots__} | change
    assert tightening.greatest_torque(tightening.Screw(**values)).most < tightening.greatest_torque(HOLLOW).most


def test_no_brass_pipe_thread_of_an_eighth_bears_eighty_newton_metres() -> None:
    """Not even solid, in the longest hole."""
    solid = tightening.Screw(threads.named("G 1/8"), 150e6, 0.35, 108e6, 20e-3)
    assert tightening.greatest_torque(solid).most < 80


def test_a_thread_of_another_name_is_refused() -> None:
    """With the names that there are."""
    with pytest.raises(KeyError, match="M10, G 1/8, G 1/4"):
        threads.named("G 1/16")
