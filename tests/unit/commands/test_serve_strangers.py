"""The preview answers this machine alone, by its own names, and nobody can keep it from answering."""

from __future__ import annotations

import contextlib
import os
import signal
import socket
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from http.client import HTTPConnection

import pytest

from guidegen.commands.serve import answers, ended_by_signals, server
from tests.unit.commands.test_serve import Draft
from tests.waiting import PATIENT

pytestmark = pytest.mark.slow


@pytest.fixture
def port() -> Iterator[int]:
    """The port of a preview that runs."""
    with server(Draft(), 0) as running:  # type: ignore[arg-type]
        thread = threading.Thread(target=running.serve_forever, kwargs={"poll_interval": 0.01})
        thread.start()
        yield running.server_port
        running.shutdown()
        thread.join()


def asked(port: int, host: str, method: str = "GET") -> tuple[int, bytes, str]:
    """Status, body and stated length of the home page, asked for by a name."""
    connection = HTTPConnection("127.0.0.1", port, timeout=PATIENT)
    with contextlib.closing(connection):
        connection.putrequest(method, "/index.html", skip_host=True)
        if host:
            connection.putheader("Host", host)
        connection.endheaders()
        answer = connection.getresponse()
        return answer.status, answer.read(), answer.headers["Content-Length"]


@pytest.mark.parametrize(
    "host", ["evil.example", "evil.example:{port}", "127.0.0.1", "127.0.0.1:1", "", "[::1]:{port}"]
)
def test_a_name_that_is_not_its_own_is_refused(port: int, host: str) -> None:
    """A stranger's page whose name was made to lead here would read the draft (DNS rebinding)."""
    status, body, _ = asked(port, host.format(port=port))
    assert status == 421
    assert b"one" not in body.replace(b"only", b"")


@pytest.mark.parametrize("host", ["127.0.0.1:{port}", "localhost:{port}"])
def test_its_own_names_are_answered(port: int, host: str) -> None:
    """As a browser on this machine sends them."""
    status, body, _ = asked(port, host.format(port=port))
    assert (status, b"one" in body) == (200, True)


def test_the_head_of_an_answer_is_that_of_the_answer(port: int) -> None:
    """RFC 9110, section 9.3.2: the same fields, and no content."""
    whole, head = (asked(port, f"127.0.0.1:{port}", method) for method in ("GET", "HEAD"))
    assert (head[0], head[1], head[2]) == (200, b"", str(len(whole[1])))


def test_idle_connections_neither_pile_up_nor_keep_others_out(port: int) -> None:
    """Three times as many as it takes, with nothing asked or half of it: threads stay few, and who asks is answered."""
    before = threading.active_count()
    with contextlib.ExitStack() as opened:
        for number in range(3 * answers.MOST_CONNECTIONS):
            one = opened.enter_context(socket.create_connection(("127.0.0.1", port), timeout=PATIENT))
            one.sendall(b"GET / HT" if number % 2 else b"")
        until = time.monotonic() + PATIENT
        while threading.active_count() - before > answers.MOST_CONNECTIONS and time.monotonic() < until:
            time.sleep(0.05)
        assert threading.active_count() - before <= answers.MOST_CONNECTIONS
        assert asked(port, f"127.0.0.1:{port}")[0] == 200


def test_a_connection_that_asks_nothing_ends(port: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """After the stated time, whoever holds it."""
    monkeypatch.setattr(answers.Handler, "timeout", 0.2)
    with socket.create_connection(("127.0.0.1", port), timeout=PATIENT) as one:
        one.sendall(b"GET / HT")
        assert one.recv(1) == b""


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_a_signal_ends_it_also_where_it_was_started_with_signals_ignored(number: signal.Signals) -> None:
    """As by a shell that starts it in its background."""
    code = (
        "import signal, sys, time\nsignal.signal(signal.SIGINT, signal.SIG_IGN)\n"
        "from guidegen.commands.serve import ended_by_signals\ntry:\n  with ended_by_signals():\n"
        "    print('runs', flush=True)\n    time.sleep(600)\nexcept KeyboardInterrupt:\n  print('ended', flush=True)\n"
    )
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
    with subprocess.Popen([sys.executable, "-c", code], stdout=subprocess.PIPE, env=environment) as process:
        assert process.stdout is not None
        assert process.stdout.readline() == b"runs\n"
        process.send_signal(number)
        assert process.stdout.readline() == b"ended\n"
        assert process.wait(PATIENT) == 0


def test_signals_are_as_before_afterwards() -> None:
    """Whoever uses it from Python keeps his own."""
    before = signal.getsignal(signal.SIGINT), signal.getsignal(signal.SIGTERM)
    with ended_by_signals():
        pass
    assert (signal.getsignal(signal.SIGINT), signal.getsignal(signal.SIGTERM)) == before
