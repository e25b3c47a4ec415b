"""A preview on this machine: serves the draft, builds again after an edit, and reloads the page that is open.

Only the server knows of all this: the script that listens is added to the pages on their way out, never written.
A page may also be made at the moment it is asked for; then nothing else needs to be built before it is seen.
"""

from __future__ import annotations

import functools
import http.server
import json
import logging
import mimetypes
import sys
import threading
import time
import traceback
from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass
from http import HTTPStatus
from importlib import resources
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urlsplit

from guidegen.finish import POLICY_FILE
from guidegen.problems import CatalogueError, EnvironmentProblem, Problem

log = logging.getLogger("guidegen.serve")

WATCHED = ("machines", "content", "mkdocs.yml")
LOOK_EVERY_S = 0.1
"""Between two looks at the files; a look at a thousand files costs about ten milliseconds."""
_LIVE = "/guidegen-live/"

Build = Callable[[], object]
OnDemand = Callable[[str], bytes | None]


@dataclass(frozen=True)
class State:
    """What open pages need to know: a number that grows with each build, and what is wrong now."""

    number: int = 0
    problems: tuple[Problem, ...] = ()

    def as_json(self) -> bytes:
        """What the listening script reads."""
        return json.dumps(
            {"number": self.number, "problems": [asdict(one) for one in self.problems]}
        ).encode()


class Preview:
    """The draft's state, and the builds that change it."""

    def __init__(self, root: Path, build: Build) -> None:
        self.root = root
        self._build = build
        self._state = State()
        self._changed = threading.Condition()

    @property
    def state(self) -> State:
        """The state now."""
        with self._changed:
            return self._state

    def build(self) -> State:
        """Build once; a mistake of the author becomes part of the state, and so does a fault of ours."""
        started = time.perf_counter()
        try:
            self._build()
            problems: tuple[Problem, ...] = ()
        except CatalogueError as error:
            problems = error.problems
        except EnvironmentProblem as error:
            problems = (Problem("guidegen", 1, 1, "", str(error)),)
        except Exception as error:
            note = self.root / ".guidegen" / "last-error.txt"
            note.write_text(traceback.format_exc(), encoding="utf-8")
            text = f"a fault of guidegen itself: {error}"
            problems = (Problem(note.relative_to(self.root).as_posix(), 1, 1, "", text),)
        log.info("built in %.2f s, %d problems", time.perf_counter() - started, len(problems))
        for problem in problems:
            print(problem, file=sys.stderr)
        with self._changed:
            self._state = State(self._state.number + 1, problems)
            self._changed.notify_all()
            return self._state

    def wait(self, number: int, seconds: float) -> State:
        """The state as soon as its number differs from ``number``, at the latest after ``seconds``."""
        with self._changed:
            self._changed.wait_for(lambda: self._state.number != number, seconds)
            return self._state


def snapshot(root: Path, names: tuple[str, ...] = WATCHED) -> Mapping[str, tuple[int, int]]:
    """Every watched file with what changes when it is written: time and size.

    Polled, because that works for every editor and every file system, a mounted one too.
    """
    found: dict[str, tuple[int, int]] = {}
    for name in names:
        top = root / name
        for path in sorted(top.rglob("*")) if top.is_dir() else [top]:
            try:
                status = path.stat()
            except OSError:
                continue
            if path.is_file() and not path.name.endswith(("~", ".swp", ".part")):
                found[path.as_posix()] = (status.st_mtime_ns, status.st_size)
    return found


def watch(preview: Preview, stop: threading.Event, before: Mapping[str, tuple[int, int]]) -> None:
    """Build whenever a watched file differs from what the last build saw, until told to stop."""
    while not stop.wait(LOOK_EVERY_S):
        now = snapshot(preview.root)
        if now != before:
            before = now
            preview.build()


