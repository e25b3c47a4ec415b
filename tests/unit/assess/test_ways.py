"""Bolts under the coil, and what remedies take: each case occurs in the demonstration, each number is stated once."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from guidegen.assess import guiding, verdict
from guidegen.assess.coil_place import bolt_numbers
from guidegen.judge.fit.requirements import evaluate
from guidegen.judge.logic import Interval, Truth, any_of, at_least
from guidegen.judge.safety.facts import word
from guidegen.judge.safety.lint import lint
from guidegen.judge.safety.resolve import resolve
from guidegen.trade.machine import Machine
from tests.fixtures.wall_cases import choice, fact, protrusion, put_on, with_protrusions
from tests.mutants.draft import COMPUTED, catalogue, draft
from tests.mutants.edits import entries

pytestmark = pytest.mark.slow

KNOWN = catalogue()
KIT = KNOWN.kit("feed-preheater")


def judged(variant: str) -> verdict.Judged:
    """A variant of the demonstration with the Feed Preheater."""
    return verdict.judged(KNOWN, KNOWN.machine(variant), KIT, "next")


@pytest.mark.parametrize(
    ("variant", "way", "met"),
    [
        ("bracken-a", "usual", True),
        ("bracken-c", "usual", True),
        ("tamsin-mk1", "short-key", False),
        ("tamsin-mk2", "short-key", False),
        ("tamsin-mk3", "coil-off-first", False),
        ("tamsin-mk1-120", "unknown", None),
    ],
)
def test_every_case_occurs_among_the_variants(variant: str, way: str, met: bool | None) -> None:
    """Reached as usual, only with the short key, coil off first, and nobody can tell."""
    pair = judged(variant)
    reached = next(one for one in verdict.fit_part(pair.check).reasons if one.id == "bolts-reached")
    access = verdict.bolts(KIT, pair)
    assert (pair.ways["bolts.way"].text, reached.met) == (way, met)
    assert access is not None
    assert access.way == way
    assert (access.coil_off_minutes is not None) == (way == "coil-off-first")


def settling(variant: str, settles: bool) -> Machine:
    """A variant whose boiler gasket settles, or not, in the first heat."""
    machine = KNOWN.machine(variant)
    seal = machine.inventory["boiler-seal"].model_copy(update={"settles": settles})
    return machine.model_copy(update={"inventory": {**machine.inventory, "boiler-seal": seal}})


@pytest.mark.parametrize(
    ("variant", "settles", "outcome", "met"),
    [
        ("tamsin-mk3", False, "fits-with-conditions", False),
        ("tamsin-mk3", True, "does-not-fit", False),  # only taking the coil off reaches its bolts
        ("tamsin-mk2", True, "fits-with-conditions", False),  # the short key reaches them with the coil on
        ("bracken-a", True, "fits", True),
    ],
)
def test_a_gasket_that_settles_has_to_be_reached_again(variant: str, settles: bool, outcome: str, met: bool) -> None:
    """Decided before anybody orders, with the reason; not by an instruction that cannot be made."""
    pair = verdict.judged(KNOWN, settling(variant, settles), KIT, "next")
    fit = verdict.fit_part(pair.check)
    reached = next(one for one in fit.reasons if one.id == "bolts-reached")
    assert (fit.outcome, reached.met) == (outcome, met)


def test_whoever_forgets_to_tighten_a_gasket_again_is_told_which() -> None:
    """The joint, the act, and what else there is."""
    one = draft("tamsin-mk3", "feed-preheater")
    for step in entries(one, "put-boiler-back"):
        if step.get("id") == "bolts-in":
            step["order"]["puts"] = ["unsettled"]
    (found,) = {str(finding.problem()) for finding in one.findings() if finding.rule == "ACT07"}
    assert found.startswith("content/procedures/")
    assert "before `tighten-again`, and the seal of boiler-seal settles in the first heat" in found
    assert "take a seal that does not settle" in found


def bolted(**facts: str) -> Machine:
    """The Mark 2 with other facts about its bolts."""
    machine = KNOWN.machine("tamsin-mk2")
    made = {name: choice(text) if name == "undone_from" else fact(text) for name, text in facts.items()}
    bolts = machine.boiler.bolts.model_copy(update=made)
    return machine.model_copy(update={"boiler": machine.boiler.model_copy(update={"bolts": bolts})})


@pytest.mark.parametrize(
    ("facts", "met"),
    [
        ({"undone_from": "unknown", "head_room": "unknown"}, None),
        ({"undone_from": "unknown"}, None),
        ({"head_room": "unknown"}, None),
        ({"undone_from": "below", "head_room": "unknown"}, True),
        ({"head_room": "34.6 mm"}, True),
        ({"head_room": "34.4 mm"}, None),
        ({"head_room": "31 mm"}, False),
        ({"engagement": "unknown"}, False),
        ({"engagement": "unknown", "head_room": "30 mm"}, None),
        ({"circle": "111.6 mm ± 0.5 mm"}, True),  # 70.2 mm of boiler, four tubes of 8.05 mm, 8.6 mm of head: 111.0 mm
        ({"circle": "111.4 mm ± 0.5 mm"}, None),
        ({"circle": "111.6 mm ± 0.5 mm", "head": "unknown"}, None),
        ({"circle": "unknown"}, None),
    ],
)
def test_unknown_is_never_reachable(facts: dict[str, str], met: bool | None) -> None:
    """By hand: 25 mm ± 0.5 mm of key and 8 mm ± 1 mm of thread need 31.5 to 34.5 mm below the coil."""
    pair = verdict.judged(KNOWN, bolted(**facts), KIT, "next")
    reached = next(one for one in verdict.fit_part(pair.check).reasons if one.id == "bolts-reached")
    assert reached.met is met


def test_the_requirement_says_what_its_numbers_say() -> None:
    """Over random bolts the kit's requirement is what the computed room and circle give, put together by hand."""
    chance = random.Random(5)
    seen = set()
    for _ in range(60):
        room, circle = chance.choice([8, 15, 19, 33, 40]), chance.choice([82, 88, 96, 106, 112])
        machine = bolted(head_room=f"{room} mm ± 1 mm", circle=f"{circle} mm ± 0.5 mm", undone_from="above")
        coil = KIT.coil
        assert coil is not None
        numbers = bolt_numbers(machine, KIT, coil.possible(machine))
        by_hand = any_of([
            at_least(Interval.between((room - 1) / 1e3, (room + 1) / 1e3), numbers["bolts.key_room"]),
            at_least(Interval.between((circle - 0.5) / 1e3, (circle + 0.5) / 1e3), numbers["bolts.key_circle"]),
        ])  # fmt: skip
        check = verdict.judged(KNOWN, machine, KIT, "next").check
        assert next(one.truth for one in check.evaluation.judged if one.condition.id == "bolts-reached") is by_hand
        seen.add(by_hand)
    assert seen == set(Truth)


