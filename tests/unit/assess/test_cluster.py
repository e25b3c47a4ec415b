"""Records made on a cluster: the same to the bit, no worse off where a worker is killed, none by another program."""

from __future__ import annotations

import os
import shutil
import signal
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from distributed import Client, LocalCluster

from guidegen import pipeline, trade
from guidegen.assess import cluster, workers
from guidegen.assess.afar import Made, OtherProgram, VariantTask, make, program_here
from guidegen.assess.assessor import Assessor
from guidegen.assess.kept import Kept
from guidegen.assess.records_kept import KeptRecords
from guidegen.problems import Code, EnvironmentProblem

SMALL = Path(__file__).parents[2] / "fixtures" / "catalogue_min"
DRAWS = 4
NOBODY = "tcp://127.0.0.1:1"
"""Where no scheduler listens: the port is reserved (IANA's registry: tcpmux), and nothing here answers it."""


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """A small workshop of one's own, with two variants."""
    return Path(shutil.copytree(SMALL, tmp_path / "workshop"))


@pytest.fixture(scope="module")
def local() -> Iterator[LocalCluster]:
    """Two workers of one thread each, in processes of their own."""
    with LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=":0") as held:
        yield held


@pytest.fixture
def empty() -> Iterator[LocalCluster]:
    """A scheduler in this process, without a worker."""
    with LocalCluster(n_workers=0, processes=False, dashboard_address=":0") as held:
        yield held


def ahead(root: Path, address: str) -> list[str]:
    """Make all records on a cluster; returns what was said."""
    said: list[str] = []
    workers.make_ahead(trade.load(root), root, pipeline.EDITION, DRAWS, address, said.append)
    return said


def keeping(root: Path) -> tuple[KeptRecords, Kept]:
    """What a run keeps records and numbers by."""
    kept = Kept(root)
    return KeptRecords(root, Assessor(trade.load(root), pipeline.EDITION, DRAWS, kept)), kept


def entries(root: Path) -> dict[str, bytes]:
    """All that is kept of a workshop, by its path."""
    folder = root / ".guidegen"
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.glob("*/??/*")}


