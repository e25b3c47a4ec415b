"""The coil by itself, as it lies in the bag: from the front and above, to scale, with nothing inside it."""

from __future__ import annotations

import math

from guidegen.language import gettext
from guidegen.record.scene import Scene
from guidegen.site.drawings.space import TILT, Space
from guidegen.site.drawings.tube import half_turns, on_coil, open_end
from guidegen.site.drawings.view import COLUMN, WIDTH, Drawing, coil_reach, reach_for

EDGE = 12.0
"""Units above and below what is drawn."""


def coil_alone(scene: Scene) -> Drawing | None:
    """The view of a scene's coil; None where the kit brings none, or nobody knows how it is wound."""
    coil = scene.coil
    if coil is None or not coil.layers:
        return None
    reach = coil_reach(scene)
    scale = (WIDTH / 2 - COLUMN - 10) / reach_for(reach)
    low = min(one.from_mm or 0.0 for one in coil.layers)
    high = max((one.from_mm or 0.0) + one.turns * coil.pitch_mm for one in coil.layers) + coil.tube_mm
    zero = EDGE + (high * math.cos(TILT) + reach * math.sin(TILT)) * scale
    view = Drawing(
        name="bag",
        title=gettext("The coil by itself"),
        says=gettext("The coil from the front and above, drawn to scale."),
        height=zero + (reach * math.sin(TILT) - low * math.cos(TILT)) * scale + EDGE,
        scale=scale,
    )
    space = Space(view.sheet, scale, zero, 0.0)
    for layer in reversed(coil.layers):
        half_turns(space, coil, layer, front=False)
    for layer in coil.layers:
        half_turns(space, coil, layer, front=True)
        open_end(space, coil, layer)
    last = coil.layers[-1]
    view.targets["coil"] = on_coil(space, coil, last, min(last.turns, 1.0) * 0.42)
    return view
