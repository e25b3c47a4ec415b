"""The text of a build report: what is written is read back; what was damaged is named with line, column and fix."""

from __future__ import annotations

import datetime
import textwrap
from dataclasses import replace

import pytest

from guidegen.judge.builds.codes import BuildCode
from guidegen.judge.builds.private import looks_private
from guidegen.judge.builds.report import BuildReport, FailedReading, HoldReading, write
from guidegen.judge.builds.text import read
from guidegen.problems import CatalogueError

REPORT = BuildReport(
    variant="tamsin-mk1",
    variant_name="Tamsin Mark 1",
    kit="feed-preheater",
    kit_name="Feed Preheater",
    revision="B",
    edition="2025.3",
    finished=datetime.date(2025, 11, 8),
    doer="owner",
    signer="electrically-skilled",
    publish=True,
    case=("you trim your own boiler",),
    readings=(
        HoldReading("1.3", "prepare/as-found", "passed"),
        HoldReading("3.5", "take-out/measure", "passed", "38 °C"),
        HoldReading("8.26", "cold-test/look/measure", "not-done"),
    ),
    minutes={"prepare": 12, "take-out": 60},
    failures=(FailedReading("3.5", "take-out/measure", "44 °C", "waited another half an hour with the covers off"),),
    facts={"boiler.clearance": "26 mm ± 1 mm"},
    findings=("the ring gauge caught on a burr that the file had left, and passed once the burr was broken",),
)
TEXT = """\
Build report
Machine: tamsin-mk1 (Tamsin Mark 1)
Kit: feed-preheater, revision B (Feed Preheater)
Edition: 2025.3
Case: you trim your own boiler
Finished on: 2025-11-08
Carried out by: the owner
Signed before power came on by: an electrically skilled person
May be published: yes

Hold points:
1.3 prepare/as-found = passed
3.5 take-out/measure = 38 °C, passed
8.26 cold-test/look/measure = not done

Minutes of work in each phase:
prepare = 12
take-out = 60

What failed, and what helped:
3.5 take-out/measure = 44 °C, failed
helped: waited another half an hour with the covers off

Measured on this machine:
boiler.clearance = 26 mm ± 1 mm

Also noticed:
- the ring gauge caught on a burr that the file had left, and passed once the burr was broken

End of the build report
"""


def said(text: str) -> list[str]:
    """What is said of a text that is refused: place, code and message, without the fixes."""
    with pytest.raises(CatalogueError) as refused:
        read(text, "report.txt")
    assert all(one.fix for one in refused.value.problems)
    return [str(one).split("\n")[0] for one in refused.value.problems]


def test_a_report_is_a_text_that_people_read() -> None:
    """The whole of it, written by hand here: a page that writes one is held to the same bytes."""
    assert write(REPORT) == TEXT


def test_what_was_written_is_read_back() -> None:
    """All of it; and of an empty report what every report says."""
    assert read(TEXT).report == REPORT
    bare = replace(REPORT, case=(), readings=(), minutes={}, failures=(), facts={}, findings=(), publish=False)
    assert read(write(bare)).report == bare


def test_a_letter_round_it_is_passed_over_and_its_wrapping_undone() -> None:
    """Quoted, with other line ends, and broken at 60 columns; greeting and name are kept nowhere."""
    wrapped = [piece for line in TEXT.splitlines() for piece in (textwrap.wrap(line, 60) or [""])]
    assert len(wrapped) > len(TEXT.splitlines())
    letter = "\r\n".join(["Hello,", *(f"> {line}" for line in wrapped), "Regards, Jo Longlast, 1 Somewhere Lane"])
    assert read(letter).report == REPORT


@pytest.mark.parametrize(
    ("old", "new", "place"),
    [
        ("Build report\n", "Report of mine\n", "1:1: B01 this is no build report: no line “Build report”"),
        ("\nEnd of the build report\n", "", "28:88: B02 the text ends before its line “End of the build report”"),
        ("Edition: 2025.3\n", "", "1:1: B01 the report has no line for edition"),
        ("Edition: 2025.3\n", "Edition: 2025.3\nEdition: 2025.2\n", "5:1: B03 “Edition: 2025.2”: said a second time"),
        ("= 38 °C, passed", "= 38 °C", "13:1: B03 a build report has no line “3.5 take-out/measure = 38 °C” here"),
        ("prepare = 12", "prepare = twelve", "17:1: B03 a build report has no line “prepare = twelve” here"),
        ("prepare = 12", "prepare = ١٢", "17:1: B03 a build report has no line “prepare = ١٢” here"),
        ("published: yes", "published: maybe", "9:1: B03 “maybe” is none of the answers"),
        ("on: 2025-11-08", "on: 2025-11-31", "6:1: B03 there is no day 2025-11-31"),
        ("1.3 prepare/as-found = passed\n", "1.3 prepare/as-found = passed\n" * 2,
         "13:1: B03 prepare/as-found is said twice"),
        ("covers off", "covers\u202e off",
         "22:1: B03 a character that cannot be seen in “helped: waited another half an hour with the covers"
         "\\u202e off”"),
    ],
)  # fmt: skip
def test_what_was_damaged_is_named_with_its_place(old: str, new: str, place: str) -> None:
    """Line and column are counted by hand from the text above."""
    assert old in TEXT
    assert said(TEXT.replace(old, new)) == [f"report.txt:{place}"]


@pytest.mark.parametrize(
    "words",
    [
        "write to jo@longlast.test if it helps",
        "ring me at +44 1632 960 123",
        "0049 30 901820 after six",
        "the machine stands in 12 Somewhere Lane",
        "regards, Jo",
        "ask Mr Longlast",
        "my serial number is K-117",
    ],
)
def test_a_name_or_an_address_is_refused_where_it_stands(words: str) -> None:
    """In what helped as in what else was noticed."""
    first = TEXT.replace("waited another half an hour with the covers off", words)
    assert [one.split(" looks like ")[0] for one in said(first)] == [f"report.txt:22:1: B11 “{words}”"]
    assert "B11" in said(TEXT.replace("- the ring gauge", f"- {words}, the ring gauge"))[0]


@pytest.mark.parametrize(
    "words",
    [
        "turned the nut 1/8 further, 24 bar for 10 min, then dry",
        "readings 0.12 Ω, 0.08 Ω and 0.15 Ω on 2026-01-17",
        "M5 8 mm long instead of M5 10 mm",
        "the street side of the machine was damp",
    ],
)
def test_words_of_the_bench_are_no_address(words: str) -> None:
    """Numbers with units, a date, a thread."""
    assert looks_private(words) is None


def test_a_second_report_in_one_text_is_no_part_of_the_first() -> None:
    """What stands behind the end is passed over; a second one inside is refused line by line."""
    assert read(TEXT + TEXT).report == REPORT
    torn = TEXT.replace("\nEnd of the build report\n", "")
    assert {one.split(": ")[1].split(" ")[0] for one in said(torn + TEXT)} == {BuildCode.GARBLED.value}
