"""The built wheel, installed alone: what a user gets who never sees this repository."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from dataclasses import dataclass
from pathlib import Path

import pytest

REPOSITORY = Path(__file__).parents[2]
PACKAGE = REPOSITORY / "guidegen"
PIP = (sys.executable, "-m", "pip", "--disable-pip-version-check", "--quiet")


@dataclass(frozen=True)
class Installed:
    """A folder with the wheel's contents, and an empty folder to work in."""

    target: Path
    folder: Path

    def python(self, *words: str, cwd: Path | None = None) -> subprocess.CompletedProcess[str]:
        """Run Python with the installed wheel before everything else."""
        environment = {**os.environ, "PYTHONPATH": str(self.target), "PYTHONUTF8": "1"}
        return subprocess.run(
            [sys.executable, *words], cwd=cwd or self.folder, env=environment, capture_output=True, encoding="utf-8"
        )

    def guidegen(self, *words: str, cwd: Path | None = None) -> str:
        """Run one command, which must succeed without a word on the error stream; return what it says."""
        done = self.python("-m", "guidegen", *words, cwd=cwd)
        assert (done.returncode, done.stderr) == (0, "")
        return done.stdout


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel, built without network from what lies here."""
    out = tmp_path_factory.mktemp("wheel")
    options = ("--no-deps", "--no-index", "--no-build-isolation", "--wheel-dir", str(out))
    subprocess.run([*PIP, "wheel", *options, str(REPOSITORY)], check=True)
    (found,) = out.glob("*.whl")
    return found


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Installed:
    """The wheel alone in a folder of its own, and an empty folder with a space and an accent in its name."""
    target = tmp_path_factory.mktemp("installed")
    subprocess.run([*PIP, "install", "--no-deps", "--no-index", "--target", str(target), str(wheel)], check=True)
    folder = tmp_path_factory.mktemp("work") / "an empty folder é"
    folder.mkdir()
    return Installed(target, folder)


def test_the_wheel_holds_every_file_of_the_package_and_no_other(wheel: Path) -> None:
    """Templates, scripts, the starter, the mark of types; no tests, no caches, nothing of the demonstration."""
    here = {path.relative_to(REPOSITORY).as_posix() for path in PACKAGE.rglob("*") if path.is_file()}
    here = {path for path in here if "__pycache__" not in path}
    packed = zipfile.ZipFile(wheel).namelist()
    assert {name for name in packed if ".dist-info/" not in name} == here
    for wanted in (
        "py.typed",
        "starter/gitignore",
        "starter/gitattributes",
        "starter/content/hazards.yml",
        "site/pages/templates/fit.html",
    ):
        assert f"guidegen/{wanted}" in packed
    for folder in ("guidegen/site/web/assets/", "guidegen/site/web/overrides/"):
        assert any(name.startswith(folder) for name in packed)


def test_the_wheel_holds_the_licences_and_the_command(wheel: Path) -> None:
    """Ours, and those of what is inside."""
    packed = zipfile.ZipFile(wheel)
    info = next(name for name in packed.namelist() if name.endswith(".dist-info/METADATA")).removesuffix("METADATA")
    assert {f"{info}licenses/LICENSE", f"{info}licenses/THIRD_PARTY.md"} <= set(packed.namelist())
    assert "guidegen=guidegen.commands:main" in packed.read(f"{info}entry_points.txt").decode().replace(" ", "")


def test_a_workshop_is_laid_down_checked_and_built_from_the_wheel(installed: Installed) -> None:
    """In an empty folder, with nothing of this repository in reach."""
    found = installed.python("-c", "import guidegen; print(guidegen.__file__)").stdout.strip()
    assert Path(found) == installed.target / "guidegen" / "__init__.py"
    assert "made a workshop" in installed.guidegen("new", "workshop", ".")
    assert "no errors" in installed.guidegen("check")
    assert "open site/next/index.html" in installed.guidegen("build", "--draws", "8")
    site = installed.folder / "site" / "next"
    guide = site / "guides" / "first-family-first-variant" / "first-kit"
    assert "Cannot tell yet" in (guide / "index.html").read_text(encoding="utf-8")
    assert "First Variant" in (site / "index.html").read_text(encoding="utf-8")
    assert not (guide / "install.html").exists()


def test_the_second_build_from_the_wheel_changes_nothing(installed: Installed) -> None:
    """Nothing is written where nothing changed."""
    if not (installed.folder / "site" / "next").exists():
        installed.guidegen("new", "workshop", ".")
        installed.guidegen("build", "--draws", "8")
    assert "0 written, 0 deleted" in installed.guidegen("build", "--draws", "8")
