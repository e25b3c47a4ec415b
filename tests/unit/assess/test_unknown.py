"""A variant that nobody has measured: every kit is assessed, and none is promised."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from guidegen import pipeline, trade
from guidegen.commands.starting import new_variant

pytestmark = pytest.mark.slow

GIVEN = {"name": "Tamsin Mark 9", "years.from": "1999", "mains.voltage": "230 V~", "control.kind": "pid"}


@pytest.mark.parametrize("diameter", ["", "70 mm ± 1 mm"])
def test_a_drafted_variant_can_be_assessed_with_every_kit(
    tmp_path: Path, lay_down_workshop: Callable[[Path], Path], diameter: str
) -> None:
    """With nothing but a name, and with a diameter too: no kit that asks for what is unknown is said to fit.

    That it has an electronic control is known, and that it then has what the controller brings.
    """
    root = lay_down_workshop(tmp_path / "workshop")
    new_variant(root, None, "tamsin", GIVEN | ({"boiler.diameter": diameter} if diameter else {}))
    known = trade.load(root)
    for kit in known.kits:
        record = pipeline.assess_pair(known, "tamsin-mark-9", kit, draws=0)
        assert record.fit.outcome in ("cannot-tell-yet", "does-not-fit", "has-already"), kit
        assert record.procedure is None or record.fit.outcome == "cannot-tell-yet"
    coil = pipeline.assess_pair(known, "tamsin-mark-9", "feed-preheater", draws=0)
    wall = next(reason for reason in coil.fit.reasons if reason.id == "wall-tall-enough")
    assert wall.met is None
    assert wall.settles
