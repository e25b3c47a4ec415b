"""`make audit` says what it found, and never takes silence for an answer."""

from __future__ import annotations

import os
import subprocess
from pathlib import Path

import pytest

REPOSITORY = Path(__file__).parents[2]


@pytest.mark.parametrize(
    ("prints", "ends", "code", "says"),
    [
        ("No known vulnerabilities found", 0, 0, "requirements/test.txt: No known"),
        ("Found 1 known vulnerability in 1 package", 1, 1, "Found 1 known"),
        ("ConnectionError: Failed to resolve 'host'", 1, 3, "cannot be reached from here"),
        (None, 0, 3, "pip-audit is not here"),
    ],
)
def test_what_the_audit_says(tmp_path: Path, prints: str | None, ends: int, code: int, says: str) -> None:
    """With a stand-in for pip-audit, whose exit codes are 0 and 1."""
    if prints is not None:
        program = tmp_path / "pip-audit"
        program.write_text(f'#!/bin/sh\necho "{prints}"\nexit {ends}\n', encoding="utf-8")
        program.chmod(0o755)
    environment = {"PATH": f"{tmp_path}:/usr/bin:/bin", "HOME": os.environ.get("HOME", "/")}
    done = subprocess.run(["sh", ".ci/audit"], cwd=REPOSITORY, env=environment, capture_output=True, text=True)
    assert done.returncode == code
    assert says in done.stdout + done.stderr
