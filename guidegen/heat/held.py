"""What the skins conduct and lose over a step in time. Compiled, one row.

A conductance changes far more slowly than a state does. So it is worked out where skin or air have moved on, and held
over a step. At rest the equations have the stated conductances, to stay linear; what a skin loses beside those is held
as well, as it is in the step's middle, on the line through the last two beginnings.
"""

from __future__ import annotations

import numpy as np

from guidegen.heat.compiled import part
from guidegen.heat.layout import (
    BOILER,
    BOILER_SKIN,
    BOILER_TO_CASE,
    CASE_AIR,
    CASE_SKIN,
    CASE_TO_ROOM,
    COIL_SKIN,
    COIL_TO_CASE,
    GROUP,
    GROUP_SKIN,
    GROUP_TO_ROOM,
    MORE,
    ROOM,
    SHIELD,
    SKINS,
    Vector,
)
from guidegen.heat.skins import conductance

NEAR = 0.02
"""K by which skin and air together may have moved on before a conductance is worked out anew: some 1e-4 of it."""
MOST_AHEAD = 4.0
"""K: a longer way is no way but another beginning."""
AROUND, BEFORE = SKINS, 2 * SKINS
"""Where a memory has the surroundings, K, and how much warmer a skin was when the last step began; before them the
skins, K."""


@part
def forget(memory: Vector) -> None:
    """Make a memory that knows no conductance yet."""
    for i in range(3 * SKINS):
        memory[i] = np.inf


@part
def hold(
    y: Vector, p: Vector, metal: float, coil: bool, resting: bool, near: float, skins: Vector, memory: Vector
) -> None:
    """Write what the skins conduct, W/K, and at rest lose beside that, W, over a step that begins in a state.

    metal: the coil's mean, K. near: what `NEAR` is, or nought to work everything out.
    """
    air, room = y[CASE_AIR], p[ROOM]
    held(p, BOILER_SKIN, y[BOILER], air, p[BOILER_TO_CASE], p[SHIELD], resting, near, skins, memory)
    held(p, GROUP_SKIN, y[GROUP], room, p[GROUP_TO_ROOM], 1.0, resting, near, skins, memory)
    held(p, CASE_SKIN, air, room, p[CASE_TO_ROOM], 1.0, resting, near, skins, memory)
    if coil:
        held(p, COIL_SKIN, metal, air, p[COIL_TO_CASE], 1.0, resting, near, skins, memory)


@part
def held(p: Vector, skin: int, surface: float, around: float, stated: float, share: float, resting: bool,
         near: float, skins: Vector, memory: Vector) -> None:  # fmt: skip
    """The same for one skin, of which a share is bare."""
    further, warmer = surface - memory[skin], around - memory[AROUND + skin]
    moved = abs(further) + abs(warmer)
    if not moved <= near:
        memory[skin], memory[AROUND + skin] = surface, around
        # It is held for about as long a way as the last one was, so the middle of that is what it is to be of.
        if moved < MOST_AHEAD:
            skins[skin] = conductance(p, skin, surface + 0.5 * further, around + 0.5 * warmer)
        else:
            skins[skin] = conductance(p, skin, surface, around)
    apart, before = surface - around, memory[BEFORE + skin]
    memory[BEFORE + skin] = apart
    middle = apart + 0.5 * (apart - before) if before < np.inf else apart
    skins[MORE + skin] = share * (skins[skin] - stated) * middle if resting else 0.0
