"""What a downside of a kit can be about, and what every kit has to speak of before anyone orders."""

from __future__ import annotations

from typing import Literal, get_args

OfEveryKit = Literal[
    "irreversible", "warranty", "approval", "insurance", "mass", "energy", "warm-up", "noise", "leak", "scale", "water",
    "service", "resale", "time", "skills",
]  # fmt: skip
OfWaterJoints = Literal["descaling", "metals"]
OfEffects = Literal["frost", "stagnation", "profile"]
About = Literal[OfEveryKit, OfWaterJoints, OfEffects]

EVERY_KIT: tuple[OfEveryKit, ...] = get_args(OfEveryKit)
WATER_JOINTS: tuple[OfWaterJoints, ...] = get_args(OfWaterJoints)
"""What a kit speaks of besides, where fitting it opens or makes a joint of the water path."""
