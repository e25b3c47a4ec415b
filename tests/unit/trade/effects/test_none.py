"""A kit that changes nothing of the heat."""

from __future__ import annotations

from tests.unit.trade.effects.bench import NOTHING, fitted, kit, moved


def test_nothing_is_changed_to_the_bit() -> None:
    """The same network, in every draw too, and nothing in the budget."""
    before, after = fitted(NOTHING, draws=16)
    assert after.network is before
    assert not moved(before, after.network)
    assert not any(one.kit for one in after.parts)
    assert not list(kit(NOTHING).inputs())
    assert not kit(NOTHING).mains_work
