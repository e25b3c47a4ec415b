"""`guidegen run`: a file is kept byte for byte with its description, or nothing is written at all."""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from guidegen import trade
from guidegen.commands import main

pytestmark = pytest.mark.slow

DEMONSTRATION = Path(__file__).parents[3]
Run = Callable[..., int]
ANSWERS = ("--column", "Zeit=time s", "--column", "T1=sensor °C", "--probe", "T1=type-k 1", "--lag", "T1=0.8 s ± 0.2 s")
SAID = ("--variant", "tamsin-mk2", "--kind", "shot", "--invented", "--logger", "four inputs", "--date", "2026-03-31")


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """The demonstration's data, to write into."""
    for name in ("machines", "content"):
        shutil.copytree(DEMONSTRATION / name, tmp_path / name, ignore=shutil.ignore_patterns("editions"))
    return tmp_path


@pytest.fixture
def log(tmp_path: Path) -> Path:
    """Five minutes with a shot from 100 s to 128 s, with decimal commas, in CP1252."""
    rows = []
    for row in range(600):
        t = row / 2
        pump = 100 <= t < 128
        fall = 4 * (t - 100) / 28 if pump else 4 * max(0.0, 1 - (t - 128) / 60) if t >= 128 else 0.0
        rows.append(f"{t:.1f};{93 - fall + 0.1 * (row % 2):.2f};{int(pump)}".replace(".", ","))
    path = tmp_path / "Morning 1.CSV"
    path.write_bytes("\r\n".join(["Gerät 4", "Zeit;T1;Pump", *rows, ""]).encode("cp1252"))
    return path


@pytest.fixture
def run(root: Path) -> Run:
    """Run the command there and return its exit code."""
    return lambda *words: main(["--root", str(root), "run", *map(str, words)])


