"""A small workshop with a history in git, to publish editions of: two variants, one kit, pages of the starter."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

from guidegen.commands import main
from tests.fixtures.photographs import as_jpeg, image

REPOSITORY = Path(__file__).parents[1]
STARTER = REPOSITORY / "guidegen" / "starter"
FAMILY = "machines/plain/family.yml"


def lay_down(root: Path) -> Path:
    """Lay the workshop down and commit it."""
    shutil.copytree(REPOSITORY / "tests" / "fixtures" / "catalogue_min", root)
    shutil.copytree(STARTER / "content" / "pages", root / "content" / "pages")
    settings = (STARTER / "mkdocs.yml").read_text(encoding="utf-8")
    lines = [line for line in settings.splitlines() if not line.startswith(("site_url:", "# site_url:"))]
    (root / "mkdocs.yml").write_text("\n".join([*lines, "site_url: https://guides.example/", ""]), encoding="utf-8")
    (root / ".gitignore").write_text("/site/\n/.guidegen/\n/units/\n", encoding="utf-8")
    git(root, "init", "--quiet")
    git(root, "config", "user.name", "A Test")
    git(root, "config", "user.email", "test@workshop.example")
    commit(root)
    return root


def git(root: Path, *words: str) -> str:
    """Run git in the workshop."""
    done = subprocess.run(["git", "-C", str(root), *words], capture_output=True, text=True, check=True)
    return done.stdout


def commit(root: Path) -> None:
    """Commit everything."""
    git(root, "add", "--all")
    git(root, "commit", "--quiet", "--allow-empty", "--message", "Work", "--date=2025-03-01T12:00:00+00:00")


def guidegen(root: Path, *words: str) -> int:
    """Run one command and return its exit code."""
    return main(["--root", str(root), *words])


def publish(root: Path, *words: str) -> int:
    """Publish without draws, because no range matters here, and keep what came of it."""
    code = guidegen(root, "publish", *words, "--draws", "0")
    if code == 0:
        commit(root)
    return code


def list_picture(root: Path, data: bytes | None = None, shows: str = "{kit: collar}") -> None:
    """Put one photograph into the workshop and list it; nothing is committed."""
    path = root / "content" / "pictures" / "a.jpg"
    path.parent.mkdir(exist_ok=True)
    path.write_bytes(as_jpeg(image(1000, 700)) if data is None else data)
    entry = (
        f"  - {{id: coil, file: a.jpg, shows: {shows}, words: A coil of copper., by: a test, taken_on: plain-two}}\n"
    )
    (root / "content" / "pictures.yml").write_text(f"pictures:\n{entry}", encoding="utf-8")


def change_torque(root: Path) -> None:
    """Correct a torque, and commit that."""
    path = root / FAMILY
    text = path.read_text(encoding="utf-8")
    assert "torque: 5 N·m" in text
    path.write_text(text.replace("torque: 5 N·m ± 0.5 N·m", "torque: 4.2 N·m ± 0.4 N·m"), encoding="utf-8")
    commit(root)


def held(folder: Path) -> dict[str, bytes]:
    """Every file below a folder."""
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}