@pytest.mark.parametrize("variant", ["tamsin-mk1", "tamsin-mk2", "tamsin-mk3", "bracken-a"])
def test_the_bolts_are_looked_at_before_anything_is_cut(variant: str) -> None:
    """A hold point in the phase before the boiler comes out, whichever way the bolts are reached."""
    machine, pair = KNOWN.machine(variant), judged(variant)
    fit = verdict.fit_part(pair.check)
    made = guiding.made_guide(KNOWN, machine, KIT, fit, pair, COMPUTED, "next")
    assert made is not None
    steps = list(made.resolved.fitting.steps)
    looks = [
        at for at, step in enumerate(steps) if step.step.id.startswith(("bolts-", "coil-headroom")) and step.step.hold
    ]
    cuts = [at for at, step in enumerate(steps) if not step.step.reversible]
    assert looks
    assert all(looks[0] < at for at in cuts)
    assert not [one for one in lint(made) if one.blocks]


def test_the_coil_goes_on_last_where_no_key_fits_under_it() -> None:
    """On the Mark 3 the bolts are tight before the coil goes on; on the Mark 2 it is on before."""
    order = {}
    for variant in ("tamsin-mk2", "tamsin-mk3"):
        pair, machine = judged(variant), KNOWN.machine(variant)
        made = guiding.made_guide(KNOWN, machine, KIT, verdict.fit_part(pair.check), pair, COMPUTED, "next")
        assert made is not None
        ids = [step.step.id for step in made.resolved.fitting.steps]
        tight = next(at for at, name in enumerate(ids) if name.startswith("torque"))
        order[variant] = ids.index("slide-coil") < tight
    assert order == {"tamsin-mk2": True, "tamsin-mk3": False}


