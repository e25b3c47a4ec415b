"""`guidegen set`: it shows what changes, tries it, and writes only what was agreed to and makes no mistake."""

from __future__ import annotations

import io
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from guidegen import trade
from guidegen.commands import main

pytestmark = pytest.mark.slow

DEMONSTRATION = Path(__file__).parents[3]
Run = Callable[..., int]


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """The demonstration's data, to write into."""
    for name in ("machines", "content"):
        shutil.copytree(DEMONSTRATION / name, tmp_path / name, ignore=shutil.ignore_patterns("editions"))
    return tmp_path


@pytest.fixture
def run(root: Path) -> Run:
    """Set facts there and return the exit code."""
    return lambda *words: main(["--root", str(root), "set", *words])


def held(root: Path) -> dict[str, bytes]:
    """Every YAML file."""
    return {path.relative_to(root).as_posix(): path.read_bytes() for path in root.rglob("*.yml")}


def test_a_value_of_the_variants_own_is_replaced_on_its_line(
    run: Run, root: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """One line of one file, shown before; the evidence goes with it, and the variant then has it."""
    path = root / "machines/tamsin/mk2.yml"
    before = path.read_text(encoding="utf-8")
    words = ("--evidence", "measured", "--source", "bench-12", "--yes")
    assert run("tamsin-mk2", "boiler.protrusions.drain-boss.width=14.2 mm ± 0.1 mm", *words) == 0
    line = "      width: {is: 14.2 mm ± 0.1 mm, evidence: measured, source: bench-12}\n"
    assert path.read_text(encoding="utf-8") == before.replace("      width: 14 mm ± 0.3 mm\n", line)
    shown = capsys.readouterr().out
    assert shown.startswith("--- a/machines/tamsin/mk2.yml\n+++ b/machines/tamsin/mk2.yml\n")
    assert f"-      width: 14 mm ± 0.3 mm\n+{line}" in shown
    width = trade.load(root).machine("tamsin-mk2").boiler.protrusions[0].width
    assert (width.text, width.evidence, width.source) == ("14.2 mm ± 0.1 mm", "measured", "bench-12")


def test_the_evidence_of_the_old_value_does_not_stay(run: Run, root: Path) -> None:
    """A new number without evidence has that of its file: it is assumed."""
    assert run("tamsin-mk2", "control.setpoint=104 °C", "--yes") == 0
    setpoint = trade.load(root).machine("tamsin-mk2").control.setpoint  # type: ignore[union-attr]
    assert (setpoint.text, setpoint.evidence, setpoint.source) == ("104 °C", "assumed", None)


@pytest.mark.parametrize(
    ("fact", "added"),
    [
        ("boiler.mass=600 g", "+  mass: 600 g\n"),
        ("boiler.bolts.torque=4 N·m", "+  bolts: {torque: 4 N·m}\n"),
        ("steam.setpoint=128 °C", "+steam: {setpoint: 128 °C}\n"),
        ("safety_devices.limit.rating=12 A", "+  - {id: limit, rating: 12 A}\n"),
    ],
)
def test_what_was_inherited_is_added_to_the_variants_own_file(
    run: Run, root: Path, capsys: pytest.CaptureFixture[str], fact: str, added: str
) -> None:
    """In the deepest mapping or list of it that is there; the family and its other variants stay as they are."""
    before = held(root)
    assert run("tamsin-mk2", fact, "--yes") == 0
    changes = [line for line in capsys.readouterr().out.splitlines(keepends=True) if line[0] in "+-"]
    assert changes[2:] == [added]
    assert {path for path, data in held(root).items() if data != before[path]} == {"machines/tamsin/mk2.yml"}


def test_an_item_of_a_list_that_only_the_family_has(run: Run, root: Path) -> None:
    """The list begins in the variant's file with the item's id, and is joined with the family's by it."""
    assert run("tamsin-mk1", "safety_devices.limit.rating=10 A", "--yes") == 0
    devices = trade.load(root).machine("tamsin-mk1").safety_devices
    assert {one.id: str(one.rating) for one in devices}["limit"] == "10 A"


def test_several_facts_are_one_change(run: Run, root: Path) -> None:
    """Either is wrong alone: the thermostat would close above where it opens."""
    assert run("tamsin-mk1", "control.opens=95 °C ± 3 K", "--yes") == 1
    assert run("tamsin-mk1", "control.opens=95 °C ± 3 K", "control.closes=90 °C ± 3 K", "--yes") == 0
    control = trade.load(root).machine("tamsin-mk1").control
    assert control.opens.text == "95 °C ± 3 K"  # type: ignore[union-attr]


def test_a_change_that_would_be_a_mistake_is_not_written(
    run: Run, root: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """It is shown with the place that the mistake would have."""
    before = held(root)
    assert run("tamsin-mk2", "control.setpoint=104", "--yes") == 1
    message = capsys.readouterr()
    line = (
        before["machines/tamsin/mk2.yml"]
        .decode()
        .split("\n")
        .index("  setpoint: {is: 103 °C ± 0.5 K, evidence: measured, source: bench-12}")
    )
    assert f"machines/tamsin/mk2.yml:{line + 1}:13: Q03 control.setpoint: " in message.err
    assert "nothing was written" in message.out
    assert held(root) == before


@pytest.mark.parametrize(
    ("words", "code", "message"),
    [
        (("tamsin-mk2", "boiler.mas=1 g"), 1, 'S01 boiler has no "mas"\n  fix: write mass'),
        (("tamsin-mk2", "boiler.protrusions.drain.width=1 mm"), 1, 'has no "drain"\n  fix: write drain-boss'),
        (("tamsin-mk2", "boiler=1 g"), 1, "boiler holds more than one value"),
        (("tamsin-mk2", "boiler.mass.is=1 g"), 1, 'boiler.mass has no "is"\n  fix: write boiler.mass'),
        (("tamsin-mk", "boiler.mass=1 g"), 1, 'nothing here is called "tamsin-mk"'),
        (("tamsin-mk2", "boiler.mass"), 2, "set wants FACT=VALUE"),
        (("tamsin-mk2", "boiler.mass= "), 2, "set wants FACT=VALUE"),
        (("tamsin-mk2", "boiler.mass=600 g", "--source", "bench-99"), 1, "X01"),
        (("tamsin-mk2", "boiler.mass=600 g", "--evidence", "mesured"), 1, "fix: write measured"),
        (("tamsin-mk2", "boiler.mass=600\u200bg"), 1, "R04 the invisible character U+200B"),
    ],
)
def test_what_cannot_be_set_is_refused(
    run: Run, root: Path, capsys: pytest.CaptureFixture[str], words: tuple[str, ...], code: int, message: str
) -> None:
    """With the nearest name where there is one; nothing is written."""
    before = held(root)
    assert run(*words, "--yes") == code
    assert message in capsys.readouterr().err
    assert held(root) == before


def test_what_is_so_already_changes_nothing(run: Run, root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """And there is nothing to ask."""
    before = held(root)
    assert run("tamsin-mk2", "boiler.protrusions.drain-boss.width=14 mm ± 0.3 mm") == 0
    assert "nothing changes" in capsys.readouterr().out
    assert held(root) == before


@pytest.mark.parametrize(("answer", "written"), [("y\n", True), ("n\n", False), ("\n", False), ("", False)])
def test_a_terminal_is_asked(run: Run, root: Path, monkeypatch: pytest.MonkeyPatch, answer: str, written: bool) -> None:
    """Only a clear yes writes."""
    terminal = io.StringIO(answer)
    monkeypatch.setattr(terminal, "isatty", lambda: True)
    monkeypatch.setattr("sys.stdin", terminal)
    before = held(root)
    assert run("tamsin-mk2", "boiler.mass=600 g") == 0
    assert (held(root) != before) == written


def test_without_a_terminal_it_needs_yes(
    run: Run, root: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A script says --yes; without it the change is only shown."""
    monkeypatch.setattr("sys.stdin", io.StringIO())
    before = held(root)
    assert run("tamsin-mk2", "boiler.mass=600 g") == 2
    message = capsys.readouterr()
    assert "+  mass: 600 g" in message.out
    assert "--yes writes without asking" in message.err
    assert held(root) == before
