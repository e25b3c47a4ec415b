"""A branch of git that holds the public site and nothing else: read and written one file at a time.

A file that the branch has already is named by its object and not sent again, whatever it holds.
"""

from __future__ import annotations

import contextlib
import hashlib
import subprocess
import tempfile
import time
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from types import TracebackType
from typing import IO

from guidegen.editions import history
from guidegen.problems import EnvironmentProblem

MARKS = {".gitattributes": b"* -text\n", ".nojekyll": b""}
"""What a branch holds beside the site: git changes no line end of it, and a host sends it through no site maker."""

_FILES = ("100644", "100755")
"""What git calls plain files; links and other repositories are none."""

DEAD_AFTER = 5.0
"""s; git locks a branch for milliseconds, so a lock that lay there for so long is that of a process that was killed."""


class SiteBranch:
    """The files of a branch as it is now; a context, because git is asked by one process."""

    def __init__(self, root: Path, name: str) -> None:
        self.called = f"the branch {name}"
        self._root = root
        self.commit = history.git(root, "rev-parse", "--verify", f"{name}^{{commit}}").decode().strip()
        self.blobs = dict(_blobs(root, self.commit))
        self._process: subprocess.Popen[bytes] | None = None

    def __enter__(self) -> SiteBranch:
        """Start reading."""
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """End the process that reads."""
        if self._process is not None:
            self._process.communicate()

    def read(self, path: str) -> bytes | None:
        """What a file holds; None where there is no such file."""
        blob = self.blobs.get(path)
        if blob is None:
            return None
        if self._process is None:
            command = ["git", "-C", str(self._root), "cat-file", "--batch"]
            self._process = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE)
        asks, answers = _ends_of(self._process)
        asks.write(f"{blob}\n".encode())
        asks.flush()
        head = answers.readline().split()
        if len(head) != 3 or head[1] != b"blob":
            raise EnvironmentProblem(f"git cannot read {path} of {self.called}; look with git fsck")
        return answers.read(int(head[2]) + 1)[:-1]


def _ends_of(process: subprocess.Popen[bytes]) -> tuple[IO[bytes], IO[bytes]]:
    if process.stdin is None or process.stdout is None:
        raise ValueError("the process has no pipes")
    return process.stdin, process.stdout


def _blobs(root: Path, commit: str) -> list[tuple[str, str]]:
    """Path and object of every plain file of a commit."""
    output = history.git(root, "ls-tree", "-r", "-z", "--full-tree", commit).decode(errors="surrogateescape")
    rows = (row.partition("\t") for row in output.split("\0") if row)
    return [(path, about.split()[2]) for about, _, path in rows if about.split()[0] in _FILES]


def is_there(root: Path, name: str) -> bool:
    """Whether there is such a branch; without git there is none."""
    return history.allows(root, "rev-parse", "--verify", "--quiet", f"{name}^{{commit}}")


def write(root: Path, name: str, files: Mapping[str, bytes], message: str) -> None:
    """Commit exactly these files to a branch; where it has just these there is no commit.

    Nothing is committed before the last file was read, so one that raises leaves the branch as it was.
    """
    history.git(root, "check-ref-format", "--branch", name)
    parent = SiteBranch(root, f"refs/heads/{name}") if is_there(root, f"refs/heads/{name}") else None
    try:
        identity = history.git(root, "var", "GIT_COMMITTER_IDENT").decode().strip()
    except EnvironmentProblem as error:
        raise EnvironmentProblem(
            "git does not know who you are; say it: git config --global user.name NAME, and user.email ADDRESS"
        ) from error
    blobs = _blobs_of(files, _object_format(root))
    if parent is None or blobs != parent.blobs:
        _import(root, name, (_head(name, identity, message, parent), *_content(files, blobs, parent)))


def _blobs_of(files: Mapping[str, bytes], hashed: str) -> dict[str, str]:
    """By what git names each file."""
    found = {path: _blob(data, hashed) for path, data in MARKS.items()}
    for path in sorted(files):
        found[path] = _blob(files[path], hashed)
    return found


def _blob(data: bytes, hashed: str) -> str:
    return hashlib.new(hashed, f"blob {len(data)}\0".encode() + data).hexdigest()


def _head(name: str, identity: str, message: str, parent: SiteBranch | None) -> bytes:
    text = message.encode()
    onto = f"from {parent.commit}\n" if parent else ""
    return (
        f"commit refs/heads/{name}\ncommitter {identity}\ndata {len(text)}\n".encode()
        + text
        + (f"\n{onto}deleteall\n".encode())
    )


def _content(files: Mapping[str, bytes], blobs: Mapping[str, str], parent: SiteBranch | None) -> Iterator[bytes]:
    """What git is told of each file: its object where the branch has it, else its bytes."""
    there = {*parent.blobs.values()} if parent else set()
    for path, blob in sorted(blobs.items()):
        if blob in there:
            yield f"M 100644 {blob} {_quoted(path)}\n".encode()
        else:
            data = MARKS[path] if path in MARKS else files[path]
            yield f"M 100644 inline {_quoted(path)}\ndata {len(data)}\n".encode() + data + b"\n"


def _unlocked(root: Path, name: str) -> None:
    """Wait until nobody writes the branch; take away a lock that nobody holds any more, as nothing else ever would."""
    lock = root / history.git(root, "rev-parse", "--git-path", f"refs/heads/{name}.lock").decode().strip()
    seen: tuple[int, int] | None = None
    since = time.monotonic()
    while lock.exists():
        with contextlib.suppress(FileNotFoundError):
            state = lock.stat()
            if (state.st_ino, state.st_mtime_ns) != seen:
                seen, since = (state.st_ino, state.st_mtime_ns), time.monotonic()
            elif time.monotonic() - since > DEAD_AFTER:
                lock.unlink()
                return
        time.sleep(0.05)


def _import(root: Path, name: str, parts: Iterable[bytes]) -> None:
    _unlocked(root, name)
    with tempfile.TemporaryFile() as errors:
        command = ["git", "-C", str(root), "fast-import", "--quiet", "--done"]
        process = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.DEVNULL, stderr=errors)
        assert process.stdin is not None
        try:
            for part in parts:
                process.stdin.write(part)
            process.stdin.write(b"done\n")
            process.stdin.close()
        except BrokenPipeError:
            pass  # Git ended; it says why.
        except BaseException:
            process.kill()
            process.wait()
            raise
        if process.wait():
            errors.seek(0)
            output = " ".join(errors.read().decode(errors="replace").split())
            raise EnvironmentProblem(f"the branch {name} could not be written: {output[:400]}")


def _quoted(path: str) -> str:
    r"""A path as git reads it back, whatever signs are in it.

    >>> print(_quoted('a "b".html'))
    "a \"b\".html"
    """
    escaped = path.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n")
    return f'"{escaped}"'


def _object_format(root: Path) -> str:
    """By what git names its objects: SHA-1, or SHA-256 in repositories that were made so."""
    try:
        return history.git(root, "rev-parse", "--show-object-format").decode().strip()
    except EnvironmentProblem:
        return "sha1"
