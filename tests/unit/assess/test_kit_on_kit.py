"""A kit that goes onto another: its figures are against the machine with the other, and the other is asked for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from typing import Any

import numpy as np
import pytest

from guidegen.assess import guiding, inputs, verdict
from guidegen.assess.asking import question, served
from guidegen.assess.assessor import Assessor
from guidegen.assess.budgeting import machine_mass
from guidegen.assess.inventory import things_of
from guidegen.assess.network_of import sides, with_kits, without_kit
from guidegen.heat.fleet import Fleet
from guidegen.heat.idle import IDLE_POWER
from guidegen.heat.network import Coil, Network
from guidegen.judge.acts.compiled import compiled
from guidegen.judge.comparison import Known
from guidegen.record.claims import brings_coil, has_coil
from guidegen.site.pages.comparison import comparison_page
from guidegen.site.pages.pair import pair_page
from guidegen.site.pages.replies import reply
from guidegen.trade import Catalogue
from guidegen.trade.check_first import check_first
from guidegen.trade.check_inventory import check_kit_things
from guidegen.trade.kit import Kit, effects_of
from guidegen.workshop.acts import WrittenAct
from guidegen.workshop.inventory import InventoryLead
from tests.fixtures.records import site
from tests.mutants.draft import catalogue
from tests.unit.trade.effects.bench import _EFFECT

FIRST, JACKET, HALVED = "feed-preheater", "coil-jacket", "50 %"
DRAWS = 8


def kit(*written: dict[str, Any], needs: str | None = FIRST, name: str = JACKET) -> Kit:
    """Return a kit that weighs nothing, opens nothing, and goes onto the coil of the demonstration."""
    made = catalogue().kit("banjo-feed").model_copy(
        update={"effects": tuple(_EFFECT.validate_python(one) for one in written), "needs": needs, "gives": {},
                "requirements": (), "name": "Coil Jacket", "inventory": {}}
    )  # fmt: skip
    made._id = name
    return made


def felt(by: str = HALVED) -> dict[str, Any]:
    """Return a loss of the coil, as a kit writes it."""
    return {"kind": "scale_loss", "loss": "coil_to_case", "by": by}


@cache
def known() -> Catalogue:
    """Return the demonstration with a jacket for the coil in it."""
    return replace(catalogue(), kits={**catalogue().kits, JACKET: kit(felt())})


def both_sides(one: Kit, draws: int = DRAWS) -> tuple[Network, Network]:
    """Return the networks of a Mark 2 before a kit that goes onto the coil, and after."""
    machine, first = known().machine("tamsin-mk2"), (known().kit(FIRST),)
    values = inputs.draw([*inputs.of_machine(machine, known()), *one.inputs(first)], draws)
    before, after = sides(machine, first, one, values)
    return before.network, after.network


def same(one: Network, other: Network) -> bool:
    """Return whether two networks are the same to the bit."""
    return one.parameters().tobytes() == other.parameters().tobytes()


def test_before_is_the_machine_with_the_first_kit_and_after_has_both() -> None:
    """Draw by draw, to the bit; what each brings keeps its own draws."""
    machine, coil, jacket = known().machine("tamsin-mk2"), known().kit(FIRST), known().kit(JACKET)
    values = inputs.draw([*inputs.of_machine(machine, known()), *coil.inputs(), *jacket.inputs()], DRAWS)
    plain = without_kit(machine, values)
    together = coil.model_copy(update={"effects": effects_of((coil, jacket))})
    before, after = both_sides(jacket)
    assert same(before, with_kits(machine, (coil,), values, plain).network)
    assert same(after, with_kits(machine, (together,), values, plain).network)
    assert not same(before, after)


def test_a_jacket_that_keeps_nothing_changes_nothing() -> None:
    """All of the loss is still all of it."""
    before, after = both_sides(kit(felt("100 %")))
    assert same(before, after)


def idle(network: Network) -> float:
    """Return the idle power, W, with losses in proportion, of the stated machine."""
    straight = replace(network.row(0), follows=np.zeros(1))
    return float(Fleet(straight.parameters()).idle()[1][0, IDLE_POWER])


def through(coil: Coil, boiler: float, out: float) -> float:
    """Return the conductance from boiler to room, W/K: wall and coil side by side into the case, then the case."""
    wall = (1 - coil.shields[0]) * boiler
    tube = 1 / (1 / coil.to_boiler[0] + 1 / coil.to_case[0])
    return float(1 / (1 / (wall + tube) + 1 / out))


def test_idle_power_falls_by_what_the_jacket_keeps() -> None:
    """Ohm's law for heat: conductances in series and side by side, worked out here, times boiler less room.

    It is what both kits together add, less what the first adds; the bare machine is computed by itself.
    """
    before, after = both_sides(known().kit(JACKET), 0)
    assert before.coil is not None
    assert after.coil is not None
    assert after.coil.to_case[0] == pytest.approx(before.coil.to_case[0] / 2)
    above = float(before.control.setpoint[0] - before.room[0])  # type: ignore[union-attr]
    ends = [through(one.coil, one.boiler_to_case[0], one.case_to_room[0]) for one in (before, after) if one.coil]
    assert idle(before) - idle(after) == pytest.approx((ends[0] - ends[1]) * above, rel=1e-6)
    machine = known().machine("tamsin-mk2")
    bare = without_kit(machine, inputs.draw([*inputs.of_machine(machine, known())], 0))
    with_both, with_first = idle(after) - idle(bare), idle(before) - idle(bare)
    assert idle(after) - idle(before) == pytest.approx(with_both - with_first)


def test_the_budget_counts_the_first_kit_to_the_machine() -> None:
    """A ring of brass on top: only that is added, and a second of a kind has its own draws."""
    ring = {"kind": "add_mass", "to": "boiler", "mass": "60 g ± 2 g", "material": "brass"}
    lower, upper = kit(ring, name="ring"), kit(ring, needs="ring", name="upper")
    every = replace(known(), kits={**known().kits, "ring": lower, "upper": upper})
    machine, first = every.machine("tamsin-mk2"), every.first("upper")
    assert [one.id for one in first] == [FIRST, "ring"]
    listed = [*inputs.of_machine(machine, every), *upper.inputs(first)]
    assert {"kit.mass", "kit.2.mass", "kit.holds"} <= {one.id for one in listed}
    asked, _ = question(machine, upper, listed, served(every), DRAWS, first)
    alone, _ = question(machine, lower, listed, served(every), DRAWS, first[:1])
    assert np.allclose(asked.added_mass(), asked.values["kit.2.mass"])
    assert np.allclose(machine_mass(asked), machine_mass(alone) + asked.values["kit.mass"])
    assert same(asked.plain, alone.fitted)


def outcome(variant: str, answers: Mapping[str, Known] | None = None) -> tuple[str, dict[str, bool | None]]:
    """Return the verdict of the jacket on a variant, and what of its requirements is met, by id."""
    fit = verdict.standing(known(), known().machine(variant), known().kit(JACKET)).fit
    return fit.outcome, {one.id: one.met for one in fit.reasons}


def test_the_first_kit_is_asked_for_and_brings_its_own_requirements() -> None:
    """It fits where the coil does, which goes on first; where a device is in the coil's way, neither does."""
    met = {f"needs-{FIRST}": False}
    assert outcome("tamsin-mk2") == ("fits-with-conditions", met)
    machine, jacket = known().machine("tamsin-mk2"), known().kit(JACKET)
    fit = verdict.standing(known(), machine, jacket).fit
    assert fit.reasons[0].remedies == (f"kit:{FIRST}",)
    assert [one.id for one in guiding.kits_before(known(), jacket, fit)] == [FIRST]
    for variant in known().machines.values():
        coil = verdict.standing(known(), variant, known().kit(FIRST)).fit
        on_it = verdict.standing(known(), variant, jacket).fit
        assert on_it.refused == coil.refused
        assert (on_it.outcome == "cannot-tell-yet") == (coil.outcome == "cannot-tell-yet")


