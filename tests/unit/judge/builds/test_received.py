"""A report held against its edition: nothing in it is believed that the edition's rules can decide."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import pytest

from guidegen.judge.builds.codes import BuildCode
from guidegen.judge.builds.received import GuideRules, HoldRule, problems_of, unmet
from guidegen.judge.builds.report import BuildReport, FailedReading, HoldReading, write
from guidegen.judge.builds.text import read
from guidegen.trade.paths import known_facts

DAY = datetime.date(2026, 3, 1)
OWN = "you trim your own boiler"
RULES = GuideRules(
    revision="B",
    published=datetime.date(2026, 1, 1),
    phases={"open": None, "trim": OWN},
    holds=(
        HoldRule("1.2", "open/measure", None, "at_most", "40 °C", wants_reading=True, in_phase=True),
        HoldRule("2.1", "trim/gauge", OWN, "at_most", "0 tight places", wants_reading=False, in_phase=True),
        HoldRule("A.1", "remake/count", None, "at_most", "2 attempts", wants_reading=False, in_phase=False),
    ),
    conditions=frozenset({OWN}),
)
SOUND = BuildReport(
    variant="plain-one",
    variant_name="Plain One",
    kit="collar",
    kit_name="Collar",
    revision="B",
    edition="2026.1",
    finished=datetime.date(2026, 2, 1),
    doer="owner",
    signer="electrically-skilled",
    publish=True,
    case=(OWN,),
    readings=(HoldReading("1.2", "open/measure", "passed", "38 °C"), HoldReading("2.1", "trim/gauge", "passed")),
    minutes={"open": 30, "trim": 60},
    failures=(FailedReading("1.2", "open/measure", "44 °C", "waited"), FailedReading("A.1", "remake/count", "3", "")),
    facts={"boiler.clearance": "19 mm", "boiler.material": "brass"},
)


def found(**changes: Any) -> list[tuple[str, int]]:
    """Code and line of each problem of the sound report with changes, as it is read from its text."""
    received = read(write(replace(SOUND, **changes)))
    problems = list(problems_of(received, RULES, known_facts(), DAY))
    assert all(one.fix for one in problems)
    return [(one.code, one.line) for one in problems]


def test_a_sound_report_has_no_problem_and_counts() -> None:
    """Every hold point of its case passed, signed for and free to be published."""
    assert found() == []
    assert unmet(SOUND) == []


def test_another_case_has_other_hold_points() -> None:
    """Without its condition neither hold point nor minutes of the phase belong to it; with it both are wanted."""
    other: Mapping[str, Any] = {"case": (), "readings": SOUND.readings[:1], "minutes": {"open": 30}}
    assert found(**other) == []
    assert found(case=()) == [(BuildCode.OTHER_STEPS, 12), (BuildCode.OTHER_STEPS, 16)]
    assert found(readings=SOUND.readings[:1]) == [(BuildCode.HOLD_MISSING, 11)]


@pytest.mark.parametrize(
    ("changes", "code", "line"),
    [
        ({"revision": "C"}, BuildCode.UNKNOWN_PAIR, 3),
        ({"finished": datetime.date(2025, 12, 31)}, BuildCode.BAD_DAY, 6),
        ({"finished": datetime.date(2026, 3, 2)}, BuildCode.BAD_DAY, 6),
        ({"case": (OWN, "it rains")}, BuildCode.OTHER_STEPS, 6),
        ({"minutes": {"opne": 30}}, BuildCode.OTHER_STEPS, 16),
        ({"facts": {"boiler.clearence": "19 mm"}}, BuildCode.BAD_FACT, 26),
        ({"facts": {"boiler.clearance": "19"}}, BuildCode.BAD_FACT, 26),
        ({"facts": {"boiler.clearance": "19 g"}}, BuildCode.BAD_FACT, 26),
        ({"facts": {"boiler.material": "cheese"}}, BuildCode.BAD_FACT, 26),
    ],
)
def test_what_the_edition_says_otherwise_is_refused_at_its_line(
    changes: dict[str, Any], code: BuildCode, line: int
) -> None:
    """The line is counted in the text that is written of it."""
    assert found(**changes) == [(code, line)]


@pytest.mark.parametrize(
    ("reading", "code"),
    [
        (HoldReading("1.2", "open/measure", "passed", "44 °C"), BuildCode.NOT_SO),
        (HoldReading("1.2", "open/measure", "failed", "38 °C"), BuildCode.NOT_SO),
        (HoldReading("1.2", "open/measure", "passed"), BuildCode.NO_READING),
        (HoldReading("1.2", "open/measure", "passed", "hand-warm"), BuildCode.NO_READING),
        (HoldReading("1.2", "open/measure", "not-done", "38 °C"), BuildCode.NO_READING),
        (HoldReading("1.3", "open/measure", "passed", "38 °C"), BuildCode.OTHER_STEPS),
    ],
)
def test_a_result_is_not_believed(reading: HoldReading, code: BuildCode) -> None:
    """The limit decides; passed without a reading is passed by nobody."""
    assert found(readings=(reading, SOUND.readings[1])) == [(code, 12)]


def test_a_failure_that_was_none_is_refused() -> None:
    """38 °C is no failure of at most 40 °C."""
    assert found(failures=(FailedReading("1.2", "open/measure", "38 °C", "waited"),)) == [(BuildCode.NOT_SO, 20)]


def test_why_a_build_does_not_count_is_said() -> None:
    """Each reason by itself: an open hold point, nobody's signature, no consent."""
    undone = replace(SOUND, readings=(SOUND.readings[0], HoldReading("2.1", "trim/gauge", "not-done")))
    assert unmet(undone) == ["not done: 2.1 trim/gauge"]
    failed = replace(SOUND, readings=(HoldReading("1.2", "open/measure", "failed", "44 °C"), SOUND.readings[1]))
    assert unmet(failed) == ["failed: 1.2 open/measure"]
    assert unmet(replace(SOUND, signer="nobody")) == ["nobody electrically skilled signed before the power came on"]
    assert unmet(replace(SOUND, publish=False)) == ["the owner does not want it published"]
