"""`guidegen which` on the demonstration: what is said, with which exit code."""

from __future__ import annotations

import json

import pytest

from tests.unit.commands.customers.order_texts import Run

MARK_3 = "mark.plate=the letters MK3 before the serial number"


def test_the_plate_names_the_variant(run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("which", "--answer", MARK_3) == 0
    assert capsys.readouterr().out == "probably a Tamsin Mark 3 (tamsin-mk3)\n"


def test_what_contradicts_is_said(run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    """Of 1250 W in the YAML."""
    assert run("which", "--answer", "heater.power=1150 W", "--answer", MARK_3) == 0
    printed = capsys.readouterr().out
    assert "the letters MK3 before the serial number, but heater power: 1150 W ± 25 W: no variant" in printed
    assert "look again, or have the owner write to bench@kettleby.example" in printed


def test_without_an_answer_the_first_question_is_printed(run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("which") == 0
    assert "look next: Which name is on the machine?" in capsys.readouterr().out


def test_as_json(run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("which", "--json", "--answer", "family=bracken") == 0
    found = json.loads(capsys.readouterr().out)
    assert (found["left"], found["against"]) == (["bracken-a", "bracken-b", "bracken-c"], [])


def test_what_is_no_answer_is_wrong_usage(run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("which", "--answer", "mark.plate=gold") == 2
    assert run("which", "--answer", "water_path.inlet.projection=3 mm") == 2
    assert "it does not tell the variants apart" in capsys.readouterr().err
