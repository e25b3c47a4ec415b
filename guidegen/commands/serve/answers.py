"""What the preview answers: pages made when they are asked for, and word of what changed.

Only here is it known that pages are listened to: the script that listens is added on their way out, never written.
"""

from __future__ import annotations

import contextlib
import functools
import hashlib
import http.server
import json
import logging
import mimetypes
import socket
import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import asdict
from http import HTTPStatus
from importlib import resources
from typing import Any
from urllib.parse import parse_qs, unquote, urlsplit

from guidegen.commands.serve.draft import Draft
from guidegen.commands.serve.waiting import mistakes_page
from guidegen.editions.edition import DRAFT
from guidegen.problems import EnvironmentProblem
from guidegen.site.finish import policy

log = logging.getLogger("guidegen.commands.serve")

LIVE = "/guidegen-live/"
HTTP_PORT = 80
"""The one that browsers leave out of a name."""
MOST_CONNECTIONS = 64
"""Open at once: a browser has six to a place, and a page in each of some tabs waits for news."""
IDLE_S = 10.0
"""How long a connection may wait for its next question, or for the rest of one."""
HOLD_S = 20.0
"""How long a question for news is held before it is answered with none."""


class Handler(http.server.BaseHTTPRequestHandler):
    """Pages of the draft, and the live endpoints."""

    protocol_version = "HTTP/1.1"
    timeout = IDLE_S
    server: Server

    def __init__(self, *args: Any, draft: Draft, **more: Any) -> None:
        self.draft = draft
        super().__init__(*args, **more)

    def log_message(self, format: str, *args: Any) -> None:
        """Into our own log instead of the terminal."""
        log.debug(format, *args)

    def do_HEAD(self) -> None:
        """The same answer without what it holds."""
        self.do_GET()

    def do_GET(self) -> None:
        """Answer a request that was sent to this machine by a name that is its own."""
        with self.server.answering(self.connection):
            if self.headers.get("Host", "") in self.server.own_names:
                self._answer_asked()
            else:
                words = f"The preview answers on {' and '.join(sorted(self.server.own_names))} only.\n"
                self._answer(words.encode(), "text/plain", HTTPStatus.MISDIRECTED_REQUEST)

    def _answer_asked(self) -> None:
        """A live endpoint, or what the draft has at the path."""
        asked = urlsplit(self.path)
        path = unquote(asked.path)
        if path == LIVE + "state":
            question = {name: values[-1] for name, values in parse_qs(asked.query).items()}
            news = self._news(question.get("page", ""), question.get("of", ""), question.get("shown", ""))
            return self._answer(json.dumps(news).encode(), "application/json")
        if path == LIVE + "live.js":
            script = resources.files("guidegen.site.web") / "serve" / "live.js"
            return self._answer(script.read_bytes(), "text/javascript")
        name = _name(path)
        made, state = self._seen(name)
        if made is None:
            missing = self.draft.bytes_of("404.html") or mistakes_page(self.draft.problems)
            return self._answer(_listening(missing, name, state), "text/html", HTTPStatus.NOT_FOUND)
        kind = mimetypes.guess_type(name)[0] or "application/octet-stream"
        return self._answer(_listening(made, name, state) if kind == "text/html" else made, kind)

    def _seen(self, name: str) -> tuple[bytes | None, str]:
        """What is at a path, and a digest of its state."""
        made = self.draft.bytes_of(name)
        return made, digest(made, self.draft.looks)

    def _news(self, page: str, of: str, shown: str) -> dict[str, Any]:
        """The state of an open page as soon as it is not the one that its browser has."""
        until = time.monotonic() + HOLD_S
        while True:
            number = self.draft.number
            problems = [asdict(one) for one in self.draft.problems]
            now = digest(json.dumps(problems).encode(), b"")
            _, state = self._seen(_name(page))
            left = until - time.monotonic()
            if state != of or now != shown or left <= 0:
                return {"of": state, "shown": now, "problems": problems}
            self.draft.wait(number, left)

    def _answer(self, data: bytes, kind: str, status: HTTPStatus = HTTPStatus.OK) -> None:
        self.send_response(status)
        text = kind.startswith("text/") or kind.endswith("json")
        self.send_header("Content-Type", f"{kind}; charset=utf-8" if text else kind)
        self.send_header("Content-Length", str(len(data)))
        self.send_header("Cache-Control", "no-store")
        for line in policy([data] if kind == "text/html" else []).decode().splitlines():
            name, _, value = line.partition(": ")
            self.send_header(name, value)
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(data)


