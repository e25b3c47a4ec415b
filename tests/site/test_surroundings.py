"""Every command in surroundings that are broken: what is wrong is said in a sentence, and no command takes it for a
fault of its own.

The small workshop is published twice and delivered; each case breaks one thing and runs every command. `make test`
takes a share of the files and damages, `make harden` all of them.
"""

from __future__ import annotations

import builtins
import errno
import io
import itertools
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path, PurePosixPath
from typing import Any

import pytest

from tests.site.surroundings import LOG, ORDER, REPORT, RUN, SOLD, walk
from tests.whole import some

pytestmark = pytest.mark.slow

SMALL = (
    "mkdocs.yml",
    "content/workshop.yml",
    "content/drinks.yml",
    "content/offers.yml",
    "content/read.yml",
    "content/pictures.yml",
    "content/pictures/a.jpg",
    "content/glossary.yml",
    "content/sources.yml",
    "content/acts.yml",
    "content/hazards.yml",
    "content/questions.yml",
    "content/procedures/collar.yml",
    "content/procedures/shared.yml",
    "content/words/en.po",
    "content/theme/main.html",
    "content/kits/collar.yml",
    "content/pages/index.md",
    "content/editions/withdrawn.json",
    "content/editions/2025.2/edition.json",
    "content/editions/2025.2/shared.json",
    "content/editions/2025.2/plain-one.json",
    "content/editions/2025.2/SHA256SUMS.sha256",
    "machines/plain/family.yml",
    "machines/plain/one.yml",
    "machines/plain/builds.yml",
    RUN,
    RUN.replace(".yml", ".csv"),
    "site/versions.json",
    "site/notices.json",
    "site/offers.json",
    "site/feed.xml",
    "site/robots.txt",
    "site/2025.2/edition.json",
    "site/2025.2/snapshot/plain-one.json",
    "site/2025.2/SHA256SUMS",
    "units/K-1.json",
    "units/to-write.txt",
    "out/.guidegen-files.json",
    ".guidegen/root.json",
    ".guidegen/manifests/next.json",
    ".guidegen/manifests/root.json",
    ".guidegen/mkdocs.yml",
    ".guidegen/engine/state",
    ".guidegen/engine/docs.manifest",
    ".guidegen/engine/theme.manifest",
    ".guidegen/lock",
    ".guidegen/numbers",
    ".guidegen/numbers/*/*",
    ".guidegen/pictures/*/*.json",
    ".gitignore",
    ORDER,
    REPORT,
    LOG,
)


def itself(path: Path) -> None:
    """A link that leads to itself."""
    path.symlink_to(path.name)


DAMAGES: dict[str, Callable[[Path], object]] = {
    "gone": lambda path: None,
    "empty": lambda path: path.write_bytes(b""),
    "a number": lambda path: path.write_bytes(b"5\n"),
    "a list": lambda path: path.write_bytes(b"[5, null]\n"),
    "another key": lambda path: path.write_bytes(b'{"a": {"b": [5]}}\n'),
    "nothing in every field": lambda path: path.write_bytes(b'{"version": null, "theme": null, "editions": null}\n'),
    "NUL": lambda path: path.write_bytes(b"a: \x00\n"),
    "Latin-1": lambda path: path.write_bytes("name: Caf\xe9\n".encode("latin-1")),
    "three thousand brackets": lambda path: path.write_bytes(b"[" * 3000),
    "a link to itself": itself,
    "a folder": lambda path: path.mkdir(),
    "a pipe": lambda path: os.mkfifo(path),
    "a device without end": lambda path: path.symlink_to("/dev/zero"),
}


