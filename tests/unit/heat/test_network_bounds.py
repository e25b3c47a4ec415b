"""Compiled code never reaches outside an array, and only its own files decide when it is compiled anew."""

from __future__ import annotations

import ast
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from guidegen.heat import compiled

PHYSICS = Path(compiled.__file__).parent
ROOT = PHYSICS.parents[1]

# Everything a study does, without and with a coil, under both controls, on rows of different lengths; then the rest.
PROGRAM = """
import numpy as np
from guidegen.heat.after import after_steam
from guidegen.heat.cooling import cool_down
from guidegen.heat.points import drops_from_cold, what_if
from guidegen.heat.study import Pull, Usage, setpoint_for, study
from tests.reference import machines

pulls = {"double": Pull(0.05, 28.0), "short": Pull(0.004, 2.0)}
usage = Usage(("double", "short"), (300.0, 310.0), 400.0)
for coil in (False, True):
    for relay in (False, True):
        network = machines.plausible(4, coil, relay)
        for finer, cells in ((1.0, 48), (0.7, 1), (1.3, 7)):
            made = study(network, pulls, "double", usage, np.full(4, 0.3), finer=finer, cells=cells)
            assert np.isfinite(made.drinks["double"].sensor_drop).all()
    what_if(machines.reference(coil), [Pull(0.05, 28.0)], [283.0], [0.0], [60.0])
    drops_from_cold(machines.reference(coil), Pull(0.05, 28.0), 3)
    setpoint_for(machines.reference(coil), Pull(0.05, 28.0), np.array([363.0]))
    cool_down(machines.reference(coil))
    after_steam(machines.reference(coil), np.array([403.0]), Pull(0.06, 15.0))
from guidegen.heat.components.cells import mean
try:
    mean(np.zeros(3), 0, 4)
except IndexError:
    print("checked")
"""


@pytest.mark.slow
def test_no_kernel_reaches_outside_an_array(tmp_path: Path) -> None:
    """With every index checked, everything runs; and the check is on, for a wrong index is found."""
    environment = {**os.environ, "NUMBA_BOUNDSCHECK": "1", "NUMBA_CACHE_DIR": str(tmp_path), "PYTHONPATH": str(ROOT)}
    done = subprocess.run(
        [sys.executable, "-c", PROGRAM], capture_output=True, text=True, cwd=ROOT, env=environment, check=False
    )
    assert done.returncode == 0, done.stderr[-2000:]
    assert done.stdout.split() == ["checked"]


def kernels() -> list[Path]:
    """Modules with compiled functions."""
    return [
        path
        for path in sorted(PHYSICS.rglob("*.py"))
        if re.search(r"^@(kernel|part)$", path.read_text(encoding="utf-8"), re.M)
    ]


def test_compiled_code_depends_on_compiled_modules_only() -> None:
    """What a kernel takes from another module is frozen into it; the cache is kept by the state of those modules."""
    kept = {path.stem for path in compiled.sources()}
    assert {path.stem for path in kernels()} < kept
    for path in kernels():
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("guidegen.heat."):
                name = str(node.module).rsplit(".", 1)[-1]
                assert name in kept or name in ("formula", "nomenclature"), f"{path.name} takes {name}"


def test_a_changed_kernel_gets_another_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The folder's name changes with the text of a module, and stays without a change."""
    monkeypatch.setenv("NUMBA_CACHE_DIR", str(tmp_path / "cache"))
    copies = []
    for path in compiled.sources():
        copies.append(tmp_path / path.name)
        copies[-1].write_bytes(path.read_bytes())
    monkeypatch.setattr(compiled, "sources", lambda: copies)
    before = compiled.cache_folder()
    assert before == compiled.cache_folder()
    copies[0].write_bytes(copies[0].read_bytes() + b"\n# changed\n")
    assert compiled.cache_folder() != before
    assert before.parent == tmp_path / "cache"


@pytest.mark.slow
def test_a_copy_elsewhere_takes_the_same_compiled_code(tmp_path: Path) -> None:
    """What is compiled of the same sources is compiled once, wherever they lie and whenever they were written."""
    call = (
        "import numpy as np; from guidegen.heat.exact import fastest; fastest(np.zeros((16, 16))); "
        "print(sum(fastest.stats.cache_hits.values()))"
    )
    hits = []
    for name in ("one", "another"):
        shutil.copytree(PHYSICS.parent, tmp_path / name / "guidegen", copy_function=shutil.copyfile)
        environment = {**os.environ, "NUMBA_CACHE_DIR": str(tmp_path / "cache"), "PYTHONPATH": str(tmp_path / name)}
        done = subprocess.run([sys.executable, "-P", "-c", call], env=environment, capture_output=True, text=True,
                              cwd=tmp_path, check=True)  # fmt: skip
        hits.append(done.stdout.strip())
    assert hits == ["0", "1"]
