"""Every question of the demonstration, with every answer that can be picked, on every variant with every kit.

What such an answer must do is read here from content/questions.yml by plain text, not by the models of the program.
"""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

import pytest
import yaml

from guidegen.assess.verdict import checked, computed
from guidegen.judge.comparison import comparisons_of
from guidegen.judge.fit.check import Check
from guidegen.judge.fit.order import to_order, write
from guidegen.judge.fit.result import result_of, result_on_data
from guidegen.judge.fit.walk import class_of, walk
from guidegen.judge.logic import Truth
from guidegen.trade import load
from guidegen.trade.machine import Machine
from guidegen.trade.paths import known_facts
from tests.fixtures.fit_demonstration import ROOT, demonstration, pairs

pytestmark = pytest.mark.slow

SALES = ("fits", "fits-with-conditions")
WRITTEN = yaml.safe_load((ROOT / "content/questions.yml").read_text(encoding="utf-8"))["questions"]
BY_FACT = {one["fact"]: one for one in WRITTEN}
VITAL = (
    "heater.terminal_distance", "protrusions.carry_device", "boiler.material", "group.material",
    "water_path.inlet.thread", "water_path.relief_branch", "water_path.check_valve",
)  # fmt: skip
"""Matters of life and limb: live parts, a device's seat, metals in the water, a joint, the way out of pressure."""


def effects(fact: str) -> dict[str, str]:
    """What each picked answer does: `hides`, `suspends`, `rules-out` or `nothing`."""
    choices = BY_FACT[fact].get("choices", [])
    return {one["is"]: "hides" if one.get("hides") else one.get("effect", "nothing") for one in choices}


def best_answers(done: Check) -> list[dict[str, Any]]:
    """Answers that end in a sale, found by going every way through the compiled rules."""
    rules = done.payload["rules"]
    goals = {-1 - rules["outcomes"].index(name) for name in SALES}
    found: list[dict[str, Any]] = []
    waiting: list[tuple[int, dict[str, Any]]] = [(rules["top"], {})]
    seen: set[int] = set()
    while waiting:
        branch, answers = waiting.pop()
        if branch in goals:
            found.append(answers)
        elif branch >= 0 and branch not in seen:
            seen.add(branch)
            node = rules["nodes"][branch]
            fact = rules["facts"][node[0]]
            for answer in possible(fact):
                way = class_of(fact, answer)
                assert way is not None
                waiting.append((node[1 + way], {**answers, fact["fact"]: answer}))
    return found


def possible(fact: Any) -> list[dict[str, Any]]:
    """Every picked answer, and a number of each class that such machines have."""
    answers: list[dict[str, Any]] = [{"is": word} for word in fact["choices"]]
    for unit in fact["units"]:
        low, high = unit["plausible"]
        counts = {low, high, *(cut for cut in unit["cuts"] if low <= cut <= high)}
        answers += [{"unit": unit["unit"], "count": count} for count in sorted(counts)]
    return [*answers, {"unsure": True}]


@pytest.mark.parametrize("pair", pairs())
def test_no_answer_that_hides_or_suspends_is_a_sale(pair: str) -> None:
    """The rest answered as well as can be: what cannot be described ends in cannot tell, what is ruled out in no."""
    done = demonstration()[pair]
    for answers in best_answers(done):
        for fact in done.payload["rules"]["facts"]:
            for word, effect in effects(fact["fact"]).items():
                found = walk(done.payload["rules"], {**answers, fact["fact"]: {"is": word}})
                if found["outcome"] is None or fact["fact"] not in found["asked"]:
                    continue
                if effect == "hides" and answers.get(fact["fact"]) == {"unsure": True}:
                    continue  # who is not sure may buy as well: the sale does not rest on it, only another remedy does
                if effect in ("hides", "suspends", "rules-out"):
                    assert found["outcome"] not in SALES, (fact["fact"], word)
                    assert to_order(done.payload, found, None) == ["Nothing to order on this outcome."]
                if effect == "rules-out":
                    assert found["outcome"] == "does-not-fit", (fact["fact"], word)
                if effect in ("hides", "suspends"):
                    assert found["outcome"] == "cannot-tell-yet", (fact["fact"], word)


def test_every_question_has_an_answer_for_what_nobody_thought_of() -> None:
    """Whoever sees something that no answer describes must not have to pick the nearest one."""
    for one in WRITTEN:
        if one.get("choices"):
            assert set(effects(one["fact"]).values()) & {"hides", "suspends"}, one["fact"]


def test_every_question_is_tried_somewhere() -> None:
    """The test above is not idle: each answer with an effect is reached on some pair, but for what no kit asks."""
    tried = {
        (fact["fact"], word)
        for done in demonstration().values()
        for fact in done.payload["rules"]["facts"]
        for word, effect in effects(fact["fact"]).items()
        if effect != "nothing"
    }
    wanted = {
        (one["fact"], word) for one in WRITTEN for word, effect in effects(one["fact"]).items() if effect != "nothing"
    }
    assert wanted - tried == {
        # No kit of the demonstration asks for it on a variant of which it is not known.
        (fact, word)
        for fact, word in wanted
        if fact == "water_path.relief_branch"
    }


@pytest.mark.parametrize("pair", pairs())
def test_an_answer_alone_sells_nothing_that_it_hides(pair: str) -> None:
    """`guidegen fit … --answer` with one answer, the variant's data standing in for the rest."""
    done = demonstration()[pair]
    for fact in done.payload["rules"]["facts"]:
        for word, effect in effects(fact["fact"]).items():
            answers = {fact["fact"]: {"is": word}}
            result = result_on_data(done, answers, walk(done.payload["rules"], answers))
            if effect != "nothing":
                assert result.outcome not in SALES, (fact["fact"], word)
            if effect in ("hides", "suspends"):
                assert any(BY_FACT[fact["fact"]]["photos"][0] in line for line in result.photographs)


