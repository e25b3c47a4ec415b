"""Records made ahead by several processes: the same to the bit, and no worse off where a process is killed."""

from __future__ import annotations

import os
import shutil
import signal
from collections.abc import Iterator
from pathlib import Path

import pytest

from guidegen import pipeline, trade
from guidegen.assess import workers
from guidegen.assess.assessor import Assessor
from guidegen.assess.kept import Kept
from guidegen.assess.records_kept import KeptRecords
from guidegen.problems import Code
from guidegen.record import Assessment

SMALL = Path(__file__).parents[2] / "fixtures" / "catalogue_min"
DRAWS = 4


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """A small workshop of one's own, with two variants."""
    return Path(shutil.copytree(SMALL, tmp_path / "workshop"))


def ahead(root: Path, said: list[str]) -> None:
    """Make all records in two processes."""
    workers.make_ahead(trade.load(root), root, pipeline.EDITION, DRAWS, 2, said.append)


def then(root: Path) -> tuple[list[Assessment], int]:
    """The records as the run itself gathers them afterwards, and how many it had to make."""
    known = trade.load(root)
    kept = KeptRecords(root, Assessor(known, pipeline.EDITION, DRAWS, Kept(root)))
    records = [kept.record(one, kit) for one in known.machines.values() for kit in known.kits.values()]
    return records, kept.made


def alone(root: Path) -> Iterator[Assessment]:
    """The records of one process that keeps nothing."""
    known = trade.load(root)
    assessor = Assessor(known, pipeline.EDITION, DRAWS)
    return (assessor.assess(one, kit) for one in known.machines.values() for kit in known.kits.values())


@pytest.mark.slow
def test_two_processes_make_the_records_of_one(root: Path) -> None:
    """Every byte, and nothing is left for the run itself; what is there already is not made again."""
    said: list[str] = []
    ahead(root, said)
    records, made = then(root)
    assert made == 0
    assert [one.to_json() for one in records] == [one.to_json() for one in alone(root)]
    assert sorted(one.split(",")[0] for one in said) == ["assessed plain-one", "assessed plain-two"]
    ahead(root, said)
    assert len(said) == 2


@pytest.mark.slow
def test_a_killed_process_costs_its_task_alone(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever is killed, the run ends with the same records."""
    killed: list[int] = []

    class Killing(workers.ProcessPoolExecutor):
        """A pool of which a process is killed as soon as it was given something."""

        def submit(self, *given: object, **more: object) -> object:  # type: ignore[override]
            task = super().submit(*given, **more)  # type: ignore[arg-type]
            for process in [*(self._processes or {})][:1] if not killed else ():
                killed.append(process)
                os.kill(process, signal.SIGKILL)
            return task

    monkeypatch.setattr(workers, "ProcessPoolExecutor", Killing)
    ahead(root, [])
    assert len(killed) == 1
    records, _ = then(root)
    assert [one.to_json() for one in records] == [one.to_json() for one in alone(root)]


def test_what_cannot_be_given_out_any_more_is_left(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A process that was killed while others are begun closes what they are spoken to by."""

    class Closed(workers.ProcessPoolExecutor):
        """A pool that takes nothing."""

        def submit(self, *given: object, **more: object) -> object:  # type: ignore[override]
            raise OSError("handle is closed")

    monkeypatch.setattr(workers, "ProcessPoolExecutor", Closed)
    said: list[str] = []
    ahead(root, said)
    records, _ = then(root)
    assert [one.to_json() for one in records] == [one.to_json() for one in alone(root)]
    assert said == []


@pytest.mark.slow
def test_a_variant_that_cannot_be_computed_stays_a_problem_with_its_place(root: Path) -> None:
    """The processes leave it, the run names it, and has the other."""
    file = root / "machines" / "plain" / "two.yml"
    cold = "control: {kind: pid, setpoint: 13 °C, kp: 60 W/K, ki: 0.7 W/(K·s), kd: 180 W·s/K}"
    text = file.read_text(encoding="utf-8")
    assert "name: Plain Two\n" in text
    file.write_text(text.replace("name: Plain Two\n", f"name: Plain Two\n{cold}\n"), encoding="utf-8")
    records, left_out = pipeline.judge_all(trade.load(root), root, draws=0, workers=2)
    assert [one.variant.id for one in records] == ["plain-one"]
    assert [(one.path, one.code) for one in left_out] == [("machines/plain/two.yml", Code.NOT_HELD)]


def test_the_number_of_processes_is_asked_of_the_machine(monkeypatch: pytest.MonkeyPatch) -> None:
    """Or said by whoever starts it; what is no number says nothing."""
    monkeypatch.setenv("GUIDEGEN_WORKERS", "3")
    assert workers.processors() == 3
    monkeypatch.setenv("GUIDEGEN_WORKERS", "many")
    assert workers.processors() == len(os.sched_getaffinity(0))
