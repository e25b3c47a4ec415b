"""Which act a step in words is; and that a step is no act whose act would lose or move anything.

The sound steps are those of a procedure that people worked by before there were acts. Each change beside one says
what makes the act less strict than the step, so that it must not be taken.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from guidegen import trade
from guidegen.assess.inventory import things_of
from guidegen.judge.acts.convert.matching import Match, NoAct, match
from guidegen.judge.acts.convert.vocabulary import Vocabulary
from guidegen.workshop.steps import Step

ROOT = Path(__file__).parents[5]
PULL: dict[str, Any] = {
    "id": "off", "do": "Pull both heater leads off their tabs.", "requires": {"mains": "off"},
    "removes": {"leads": ("heater-live", "heater-neutral")}, "role": "wiring", "minutes": 2.0,
}  # fmt: skip
MEASURE: dict[str, Any] = {
    "id": "measure", "do": "Hold the contact probe on the bare metal of the boiler.", "cooling": {"by": "measuring"},
    "sets": {"temperature": "cool"}, "uses": {"tools": ("contact-probe",)}, "role": "anyone", "minutes": 2.0,
    "hold": {
        "criterion": "It is not hotter than {touch_limit}.", "record": "temperature",
        "accept": {"at_most": "{touch_limit}", "instrument": "contact-probe"}, "on_fail": {"goto": "still-off"},
    },
}  # fmt: skip
DRAIN: dict[str, Any] = {
    "id": "drain", "do": "Tilt the machine over the basin until no water runs from the steam pipe.",
    "requires": {"pressure": "released"}, "sets": {"water": "drained"}, "role": "anyone", "minutes": 5.0,
    "hold": {
        "criterion": "No more drops fall.", "accept": {"at_most": "0 drops", "instrument": "sight"},
        "on_fail": {"goto": "drain"},
    },
}  # fmt: skip


@pytest.fixture(scope="module")
def vocabulary() -> Vocabulary:
    """The things of the demonstration's machines with the coil."""
    known = trade.load(ROOT)
    kit = known.kits["feed-preheater"]
    return Vocabulary([things_of(machine, kit)[0] for machine in known.machines.values()])


def changed(step: dict[str, Any], path: str, value: Any) -> Step:
    """A step with one field other, or without it."""
    keys = path.split(".")

    def put(part: dict[str, Any], rest: list[str]) -> dict[str, Any]:
        if len(rest) == 1:
            return {key: one for key, one in {**part, rest[0]: value}.items() if one is not None}
        return {**part, rest[0]: put(part.get(rest[0], {}), rest[1:])}

    return Step.model_validate(put(step, keys))


def test_a_step_is_the_act_with_its_things(vocabulary: Vocabulary) -> None:
    """The leads that it moves are a group of the machine; the tabs are named by the sentence alone."""
    made = match(Step.model_validate(PULL), vocabulary)
    assert isinstance(made, Match)
    assert made.act == {"id": "off", "act": "pull-leads", "of": "heater-leads", "at": "heater-tabs"}
    assert made.unsaid == ()


def test_a_limit_is_carried_over(vocabulary: Vocabulary) -> None:
    """The act has the author's limit; the row has the way back."""
    made = match(Step.model_validate(MEASURE), vocabulary)
    assert isinstance(made, Match)
    assert made.act == {"id": "measure", "act": "measure-temperature", "of": "boiler", "limit": "{touch_limit}"}


def test_what_differs_from_the_row_is_carried_over(vocabulary: Vocabulary) -> None:
    """Minutes, a reason of its own, a role that asks for more skill, and when."""
    more = {"minutes": 7.0, "why": "So.", "role": "electrically-skilled", "when": {"kit.coil": "yes"}, "only_if": "so"}
    made = match(Step.model_validate({**PULL, **more}), vocabulary)
    assert isinstance(made, Match)
    assert {name: made.act.get(name) for name in more} == more