@pytest.fixture
def root(whole: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The same, to break."""
    root = Path(shutil.copytree(whole, tmp_path / "workshop", symlinks=True))
    monkeypatch.chdir(root)
    monkeypatch.setattr(sys, "stdin", io.StringIO())
    return root


REFUSALS = (errno.ENOSPC, errno.EFBIG, errno.EROFS, errno.EACCES, errno.EIO, errno.EDQUOT)
NAMES = (b"with a space", b"new\nline", b"\xe9", b"-q", "\u202e".encode(), b"a'\"b", b"%s{}")
CASES = list(itertools.product(SMALL, DAMAGES))


def test_every_small_file_is_broken_somewhere(whole: Path) -> None:
    """What a command reads of the workshop, of its working files, of the site's root; and no pages."""
    names = {path.relative_to(whole).as_posix() for path in whole.rglob("*") if path.is_file()}
    read = {name for name in names if Path(name).suffix in (".json", ".yml", ".txt", ".po", ".manifest")}
    pages = {name for name in read if name.startswith("site/") and name.count("/") > 1}
    alike = {
        name
        for name in read
        if name.startswith("content/editions/2025.1/") or name.rpartition("/")[2] in ("two.yml", "plain-two.json")
    }
    inside = {name for name in read if name.startswith((".git/", ".guidegen/engine/site", ".guidegen/engine/docs/"))}
    left = read - pages - alike - inside
    assert {name for name in left if not any(PurePosixPath(name).match(one) for one in SMALL)} == set()


def test_every_command_works_where_nothing_is_broken(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """So that the tests below are about what they break."""
    failing = {name: code for name, code in walk(capsys).items() if code}
    # Order and report are none, no guide has an instruction, and what is published or changed above was not committed.
    form, add = "fitted form plain-one collar", "fitted add report.txt --yes"
    printed = "print plain-one collar --out sheet.pdf --draws 0"
    assert set(failing) == {"fit --read order.txt", form, add, printed, "publish 2025.3 --note Look. --draws 0"}


@pytest.mark.parametrize(("path", "damage"), some(CASES, 101))
def test_a_broken_file_is_no_fault_of_ours(
    root: Path, capsys: pytest.CaptureFixture[str], path: str, damage: str
) -> None:
    """Each small file of the workshop, of its editions and of the working files."""
    target = next(root.glob(path), root / path)
    target.parent.mkdir(parents=True, exist_ok=True)
    shutil.rmtree(target) if target.is_dir() else target.unlink(missing_ok=True)
    DAMAGES[damage](target)
    walk(capsys)


@pytest.mark.parametrize("number", some(REFUSALS, 6))
def test_a_disk_that_refuses_is_no_fault_of_ours(
    root: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    """It is full, the file is too large, or it can only be read: whatever is written is refused."""
    open_file, make_temporary = io.open, tempfile.mkstemp

    def refuse(*given: Any, **more: Any) -> Any:
        raise OSError(number, os.strerror(number), "a file")

    def opened(file: Any, mode: str = "r", *given: Any, **more: Any) -> Any:
        return refuse() if set(mode) & set("wax+") else open_file(file, mode, *given, **more)

    for module in (builtins, io):
        monkeypatch.setattr(module, "open", opened)
    monkeypatch.setattr(tempfile, "mkstemp", refuse)
    monkeypatch.setattr(os, "mkdir", refuse)
    codes = walk(capsys)
    assert make_temporary is not tempfile.mkstemp
    assert codes["list"] == codes["verify"] == 0
    assert codes["deliver --folder out"] == 3


@pytest.mark.parametrize("path", ["", "/nowhere"])
def test_a_machine_without_git_is_no_fault_of_ours(
    root: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, path: str
) -> None:
    """Only what stands on the history is refused, and says so."""
    monkeypatch.setenv("PATH", path)
    codes = walk(capsys)
    assert codes["deliver"] == codes["recover"] == 3
    assert codes["deliver --folder out"] == codes["verify"] == 0


def test_a_workshop_without_a_history_is_no_fault_of_ours(
    root: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """As one that was copied from a stick."""
    shutil.rmtree(root / ".git")
    monkeypatch.setenv("GIT_CEILING_DIRECTORIES", str(root.parent))
    assert walk(capsys)["deliver"] == 3


def test_nobody_s_machine_is_no_fault_of_ours(
    root: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """No home, no name for commits, no language."""
    for name in ("HOME", "LANG", "USER", "LOGNAME", "XDG_CACHE_HOME", "XDG_CONFIG_HOME"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("LC_ALL", "C")
    for name, value in (("GIT_CONFIG_GLOBAL", "/dev/null"), ("GIT_CONFIG_SYSTEM", "/dev/null"), ("EMAIL", "")):
        monkeypatch.setenv(name, value)
    subprocess.run(["git", "config", "--unset", "user.name"], cwd=root, check=True)
    subprocess.run(["git", "config", "--unset", "user.email"], cwd=root, check=True)
    subprocess.run(["git", "config", "user.useConfigOnly", "true"], cwd=root, check=True)
    assert walk(capsys)["deliver"] in (0, 3)


@pytest.mark.parametrize("name", some(NAMES, 7))
def test_an_odd_path_is_no_fault_of_ours(
    whole: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, name: bytes
) -> None:
    """The folder's name is the maker's business."""
    root = Path(shutil.copytree(whole, tmp_path / os.fsdecode(name), symlinks=True))
    monkeypatch.chdir(root)
    monkeypatch.setattr(sys, "stdin", io.StringIO())
    codes = walk(capsys)
    assert codes["verify"] == codes["build --draws 0"] == 0


@pytest.mark.parametrize("words", [("list",), ("check",), ("verify",), ("unit", "add", "K-3", *SOLD[:-1])])
def test_bytes_that_are_no_utf8_on_the_command_line_are_no_fault_of_ours(root: Path, words: tuple[str, ...]) -> None:
    """A customer's name from an old terminal, in the language C."""
    given: list[bytes] = [os.fsencode(sys.executable), b"-m", b"guidegen", *map(os.fsencode, words)]
    given += [b"Andr\xe9"] if "add" in words else []
    environment = {"PATH": os.environ["PATH"], "PYTHONPATH": os.pathsep.join(sys.path), "LC_ALL": "C"}
    done = subprocess.run(given, cwd=root, env=environment, capture_output=True)
    assert done.returncode == (2 if "add" in words else 0), done.stderr[-500:]
    assert b"Traceback" not in done.stderr
