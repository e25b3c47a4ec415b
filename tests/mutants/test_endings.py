"""Mutants made from the table: each act that ends a failing side left out or exchanged, with or without a thing."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from guidegen.judge.acts.row import rows
from tests.mutants.draft import Draft, draft
from tests.mutants.table import BANJO, EXCHANGE, LOOP, LOOP_WIRED, Mutant, survivors

GUIDES = (EXCHANGE, BANJO, LOOP, LOOP_WIRED)
STOPS = [name for name, row in rows().items() if row.place == "stop"]
LIVE = [name for name, row in rows().items() if row.effect == "care-in-use"]


def written(name: str, draft_: Draft) -> dict[str, Any]:
    """An act of the table with the things and numbers that it asks for."""
    row = rows()[name]
    of = next((one.id for one in draft_.facts.things.by_id.values()
               if row.of and ("any" in row.of or one.kind in row.of)), None)  # fmt: skip
    return {"act": name, **({"of": (of,)} if row.of else {}), **({"amount": "{watch_time}"} if row.amount else {})}


def endings(guide: tuple[str, str]) -> list[tuple[int, tuple[str, ...]]]:
    """The remedies of a guide that end the work: their index in the shared blocks, and the acts."""
    one = draft(*guide)
    used = {remedy.id for course in one.guide().resolved.courses for remedy in course.remedies}
    found = []
    for index, remedy in enumerate(one.shared["remedies"]):
        stop = remedy["then"].get("stop")
        if stop and remedy["id"] in used:
            found.append((index, (stop,) if isinstance(stop, str) else tuple(stop)))
    return found


def changed(guide: tuple[str, str]) -> Iterator[Mutant]:
    """Each act of each end dropped, exchanged for every other stop, and the end leading to each phase instead."""
    clean = draft(*guide)
    for index, acts in endings(guide):
        name = clean.shared["remedies"][index]["id"]

        def ending(then: dict[str, Any], says: str, index: int = index, name: str = name) -> Mutant:
            return Mutant("", f"{name}: {says}", guide, lambda one: one.shared["remedies"][index].update(then=then))

        for at, act in enumerate(acts):
            for other in [None, *STOPS]:
                if other not in acts:
                    new = [*acts[:at], *([written(other, clean)] if other else []), *acts[at + 1 :]]
                    yield ending({"stop": tuple(new)}, f"{other} in place of {act}")
        for phase in clean.procedure["phases"]:
            yield ending({"goto": phase["id"]}, f"goto {phase['id']}")


@pytest.mark.slow
@pytest.mark.parametrize("guide", GUIDES, ids="/".join)
def test_no_ending_can_be_changed(guide: tuple[str, str]) -> None:
    """Left out, exchanged, or leading back into the work: every one is refused, or cannot be written at all."""
    mutants = list(changed(guide))
    assert len(mutants) > 10
    assert survivors(mutants) == []


@pytest.mark.parametrize("act", LIVE)
def test_nothing_is_used_on_at_a_symptom_that_stops_the_use(act: str) -> None:
    """Each act with the machine in use, as check and as remedy of a display that runs away."""
    for name in ("check", "do"):
        one = draft(*LOOP)
        new = written(act, one)
        if rows()[act].hold:
            new["limit"] = "102 °C ± 1 K"
        one.procedure["faults"][0][name] = (new,)
        assert "ACT10" in {finding.rule for finding in one.findings()}


def test_no_author_says_whether_the_machine_is_used_on() -> None:
    """It has no field, so a trip cannot be called harmless."""
    one = draft(*EXCHANGE)
    one.procedure["faults"][1]["stop_use"] = False
    with pytest.raises(ValueError, match="follows from the symptom"):
        one.guide()


@pytest.mark.parametrize("says", ["Bridge it and try again.", "Go home.", "Do not switch the machine on again."])
def test_no_end_is_a_sentence(says: str) -> None:
    """Harmless or not, with the fix."""
    one = draft(*EXCHANGE)
    one.shared["remedies"][-1]["then"] = {"stop": says, "who_can_help": "a repair shop"}
    with pytest.raises(ValueError, match="a stop in words, not an act"):
        one.guide()
