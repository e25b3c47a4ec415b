"""What all tests share: the demonstration, built once for every worker, and the count of mutants at a run's end."""

from __future__ import annotations

import fcntl
import gc
import os
import re
import shutil
import sys
from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from tests.whole import WHOLE

REPOSITORY = Path(__file__).parents[1]
WORKSHOP = ("machines", "content", "mkdocs.yml")
DRAWS = 64
"""Fewer than by default, for time; nothing that is looked at depends on how sharp the ends of the ranges are.
Tests that need ranges all take as many, and so share what was computed."""

os.environ.setdefault("GUIDEGEN_WORKERS", "1")
"""Tests run in several processes themselves; those about processes say how many they want."""

gc.set_threshold(100_000, 20, 100)
"""A worker holds the catalogue, five thousand tests and the syntax of every module, none of which is ever garbage."""

LONGEST = (
    "tests/browser/test_demonstration.py",
    "tests/site/test_surroundings.py",
    "tests/site/test_kills.py",
    "tests/site/test_preview.py",
    "tests/site/test_again.py",
    "tests/mutants/test_mutants.py",
    "tests/mutants/test_empty_rules.py",
    "tests/site/test_surroundings_real.py",
    "tests/properties/test_outputs_twice.py",
    "tests/properties/test_unknown_facts.py",
    "tests/properties/test_unknown_facts_tamsin.py",
    "tests/browser/test_editions.py",
    "tests/unit/editions/test_frozen.py",
    "tests/unit/workshop/test_editor_properties.py",
    "tests/properties/test_unknown_facts_bracken.py",
    "tests/properties/test_cutting.py",
    "tests/unit/assess/test_kept.py",
)
"""What takes longest comes first, so that no worker begins with it when the other has nothing left to do."""

MUTANTS = "tests/mutants/test_mutants.py::test_mutant["
_tried: dict[str, bool] = {}
_figures: list[str] = []
_seconds: Counter[str] = Counter()


def lay_down(folder: Path, repository: Path = REPOSITORY) -> Path:
    """Copy what makes the demonstration a workshop, and nothing that a build left behind."""
    folder.mkdir(parents=True, exist_ok=True)
    for name in WORKSHOP:
        source = repository / name
        (shutil.copytree if source.is_dir() else shutil.copy)(source, folder / name)
    return folder


FEW = {"machines/tamsin": ("mk1", "mk2"), "machines/bracken": ("c",)}
"""One variant with each control and of each family: three of eight, for what holds of any."""
_SOURCE = re.compile(r"^  ([a-z0-9-]+):.*\n(?:    .*\n)*", re.MULTILINE)


def lay_down_few(folder: Path, repository: Path = REPOSITORY) -> Path:
    """The same with few variants, and without the sources that only the others cite."""
    lay_down(folder, repository)
    for family, names in FEW.items():
        for path in (folder / family).glob("*.yml"):
            if path.stem not in ("family", *names):
                path.unlink()
        for path in (folder / family / "runs").glob("*"):
            if path.name.split("-")[0] not in names:
                path.unlink()
    sources = folder / "content" / "sources.yml"
    files = [path for path in folder.rglob("*.yml") if path != sources]
    cited = set(re.findall(r"[a-z0-9-]+", " ".join(path.read_text(encoding="utf-8") for path in files)))
    text = sources.read_text(encoding="utf-8")
    sources.write_text(_SOURCE.sub(lambda one: one[0] if one[1] in cited else "", text), encoding="utf-8")
    return folder


def of_this_run(factory: pytest.TempPathFactory) -> Path:
    """The folder that all workers of a run have in common."""
    base = factory.getbasetemp()
    return base.parent if "PYTEST_XDIST_WORKER" in os.environ else base


def made_once(factory: pytest.TempPathFactory, name: str, make: Callable[[Path], object]) -> Path:
    """A folder of this run: the worker that needs it first makes it, the others wait; then all of them only read it."""
    shared = of_this_run(factory)
    folder, done = shared / name, shared / f"{name}.done"
    with (shared / f"{name}.lock").open("w") as held:
        fcntl.flock(held, fcntl.LOCK_EX)
        if not done.exists():
            shutil.rmtree(folder, ignore_errors=True)
            make(folder)
            done.touch()
    return folder


@pytest.fixture(scope="session", autouse=True)
def _made_once_in_a_run(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """The numbers of a question are computed once in a run, and a sheet is set once, for all tests and workers."""
    if WHOLE or "guidegen.pipeline" not in sys.modules:
        yield  # hours of questions that are put once; or tests that compute nothing
        return
    from tests.in_common import in_common

    with in_common(of_this_run(tmp_path_factory) / "in common"):
        yield


@pytest.fixture
def computed_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    """Numbers are computed by this test itself, whatever others computed before."""
    from guidegen.assess.numbers import compute

    monkeypatch.setattr("guidegen.assess.assessor.compute", compute)


@pytest.fixture(scope="session")
def lay_down_workshop() -> Callable[[Path], Path]:
    """Lay the demonstration down once more, elsewhere."""
    return lay_down


@pytest.fixture(scope="session")
def lay_down_small_workshop() -> Callable[[Path], Path]:
    """The same with three variants of eight."""
    return lay_down_few


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
    """Keep the outcome of each mutant, and the figures that a test hands over; the process that prints the summary gets
    the reports of all workers."""
    if report.when == "call" and report.nodeid.startswith(MUTANTS):
        _tried[report.nodeid.removeprefix(MUTANTS).rstrip("]")] = report.passed
    _seconds[report.nodeid.partition("::")[0]] += report.duration
    if report.when == "call":
        _figures.extend(str(value) for name, value in report.user_properties if name == "figures")


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Print the figures, and how many mutants were tried and which survived, where nobody can miss it."""
    for line in sorted(_figures):
        terminalreporter.write_line(line)
    if sum(_seconds.values()) > 60:
        slowest = ", ".join(f"{path.removeprefix('tests/')} {taken:.0f} s" for path, taken in _seconds.most_common(40))
        terminalreporter.write_line(f"where the time went: {sum(_seconds.values()):.0f} s in all; {slowest}")
    if not _tried:
        return
    failed = sorted(name for name, passed in _tried.items() if not passed)
    terminalreporter.write_line(f"safety lint: {len(_tried)} mutants tried, {len(failed)} not caught as the table says")
    for name in failed:
        terminalreporter.write_line(f"  {name}")
