"""The ready workflow for CI: from clean clones alone, one edition after the other, with nothing lost between them."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import yaml

from guidegen.editions import place, verify
from tests.editions_workshop import REPOSITORY, change_torque, commit, git, guidegen, lay_down


def test_each_job_publishes_from_a_clone_of_its_own(tmp_path: Path) -> None:
    """The second brings back what the first published, is refused without a notice, and pushes both branches."""
    root = lay_down(tmp_path / "workshop")
    (root / ".ci").mkdir()
    shutil.copy(REPOSITORY / ".ci" / "publish", root / ".ci")
    commit(root)
    origin = tmp_path / "origin.git"
    subprocess.run(["git", "clone", "--quiet", "--bare", str(root), str(origin)], check=True)
    assert run(job(origin, tmp_path / "first"), "2025.1") == 0
    assert git(origin, "show", "published:versions.json").count('"version"') == 1

    work = job(origin, tmp_path / "work")
    change_torque(work)
    git(work, "push", "--quiet", "origin", "HEAD")
    assert run(job(origin, tmp_path / "refused"), "2025.2") == 4
    assert run(job(origin, tmp_path / "second"), "2025.2", "Tighten to the new torque.") == 0

    last = job(origin, tmp_path / "last")
    git(last, "fetch", "--quiet", "origin", "published:published")
    assert guidegen(last, "recover") == 0
    assert place.published(last / "site") == ("2025.2", "2025.1")
    assert verify.verify(last) == ()
    assert sorted(path.name for path in (last / "content" / "editions").iterdir()) == ["2025.1", "2025.2"]


def test_the_workflow_hands_over_what_was_typed_as_data_only() -> None:
    """Whatever stands in a notice is never a part of a command, and only the clone knows the right to push."""
    workflow = yaml.safe_load((REPOSITORY / ".ci" / "publish.yml").read_text(encoding="utf-8"))
    # A bare `on` is the truth value in YAML 1.1.
    assert sorted(workflow[True]["workflow_dispatch"]["inputs"]) == ["edition", "notice"]
    assert workflow["permissions"] == {"contents": "write"}
    assert workflow["concurrency"]
    assert not [step for step in steps() if "${{" in step["run"] or "uses" in step]
    assert [bool(step.get("env")) for step in steps()] == [True, False, False]


def steps() -> list[dict[str, Any]]:
    """The steps of the workflow's one job."""
    workflow = yaml.safe_load((REPOSITORY / ".ci" / "publish.yml").read_text(encoding="utf-8"))
    (only,) = workflow["jobs"].values()
    found: list[dict[str, Any]] = only["steps"]
    return found


def job(origin: Path, folder: Path) -> Path:
    """A clean clone, as a job gets one."""
    subprocess.run(["git", "clone", "--quiet", str(origin), str(folder)], check=True)
    git(folder, "config", "user.name", "A Job")
    git(folder, "config", "user.email", "job@workshop.example")
    return folder


def run(folder: Path, edition: str, notice: str = "") -> int:
    """Run the workflow's last step with this interpreter's guidegen, and without draws, as no range matters here."""
    program = folder.parent / "guidegen"
    program.write_text(
        f'#!/bin/sh\n[ "$1" = publish ] && set -- "$@" --draws 0\nexec "{sys.executable}" -m guidegen "$@"\n',
        encoding="utf-8",
    )
    program.chmod(0o755)
    environment = {**os.environ, "GUIDEGEN": str(program), "PYTHONPATH": os.pathsep.join(sys.path),
                   "EDITION": edition, "NOTICE": notice}  # fmt: skip
    command = ["bash", "-e", "-c", steps()[-1]["run"]]
    return subprocess.run(command, cwd=folder, env=environment, capture_output=True, check=False).returncode
