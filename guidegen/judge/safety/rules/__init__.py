"""All rules, in the order of the rules page. One module per topic, one function per rule."""

from __future__ import annotations

from guidegen.judge.safety.rules import (
    acts,
    around,
    cuts,
    devices,
    documents,
    earth,
    hazards,
    heat,
    holds,
    language,
    limits,
    mains,
    metals,
    order,
    parts,
    proof,
    quantities,
    ratings,
    texts,
    things,
    water,
)
from guidegen.judge.safety.rules.base import Found, Rule

__all__ = ["RULES", "Found", "Rule"]

RULES: tuple[Rule, ...] = (
    *acts.RULES,
    *limits.RULES,
    *order.RULES,
    *around.RULES,
    *hazards.RULES,
    *mains.RULES,
    *earth.RULES,
    *heat.RULES,
    *water.RULES,
    *proof.RULES,
    *ratings.RULES,
    *devices.RULES,
    *cuts.RULES,
    *quantities.RULES,
    *parts.RULES,
    *things.RULES,
    *holds.RULES,
    *language.RULES,
    *texts.RULES,
    *documents.RULES,
    *metals.RULES,
)
