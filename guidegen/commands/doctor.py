"""`guidegen doctor`: what this machine lacks, what for, and how to get it. It changes nothing."""

from __future__ import annotations

import argparse
import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from importlib import metadata
from pathlib import Path
from typing import Any, Literal

from guidegen import __version__
from guidegen.commands.terminal import out

OK, ENVIRONMENT = 0, 3
OLDEST, NEWEST = (3, 11), (3, 13)
"""The versions of Python for which the program is tested; pyproject.toml has the same."""
ROOM = 2_000_000_000
"""Bytes: some thirty editions of a workshop like the demonstration, with what is kept between runs."""
BROWSERS = ("chromium", "chromium-browser")

Add = Callable[[Any, str, Any, str], argparse.ArgumentParser]
State = Literal["ok", "missing", "without"]


@dataclass(frozen=True)
class LookedFor:
    """One thing that was looked for. `missing` stops commands; `without` it only what `words` name is not possible."""

    state: State
    name: str
    words: str
    fix: str = ""

    def lines(self) -> Iterator[str]:
        """As it is printed, what to do below it."""
        yield f"{self.state:<8} {self.name}: {self.words}"
        if self.fix:
            yield f"         fix: {self.fix}"


def add(group: Any, command: Add) -> None:
    """Add the command to the parser."""
    command(group, "doctor", doctor, "say what this machine lacks, what it is for, and how to get it")