def test_the_self_check_asks_whether_it_is_fitted() -> None:
    """The factory fitted none, and an owner may have: the question is asked, in words of the workshop's language."""
    found = verdict.judged(known(), known().machine("tamsin-mk2"), known().kit(JACKET), "next").check
    (asked,) = [one for one in found.plan.asked if one.fact == f"fitted.{FIRST}"]
    assert asked.question is not None
    assert asked.question.ask == "Is the Feed Preheater on your machine?"
    assert f"fitted.{FIRST}" in {fact["fact"] for fact in found.payload["rules"]["facts"]}


def test_what_both_cannot_do_to_one_machine_is_refused() -> None:
    """A second coil, and a jacket for one that nobody brings."""
    second = known().kit(FIRST).model_copy(update={"needs": FIRST})
    second._id = "second"
    (found,) = check_first(replace(known(), kits={**known().kits, "second": second}), second)
    assert "effect 2 of this kind with those of feed-preheater" in found.message
    (found,) = check_first(known(), kit(felt(), needs=None, name="alone"))
    assert "brings a coil" in found.message
    assert [*check_first(known(), known().kit(JACKET))] == []


@pytest.mark.slow
def test_its_guide_says_what_it_is_compared_with_and_what_comes_on_top() -> None:
    """Its figures without it are those of the first kit's guide with it; whoever has neither reads of both."""
    assessor, machine = Assessor(known(), "next", draws=0), known().machine("tamsin-mk2")
    coil, jacket = (assessor.assess(machine, known().kit(name)) for name in (FIRST, JACKET))
    assert jacket.main.without == coil.main.with_
    assert jacket.energy.without == coil.energy.with_
    assert jacket.budget.without == coil.budget.with_
    assert (has_coil(jacket), brings_coil(jacket), brings_coil(coil)) == (True, False, True)
    page = pair_page(jacket, "overview", site(coil, jacket)).body
    assert page.count("Without this kit means: on a machine that has the Feed Preheater.") == 2
    assert "Feed Preheater, which goes on first" in page
    for one in coil.downsides:
        assert (one.what in page.replace("&#39;", "'")) == (one.likely != "none" or one.what in str(jacket.downsides))
    assert "on a machine that has the Feed Preheater." in comparison_page(site(coil, jacket)).body
    said = reply(jacket, "cost").text
    assert "If you do not have the Feed Preheater yet, its price, work and downsides come on top" in said
    assert "Of the Feed Preheater, which goes on first: Two more joints" in reply(jacket, "leak").text


