"""The workshop's one lock, and files that are there whole or not at all."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from guidegen.writing import lock, write_out


def test_second_process_is_refused_while_the_lock_is_held(tmp_path: Path) -> None:
    """And let in afterwards."""
    program = (
        "import sys, pathlib; from guidegen.writing import lock\nwith lock(pathlib.Path(sys.argv[1])): print('in')"
    )
    command = [sys.executable, "-c", program, str(tmp_path)]
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
    with lock(tmp_path):
        inside = subprocess.run(command, capture_output=True, text=True, env=environment, check=False)
    assert "another guidegen is working" in inside.stderr
    assert subprocess.run(command, capture_output=True, text=True, env=environment, check=True).stdout == "in\n"


def test_lock_is_let_go_when_the_work_fails(tmp_path: Path) -> None:
    """The same process may take it again after a fault."""

    def fail() -> None:
        with lock(tmp_path):
            raise ZeroDivisionError

    for _ in range(2):
        with pytest.raises(ZeroDivisionError):
            fail()


def test_a_file_that_was_asked_for_takes_up_what_a_killed_command_left(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """And nothing else of that folder, which is the user's."""
    (tmp_path / ".theirs.part").write_bytes(b"theirs")
    target = tmp_path / "plan.pdf"

    def stop(*given: object) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as killed:
        killed.setattr(Path, "replace", stop)
        killed.setattr(Path, "unlink", lambda *given, **more: None)
        with pytest.raises(KeyboardInterrupt):
            write_out(target, b"half")
    assert len([*tmp_path.iterdir()]) == 2
    write_out(target, b"whole")
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == {
        ".theirs.part": b"theirs",
        "plan.pdf": b"whole",
    }