class Handler(http.server.SimpleHTTPRequestHandler):
    """Files of the draft, the live endpoints, and pages made on demand."""

    protocol_version = "HTTP/1.1"

    def __init__(self, *args: Any, preview: Preview, page: OnDemand | None, **more: Any) -> None:
        self.preview, self.on_demand = preview, page
        super().__init__(*args, **more)

    def log_message(self, format: str, *args: Any) -> None:
        """Into our own log instead of the terminal."""
        log.debug(format, *args)

    def do_GET(self) -> None:
        """Answer a request: live endpoint, page on demand, or file, in this order."""
        path = unquote(urlsplit(self.path).path)
        if path == _LIVE + "state":
            query = urlsplit(self.path).query.removeprefix("after=")
            state = self.preview.wait(int(query) if query.isdecimal() else -1, 20.0)
            return self._answer(state.as_json(), "application/json")
        if path == _LIVE + "live.js":
            script = resources.files("guidegen.web") / "serve" / "live.js"
            return self._answer(script.read_bytes(), "text/javascript")
        name = path.lstrip("/") + ("index.html" if path.endswith("/") else "")
        made = self.on_demand(name) if self.on_demand else None
        if made is None:
            made = self._file(name)
        if made is None:
            missing = self._file("404.html") or b"not found"
            return self._answer(self._live(missing), "text/html", HTTPStatus.NOT_FOUND)
        kind = mimetypes.guess_type(name)[0] or "application/octet-stream"
        return self._answer(self._live(made) if kind == "text/html" else made, kind)

    def _file(self, name: str) -> bytes | None:
        folder = Path(self.directory).resolve()
        path = (folder / name).resolve()
        if path.is_relative_to(folder) and path.is_file():
            return path.read_bytes()
        return None

    def _live(self, page: bytes) -> bytes:
        # The number tells the script which build the page is of, so that none is missed while it loads.
        tag = f'<script src="{_LIVE}live.js?of={self.preview.state.number}" defer></script>'.encode()
        head, body, tail = page.rpartition(b"</body>")
        return head + tag + body + tail if body else page + tag

    def _answer(self, data: bytes, kind: str, status: HTTPStatus = HTTPStatus.OK) -> None:
        self.send_response(status)
        text = kind.startswith("text/") or kind.endswith("json")
        self.send_header("Content-Type", f"{kind}; charset=utf-8" if text else kind)
        self.send_header("Content-Length", str(len(data)))
        self.send_header("Cache-Control", "no-store")
        for line in (self._file(POLICY_FILE) or b"").decode().splitlines():
            name, _, value = line.partition(": ")
            self.send_header(name, value)
        self.end_headers()
        self.wfile.write(data)


class Server(http.server.ThreadingHTTPServer):
    """One thread per request; a browser that went away meanwhile is no news."""

    daemon_threads = True

    def handle_error(self, request: Any, client_address: Any) -> None:
        """Keep a broken connection's traceback out of the terminal."""
        log.debug("connection of %s ended", client_address, exc_info=True)


def server(folder: Path, preview: Preview, port: int, page: OnDemand | None = None) -> http.server.HTTPServer:
    """The server, bound to this machine only, not yet running."""
    handler = functools.partial(Handler, directory=str(folder), preview=preview, page=page)
    try:
        return Server(("127.0.0.1", port), handler)
    except OSError as refused:
        raise EnvironmentProblem(f"port {port} is taken; choose another with --port") from refused


def serve(root: Path, build: Build, port: int = 8620, page: OnDemand | None = None) -> int:
    """Build, serve ``site/next`` and follow every edit until interrupted; returns the exit code.

    ``build`` builds the draft and raises as ``pipeline.build`` does. ``page``, where given, is asked first for
    every path ("guides/…/fit.html") and returns the page's bytes, or None for what lies on disk.
    """
    preview, stop = Preview(root, build), threading.Event()
    folder = root / "site" / "next"
    folder.mkdir(parents=True, exist_ok=True)
    before = snapshot(root)
    with server(folder, preview, port, page) as running:
        threading.Thread(target=running.serve_forever, daemon=True).start()
        preview.build()
        print(f"http://127.0.0.1:{running.server_port}/  (Ctrl-C ends)", flush=True)
        try:
            watch(preview, stop, before)
        except KeyboardInterrupt:
            print()
        finally:
            running.shutdown()
    return 0
