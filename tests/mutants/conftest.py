"""Print how many mutants were tried and which survived, at the end of a test run."""

from __future__ import annotations

import pytest

_COUNTED = "tests/mutants/test_mutants.py::test_mutant["
_tried: dict[str, bool] = {}


def pytest_runtest_logreport(report: pytest.TestReport) -> None:
    """Keep the outcome of each mutant."""
    if report.when == "call" and report.nodeid.startswith(_COUNTED):
        _tried[report.nodeid.removeprefix(_COUNTED).rstrip("]")] = report.passed


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Say it where nobody can miss it."""
    if not _tried:
        return
    failed = [name for name, passed in _tried.items() if not passed]
    terminalreporter.write_line(f"safety lint: {len(_tried)} mutants tried, {len(failed)} not caught as the table says")
    for name in failed:
        terminalreporter.write_line(f"  {name}")