LESS = [
    (PULL, "requires", {"mains": "proved_dead"}, "requires: without mains: proved_dead"),
    (PULL, "requires", {"mains": "off", "earth": "tested"}, "requires: without earth: tested"),
    (PULL, "removes", {"leads": ("heater-live",)}, "removes: heater-live, heater-neutral in place of heater-live"),
    (PULL, "sets", {"temperature": "cool"}, "sets: nothing in place of temperature cool"),
    (PULL, "refits", {"leads": ("boiler-earth",)}, "refits: nothing in place of boiler-earth"),
    (PULL, "records", ("sensor",), "records: without sensor"),
    (PULL, "acts", ("restrain",), "acts: without restrain"),
    (PULL, "hold", DRAIN["hold"], "hold: lost"),
    (PULL, "hazards", ("steam-release",), "hazards: without steam-release"),
    (PULL, "reversible", False, "as_found or reversible is another"),
    (PULL, "leak", {"rung": "cold", "medium": "water", "by": "machine-pump"}, "leak: one is a leak test"),
    (PULL, "isolate", {"by": "plug"}, "isolate: lost"),
    (MEASURE, "cooling", {"by": "waiting"}, "cooling.by: measuring in place of waiting"),
    (MEASURE, "cooling", None, "cooling: the old step has none"),
    (MEASURE, "hold.on_fail", {"stop": "Stop."}, "on_fail: leads to still-off in place of a stop"),
    (MEASURE, "hold.accept.instrument", "sight", "accept: read with contact-probe in place of sight"),
    (DRAIN, "hold.accept.at_most", "2 drops", "accept: 0 drops in place of at_most 2 drops"),
    (DRAIN, "hold.record", "drops", 'record: without "drops"'),
    (DRAIN, "hold.on_fail", {"goto": "open"}, "on_fail: leads to drain in place of open"),
]


@pytest.mark.parametrize(("step", "path", "value", "reason"), LESS, ids=[one[3] for one in LESS])
def test_an_act_that_is_less_strict_or_another_is_not_taken(
    step: dict[str, Any], path: str, value: Any, reason: str, vocabulary: Vocabulary
) -> None:
    """The reason names the field and what is lost."""
    made = match(changed(step, path, value), vocabulary)
    assert isinstance(made, NoAct)
    assert reason in made.reason


@pytest.mark.parametrize(
    ("do", "reason"),
    [
        ("Pull both heater leads off their tabs and bridge them.", "no act has these words"),
        ("Pull the leads of the pump off their tabs.", "no act has these words"),
        ("Whistle.", "`guidegen check --acts` lists them all"),
        ("Pull the heater leads off.", "the nearest is `pull-leads`"),
    ],
)
def test_words_that_no_act_has_are_left_to_the_author(do: str, reason: str, vocabulary: Vocabulary) -> None:
    """Nothing is guessed: a word more, a thing that nobody listed, a sentence of its own."""
    made = match(Step.model_validate({"id": "x", "do": do, "minutes": 1.0}), vocabulary)
    assert isinstance(made, NoAct)
    assert reason in made.reason


@pytest.mark.parametrize(
    ("amount", "taken"), [("{cold_time}", True), ("30 s", True), ("{cold_time} with the cover off", False)]
)
def test_an_amount_is_nothing_but_an_amount(amount: str, taken: bool, vocabulary: Vocabulary) -> None:
    """What stands where a time belongs is a time."""
    do = f"Run the pump against the blind filter for {amount}."
    step = {"id": "press", "do": do, "requires": {"mains": "pump_only"}, "minutes": 1.0}
    assert isinstance(match(Step.model_validate(step), vocabulary), Match) is taken


@pytest.mark.parametrize("more", ["and solder it shut", "without cooling", "under pressure"])
def test_what_a_step_declares_excuses_no_other_words(more: str, vocabulary: Vocabulary) -> None:
    """The steam pipe comes off, as declared; but nobody may lose what the sentence says beside it."""
    away = {"requires": {"pressure": "released", "water": "drained"}, "removes": {"joints": ("steam-pipe",)}}
    step = {"id": "off", "minutes": 3.0, **away}
    assert isinstance(match(Step.model_validate({**step, "do": "Undo the steam pipe."}), vocabulary), Match)
    assert isinstance(match(Step.model_validate({**step, "do": f"Undo the steam pipe {more}."}), vocabulary), NoAct)


def test_words_that_are_said_no_more_are_listed(vocabulary: Vocabulary) -> None:
    """A criterion, a method and a stop in other words are no reason to refuse, but to look."""
    step = changed({**MEASURE, "hold": {**MEASURE["hold"], "method": "Wait."}}, "hold.criterion", "Lukewarm.")
    made = match(step, vocabulary)
    assert isinstance(made, Match)
    assert made.unsaid == (("criterion", "Lukewarm."), ("method", "Wait."), ("record", "temperature"))
