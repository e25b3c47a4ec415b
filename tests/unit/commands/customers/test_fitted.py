"""`guidegen fitted`: a report that somebody sent becomes a recorded build, once, and only as its edition allows."""

from __future__ import annotations

import io
import json
import shutil
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from guidegen import trade
from guidegen.commands import builds, main
from guidegen.editions import kept
from guidegen.judge.builds.report import BuildReport, FailedReading, write
from guidegen.record import Assessment
from tests.conftest import REPOSITORY

pytestmark = pytest.mark.slow

GUIDE, EDITION = "tamsin-mk2/feed-preheater", "2025.3"
OWN = "you trim your own boiler"
FILE = "machines/tamsin/builds.yml"
READ = {"°C": "36 °C", "Ω": "0.1 Ω", "MΩ": "20 MΩ", "mm": "9 mm", "bar": "25 bar"}
"""What passes in each unit: cooler, better earthed, better insulated, further off, tested higher than asked."""


@pytest.fixture(scope="module")
def record() -> Assessment:
    """The guide as its edition has it."""
    return kept.assessments(REPOSITORY, EDITION, GUIDE)[0]


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """A copy of the demonstration's data, to write into."""
    for name in ("machines", "content"):
        shutil.copytree(REPOSITORY / name, tmp_path / "workshop" / name)
    return tmp_path / "workshop"


def report(record: Assessment) -> BuildReport:
    """A report of one whole build: every hold point of the case passed, with a reading where one is wanted."""
    edition = kept.line(REPOSITORY)[-1]
    limits = {one.step: one for one in builds.rules(record, edition).holds}
    blank = builds.blank(REPOSITORY, GUIDE, EDITION, (OWN,))
    readings = []
    for one in blank.readings:
        rule = limits[one.step]
        reading = ("103 °C" if rule.sense == "within" else READ[rule.limit.split()[1]]) if rule.wants_reading else ""
        readings.append(replace(one, result="passed", reading=reading))
    return replace(
        blank, readings=tuple(readings), publish=True, signer="electrically-skilled", minutes={"prepare": 12},
        facts={"boiler.clearance": "19 mm"}, findings=("the key was long",),
        failures=(FailedReading("8.27", "cold-test/cold-look", "1", "the nut at the inlet a sixth further"),),
    )  # fmt: skip


def add(root: Path, text: str, *words: str) -> int:
    """Add a report that lies in a file."""
    (root / "report.txt").write_text(text, encoding="utf-8")
    return main(["--root", str(root), "fitted", "add", str(root / "report.txt"), *words])


def test_a_report_becomes_a_build_under_a_number(
    root: Path, record: Assessment, capsys: pytest.CaptureFixture[str]
) -> None:
    """What was there stays to the byte; the new one stands behind it, and what pages would say of it is said."""
    before = (root / FILE).read_bytes()
    assert add(root, write(report(record)), "--yes", "--accepted", "2025-12-01") == 0
    after = (root / FILE).read_bytes()
    assert after.startswith(before)
    printed = capsys.readouterr().out
    # The guide has 49 hold points: two are of the exchange boiler, four of remedies.
    assert "hold points passed: 43 of 43; failed on the way: 1" in printed
    assert f"+++ b/{FILE}" in printed
    assert "does not count" not in printed
    known = trade.load(root)
    build = builds.every(known)[-1]
    assert (build.id, build.variant, build.is_carried_out) == ("6", "tamsin-mk2", True)
    assert build.invented  # as everything of a workshop that is
    assert [(one.fact, one.is_) for one in build.facts] == [("boiler.clearance", "19 mm")]
    assert "report.txt" not in (root / FILE).read_text(encoding="utf-8")


def test_the_first_report_of_a_family_makes_its_file(root: Path, record: Assessment) -> None:
    """With a comment that says where it comes from; `check` reads it before it is there."""
    (root / FILE).unlink()
    assert add(root, write(report(record)), "--yes") == 0
    assert (root / FILE).read_text(encoding="utf-8").startswith("# Builds that owners reported")
    assert [one.id for one in builds.every(trade.load(root))] == ["1"]


def test_the_same_report_is_taken_once(root: Path, record: Assessment, capsys: pytest.CaptureFixture[str]) -> None:
    """A second copy of a mail is no second machine."""
    assert add(root, write(report(record)), "--yes") == 0
    once = (root / FILE).read_bytes()
    assert add(root, f"> {write(report(record))}", "--yes") == 4
    assert "this report is build 6 already" in capsys.readouterr().err
    assert (root / FILE).read_bytes() == once


