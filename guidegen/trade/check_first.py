"""A kit against those that it goes onto: what both together do to one machine."""

from __future__ import annotations

from collections.abc import Iterator

from guidegen.problems import Code, Problem
from guidegen.trade.catalogue import Catalogue
from guidegen.trade.contradiction import problem
from guidegen.trade.effects import numbered
from guidegen.trade.kit import Kit, effects_of


def check_first(known: Catalogue, kit: Kit) -> Iterator[Problem]:
    """More effects of a kind than a machine can have, and a change of a coil that nothing brings.

    Nothing where the kit that it needs is not there, which is said by itself.
    """
    if kit.needs is not None and kit.needs not in known.kits:
        return
    first = known.first(kit.id)
    before = effects_of(first)
    names = " and ".join(one.id for one in first)
    every = [*numbered((*before, *kit.effects))][len(before) :]
    for index, (effect, number) in enumerate(every):
        if first and number > effect.most:
            words = f"effect {number} of this kind with those of {names}, where a machine has at most {effect.most}"
            fix = "delete needs:, or this effect"
            yield problem(kit, ("effects", index, "kind"), Code.OUT_OF_BOUNDS, words, fix)
        if effect.of_coil and not any(one.coil is not None for one in (*first, kit)):
            words = "neither this kit nor one that it needs brings a coil"
            fix = "write needs: with a kit that brings one"
            yield problem(kit, ("effects", index, "loss"), Code.OUT_OF_BOUNDS, words, fix)