def test_a_file_is_kept_with_what_stands_in_it(
    run: Run, root: Path, log: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The bytes are those of the logger; the description is read with the catalogue; what was inferred is said."""
    assert run("add", log, *SAID, *ANSWERS, "--kit", "feed-preheater", "--setpoint", "93 °C", "--yes") == 0
    said = capsys.readouterr().out
    assert (
        "inferred: letters CP1252, because it is no UTF-8; columns separated by a semicolon; decimal sign a comma"
        in said
    )
    assert 'inferred: "Pump" is pump\n' in said
    assert "shot 1: 100.0 s to 128.0 s, by the pump" in said
    folder = root / "machines" / "tamsin" / "runs"
    assert (folder / "morning-1.csv").read_bytes() == log.read_bytes()
    found = trade.load(root).runs["machines/tamsin/runs/morning-1.yml"]
    assert (found.variant, found.kits, found.invented, found.shots_by) == (
        "tamsin-mk2",
        ("feed-preheater",),
        True,
        "pump",
    )
    assert [(shot.begins.value, shot.ends.value) for shot in found.shots] == [(100.0, 128.0)]
    assert found.columns[0].probe is not None
    assert found.columns[0].probe.lag is not None
    assert (found.columns[0].place, found.columns[0].probe.lag.value) == ("sensor", 0.8)


def test_a_log_that_a_killed_command_left_is_taken(run: Run, root: Path, log: Path) -> None:
    """The same bytes without a description; other bytes under that name are somebody's, and stay."""
    folder = root / "machines" / "tamsin" / "runs"
    (folder / "morning-1.csv").write_bytes(b"t;T1\n0;93\n")
    assert run("add", log, *SAID, *ANSWERS, "--setpoint", "93 °C", "--yes") == 2
    assert (folder / "morning-1.csv").read_bytes() == b"t;T1\n0;93\n"
    shutil.copy(log, folder / "morning-1.csv")
    assert run("add", log, *SAID, *ANSWERS, "--setpoint", "93 °C", "--yes") == 0
    assert (folder / "morning-1.yml").is_file()


def test_what_is_corrected_in_the_description_counts(
    run: Run, root: Path, log: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The shot that somebody moved is the one that is shown."""
    assert run("add", log, *SAID, *ANSWERS, "--yes") == 0
    path = root / "machines/tamsin/runs/morning-1.yml"
    path.write_text(path.read_text("utf-8").replace("begins: 100.00 s", "begins: 99.5 s"), "utf-8")
    capsys.readouterr()
    assert run("show", "machines/tamsin/runs/morning-1.yml") == 0
    assert "shot 1: 99.5 s to 128.0 s, as described\n" in capsys.readouterr().out


def test_questions_and_refusals_write_nothing(
    run: Run, root: Path, log: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Exit code 1 for what the file leaves open, 2 for what cannot be done; the workshop stays as it was."""
    before = sorted(root.rglob("*"))
    assert run("add", log, *SAID) == 1
    assert "--column 'T1=sensor °C'" in capsys.readouterr().err
    assert run("add", log, *SAID, *ANSWERS[:-1], "T1=soon") == 1
    assert run("add", log, *SAID, *ANSWERS, "--kit", "nothing", "--yes") == 1
    assert run("add", log, *SAID[:-2], *ANSWERS, "--yes") == 2
    assert "--date 2026-03-31" in capsys.readouterr().err
    assert run("add", log, *SAID, *ANSWERS, "--format", "decimal=dot") == 2
    assert run("add", log, *SAID, *ANSWERS, "--name", "No Id") == 2
    assert run("add", log, *SAID, *ANSWERS) == 2
    assert run("add", root / "none.csv", *SAID, *ANSWERS) == 3
    assert run("show", "machines/tamsin/runs/none.yml") == 2
    assert [one for one in sorted(root.rglob("*")) if ".guidegen" not in one.parts] == before


def test_a_second_file_of_a_name_is_refused(run: Run, log: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What was measured is never replaced."""
    assert run("add", log, *SAID, *ANSWERS, "--yes") == 0
    assert run("add", log, *SAID, *ANSWERS, "--yes") == 2
    assert "--name gives this one another name" in capsys.readouterr().err


def test_a_description_of_a_column_that_is_not_there(
    run: Run, root: Path, log: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """With the place in the description."""
    assert run("add", log, *SAID, *ANSWERS, "--yes") == 0
    path = root / "machines/tamsin/runs/morning-1.yml"
    path.write_text(path.read_text("utf-8").replace("column: T1,", "column: T7,"), "utf-8")
    assert run("show", "machines/tamsin/runs/morning-1.yml") == 1
    assert 'X31 columns.0.column: no column "T7"' in capsys.readouterr().err.replace("columns[1]", "columns.0")


def test_a_run_that_is_shown_says_what_it_says(
    run: Run, root: Path, log: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The dip is 4 K at the shot's end, less the noise; what the probe leaves open stands beside it."""
    assert (
        run("add", log, *SAID, *ANSWERS, "--machine", "unit 1", "--block", "3", "--feed", "20 °C ± 0.5 K", "--yes") == 0
    )
    found = trade.load(root).runs["machines/tamsin/runs/morning-1.yml"]
    assert (found.machine, found.block) == ("unit 1", 3)
    assert found.feed is not None
    assert found.feed.text == "20 °C ± 0.5 K"
    capsys.readouterr()
    assert run("show", "machines/tamsin/runs/morning-1.yml") == 0
    words = capsys.readouterr().out
    assert re.search(
        r"^dip 1: [34]\.[0-9]{2} K from 9[23]\.[0-9] °C, u = 0\.[0-9]{2} K \(probe 0\.[0-9]{2}, lag", words, re.M
    )


def test_nobody_logged_it(run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    """That is no mistake."""
    assert run("compare", "tamsin-mk2", "feed-preheater") == 0
    assert "nobody logged tamsin-mk2 with feed-preheater yet" in capsys.readouterr().out


@pytest.mark.slow
def test_before_and_after_are_compared_or_refused_with_place_and_fix(
    run: Run, root: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The demonstration's campaign; then one of its runs is of another machine."""
    assert run("compare", "tamsin-mk3", "feed-preheater", "--draws", "4") == 0
    words = capsys.readouterr().out
    assert "all of these logs are invented" in words
    assert "before and after, 6 pairs: the dip is " in words
    path = root / "machines/tamsin/runs/mk3-coil-2.yml"
    path.write_text(path.read_text(encoding="utf-8").replace("machine: invented machine 1162", "machine: another"))
    assert run("compare", "tamsin-mk3", "feed-preheater", "--draws", "4") == 1
    said = capsys.readouterr().err
    assert "machines/tamsin/runs/mk3-coil-2.yml:6:10: L33 machine: another, where other runs are of invented" in said
    assert "fix: compare runs of one machine" in said
