"""What the preview answers: pages made when they are asked for, and word of what changed.

Only here is it known that pages are listened to: the script that listens is added on their way out, never written.
"""

from __future__ import annotations

import functools
import hashlib
import http.server
import json
import logging
import mimetypes
import time
from dataclasses import asdict
from http import HTTPStatus
from importlib import resources
from typing import Any
from urllib.parse import parse_qs, unquote, urlsplit

from guidegen.commands.serve.draft import Draft
from guidegen.commands.serve.waiting import mistakes_page
from guidegen.problems import EnvironmentProblem
from guidegen.site.finish import policy

log = logging.getLogger("guidegen.commands.serve")

LIVE = "/guidegen-live/"
HOLD_S = 20.0
"""How long a question for news is held before it is answered with none."""


class Handler(http.server.BaseHTTPRequestHandler):
    """Pages of the draft, and the live endpoints."""

    protocol_version = "HTTP/1.1"

    def __init__(self, *args: Any, draft: Draft, **more: Any) -> None:
        self.draft = draft
        super().__init__(*args, **more)

    def log_message(self, format: str, *args: Any) -> None:
        """Into our own log instead of the terminal."""
        log.debug(format, *args)

    def do_GET(self) -> None:
        """Answer a request: a live endpoint, or what the draft has at the path."""
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
        self.wfile.write(data)


def digest(data: bytes | None, looks: bytes) -> str:
    """A digest of a page's state: its own bytes, and the styles and scripts of the site."""
    return hashlib.sha256((data or b"") + b"\0" + looks).hexdigest()[:16]


def _name(path: str) -> str:
    return path.lstrip("/") + ("index.html" if path.endswith("/") or not path else "")


def _listening(page: bytes, name: str, state: str) -> bytes:
    # The state says what the script has, so that nothing is missed while the page loads.
    tag = f'<script src="{LIVE}live.js?of={state}" defer></script>'.encode()
    head, body, tail = page.rpartition(b"</body>")
    return head + tag + body + tail if body else page + tag


class Server(http.server.ThreadingHTTPServer):
    """One thread per request; a browser that went away meanwhile is no news."""

    daemon_threads = True

    def handle_error(self, request: Any, client_address: Any) -> None:
        """Keep a broken connection's traceback out of the terminal."""
        log.debug("connection of %s ended", client_address, exc_info=True)


def server(draft: Draft, port: int) -> http.server.HTTPServer:
    """The server, bound to this machine only, not yet running."""
    try:
        return Server(("127.0.0.1", port), functools.partial(Handler, draft=draft))
    except OSError as refused:
        raise EnvironmentProblem(f"port {port} is taken; choose another with --port") from refused
