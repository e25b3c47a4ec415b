"""The hazards that the program knows: no author can soften them, leave them out, or take their avoidances away."""

from __future__ import annotations

import pytest

from guidegen.judge.safety.hazard_kinds import KNOWN, PROBABILITIES, SEVERITIES, avoidances
from guidegen.judge.safety.record import procedure_record
from guidegen.judge.safety.rules.hazards import EMPTY_ADVICE
from guidegen.judge.safety.verbs import is_imperative
from guidegen.workshop.procedures import Hazard
from tests.mutants.draft import Draft, draft
from tests.mutants.rows_hazards import every_list

pytestmark = pytest.mark.slow

PAIRS = [("tamsin-mk2", "feed-preheater"), ("tamsin-mk1", "banjo-feed"), ("bracken-a", "loop-controller")]


def printed(one: Draft) -> dict[str, list[str]]:
    """The hazards of every printed step, by its key."""
    record = procedure_record(one.guide())
    courses = [record["fitting"], *([record["restoring"]] if record["restoring"] else [])]
    parts = [part for course in courses for part in (*course["phases"], *course["remedies"])]
    return {step["anchor"]: [hazard["id"] for hazard in step["hazards"]] for part in parts for step in part["steps"]}


@pytest.mark.parametrize("name", KNOWN)
def test_an_avoidance_names_an_action(name: str) -> None:
    """Each is an imperative, and none says only to be careful (as HAZ06 asks of a workshop's own)."""
    assert KNOWN[name].avoid
    for text in KNOWN[name].avoid:
        assert is_imperative(text), text
        assert not EMPTY_ADVICE.search(text), text


@pytest.mark.parametrize("name", KNOWN)
def test_a_statement_can_only_be_made_worse(name: str) -> None:
    """Every severity and probability of the closed lists, against the least of the table."""
    known = KNOWN[name]
    for severity in SEVERITIES:
        for probability in PROBABILITIES:
            made = Hazard(kind=known.kind, severity=severity, probability=probability)  # type: ignore[arg-type]
            worse = SEVERITIES.index(severity) >= SEVERITIES.index(known.severity)
            surer = PROBABILITIES.index(probability) >= PROBABILITIES.index(known.probability)
            assert (known.milder(made) is None) == (worse and surer)


def test_a_workshop_adds_avoidances_and_takes_none_away() -> None:
    """Its own stand behind those of the program."""
    made = Hazard(kind="heat", severity="serious", probability="will", how_to_avoid=("Call a friend.",))
    assert avoidances("hot-metal", made) == (*KNOWN["hot-metal"].avoid, "Call a friend.")
    assert avoidances("of-its-own", made) == ("Call a friend.",)


@pytest.mark.parametrize(("variant", "kit"), PAIRS)
def test_every_step_that_needs_a_hazard_has_it_whatever_is_written(variant: str, kit: str) -> None:
    """With all hazards erased from every step: who opens, energises, cuts, heats or drains is still warned first."""
    bare = draft(variant, kit)
    for steps in every_list(bare):
        for step in steps:
            step.pop("hazards", None)
    found = printed(bare)
    carried = {name for names in found.values() for name in names}
    assert {"live-parts", "first-power", "hot-metal"} <= carried
    assert ("steam-release" in carried) == (kit != "loop-controller")
    opening = [names for anchor, names in found.items() if anchor.endswith(("undo-screws", "undo-again"))]
    assert opening
    assert all("live-parts" in names for names in opening)
    powering = [names for anchor, names in found.items() if anchor.endswith(("power-pump", "power-heat"))]
    assert all("first-power" in names for names in powering)
    sawing = [names for anchor, names in found.items() if "saw-drain-boss" in anchor]
    assert bool(sawing) == (kit == "feed-preheater")
    assert all({"saw-and-file", "metal-dust"} <= {*names} for names in sawing)


@pytest.mark.parametrize(("variant", "kit"), PAIRS)
def test_what_is_written_earlier_is_not_said_twice(variant: str, kit: str) -> None:
    """The cover's screws warn of live parts already, so lifting it does not."""
    found = printed(draft(variant, kit))
    assert "live-parts" in next(names for anchor, names in found.items() if anchor.endswith("undo-screws"))
    assert "live-parts" not in next(names for anchor, names in found.items() if anchor.endswith("lift-cover"))


def test_a_statement_without_a_step_may_stay() -> None:
    """A copied kit need not delete what its steps do not use yet, and the guide does not print it."""
    one = draft("tamsin-mk2", "feed-preheater")
    one.hazards["hazards"]["falling-anvil"] = {
        "kind": "pinch",
        "severity": "serious",
        "probability": "could",
        "type_of_hazard": "A heavy thing above",
        "consequence": "It can crush a hand.",
        "how_to_avoid": ["Hang it up elsewhere."],
    }
    one.procedure["residual"].append({"hazard": "falling-anvil", "remains": "The anvil."})
    assert [finding for finding in one.findings() if finding.blocks] == []
    assert "falling-anvil" not in {hazard["id"] for hazard in procedure_record(one.guide())["hazards"]}
