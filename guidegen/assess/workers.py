"""Records made ahead by several processes, a variant with all its kits at a time.

Each process keeps what it makes where a run looks for records (`records_kept`), so a task is pure and may be repeated,
and what a process leaves undone, because it was killed or cannot judge a pair, the run itself does and says.
"""

from __future__ import annotations

import contextlib
import logging
import multiprocessing
import os
import re
import signal
import threading
from collections.abc import Callable, Sequence
from concurrent.futures import Future, ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from multiprocessing.connection import wait
from pathlib import Path

from guidegen import language, trade
from guidegen.assess.assessor import Assessor
from guidegen.assess.cluster import make_on_cluster
from guidegen.assess.kept import Kept
from guidegen.assess.records_kept import KeptRecords
from guidegen.trade import Catalogue

ATTEMPTS = 3
"""So often processes are begun anew after one was killed; then the run goes on alone."""

log = logging.getLogger(__name__)

Workers = int | str
"""In how many processes of this machine records are made, or the address of a cluster that makes them."""
Bench = tuple[Catalogue, KeptRecords]
_OWN: list[Bench] = []
"""What a process of ours works at; the run itself has none."""


def processors() -> int:
    """How many processors this process may use; GUIDEGEN_WORKERS says otherwise."""
    said = os.environ.get("GUIDEGEN_WORKERS", "")
    if re.fullmatch("[0-9]{1,3}", said):
        return max(1, int(said))
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def make_ahead(
    known: Catalogue, root: Path, edition: str, draws: int, workers: Workers, progress: Callable[[str], None]
) -> None:
    """Make the records of all variants that lack one; of a single variant nothing here, as nobody would wait less."""
    kept = Kept(root)
    records = KeptRecords(root, Assessor(known, edition, draws, kept))
    kits = [*known.kits.values()]
    waiting = [name for name, one in known.machines.items() if not all(records.has(one, kit) for kit in kits)]
    if isinstance(workers, str):
        if waiting:
            make_on_cluster(records, kept, [known.machines[name] for name in waiting], workers, progress)
        return
    for _ in range(ATTEMPTS):
        if workers < 2 or len(waiting) < 2:
            return
        waiting = _round(waiting, min(workers, len(waiting)), (root, edition, draws), progress)


def _round(
    waiting: Sequence[str], workers: int, given: tuple[Path, str, int], progress: Callable[[str], None]
) -> list[str]:
    """Give the variants out; returns those that a killed process left undone."""
    left: list[str] = []
    tasks: dict[Future[None], str] = {}
    # A process that begins afresh shares nothing with this one: neither threads nor locks nor open files.
    afresh = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(workers, mp_context=afresh, initializer=_begin, initargs=given) as pool:
        for name in waiting:
            try:
                tasks[pool.submit(_make, name)] = name
            except (BrokenProcessPool, OSError):  # one was killed already, while others were begun
                left.append(name)
        for count, task in enumerate(as_completed(tasks), 1):
            progress(f"assessed {tasks[task]}, variant {count} of {len(waiting)} in {workers} processes")
            try:
                task.result()
            except BrokenProcessPool:
                left.append(tasks[task])
            except Exception as error:
                log.info("%s is left to the run itself: %s", tasks[task], error)
    return left


def _begin(root: Path, edition: str, draws: int) -> None:
    """Read the workshop, once in each process; it ends when the run does, whatever ended that."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with_the_run, daemon=True).start()
    known = trade.load(root)
    held = contextlib.ExitStack()
    held.enter_context(language.in_language(known.workshop.language, root))
    _OWN.append((known, KeptRecords(root, Assessor(known, edition, draws, Kept(root)))))


def _end_with_the_run() -> None:
    run = multiprocessing.parent_process()
    if run is not None:
        wait([run.sentinel])
        os._exit(1)


def _make(name: str) -> None:
    known, records = _OWN[-1]
    records.make_all(known.machines[name])