def test_something_else_at_the_inlet_never_sells() -> None:
    """A bend, a tee or an added valve is not described by any variant, whatever is measured at it."""
    asked = 0
    for name, done in demonstration().items():
        rules = done.payload["rules"]
        if "water_path.inlet.fitting" not in {fact["fact"] for fact in rules["facts"]}:
            continue
        for word in ("something-else", "damaged"):
            asked += 1
            for answers in best_answers(done):
                given = {
                    **answers,
                    "water_path.inlet.fitting": {"is": word},
                    "water_path.inlet.projection": {"unit": "mm", "count": 12},
                }
                found = walk(rules, given)
                assert found["outcome"] == "cannot-tell-yet", name
                result = result_of(done.payload, given, found)
                assert any("the fitting from above" in line for line in result.photographs), name
                assert result.to_order == ("Nothing to order on this outcome.",)
                assert write(done.payload, given).endswith("Nothing to order on this outcome.\n")
    assert asked > 10


def vital_facts(done: Check) -> set[str]:
    """The matters of life and limb that the requirements of a pair compare."""
    every = (one.fact for each in done.requirements.roots for one in comparisons_of(each.test))
    return {fact for fact in every if fact in VITAL}


def having(node: Any, path: str, value: Any) -> Any:
    """The same model with another value behind a dotted name."""
    first, _, rest = path.partition(".")
    return node.model_copy(update={first: having(getattr(node, first), rest, value) if rest else value})


def with_evidence(fact: Any, evidence: str) -> Any:
    return replace(fact, evidence=evidence)


def weakened(machine: Machine, path: str, evidence: str) -> Machine:
    """The same variant, one fact of another evidence."""
    if not path.startswith("protrusions."):
        return having(machine, path, with_evidence(machine.fact(path), evidence))
    bands = tuple(
        one.model_copy(update={"carries": with_evidence(one.carries, evidence)}) for one in machine.boiler.protrusions
    )
    wall = with_evidence(machine.boiler.straight_wall, evidence)
    return having(having(machine, "boiler.protrusions", bands), "boiler.straight_wall", wall)


@pytest.mark.parametrize("evidence", ["assumed", "standard", "calculated"])
def test_life_and_limb_is_asked_where_nobody_sure_has_looked(evidence: str) -> None:
    """Made worse on each variant and fact: the fact is asked, and the variant's data alone sell nothing."""
    known = load(ROOT)
    tried = set()
    for name, done in demonstration().items():
        variant, kit = name.split("/")
        for path in sorted(vital_facts(done)):
            machine = weakened(known.machine(variant), path, evidence)
            worse = checked(known, machine, known.kit(kit), "next")
            row = next(row for row in worse.rows if path in {one.fact for one in row.evidence})
            assert row.met is None, (name, path)
            assert worse.evaluation.outcome not in SALES
            shown = next(one for one in row.evidence if one.fact == path)
            assert (shown.evidence, shown.settles) == (evidence, False)
            if done.evaluation.outcome in SALES:
                tried.add(path)
                assert path in {fact["fact"] for fact in worse.payload["rules"]["facts"]}, (name, path)
    assert tried >= {"heater.terminal_distance", "protrusions.carry_device", "boiler.material"}


@pytest.mark.parametrize("evidence", ["measured", "maker-document"])
def test_sure_evidence_settles_it(evidence: str) -> None:
    known = load(ROOT)
    machine = weakened(known.machine("bracken-a"), "heater.terminal_distance", evidence)
    done = checked(known, machine, known.kit("feed-preheater"), "next")
    assert "heater.terminal_distance" not in {fact["fact"] for fact in done.payload["rules"]["facts"]}
    assert next(row for row in done.rows if row.id == "live-parts-clear").met


def test_the_names_of_what_is_worked_out_follow_from_what_they_say() -> None:
    """Move each size of a machine and look: a computed name that changes is within the place that was moved."""
    known, table = load(ROOT), known_facts()
    kit = known.kit("feed-preheater")
    machine = known.machine("tamsin-mk1")
    before = computed(machine, known.kits, kit)
    moved_any = set()
    for path in ("boiler.diameter", "boiler.straight_wall", "boiler.bolts.circle", "boiler.bolts.engagement",
                 "boiler.bolts.head", "boiler.clearance", "boiler.wall", "water_path.inlet.projection"):  # fmt: skip
        fact = machine.fact(path)
        smaller = replace(fact, quantity=replace(fact.quantity, value=fact.quantity.value * 0.8))
        node = having(machine, path, smaller)
        after = computed(node, known.kits, kit)
        for name in before:
            if after.get(name) != before[name]:
                moved_any.add(name)
                assert table.within(name.split(":")[-1], path), (name, path)
    assert {"coil.height", "bolts.key_circle"} <= moved_any


def test_the_compiled_rules_carry_nothing_but_plain_data() -> None:
    for done in demonstration().values():
        assert json.loads(json.dumps(done.payload)) == done.payload


def test_unknown_is_never_taken_for_met() -> None:
    """A hidden comparison stays open whatever is known of its fact."""
    done = demonstration()["bracken-a/feed-preheater"]
    inlet = next(one for one in done.requirements.roots if one.id == "inlet-clears")
    hidden = set(comparisons_of(inlet.test))
    assert inlet.judge(done.facts) is Truth.TRUE
    assert inlet.judge(done.facts, hidden) is Truth.UNKNOWN
