"""An input that is known worse, or better, moves the ranges of what depends on it, and no others."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from guidegen import trade
from guidegen.assess import Assessor
from guidegen.record import Assessment, Figure
from guidegen.record.places import figures

pytestmark = pytest.mark.slow
DRAWS = 512
STATED = {
    "group": ("machines/tamsin/family.yml", "mass: {is: 1.30 kg ± 0.02 kg"),
    "sensor": ("machines/tamsin/mk2.yml", "metal_share: {is: 70 %, from: 0 %, to: 100 %}"),
}


@pytest.fixture(scope="module")
def assessed(
    tmp_path_factory: pytest.TempPathFactory, lay_down_workshop: Callable[[Path], Path]
) -> Callable[..., Assessment]:
    """The Mark 2 with a kit that has no coil, one input written otherwise."""

    def assess(name: str = "group", text: str = STATED["group"][1]) -> Assessment:
        root = lay_down_workshop(tmp_path_factory.mktemp("ranges") / "workshop")
        path, stated = STATED[name]
        whole = (root / path).read_text(encoding="utf-8")
        assert whole.count(stated) == 1
        (root / path).write_text(whole.replace(stated, text), encoding="utf-8")
        known = trade.load(root)
        return Assessor(known, "next", DRAWS).assess(known.machines["tamsin-mk2"], known.kits["banjo-feed"])

    return assess


def half(figure: Figure) -> float:
    """Half the width of a range."""
    assert figure.low is not None
    assert figure.high is not None
    return (figure.high - figure.low) / 2


def test_the_range_of_a_sum_is_what_the_guide_to_uncertainty_says(assessed: Callable[..., Assessment]) -> None:
    """Mass of boiler, group and water: independent normals add in quadrature (JCGM 100:2008, equation 10).

    The 2 ml of water weigh 0.96 g each at 100 °C; every measured ± is a 95 % interval.
    """
    for text, group in ((STATED["group"][1], 0.02), ("mass: {is: 1.30 kg ± 0.20 kg", 0.20)):
        made = assessed("group", text).budget.without.mass_kg
        assert half(made) == pytest.approx((group**2 + 0.005**2 + 0.0019**2) ** 0.5, rel=0.08)


def test_a_better_known_input_narrows_what_depends_on_it(assessed: Callable[..., Assessment]) -> None:
    """Where the sensor sits is what the drop depends on most; once it is known, the range shrinks and mass does not."""
    wide, narrow = assessed(), assessed("sensor", "metal_share: 70 % ± 1 %")
    drop = "drinks.double.without.sensor_drop_k"
    assert "sensor.metal_share" in wide.influence[drop]
    assert "sensor.metal_share" not in narrow.influence[drop]
    ranges = [dict(figures(one))[drop] for one in (wide, narrow)]
    assert half(ranges[1]) < 0.8 * half(ranges[0])
    assert ranges[0].stated == ranges[1].stated
    assert wide.budget == narrow.budget
