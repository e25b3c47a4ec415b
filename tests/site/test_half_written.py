"""What a killed command left half written is taken away by the same command, whichever it is and wherever it writes."""

from __future__ import annotations

import io
import os
import shutil
import sys
import tempfile
from collections import defaultdict
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from guidegen.commands import main
from tests.site.surroundings import COMMANDS

pytestmark = pytest.mark.slow

Folders = dict[tuple[str, ...], set[Path]]
PRUNED = ("numbers", "records", "pictures", "paper")
"""What is kept by name is pruned by the next build, not by whatever reads or adds one."""


@pytest.fixture
def run(whole: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[str, Callable[..., None]], Path]:
    """What runs every command on a copy of the workshop, and does something around each."""

    def run(name: str, around: Callable[[tuple[str, ...], Path, Callable[[], object]], None]) -> Path:
        root = Path(shutil.copytree(whole, tmp_path / name, symlinks=True))
        monkeypatch.chdir(root)
        monkeypatch.setattr(sys, "stdin", io.StringIO())
        for words in COMMANDS:
            around(words, root, lambda words=words: main([*words]))  # type: ignore[misc]
        return root

    return run


@pytest.fixture
def written(run: Callable[..., Path], monkeypatch: pytest.MonkeyPatch) -> Folders:
    """The folders in which each command makes a file beside the one that it will become."""
    found: Folders = defaultdict(set)
    make, replace, now = tempfile.mkstemp, os.replace, [()]

    def made(*given: Any, **more: Any) -> Any:
        if more.get("suffix") == ".part":
            found[now[0]].add(Path(more["dir"]).absolute())
        return make(*given, **more)

    def replaced(source: Any, target: Any, **more: Any) -> None:
        if os.fspath(source).endswith(".part"):
            found[now[0]].add(Path(source).absolute().parent)
        replace(source, target, **more)

    def around(words: tuple[str, ...], root: Path, command: Callable[[], object]) -> None:
        now[0] = words
        command()

    with monkeypatch.context() as patched:
        patched.setattr(tempfile, "mkstemp", made)
        patched.setattr(os, "replace", replaced)
        root = run("noted", around)
    return {
        words: {path.relative_to(root) for path in paths if path.is_relative_to(root) and ".git" not in path.parts}
        for words, paths in found.items()
    }


def test_the_same_command_takes_away_what_was_left_half_written(written: Folders, run: Callable[..., Path]) -> None:
    """But where the user said a place, here the workshop's own folder: see the test of `write_out`."""
    assert {words[0] for words in written} >= {"build", "withdraw", "new", "unit", "run", "set", "read", "fitted"}
    left: list[str] = []

    def around(words: tuple[str, ...], root: Path, command: Callable[[], object]) -> None:
        for folder in written.get(words, set()) - {Path()}:
            (root / folder).mkdir(parents=True, exist_ok=True)
            (root / folder / ".k1ll3d00.part").write_bytes(b"half")
        command()
        for path in root.rglob(".*.part"):
            if path.relative_to(root).parts[:2] not in [(".guidegen", one) for one in PRUNED]:
                left.append(f"{' '.join(words)}: {path.relative_to(root).as_posix()}")
                path.unlink()

    root = run("killed", around)
    assert left == [], "\n".join(left)
    main(["build", "--draws", "0"])
    assert [*root.rglob(".*.part")] == []