def digest(data: bytes | None, looks: bytes) -> str:
    """A digest of a page's state: its own bytes, and the styles and scripts of the site."""
    return hashlib.sha256((data or b"") + b"\0" + looks).hexdigest()[:16]


def _name(path: str) -> str:
    # The page for what is not here names the draft by its folder in the site, from whose root its links begin.
    path = path.removeprefix(f"/{DRAFT}") if path.startswith(f"/{DRAFT}/") else path
    return path.lstrip("/") + ("index.html" if path.endswith("/") or not path else "")


def _listening(page: bytes, name: str, state: str) -> bytes:
    # The state says what the script has, so that nothing is missed while the page loads.
    tag = f'<script src="{LIVE}live.js?of={state}" defer></script>'.encode()
    head, body, tail = page.rpartition(b"</body>")
    return head + tag + body + tail if body else page + tag


class Server(http.server.ThreadingHTTPServer):
    """One thread per connection, and not more than some; a browser that went away meanwhile is no news.

    `own_names` are the names by which it may be asked. Another one is that of somebody else's page, whose name was made
    to lead here so that the browser lets it read the draft.
    """

    daemon_threads = True

    def __init__(self, address: tuple[str, int], handler: Callable[..., Handler]) -> None:
        super().__init__(address, handler)
        own = ("127.0.0.1", "localhost")
        bare = own if self.server_port == HTTP_PORT else ()
        self.own_names = frozenset((*(f"{name}:{self.server_port}" for name in own), *bare))
        self._held = threading.Lock()
        self._answering: dict[socket.socket, bool] = {}

    def process_request(self, request: Any, client_address: Any) -> None:
        """Take a connection; where there are too many, the one that has waited longest without a question ends."""
        with self._held:
            if len(self._answering) >= MOST_CONNECTIONS:
                idle = next((one for one, is_answering in self._answering.items() if not is_answering), request)
                self._answering.pop(idle, None)
                with contextlib.suppress(OSError):
                    idle.shutdown(socket.SHUT_RDWR)
                if idle is request:
                    request.close()
                    return
            self._answering[request] = False
        super().process_request(request, client_address)

    @contextlib.contextmanager
    def answering(self, request: socket.socket) -> Iterator[None]:
        """Keep a connection while it gets its answer; afterwards it counts as one that waits, the youngest."""
        self._mark(request, True)
        try:
            yield
        finally:
            self._mark(request, False)

    def _mark(self, request: socket.socket, is_answering: bool) -> None:
        with self._held:
            if self._answering.pop(request, None) is not None:
                self._answering[request] = is_answering

    def shutdown_request(self, request: Any) -> None:
        """Forget a connection that has ended."""
        with self._held:
            self._answering.pop(request, None)
        super().shutdown_request(request)

    def handle_error(self, request: Any, client_address: Any) -> None:
        """Keep a broken connection's traceback out of the terminal."""
        log.debug("connection of %s ended", client_address, exc_info=True)


def server(draft: Draft, port: int) -> http.server.HTTPServer:
    """The server, bound to this machine only, not yet running."""
    try:
        return Server(("127.0.0.1", port), functools.partial(Handler, draft=draft))
    except OSError as refused:
        raise EnvironmentProblem(f"port {port} is taken; choose another with --port") from refused