def test_nothing_is_written_unasked(
    root: Path, record: Assessment, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Without a terminal and without --yes."""
    monkeypatch.setattr(sys, "stdin", io.StringIO())
    before = (root / FILE).read_bytes()
    assert add(root, write(report(record))) == 2
    assert "--yes writes without asking" in capsys.readouterr().err
    assert (root / FILE).read_bytes() == before


@pytest.mark.parametrize(
    ("old", "new", "code", "words"),
    [
        ("Edition: 2025.3", "Edition: 2025.4", 1, "B04 there is no edition 2025.4"),
        ("Edition: 2025.3", "Edition: next", 1, "B04 a draft is no edition"),
        ("Machine: tamsin-mk2", "Machine: tamsin-mk9", 1, "B05 edition 2025.3 has no instruction for tamsin-mk9"),
        ("36 °C, passed", "44 °C, passed", 1, "B09 take-out/measure: 44 °C has failed, the report says passed"),
        ("End of the build report", "", 1, "B02 the text ends before its line"),
        ("- the key was long", "- ring me at +44 1632 960 123", 1, "B11"),
        ("0.1 Ω, passed", "\x1b[31m0.1 Ω, passed", 1, "B03 a character that cannot be seen in “7.16 put-back"),
    ],
)
def test_a_damaged_or_foreign_report_changes_nothing(
    root: Path, record: Assessment, capsys: pytest.CaptureFixture[str], old: str, new: str, code: int, words: str
) -> None:
    """Each is named with the file, its line and a fix; no character of it drives the terminal."""
    text = write(report(record))
    assert old in text
    before = (root / FILE).read_bytes()
    assert add(root, text.replace(old, new), "--yes") == code
    said = capsys.readouterr().err
    assert words in said
    assert "report.txt:" in said
    assert "  fix: " in said
    assert "\x1b" not in said
    assert (root / FILE).read_bytes() == before


def test_bytes_that_are_no_text_are_refused(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """By place; and what is larger than any report before it is read."""
    (root / "report.txt").write_bytes(b"Build report\nMachine: \xff\n")
    assert main(["--root", str(root), "fitted", "add", str(root / "report.txt")]) == 1
    assert "report.txt:2:10: R01" in capsys.readouterr().err


def test_a_build_is_accepted_later(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Its line goes behind `publish`, and nothing else changes; a number that is not there is wrong usage."""
    before = (root / FILE).read_text(encoding="utf-8")
    assert main(["--root", str(root), "fitted", "accept", "5", "--date", "2026-03-09", "--yes"]) == 0
    changed = before.replace("publish: false\n", "publish: false\n    accepted: 2026-03-09\n")
    assert (root / FILE).read_text(encoding="utf-8") == changed
    capsys.readouterr()
    assert main(["--root", str(root), "fitted", "accept", "9", "--date", "2026-03-09", "--yes"]) == 2
    assert "the builds are 1, 2, 3, 4, 5" in capsys.readouterr().err
    assert main(["--root", str(root), "fitted", "accept", "5", "--date", "2999-01-01", "--yes"]) == 4


def test_all_builds_are_listed(capsys: pytest.CaptureFixture[str]) -> None:
    """Every report, also the one that nobody may publish; and what pages say of the others."""
    assert main(["--root", str(REPOSITORY), "fitted"]) == 0
    printed = capsys.readouterr().out
    assert [line.split()[0] for line in printed.splitlines()[:6]] == ["build", "1", "2", "3", "4", "5"]
    assert "tamsin-mk1 with feed-preheater: carried out 3 times, published reports 4" in printed
    assert "trim: 85 to 105, median 95 (2)" in printed
    assert "failed: cold-test/cold-look, 2 times" in printed
    assert main(["--root", str(REPOSITORY), "fitted", "--json"]) == 0
    assert [one["carried_out"] for one in json.loads(capsys.readouterr().out)] == [True, True, True, False, False]


def test_a_form_is_a_report_in_which_nothing_is_done(capsys: pytest.CaptureFixture[str], root: Path) -> None:
    """As it is printed it can be added, and does not count."""
    assert main(["--root", str(root), "fitted", "form", *GUIDE.split("/"), "--case", OWN]) == 0
    form = capsys.readouterr().out
    assert add(root, form, "--yes") == 0
    assert "does not count as carried out: not done: 1.3 prepare/as-found" in capsys.readouterr().out
    assert main(["--root", str(root), "fitted", "form", *GUIDE.split("/"), "--case", "it rains"]) == 2