@pytest.fixture(scope="module")
def alone(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    """What one process keeps of the same workshop."""
    copy = Path(shutil.copytree(SMALL, tmp_path_factory.mktemp("alone") / "workshop"))
    records, _ = keeping(copy)
    for machine in records.assessor.known.machines.values():
        records.make_all(machine)
    return entries(copy)


@pytest.mark.slow
def test_a_cluster_keeps_what_one_process_keeps(
    root: Path, local: LocalCluster, alone: dict[str, bytes], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every byte, records and numbers. What is there is not asked for again, and numbers that are there go along."""
    said = ahead(root, local.scheduler_address)
    assert len(alone) == 4
    assert entries(root) == alone
    assert sorted(one.split(",")[0] for one in said) == ["assessed plain-one", "assessed plain-two"]
    assert ahead(root, NOBODY) == []
    shutil.rmtree(root / ".guidegen" / "records")
    back: list[Made] = []
    keep = cluster._keep
    monkeypatch.setattr(cluster, "_keep", lambda made, *given: [back.append(made), keep(made, *given)])
    ahead(root, local.scheduler_address)
    assert [len(one.numbers) for one in back] == [0, 0]
    assert entries(root) == alone


@pytest.mark.slow
def test_a_killed_worker_costs_its_task_alone(
    root: Path, local: LocalCluster, alone: dict[str, bytes], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The task is given to another worker, and the run has nothing left to do."""
    killed: list[int] = []
    give_out = cluster._Tasks._give_out

    def then_kill(tasks: cluster._Tasks) -> bool:
        out = give_out(tasks)
        if not killed:
            killed.append(tasks._client.run(os.getpid, workers=[*tasks._client.nthreads()][:1]).popitem()[1])
            os.kill(killed[0], signal.SIGKILL)
        return out

    monkeypatch.setattr(cluster._Tasks, "_give_out", then_kill)
    said = ahead(root, local.scheduler_address)
    assert (len(killed), len(said)) == (1, 2)
    assert entries(root) == alone


@pytest.mark.slow
def test_a_variant_that_cannot_be_computed_stays_a_problem_with_its_place(root: Path, local: LocalCluster) -> None:
    """The cluster leaves it, the run names it, and has the other."""
    file = root / "machines" / "plain" / "two.yml"
    cold = "control: {kind: pid, setpoint: 13 °C, kp: 60 W/K, ki: 0.7 W/(K·s), kd: 180 W·s/K}"
    text = file.read_text(encoding="utf-8")
    assert "name: Plain Two\n" in text
    file.write_text(text.replace("name: Plain Two\n", f"name: Plain Two\n{cold}\n"), encoding="utf-8")
    known = trade.load(root)
    records, left_out = pipeline.judge_all(known, root, draws=0, workers=local.scheduler_address)
    assert [one.variant.id for one in records] == ["plain-one"]
    assert [(one.path, one.code) for one in left_out] == [("machines/plain/two.yml", Code.NOT_HELD)]


@pytest.mark.slow
def test_workers_of_another_program_are_refused(
    root: Path, local: LocalCluster, monkeypatch: pytest.MonkeyPatch
) -> None:
    """By what differs, before anything is made; also the one that comes when the others are at work."""

    def say_another(name: str | None) -> str:
        """Let a worker be, as far as it can tell, on another kind of processor."""
        import platform

        said = platform.machine()
        platform.machine = lambda: name  # type: ignore[assignment,return-value]
        return said

    with Client(local, set_as_default=False) as client:
        kind = {*client.run(say_another, "other").values()}.pop()
        with pytest.raises(EnvironmentProblem, match=rf"worker tcp://.* has processor other in place of {kind}; inst"):
            ahead(root, local.scheduler_address)
        monkeypatch.setattr(cluster, "_refuse_others", lambda client: None)
        with pytest.raises(EnvironmentProblem, match=rf"^a worker has processor other in place of {kind}; install the"):
            ahead(root, local.scheduler_address)
        client.run(say_another, kind)
    assert entries(root) == {}


@pytest.mark.slow
def test_a_task_that_fails_is_left_to_the_run(root: Path, local: LocalCluster, monkeypatch: pytest.MonkeyPatch) -> None:
    """So does one whose workers were killed again and again: Dask reports either as the error of the task."""

    def make_nothing(task: VariantTask, *parcels: bytes) -> Made:
        raise MemoryError(task.variant)

    monkeypatch.setattr(cluster, "_make_there", make_nothing)
    assert len(ahead(root, local.scheduler_address)) == 2
    assert entries(root) == {}


def test_a_task_for_another_program_is_not_begun() -> None:
    """Of another guidegen nothing but its code may differ, and then that is what differs."""
    task = VariantTask("plain-one", "next", DRAWS, {**program_here(), "guidegen's code": "other"})
    with pytest.raises(OtherProgram, match=r"^guidegen's code [0-9a-f]{12} in place of other$"):
        make(task)


def test_who_does_not_answer_is_not_waited_for(
    root: Path, monkeypatch: pytest.MonkeyPatch, empty: LocalCluster
) -> None:
    """No scheduler, no certificate, a scheduler without workers, and no Dask at all: each says what to do."""
    monkeypatch.setattr(cluster, "ANSWER_S", 0.2)
    with pytest.raises(EnvironmentProblem, match=r"no Dask scheduler answers at .* start one with `dask scheduler`"):
        ahead(root, NOBODY)
    with pytest.raises(EnvironmentProblem, match="Dask knows none here; set the paths below distributed"):
        ahead(root, NOBODY.replace("tcp", "tls"))
    with pytest.raises(EnvironmentProblem, match=r"has no worker, and none came within 0\.2 s; start some with"):
        ahead(root, empty.scheduler_address)
    monkeypatch.setitem(sys.modules, "distributed", None)
    with pytest.raises(EnvironmentProblem, match=r"not installed; python -m pip install '\.\[cluster\]'"):
        ahead(root, empty.scheduler_address)


def test_a_cluster_that_lost_its_last_worker_is_given_up(
    root: Path, monkeypatch: pytest.MonkeyPatch, empty: LocalCluster
) -> None:
    """Nothing is waited for without end."""
    look, looked = cluster._wait_for_a_worker, list[str]()

    def look_later(client: Client, address: str) -> None:
        """The first look is taken for one that found somebody."""
        looked.append(address)
        if len(looked) > 1:
            look(client, address)

    monkeypatch.setattr(cluster, "ANSWER_S", 0.2)
    monkeypatch.setattr(cluster, "_wait_for_a_worker", look_later)
    with pytest.raises(EnvironmentProblem, match="has no worker, and none came"):
        ahead(root, empty.scheduler_address)


def test_what_was_made_from_other_files_is_not_kept(root: Path) -> None:
    """A record that is called otherwise than this run would call it, and a name that is none."""
    records, kept = keeping(root)
    machine, kit = records.assessor.known.machine("plain-one"), records.assessor.known.kit("collar")
    right, other = records.name(machine, kit), "0" * 32
    cluster._keep(Made({right: b"a", other: b"b"}, {other: b"c", "../../outside": b"d"}), machine, records, kept)
    assert records.entries.every() == {right: b"a"}
    assert kept.entries.every() == {other: b"c"}
    assert list(root.parent.rglob("outside*")) == []