def doctor(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen doctor`."""
    found = list(findings(root))
    for one in found:
        out("\n".join(one.lines()))
    missing, without = (sum(one.state == state for one in found) for state in ("missing", "without"))
    out(f"{missing} missing, {without} that only some commands want")
    return ENVIRONMENT if missing else OK


def findings(root: Path) -> Iterator[LookedFor]:
    """Everything that was looked for, in the order in which it is needed."""
    yield _python()
    yield _packages()
    yield _folder(root)
    yield from _git(root)
    yield _address(root)
    yield LookedFor("ok", "fonts", "sheets, charts and pictures bring their own, pages use the reader's")
    yield _program("ssh-keygen", "signing editions (`publish --sign`, and `verify` of signed ones)", "openssh-client")
    yield _browser()
    yield _cluster()


def _python() -> LookedFor:
    version = ".".join(map(str, sys.version_info[:3]))
    if OLDEST <= sys.version_info[:2] <= NEWEST:
        return LookedFor("ok", "Python", f"{version}, guidegen {__version__}")
    wanted = " to ".join(".".join(map(str, one)) for one in (OLDEST, NEWEST))
    return LookedFor("missing", "Python", f"{version}, guidegen is tested with {wanted}", _got("python3.13"))


def _packages() -> LookedFor:
    """The packages that guidegen says it needs; whether each is new enough the installer looked at."""
    try:
        needed = [one for one in metadata.requires("guidegen") or () if "extra ==" not in one]
    except metadata.PackageNotFoundError:
        fix = "python -m pip install . in guidegen's own folder"
        return LookedFor("missing", "packages", "guidegen is run from a folder and not installed", fix)
    names = [match.group() for one in needed if (match := re.match(r"[A-Za-z0-9._-]+", one))]
    gone = [name for name in names if not _is_installed(name)]
    if gone:
        fix = f"{sys.executable} -m pip install {' '.join(gone)}"
        return LookedFor("missing", "packages", f"not installed: {', '.join(gone)}", fix)
    return LookedFor("ok", "packages", f"all {len(names)} are installed")


def _cluster() -> LookedFor:
    from guidegen.assess.cluster import INSTALL

    wanted = "several machines at once (`build --cluster`, `publish --cluster`)"
    if _is_installed("distributed"):
        return LookedFor("ok", "cluster", f"dask, for {wanted}")
    return LookedFor("without", "cluster", f"dask is not installed, for {wanted}", INSTALL)


def _is_installed(name: str) -> bool:
    try:
        metadata.version(name)
    except metadata.PackageNotFoundError:
        return False
    return True


def _folder(root: Path) -> LookedFor:
    """Whether the workshop's folder can be written into, by writing there; and whether there is room."""
    where = root.resolve().as_posix()
    try:
        with tempfile.TemporaryFile(dir=root):
            pass
        free = shutil.disk_usage(root).free
    except OSError as error:
        fix = f"give yourself the right to write there: chmod -R u+rwX '{where}', or copy the folder to your home"
        return LookedFor("missing", "folder", f"{where} cannot be written into: {error.strerror}", fix)
    if free < ROOM:
        words = f"{where} has {free / 1e9:.1f} GB left, editions and what is kept between runs take some {ROOM / 1e9:g}"
        return LookedFor("without", "folder", words, "make room, or move the workshop to a larger disk")
    return LookedFor("ok", "folder", f"{where} can be written into")


def _git(root: Path) -> Iterator[LookedFor]:
    program = _program("git", "history, `publish`, `deliver` and `recover`", "git")
    yield program
    if program.state != "ok":
        return
    name, mail = (_asked(root, "config", key) for key in ("user.name", "user.email"))
    if name and mail:
        yield LookedFor("ok", "git identity", "name and address are set")
    else:
        fix = "git config --global user.name 'Your Name' && git config --global user.email you@example.org"
        yield LookedFor("without", "git identity", "git does not know who commits, so it refuses commits", fix)
    if _asked(root, "rev-parse", "--git-dir"):
        yield LookedFor("ok", "history", "this folder has one")
    else:
        fix = f"git init '{root.resolve().as_posix()}', then commit what you wrote"
        yield LookedFor("without", "history", "this folder has none, so nothing can be published from it", fix)


def _asked(root: Path, *words: str) -> str:
    """What git answers; empty where it says no."""
    done = subprocess.run(["git", "-C", str(root), *words], capture_output=True, check=False)
    return done.stdout.decode(errors="replace").strip() if done.returncode == 0 else ""


def _address(root: Path) -> LookedFor:
    """What the settings say: labels, feeds and codes on sheets want the site's address."""
    path = root / "mkdocs.yml"
    if not path.is_file():
        return LookedFor("without", "workshop", "this folder is none", "guidegen new workshop DIR, or --root DIR")
    from guidegen.site.engine.settings import read_settings

    if read_settings(path).get("site_url"):
        return LookedFor("ok", "workshop", "mkdocs.yml says where the site will stand")
    words = "mkdocs.yml has no site_url, so labels, feeds, codes on sheets and replies have no address"
    return LookedFor("without", "workshop", words, "write site_url: https://… into mkdocs.yml")


def _browser() -> LookedFor:
    """Asked for by the tests of guidegen alone; a workshop needs none."""
    named = os.environ.get("GUIDEGEN_CHROMIUM")
    if named or any(map(shutil.which, BROWSERS)):
        return LookedFor("ok", "Chromium", "there, for the tests of guidegen's own pages")
    words = "only the tests of guidegen's own pages want it (`make test`); a workshop does not"
    return LookedFor("without", "Chromium", words, _got("chromium"))


def _program(name: str, what_for: str, package: str) -> LookedFor:
    if shutil.which(name):
        return LookedFor("ok", name, f"there, for {what_for}")
    return LookedFor("without", name, f"not installed; without it no {what_for}", _got(package))


def _got(package: str) -> str:
    """How a package of the system is got here, as far as that can be known."""
    for installer, command in (
        ("apt-get", "sudo apt-get install"),
        ("dnf", "sudo dnf install"),
        ("pacman", "sudo pacman -S"),
        ("zypper", "sudo zypper install"),
        ("brew", "brew install"),
    ):
        if shutil.which(installer):
            return f"{command} {package}"
    return f"install {package} from your system's packages or its own site, and open a new terminal"
