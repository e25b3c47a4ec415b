"""The engine that turns hand-written Markdown and the theme into a site: a program beside us, never imported.

Everything the engine needs is laid out under ``.guidegen/site/engine`` and everything it may do is written into
``.guidegen/mkdocs.yml``, which inherits from the workshop's own ``mkdocs.yml``. It is started only when a
hash over all of that, and over the versions of what would run, has changed.
"""

from __future__ import annotations

import hashlib
import importlib.metadata
import logging
import os
import re
import subprocess
import sys
from collections.abc import Iterator, Mapping
from importlib import resources
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import Any

from guidegen.language import translation
from guidegen.problems import CatalogueError, EnvironmentProblem, Problem
from guidegen.reading import bytes_of
from guidegen.site import handwritten
from guidegen.site.bind import frame_path
from guidegen.site.codes import SiteCode
from guidegen.site.engine.look import SHEET, look_at
from guidegen.site.engine.settings import config, read_settings, refuse_what_it_drops
from guidegen.site.output import OutputTree, is_inside
from guidegen.writing import write_atomically

log = logging.getLogger("guidegen.site.engine")

ENGINES = ("mkdocs", "properdocs", "zensical")
DEEPEST_FRAME = 3
"""Guides lie at most in ``guides/<variant>/<kit>/``: three folders."""

_PACKAGES = ("jinja2", "markdown", "mkdocs-material", "pygments", "pymdown-extensions", "pyyaml")
_MESSAGE = re.compile(r"^(?:WARNING|ERROR|CRITICAL)\s*-\s+(.*(?:\n(?![A-Z]+\s*-\s).*)*)", re.MULTILINE)


class EngineMissing(EnvironmentProblem):
    """The chosen engine is not installed in this environment."""


def run(
    root: Path,
    engine: str = "mkdocs",
    context: Mapping[str, Any] | None = None,
    edition: str = "",
    folder: str | None = None,
) -> Path:
    """Have ``engine`` build hand-written pages and frames; returns the folder that holds its site.

    With ``edition`` the pages know which edition they belong to, and have the address of the site's ``folder`` in which
    they will lie, which is called as the edition is where none is given.
    Raises :class:`~guidegen.problems.CatalogueError` for mistakes in pages or ``mkdocs.yml``, and
    :class:`EngineMissing` when the engine is not installed.
    """
    if engine not in ENGINES:
        raise ValueError(f"engine {engine!r}: one of {', '.join(ENGINES)}")
    version = _version(engine)
    if version is None:
        raise EngineMissing(f"{engine} is not installed: pip install {engine}")
    work = root / ".guidegen" / "engine"
    settings = read_settings(root / "mkdocs.yml")
    if engine == "zensical":
        refuse_what_it_drops(settings)
    own = handwritten.render(root / "content" / "pages", context or {})
    look = look_at(root, settings, own, translation().code)
    docs = {**own, **_frames(), **_assets(), **({SHEET: look.css.encode()} if look.css else {})}
    theme = _theme(root)
    written = config(settings, docs, engine, edition, edition if folder is None else folder)
    key = _key(root, settings, docs, theme, written, engine, version)
    state, site = work / "state", work / "site"
    if site.is_dir() and state_of(root) == key:
        log.debug("engine: nothing changed, not started")
        return site
    state.unlink(missing_ok=True)
    OutputTree(work / "docs", work / "docs.manifest").write(docs)
    OutputTree(work / "theme", work / "theme.manifest").write(theme)
    # Never through what lies there: a pipe would keep the build waiting.
    write_atomically(root / ".guidegen" / "mkdocs.yml", written.encode(), durable=False)
    log.info("engine: %s %s builds hand-written pages and frames", engine, version)
    _start(root, engine)
    write_atomically(state, key.encode(), durable=False)
    return site


def warnings(root: Path) -> tuple[Problem, ...]:
    """What of the settings is shown otherwise than it is written, or not at all; nothing where there are none."""
    if not (root / "mkdocs.yml").is_file():
        return ()
    files = handwritten.files_of(root / "content" / "pages", "content/pages", [])
    return tuple(look_at(root, read_settings(root / "mkdocs.yml"), files, translation().code).problems)


def state_of(root: Path) -> str:
    """What names the engine's site that lies there: another site has another state. Empty where there is none."""
    state = root / ".guidegen" / "engine" / "state"
    try:
        return bytes_of(state).decode()
    except (OSError, ValueError):
        return ""


