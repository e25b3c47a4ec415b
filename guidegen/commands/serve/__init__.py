"""A preview on this machine: makes each page when it is asked for, and reloads what is open after an edit.

view        what is shown at one moment: the bytes of a path follow from catalogue, records and shell
draft       the view, looked at again after an edit, and what is wrong now
background  ranges of open guides, then of the others; what the lint and the link check find
answers     pages, and word of what changed
watch       noticing edits
"""

from __future__ import annotations

import signal
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from guidegen.assess import DRAWS
from guidegen.commands.serve.answers import server
from guidegen.commands.serve.background import Background
from guidegen.commands.serve.draft import Draft
from guidegen.commands.serve.watch import snapshot, watch
from guidegen.commands.terminal import out
from guidegen.problems import Problem

__all__ = ["Background", "Draft", "serve", "server", "snapshot", "watch"]


def serve(
    root: Path,
    engine_name: str = "mkdocs",
    port: int = 8620,
    draws: int = DRAWS,
    progress: Callable[[str], None] = lambda text: None,
) -> int:
    """Serve the draft of a workshop and follow every edit until interrupted; returns the exit code."""
    draft, stop = Draft(root, engine_name, draws), threading.Event()
    before = snapshot(root)
    with server(draft, port) as running:
        reported: set[Problem] = set()

        def refresh() -> bool:
            draft.refresh()
            reported.update(_report(draft, reported))
            return draft.unfinished

        threads = [
            threading.Thread(target=running.serve_forever, daemon=True),
            threading.Thread(target=Background(draft, progress).work, args=(stop,), daemon=True),
        ]
        for thread in threads:
            thread.start()
        out(f"http://127.0.0.1:{running.server_port}/  (Ctrl-C ends)", flush=True)
        try:
            with ended_by_signals():
                refresh()
                watch(root, refresh, stop, before)
        except KeyboardInterrupt:
            progress("")
        finally:
            stop.set()
            running.shutdown()
    return 0


@contextmanager
def ended_by_signals() -> Iterator[None]:
    """Let Ctrl-C and SIGTERM end what is inside by KeyboardInterrupt, wherever it is.

    A shell starts what runs in its background with Ctrl-C ignored, and Python leaves that so.
    """

    def end(number: int, frame: object) -> None:
        raise KeyboardInterrupt

    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = {number: signal.signal(number, end) for number in (signal.SIGINT, signal.SIGTERM)}
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)


def _report(draft: Draft, before: set[Problem]) -> tuple[Problem, ...]:
    """Print what was not wrong before, and what is shown otherwise than it is written; return all of it."""
    now = (*draft.problems, *draft.warnings)
    for problem in now:
        if problem not in before:
            out(str(problem), sys.stderr)
    before.clear()
    return now
