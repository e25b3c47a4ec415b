"""What all workers of a test run share is made by one of them."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from tests.conftest import LONGEST, REPOSITORY
from tests.waiting import PATIENT

PROGRAM = """
import sys, time
from pathlib import Path
from types import SimpleNamespace
from tests.conftest import made_once

base = Path(sys.argv[1]) / sys.argv[2]

def make(folder):
    time.sleep(0.3)
    folder.mkdir()
    (folder / "made by").write_text(sys.argv[2])

made = made_once(SimpleNamespace(getbasetemp=lambda: base), "shared", make)
print((made / "made by").read_text())
"""


def test_two_workers_make_a_shared_folder_once(tmp_path: Path) -> None:
    """Started together, both see it whole and made by the same one; a folder that exists cannot be made again."""
    environment = {**os.environ, "PYTEST_XDIST_WORKER": "gw", "PYTHONPATH": os.pathsep.join(sys.path)}
    running = [
        subprocess.Popen(
            [sys.executable, "-c", PROGRAM, str(tmp_path), name], stdout=subprocess.PIPE, text=True, env=environment
        )
        for name in ("gw0", "gw1")
    ]
    said = {one.communicate(timeout=PATIENT)[0] for one in running}
    assert [one.returncode for one in running] == [0, 0]
    assert said in ({"gw0\n"}, {"gw1\n"})


def test_the_files_that_come_first_are_there() -> None:
    """One that was renamed would silently come where its name puts it."""
    assert [path for path in LONGEST if not (REPOSITORY / path).is_file()] == []
