"""The page for makers, followed to the letter: every command in it is typed in one terminal, in its order."""

from __future__ import annotations

import os
import re
import shutil
import socket
import subprocess
import sys
import sysconfig
from collections.abc import Iterator
from pathlib import Path

import pytest

REPOSITORY = Path(__file__).parents[2]
PAGE = REPOSITORY / "content" / "pages" / "publish.md"
BLOCK = re.compile(r"^```(sh|yaml)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
NAMED_BEFORE = re.compile(r"In `([\w./-]+\.yml)`")
SERVE = "guidegen serve"

ANSWERS = """
python - <<'END'
import signal, subprocess, time, urllib.request
ignored = lambda: signal.signal(signal.SIGINT, signal.SIG_IGN)
server = subprocess.Popen(["guidegen", "serve", "--quiet", "--port", "{port}"], preexec_fn=ignored)
try:
    page = ""
    until = time.monotonic() + 900
    while time.monotonic() < until:
        try:
            page = urllib.request.urlopen("http://127.0.0.1:{port}/", timeout=900).read().decode()
        except OSError:
            pass
        if "Larch One" in page:
            break
        time.sleep(0.1)
    assert "Old Mill Bench" in page and "Larch One" in page, page[:2000]
    server.send_signal(signal.SIGINT)
    assert server.wait(900) == 0
finally:
    server.kill()
END
"""
"""The preview answers with the workshop's own words, and ends on Ctrl-C though a shell let that be ignored."""


def typed(page: str, port: int) -> Iterator[str]:
    """The lines that the page has its reader type, and its edits as edits."""
    for block in BLOCK.finditer(page):
        language, text = block.groups()
        if language == "sh":
            yield from (ANSWERS.format(port=port) if line == SERVE else line for line in text.splitlines())
        else:
            name = NAMED_BEFORE.findall(page[: block.start()])[-1]
            for line in text.splitlines():
                key = line.partition(":")[0]
                yield f"grep -v '^{key}:' {name} > edited; echo '{line}' >> edited; mv edited {name}"


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A home folder in which only the program lies; what the page says was typed there."""
    folder = tmp_path_factory.mktemp("home")
    (folder / "guidegen").mkdir()
    for name in ("guidegen", "pyproject.toml", "README.md", "LICENSE", "THIRD_PARTY.md"):
        source, target = REPOSITORY / name, folder / "guidegen" / name
        if source.is_dir():
            shutil.copytree(source, target, ignore=shutil.ignore_patterns("__pycache__"))
        else:
            shutil.copy(source, target)
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    script = "\n".join(("set -eu", *typed(PAGE.read_text(encoding="utf-8"), port)))
    environment = {
        "HOME": str(folder),
        "PATH": f"{Path(sys.executable).parent}{os.pathsep}{os.environ['PATH']}",
        # What the program needs is taken from where the tests run; a maker's pip fetches it.
        "PYTHONPATH": sysconfig.get_paths()["purelib"],
        "PYTHONUTF8": "1",
        "PIP_NO_INDEX": "1",
        "PIP_NO_DEPS": "1",
        "PIP_NO_BUILD_ISOLATION": "0",
        "PIP_DISABLE_PIP_VERSION_CHECK": "1",
        **{f"GIT_{who}_{what}": f"m@{who}.example" for who in ("AUTHOR", "COMMITTER") for what in ("NAME", "EMAIL")},
    }
    # It takes a minute. Whatever has not ended after an hour waits for something that does not come.
    done = subprocess.run(
        ["bash", "-c", script], cwd=folder, env=environment, capture_output=True, encoding="utf-8", timeout=3600
    )
    assert done.returncode == 0, done.stdout[-3000:] + done.stderr[-3000:]
    return folder


def test_the_page_ends_with_a_site_that_can_be_copied(home: Path) -> None:
    """The edition with the maker's name, machine and address, its headers, and no draft."""
    public = home / "public"
    edition = public / "2026.1"
    index = (edition / "index.html").read_text(encoding="utf-8")
    assert "Old Mill Bench" in index
    assert "Larch One" in index
    assert "First Variant" not in index
    assert "https://guides.old-mill.example/2026.1/" in index
    assert (edition / "security-headers.txt").read_text(encoding="utf-8").startswith("Content-Security-Policy: ")
    assert "2026.1" in (public / "index.html").read_text(encoding="utf-8")
    assert not (public / "next").exists()


def test_everything_is_kept_and_nothing_is_left_over(home: Path) -> None:
    """Git holds the workshop and the edition's snapshot, and has nothing to add."""
    git = ["git", "-C", str(home / "my-workshop")]
    left = subprocess.run([*git, "status", "--short"], capture_output=True, encoding="utf-8", check=True).stdout
    assert left == ""
    kept = subprocess.run([*git, "ls-files"], capture_output=True, encoding="utf-8", check=True).stdout.splitlines()
    assert "content/editions/2026.1/edition.json" in kept
    assert "machines/larch/one.yml" in kept


def test_the_commands_that_the_page_only_names_exist(capsys: pytest.CaptureFixture[str]) -> None:
    """In its sentences, not in its blocks."""
    from guidegen.commands import main

    prose = BLOCK.sub("", PAGE.read_text(encoding="utf-8"))
    named = set(re.findall(r"`guidegen ([a-z]+)", prose))
    assert {"withdraw", "assumed", "new"} <= named
    for name in sorted(named):
        with pytest.raises(SystemExit) as ended:
            main([name, "--help"])
        assert ended.value.code == 0, name
    capsys.readouterr()