def test_an_act_names_what_the_first_kit_brought() -> None:
    """The coil is there as if it were the machine's own: nothing of the second kit's lists, and not to be put on."""
    machine, first = known().machine("tamsin-mk2"), (known().kit(FIRST),)
    things, words = things_of(machine, known().kit(JACKET), first)
    coil = things.get("coil")
    assert coil is not None
    assert (coil.kind, coil.brought, coil.listed, coil.takes) == ("coil", False, None, ())
    assert words["thing.coil.say"].text == "the coil"
    assert not compiled(WrittenAct(id="look", act="measure-live", of=("coil",), limit="8 mm"), things).faults


def test_a_thing_that_the_first_kit_has_not_is_named_with_that_kit() -> None:
    """The nearest name is one of its own."""
    machine, jacket, first = known().machine("tamsin-mk2"), known().kit(JACKET), (known().kit(FIRST),)
    things, _ = things_of(machine, jacket, first)
    (fault,) = compiled(WrittenAct(id="look", act="photograph", of=("coil-outlett",)), things).faults
    assert fault.message == "neither machine nor kit nor feed-preheater has a `coil-outlett`"
    assert fault.fix == "write coil-outlet"
    alone, _ = things_of(machine, jacket)
    assert compiled(WrittenAct(id="look", act="photograph", of=("coil-outlet",)), alone).faults


def test_what_ends_at_the_first_kit_ends_somewhere() -> None:
    """A lead of the second kit may end at the coil's eyelet, and on no machine without it."""
    lead = InventoryLead(kind="lead", say="the second bond", ends=("coil-eyelet", "earth-screw"))
    machines, first = [known().machine("tamsin-mk2")], (known().kit(FIRST),)
    bonded = known().kit(JACKET).model_copy(update={"inventory": {"second-bond": lead}})
    assert not [*check_kit_things(bonded, machines, first)]
    (problem,) = check_kit_things(bonded, machines)
    assert problem.message.endswith('no thing "coil-eyelet"')
