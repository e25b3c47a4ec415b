"""Hold every page of the built site against the published rules: HTML by vnu, access by axe, loading by Lighthouse.

Run by `make inspect`; not a test of every day, because it installs programs by npm, needs Java, and takes an hour. What
it found is printed, a line each, and counts: it ends with 1 where there was anything.
"""

from __future__ import annotations

import argparse
import gzip
import json
import os
import shutil
import subprocess
import sys
import threading
from collections.abc import Iterator, Sequence
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

from tests.axe import violations

REPOSITORY = Path(__file__).parents[1]
PROGRAMS = REPOSITORY / ".guidegen" / "inspect"
SIZES = ((1280, 800), (390, 844))
SCHEMES = ("light", "dark")
LEAST = 0.95
"""The least score that Lighthouse may give in each of its categories, of 1."""
LOADED = ("index.html", "install.html", "fit.html", "which-variant.html")
"""How the addresses of the pages end that Lighthouse loads; of each the first."""
NOT_KNOWN = {f"CSS: “{name}”: Property “{name}” doesn't exist." for name in ("paint-order", "r")}
"""What vnu says of properties that Scalable Vector Graphics 2 defines (13.8 and 7.3): it knows those of CSS 3 alone."""


class Compressing(SimpleHTTPRequestHandler):
    """A web server as they are set up: it compresses texts and says how long a file may be kept."""

    def log_message(self, *_: Any) -> None:
        """Say nothing."""

    def do_GET(self) -> None:
        """Answer with the file, compressed where that helps."""
        path = Path(self.translate_path(self.path))
        path = path / "index.html" if path.is_dir() else path
        if not path.is_file():
            self.send_error(404)
            return
        data, kind = path.read_bytes(), self.guess_type(path)
        packed = "gzip" in self.headers.get("Accept-Encoding", "") and kind.startswith(("text/", "application/"))
        data = gzip.compress(data) if packed else data
        self.send_response(200)
        headers = {"Content-Type": kind, "Content-Length": str(len(data)), "Cache-Control": "max-age=31536000"}
        for name, value in (headers | ({"Content-Encoding": "gzip"} if packed else {})).items():
            self.send_header(name, value)
        self.end_headers()
        self.wfile.write(data)


def programs() -> Path:
    """Where npm has laid the programs; they are installed where they are not there."""
    wanted = (REPOSITORY / "requirements" / "inspect.txt").read_text(encoding="utf-8").split()
    ready = PROGRAMS / "ready"
    if not ready.is_file() or ready.read_text(encoding="utf-8").split() != wanted:
        shutil.rmtree(PROGRAMS, ignore_errors=True)
        PROGRAMS.mkdir(parents=True)
        command = ["npm", "install", "--silent", "--no-audit", "--no-fund", "--prefix", str(PROGRAMS), *wanted]
        subprocess.run(command, check=True)
        ready.write_text("\n".join(wanted), encoding="utf-8")
    return PROGRAMS / "node_modules"


def html_errors(modules: Path, site: Path) -> Iterator[str]:
    """What vnu calls an error, page by page."""
    jar = modules / "vnu-jar" / "build" / "dist" / "vnu.jar"
    command = ["java", "-jar", str(jar), "--skip-non-html", "--errors-only", "--format", "json", str(site)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    for one in json.loads(done.stderr)["messages"]:
        if one["message"] in NOT_KNOWN:
            continue
        yield f"html: {one['url'].removeprefix(site.as_uri())}:{one.get('lastLine', 0)}: {one['message']}"


def barriers(modules: Path, address: str, pages: Sequence[str]) -> Iterator[str]:
    """What axe finds, on every page at both widths and in both schemes."""
    from playwright.sync_api import sync_playwright

    axe = (modules / "axe-core" / "axe.min.js").read_text(encoding="utf-8")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium(), args=["--no-sandbox"])
        for number, path in enumerate(pages, 1):
            print(f"\raxe: {number} of {len(pages)}", end="", file=sys.stderr, flush=True)
            for width, height in SIZES:
                for scheme in SCHEMES:
                    context = browser.new_context(
                        viewport={"width": width, "height": height}, color_scheme=scheme, reduced_motion="reduce"
                    )
                    page = context.new_page()
                    page.goto(address + path, wait_until="load")
                    yield from (f"axe: {path} {width} px {scheme}: {one}" for one in violations(page, axe))
                    context.close()
        print(file=sys.stderr)
        browser.close()


def scores(modules: Path, address: str, pages: Sequence[str]) -> Iterator[tuple[str, dict[str, float]]]:
    """What Lighthouse gives a page in each of its categories, as on a slow phone."""
    command = ["node", str(modules / "lighthouse" / "cli" / "index.js"), "--quiet", "--output=json"]
    flags = "--chrome-flags=--headless=new --no-sandbox"
    for path in pages:
        environment = {**os.environ, "CHROME_PATH": chromium()}
        done = subprocess.run(
            [*command, flags, address + path], capture_output=True, text=True, check=True, env=environment
        )
        yield path, {name: one["score"] or 0 for name, one in json.loads(done.stdout)["categories"].items()}


def chromium() -> str:
    """The browser that the browser tests use."""
    return shutil.which("chromium") or "/usr/bin/chromium"


def main() -> int:
    """Inspect, print, count."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("site", type=Path, nargs="?", default=REPOSITORY / "site")
    parser.add_argument("--only", choices=("html", "axe", "loading"))
    given = parser.parse_args()
    site, only = given.site.resolve(), given.only
    if missing := [name for name in ("npm", "node", "java") if not shutil.which(name)]:
        print(f"not inspected: {', '.join(missing)} is missing on this machine")
        return 3
    pages = [path.relative_to(site).as_posix() for path in sorted(site.rglob("*.html"))]
    loaded = [next(path for path in pages if path.endswith(f"feed-preheater/{end}") or path.endswith(f"next/{end}"))
              for end in LOADED]  # fmt: skip
    modules = programs()
    server = ThreadingHTTPServer(("127.0.0.1", 0), lambda *given: Compressing(*given, directory=str(site)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    address = f"http://127.0.0.1:{server.server_port}/"
    found = list(html_errors(modules, site)) if only in (None, "html") else []
    if only in (None, "axe"):
        found += barriers(modules, address, pages)
    for path, given in scores(modules, address, loaded) if only in (None, "loading") else ():
        print(f"{path}: " + ", ".join(f"{name} {100 * score:.0f}" for name, score in given.items()))
        found += [f"loading: {path}: {name} {100 * score:.0f}" for name, score in given.items() if score < LEAST]
    server.shutdown()
    print("\n".join([*found, f"{len(pages)} pages inspected, {len(found)} faults"]))
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
