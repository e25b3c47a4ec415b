"""Records made ahead on a cluster of Dask: a task for each variant, given out a few at a time.

The cluster is somebody's own: its scheduler and its workers are begun by hand, with this program installed. What comes
back is kept where a run looks for records; what does not come back is left to the run itself.
"""

from __future__ import annotations

import contextlib
import hashlib
import logging
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import CancelledError
from contextlib import contextmanager
from itertools import islice
from typing import TYPE_CHECKING, Any

from guidegen.assess.afar import Made, OtherProgram, VariantTask, differences, make, program_here
from guidegen.assess.kept import NAME, Entries, Kept
from guidegen.assess.records_kept import KeptRecords
from guidegen.problems import EnvironmentProblem
from guidegen.trade.carried import family_parcel, shared_parcel
from guidegen.trade.machine import Machine

if TYPE_CHECKING:
    from distributed import Client, Future

ANSWER_S = 30.0
"""So long a scheduler may take to answer, and a worker to be there."""
AHEAD = 2
"""So many tasks for each thread of the cluster are given out: one that is made, and one that waits for it."""
INSTALL = "python -m pip install '.[cluster]' in guidegen's own folder"
SAME = "install the same guidegen and the same libraries on every machine of the cluster"

log = logging.getLogger(__name__)


def make_on_cluster(
    records: KeptRecords, kept: Kept, waiting: Sequence[Machine], address: str, progress: Callable[[str], None]
) -> None:
    """Make the records of variants on the workers of a scheduler, and keep them here.

    Raises EnvironmentProblem where nobody answers there, or where another program would make them.
    """
    with _connected(address) as client:
        _wait_for_a_worker(client, address)
        _refuse_others(client)
        tasks = _Tasks(client, records, waiting, any_kept=kept.entries.any())
        try:
            for count, (machine, done) in enumerate(tasks.done(address), 1):
                progress(f"assessed {machine.id}, variant {count} of {len(waiting)} on the cluster")
                made = _made(machine, done)
                if made is not None:
                    _keep(made, machine, records, kept)
        except CancelledError:
            words = f"the scheduler at {address} is gone; what came back is kept"
            raise EnvironmentProblem(f"{words}: run the same command again once it is there") from None


def _make_there(task: VariantTask, *parcels: bytes) -> Made:
    """What a worker does, in its own folder: Dask clears that away where the worker is killed."""
    from distributed import get_worker

    return make(task, *parcels, within=get_worker().local_directory)


def _keep(made: Made, machine: Machine, records: KeptRecords, kept: Kept) -> None:
    """Keep what came back. A record that is called otherwise than here was not made from the same files."""
    kits = records.assessor.known.kits.values()
    _write(kept.entries, {name: data for name, data in made.numbers.items() if NAME.fullmatch(name)})
    names = {records.name(machine, kit) for kit in kits}
    _write(records.entries, {name: data for name, data in made.records.items() if name in names})
    log.info("%s: %d of %d records came back", machine.id, len(names & made.records.keys()), len(names))


def _write(entries: Entries, made: dict[str, bytes]) -> None:
    for name, data in made.items():
        entries.write(name, data)


@contextmanager
def _connected(address: str) -> Iterator[Client]:
    try:
        import dask
        from distributed import Client, Security
    except ImportError:
        raise EnvironmentProblem(f"--cluster needs Dask, which is not installed; {INSTALL}") from None
    if address.startswith("tls:") and Security().get_connection_args("client")["ssl_context"] is None:
        fix = "set the paths below distributed.comm.tls in Dask's settings"
        raise EnvironmentProblem(f"{address} is spoken to with a certificate, and Dask knows none here; {fix}")
    # What is wrong is said here, in a sentence; a workshop may well be large.
    logging.getLogger("distributed.client").setLevel(logging.CRITICAL)
    quiet = {"distributed.admin.large-graph-warning-threshold": "1TB"}
    with dask.config.set(quiet), contextlib.ExitStack() as held:
        try:
            client = held.enter_context(Client(address, timeout=ANSWER_S, set_as_default=False))
        except (OSError, ValueError) as error:
            words = f"no Dask scheduler answers at {address}: {_short(error)}"
            raise EnvironmentProblem(f"{words}; start one with `dask scheduler`, or correct the address") from None
        held.enter_context(client.as_current())
        yield client


