"""Commands in processes of their own that can be killed: forked from one that has loaded everything already.

Run as a program this is that one. It reads a line of JSON (a folder, the words of a command, where its output goes),
forks, prints the process's number, waits for it and prints how it ended. So a command costs what it does, and no second
of imports.
"""

from __future__ import annotations

import contextlib
import json
import os
import signal
import subprocess
import sys
import time
import traceback
from collections.abc import Sequence
from importlib import import_module
from pathlib import Path
from pkgutil import walk_packages

from tests.waiting import PATIENT

REPOSITORY = Path(__file__).parents[2]


class Forks:
    """A program that forks commands; each is in a session of its own, with the programs that it starts."""

    def __init__(self) -> None:
        environment = {**os.environ, "PYTHONPATH": os.pathsep.join([str(REPOSITORY), *sys.path])}
        self._program = subprocess.Popen([sys.executable, __file__], stdin=subprocess.PIPE, stdout=subprocess.PIPE,
                                         env=environment, text=True)  # fmt: skip
        assert self._answer() == "ready"

    def close(self) -> None:
        """End the program."""
        self._program.communicate("")

    def run(self, root: Path, words: Sequence[str], after: float = PATIENT, alone: bool = True) -> tuple[int, float]:
        """Run a command; kill it after some seconds, alone or with the programs that it started.

        Returns its exit code, -9 where it was killed, and the seconds that it took. What it prints is in `said`.
        """
        assert self._program.stdin is not None
        self.said = root.with_name(f"{root.name}.said")
        self._program.stdin.write(json.dumps([str(root), *words, str(self.said)]) + "\n")
        self._program.stdin.flush()
        number, began = int(self._answer()), time.perf_counter()
        self.last = number
        with contextlib.suppress(ProcessLookupError):
            if not self._ended(number, began + after):
                (os.kill if alone else os.killpg)(number, signal.SIGKILL)
        code = int(self._answer())
        took = time.perf_counter() - began
        assert took < PATIENT, f"{' '.join(words)} did not end within {PATIENT:.0f} s"
        return code, took

    def sweep(self) -> None:
        """Kill what the last command started and left running."""
        with contextlib.suppress(ProcessLookupError):
            os.killpg(self.last, signal.SIGKILL)

    @staticmethod
    def _ended(number: int, until: float) -> bool:
        """Wait; a process that ended stays visible as a zombie for a moment, or is gone."""
        while (left := until - time.perf_counter()) > 0:
            try:
                state = Path(f"/proc/{number}/stat").read_text(encoding="utf-8").rpartition(")")[2].split()[0]
            except OSError:
                return True
            if state == "Z":
                return True
            time.sleep(min(left, 0.005))
        return False

    def _answer(self) -> str:
        assert self._program.stdout is not None
        return self._program.stdout.readline().strip()


def _load() -> None:
    import guidegen

    for one in walk_packages(guidegen.__path__, "guidegen."):
        if "starter" not in one.name and not one.name.endswith("__main__"):
            import_module(one.name)


def _child(root: str, *words: str) -> None:
    from guidegen.commands import main

    os.setsid()
    os.chdir(root)
    code = 70
    try:
        with Path(words[-1]).open("w", encoding="utf-8") as said:
            os.dup2(said.fileno(), 1)
            os.dup2(said.fileno(), 2)
        with Path(os.devnull).open("rb") as nothing:
            os.dup2(nothing.fileno(), 0)
        code = main(["--root", root, *words[:-1]])
    except SystemExit as left:
        code = int(left.code or 0)
    except BaseException:
        traceback.print_exc()
    finally:
        sys.stdout.flush()
        sys.stderr.flush()
        os._exit(code)


def _serve() -> None:
    _load()
    print("ready", flush=True)
    for line in sys.stdin:
        number = os.fork()
        if number == 0:
            _child(*json.loads(line))
        print(number, flush=True)
        status = os.waitpid(number, 0)[1]
        print(os.waitstatus_to_exitcode(status), flush=True)


if __name__ == "__main__":
    _serve()