def minutes(variant: str, wall: str, bolts: str = "usual") -> float:
    """What the whole instruction takes one way, as the guide itself adds it up."""
    machine, pair = KNOWN.machine(variant), judged(variant)
    ways = {"wall.way": word(wall), "bolts.way": word(bolts)}
    one_way = replace(pair, ways=ways)
    facts = guiding.facts_for(KNOWN, machine, KIT, verdict.fit_part(pair.check), one_way, COMPUTED)
    assert KNOWN.shared is not None
    return resolve(KNOWN.procedures[KIT.id], KNOWN.shared, facts).fitting.minutes[1]


@pytest.mark.parametrize("variant", ["tamsin-mk1", "tamsin-mk2"])
def test_a_remedy_takes_what_the_instruction_takes_more(variant: str) -> None:
    """Trimming takes longer than exchanging in the guide, so it stands behind it in the self-check as well."""
    pair = judged(variant)
    stated = {one["id"]: one["minutes"] for one in pair.check.payload["remedies"]}
    plain = minutes(variant, "smooth")
    assert stated["fabrication:trim-protrusions"] == minutes(variant, "trimmed") - plain
    assert stated["part:exchange-boiler"] == minutes(variant, "exchanged") - plain
    assert stated["part:short-key"] == minutes(variant, "smooth", "short-key") - plain
    assert stated["fabrication:trim-protrusions"] > stated["part:exchange-boiler"]
    sets = [one.ids for one in evaluate(pair.check.requirements, pair.check.facts).remedies]
    assert sets[0][0] == "part:exchange-boiler"
    assert [one.minutes for one in pair.check.evaluation.remedies] == sorted(
        one.minutes for one in pair.check.evaluation.remedies
    )


def test_a_kit_as_a_remedy_takes_what_its_own_instruction_takes() -> None:
    """The Banjo Feed, before the Feed Preheater goes onto a Mark 1."""
    pair, machine = judged("tamsin-mk1"), KNOWN.machine("tamsin-mk1")
    banjo = KNOWN.kit("banjo-feed")
    own = verdict.judged(KNOWN, machine, banjo, "next")
    made = guiding.made_guide(KNOWN, machine, banjo, verdict.fit_part(own.check), own, COMPUTED, "next")
    stated = {one["id"]: one["minutes"] for one in pair.check.payload["remedies"]}
    assert made is not None
    assert stated["kit:banjo-feed"] == made.resolved.fitting.minutes[1]


@pytest.mark.parametrize(("way", "action", "wall"), [
    (None, "leave", "smooth"), ("in-place", "leave", "smooth"), ("from-below", "leave", "smooth"),
    ("from-above", "trim", "trimmed or exchanged"),
])  # fmt: skip
def test_a_boss_above_the_coil_is_the_same_on_every_page(way: str | None, action: str, wall: str) -> None:
    """From 41.5 mm ± 0.5 mm up, above a coil of 40 mm: left, unless the coil has to slide down over it.

    Without a way: the kit as the demonstration sells it.
    """
    mark_2 = KNOWN.machine("tamsin-mk2")
    boss = protrusion(mark_2.boiler.protrusions[0], from_="41.5 mm ± 0.5 mm", to="44 mm ± 0.5 mm")
    machine, kit = with_protrusions(mark_2, boss), put_on(KIT, way) if way else KIT
    pair = verdict.judged(KNOWN, machine, kit, "next")
    (recorded,) = verdict.protrusions(machine, kit, pair)
    made = guiding.made_guide(KNOWN, machine, kit, verdict.fit_part(pair.check), pair, COMPUTED, "next")
    assert made is not None
    cuts = [step for step in made.resolved.fitting.steps if step.step.cut is not None]
    assert (recorded.action, pair.ways["wall.way"].text, bool(cuts)) == (action, wall, action == "trim")
