"""What all tests share: the demonstration, built once for every worker, and the count of mutants at a run's end."""

from __future__ import annotations

import fcntl
import gc
import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

REPOSITORY = Path(__file__).parents[1]
WORKSHOP = ("machines", "content", "mkdocs.yml")
DRAWS = 256
"""Fewer than by default, for time; nothing that is looked at depends on how sharp the ends of the ranges are."""

gc.set_threshold(100_000, 20, 100)
"""A worker holds the catalogue, five thousand tests and the syntax of every module, none of which is ever garbage."""

LONGEST = (
    "tests/properties/test_unknown_facts_tamsin.py",
    "tests/properties/test_unknown_facts_bracken.py",
    "tests/properties/test_unknown_facts.py",
    "tests/unit/assess/test_kept.py",
    "tests/mutants/test_mutants.py",
    "tests/properties/test_cutting.py",
    "tests/site/test_surroundings.py",
    "tests/unit/workshop/test_editor_properties.py",
    "tests/unit/editions/test_frozen.py",
    "tests/properties/test_outputs_twice.py",
)
"""What takes longest comes first, so that no worker begins with it when the other has nothing left to do."""

MUTANTS = "tests/mutants/test_mutants.py::test_mutant["
_tried: dict[str, bool] = {}


def lay_down(folder: Path) -> Path:
    """Copy what makes the demonstration a workshop, and nothing that a build left behind."""
    folder.mkdir(parents=True, exist_ok=True)
    for name in WORKSHOP:
        source = REPOSITORY / name
        (shutil.copytree if source.is_dir() else shutil.copy)(source, folder / name)
    return folder


def made_once(factory: pytest.TempPathFactory, name: str, make: Callable[[Path], object]) -> Path:
    """A folder of this run: the worker that needs it first makes it, the others wait; then all of them only read it."""
    base = factory.getbasetemp()
    shared = base.parent if "PYTEST_XDIST_WORKER" in os.environ else base
    folder, done = shared / name, shared / f"{name}.done"
    with (shared / f"{name}.lock").open("w") as held:
        fcntl.flock(held, fcntl.LOCK_EX)
        if not done.exists():
            shutil.rmtree(folder, ignore_errors=True)
            make(folder)
            done.touch()
    return folder


@pytest.fixture(scope="session")
def lay_down_workshop() -> Callable[[Path], Path]:
    """Lay the demonstration down once more, elsewhere."""
    return lay_down


@pytest.fixture(scope="session")
def workshop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demonstration in a folder with a space and an accent in its name; only to be read."""
    return made_once(tmp_path_factory, "a workshop é", lay_down)


@pytest.fixture(scope="session")
def built_site(workshop: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of the demonstration's draft, built; only to be read."""

    def build(folder: Path) -> None:
        from guidegen import pipeline

        pipeline.build(workshop, draws=DRAWS)

    made_once(tmp_path_factory, "the built site", build)
    return workshop / "site" / "next"


def pytest_configure(config: pytest.Config) -> None:
    """Let xdist give the files out in our order; its own begins with those that have many tests, however short."""
    config.option.loadscopereorder = False


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Put the longest files first, and leave all others in their order behind them."""
    rank = {path: place for place, path in enumerate(LONGEST)}
    items.sort(key=lambda item: rank.get(item.nodeid.partition("::")[0], len(rank)))


def pytest_collection_finish() -> None:
    """What was collected stays to the end: look no more whether it is garbage."""
    gc.collect()
    gc.freeze()


def pytest_runtest_logreport(report: pytest.TestReport) -> None:
    """Keep the outcome of each mutant; the process that prints the summary gets the reports of all workers."""
    if report.when == "call" and report.nodeid.startswith(MUTANTS):
        _tried[report.nodeid.removeprefix(MUTANTS).rstrip("]")] = report.passed


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Print how many mutants were tried and which survived, where nobody can miss it."""
    if not _tried:
        return
    failed = sorted(name for name, passed in _tried.items() if not passed)
    terminalreporter.write_line(f"safety lint: {len(_tried)} mutants tried, {len(failed)} not caught as the table says")
    for name in failed:
        terminalreporter.write_line(f"  {name}")