def _wait_for_a_worker(client: Client, address: str) -> None:
    try:
        client.wait_for_workers(1, timeout=ANSWER_S)
    except TimeoutError:
        words = f"the scheduler at {address} has no worker, and none came within {ANSWER_S:g} s"
        fix = f"start some with `dask worker {address} --nworkers -1 --nthreads 1`, and run the same command again"
        raise EnvironmentProblem(f"{words}; {fix}") from None


def _refuse_others(client: Client) -> None:
    """Refuse workers that would make other records; one that comes later is refused by its first task."""
    here = program_here()
    answers: dict[str, Any] = client.run(program_here, on_error="return")
    for worker, there in sorted(answers.items()):
        if isinstance(there, BaseException):
            raise EnvironmentProblem(f"the worker {worker} cannot run this guidegen ({_short(there)}); {SAME}")
        if other := differences(here, there):
            raise EnvironmentProblem(f"the worker {worker} has {other}; {SAME}")


def _made(machine: Machine, done: Future[Made]) -> Made | None:
    """What a task made; None where its workers were killed again and again, and the run does it itself."""
    error = done.exception()
    if isinstance(error, OtherProgram):
        raise EnvironmentProblem(f"a worker has {error}; {SAME}")
    if error is not None:
        log.info("%s is left to the run itself: %s", machine.id, error)
        return None
    return done.result()


def _short(error: BaseException) -> str:
    """The first line of a message, or what it is called where it has none."""
    return (str(error).splitlines() or [""])[0][:200] or type(error).__name__


class _Tasks:
    """The variants that wait, given out as the cluster takes them: what nobody works at yet takes no room there."""

    def __init__(self, client: Client, records: KeptRecords, waiting: Sequence[Machine], any_kept: bool) -> None:
        self._client, self._records, self._waiting = client, records, iter(waiting)
        self._any_kept = any_kept
        self._program = program_here()
        self._out: dict[Future[Made], Machine] = {}
        self._shared = self._carried(shared_parcel(records.assessor.known))
        self._family, self._of_family = "", self._shared

    def done(self, address: str) -> Iterator[tuple[Machine, Future[Made]]]:
        """Each variant as its task ends, however it ends."""
        from distributed import wait

        while self._give_out():
            try:
                ended = wait([*self._out], timeout=ANSWER_S, return_when="FIRST_COMPLETED").done
            except TimeoutError:
                _wait_for_a_worker(self._client, address)
                continue
            for one in sorted(ended, key=lambda one: self._out[one].id):
                yield self._out.pop(one), one

    def _give_out(self) -> bool:
        """Give out as many as the cluster takes now; whether any is out."""
        room = AHEAD * max(1, sum(self._client.nthreads().values()))
        for machine in islice(self._waiting, max(0, room - len(self._out))):
            self._out[self._given(machine)] = machine
        return bool(self._out)

    def _given(self, machine: Machine) -> Future[Made]:
        assessor = self._records.assessor
        if machine.family != self._family:
            self._family = machine.family
            self._of_family = self._carried(family_parcel(assessor.known, machine.family))
        task = VariantTask(machine.id, assessor.edition, assessor.draws, self._program, self._held(machine))
        parcels = (self._shared, self._of_family)
        key = f"guidegen-{machine.id}-{task.digest(*(str(one.key) for one in parcels))}"
        return self._client.submit(_make_there, task, *parcels, key=key)

    def _held(self, machine: Machine) -> dict[str, bytes]:
        """The numbers of a variant that are kept already. To put their questions takes a fifth of a second each."""
        numbers: dict[str, bytes] = {}
        for kit in self._records.assessor.known.kits.values() if self._any_kept else ():
            with contextlib.suppress(Exception):
                numbers |= self._records.assessor.held(machine, kit)
        return numbers

    def _carried(self, parcel: bytes) -> Future[bytes]:
        """A parcel on the cluster, under its own sum; the scheduler holds it, so it outlives every worker."""
        return self._client.submit(bytes, parcel, key=f"guidegen-{hashlib.sha256(parcel).hexdigest()}")