def _start(root: Path, engine: str) -> None:
    """Run the engine; its errors and warnings become problems, because a site built around them is not what we want."""
    environment = {**os.environ, "NO_MKDOCS_2_WARNING": "1", "NO_COLOR": "1", "PYTHONUTF8": "1"}
    environment.setdefault("SOURCE_DATE_EPOCH", "0")
    command = [sys.executable, "-m", engine, "build", "-f", str(Path(".guidegen", "mkdocs.yml"))]
    done = subprocess.run(command, cwd=root, env=environment, stdin=subprocess.DEVNULL, capture_output=True,
                          encoding="utf-8", errors="replace")  # fmt: skip
    output = done.stdout + done.stderr
    log.debug("engine output:\n%s", output)
    messages = [" ".join(text.split()) for text in _MESSAGE.findall(output)]
    if not messages and done.returncode == 0:
        return
    if not messages:
        messages = [" ".join(output.split())[-2000:] or f"{engine} ended with {done.returncode} without a message"]
    raise CatalogueError(tuple(sorted(_located(root, text, engine) for text in messages)))


def _located(root: Path, message: str, engine: str) -> Problem:
    """The engine's message as a problem of the file that it names, as far as it names one."""
    quoted = re.findall(r"'([^'\n]+)'", message)
    # What names a place of this machine is none of the pages, as where the disk is full.
    own = root / "content" / "pages"
    pages = [text for text in quoted if is_inside(text) and (own / text).is_file()]
    path = root.joinpath("content", "pages", pages[0]) if pages else root / "mkdocs.yml"
    line = 1
    if path.is_file():
        lines = bytes_of(path).decode(errors="replace").split("\n")
        words = (text for text in quoted if text not in pages)
        places = (number for word in words for number, text in enumerate(lines, 1) if word in text)
        line = next(places, 1)
    shown = path.relative_to(root).as_posix()
    return Problem(shown, line, 1, SiteCode.ENGINE, f"{engine}: {message}", "correct what it names")


def _frames() -> dict[str, bytes]:
    source = '---\ntemplate: guide.html\ntitle: "@@guidegen:topic@@"\nsearch:\n  exclude: true\n---\n\nframe\n'
    paths = (frame_path(depth).replace(".html", ".md") for depth in range(DEEPEST_FRAME + 1))
    return {path: source.encode() for path in paths}


def _assets() -> dict[str, bytes]:
    found = _tree(resources.files("guidegen.site.web") / "assets")
    return {f"assets/guidegen/{name}": data for name, data in found}


def _theme(root: Path) -> dict[str, bytes]:
    """Our overrides, and over them what the workshop has in ``content/theme``."""
    theme = dict(_tree(resources.files("guidegen.site.web") / "overrides"))
    own, problems = root / "content" / "theme", list[Problem]()
    theme |= {name: bytes_of(own / name) for name in handwritten.files_of(own, "content/theme", problems)}
    if problems:
        raise CatalogueError(problems)
    return theme


def _tree(folder: Traversable, above: str = "") -> Iterator[tuple[str, bytes]]:
    for entry in sorted(folder.iterdir(), key=lambda item: item.name):
        if entry.name.startswith((".", "__")):
            continue
        if entry.is_dir():
            yield from _tree(entry, f"{above}{entry.name}/")
        else:
            yield above + entry.name, entry.read_bytes()


def _version(package: str) -> str | None:
    try:
        return importlib.metadata.version(package)
    except importlib.metadata.PackageNotFoundError:
        return None


def _key(
    root: Path,
    settings: Mapping[str, Any],
    docs: Mapping[str, bytes],
    theme: Mapping[str, bytes],
    written: str,
    engine: str,
    version: str,
) -> str:
    """A hash of everything the engine's site depends on."""
    whole = hashlib.sha256()

    def add(*parts: str | bytes) -> None:
        for part in parts:
            data = part.encode() if isinstance(part, str) else part
            whole.update(len(data).to_bytes(8, "little") + data)

    add(engine, version, sys.version, written, bytes_of(root / "mkdocs.yml"))
    for package in _PACKAGES:
        add(package, _version(package) or "")
    for hook in settings.get("hooks") or []:
        path = root / str(hook)
        add(str(hook), bytes_of(path) if path.is_file() else b"")
    for name, data in (*sorted(docs.items()), *sorted(theme.items())):
        add(name, data)
    return whole.hexdigest()
