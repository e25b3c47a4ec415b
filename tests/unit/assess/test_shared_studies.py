"""What the kits of one variant share is computed once, and nothing else is shared."""

from __future__ import annotations

import pytest

from guidegen.assess import curves, inputs
from guidegen.assess.asking import question, served
from guidegen.assess.numbers import Studies, compute
from guidegen.assess.question import PairQuestion
from guidegen.heat.network import Network
from tests.mutants.draft import catalogue

KITS = ("feed-preheater", "loop-controller")


def asked(variant: str, kit: str) -> PairQuestion:
    """The question of a pair of the demonstration, at its stated values."""
    known = catalogue()
    machine, one = known.machine(variant), known.kit(kit)
    listed = [*inputs.of_machine(machine, known), *one.inputs()]
    return question(machine, one, listed, served(known), 0)[0]


def test_every_kit_has_its_own_drops_beside_those_without() -> None:
    """Whichever comes first."""
    studies = Studies()
    for kit in KITS:
        one = asked("tamsin-mk2", kit)
        pulls, changes = one.served.pulls, one.setpoint_changes
        made = compute(one, studies).what_if
        assert made.without_drop_k == curves.known(curves.drops(one.plain, pulls, changes))
        assert made.with_drop_k == curves.known(curves.drops(one.fitted, pulls, changes))
    assert curves.known(studies.drops(one.plain, one)) != curves.known(studies.drops(one.fitted, one))


def test_the_drops_without_a_kit_are_computed_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """And once more for each kit that changes the machine."""
    seen: list[bytes] = []
    drops = curves.drops

    def counted(network: Network, *rest: object) -> object:
        seen.append(network.row(0).parameters().tobytes())
        return drops(network, *rest)  # type: ignore[arg-type]

    monkeypatch.setattr(curves, "drops", counted)
    studies = Studies()
    for kit in KITS:
        compute(asked("tamsin-mk2", kit), studies)
    assert len(seen) == len(set(seen)) == 1 + len(KITS)
