"""What a record was made by and from: hashes that change with what somebody wrote, and with nothing else."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest

from guidegen import trade
from guidegen.assess import guiding, verdict
from guidegen.assess.origin import origin
from guidegen.editions.snapshot import steps_of
from tests.mutants.draft import COMPUTED

pytestmark = pytest.mark.slow

REPOSITORY = Path(__file__).parents[3]
VARIANT, KIT = "tamsin-mk2", "feed-preheater"
PROCEDURE, SHARED = "content/procedures/feed-preheater.yml", "content/procedures/shared.yml"
FAMILY, HAZARDS = "machines/tamsin/family.yml", "content/hazards.yml"
Hashes = dict[str, str]


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """A copy of the demonstration's data."""
    for name in ("machines", "content"):
        shutil.copytree(REPOSITORY / name, tmp_path / name, ignore=shutil.ignore_patterns("editions"))
    return tmp_path


def hashes(root: Path) -> Hashes:
    """Every hash that the record of the pair keeps, by what it is of."""
    known = trade.load(root)
    machine, kit = known.machine(VARIANT), known.kit(KIT)
    pair = verdict.judged(known, machine, kit, "next")
    made = guiding.guide(known, machine, kit, verdict.fit_part(pair.check), pair, COMPUTED, "next").procedure
    assert made is not None
    procedure: Any = made.model_dump(mode="json", by_alias=True)
    found = dict(origin(known, machine, kit).made_from)
    found |= {f"procedure {name}": one for name, one in procedure["authored"].items()}
    found |= {f"hazard {one['id']}": one["authored"] for one in procedure["hazards"]}
    for step in steps_of({"procedure": procedure}):
        found |= {f"{part} {step['key']}": one for part, one in step["authored"].items()}
    return found


def after(root: Path, path: str, old: str, new: str) -> set[str]:
    """What changes when the first such text of a file becomes another."""
    before = hashes(root)
    text = (root / path).read_text(encoding="utf-8")
    assert old in text
    (root / path).write_text(text.replace(old, new, 1), encoding="utf-8")
    later = hashes(root)
    assert before.keys() == later.keys()
    return {name for name in before if before[name] != later[name]}


def test_a_comment_and_a_line_more_change_nothing(root: Path) -> None:
    """They say nothing to a reader."""
    for path in (PROCEDURE, SHARED, FAMILY, HAZARDS):
        assert after(root, path, "\n", "\n# A remark.\n\n") == set()


def test_a_sentence_of_a_step_changes_that_step(root: Path) -> None:
    """And the procedure that it stands in; no value that fills it."""
    text = (root / PROCEDURE).read_text(encoding="utf-8")
    sentence = next(line for line in text.split("\nphases:")[1].splitlines() if line.strip().startswith("why: "))
    changed = after(root, PROCEDURE, sentence, sentence.replace("why: ", "why: Now. "))
    assert len(changed) == 2
    assert [name for name in changed if name.startswith("source ")]
    assert "procedure phases" in changed


def test_a_torque_of_the_machine_changes_what_fills_its_steps(root: Path) -> None:
    """Not how anybody wrote them."""
    changed = after(root, FAMILY, "torque: {is: 5 N·m ± 0.5 N·m", "torque: {is: 4 N·m ± 0.5 N·m")
    assert "machine" in changed
    rest = changed - {"machine"}
    assert rest
    assert all(name.startswith("filled ") for name in rest)


def test_a_statement_changes_itself(root: Path) -> None:
    """And nothing at the steps that carry it."""
    text = (root / HAZARDS).read_text(encoding="utf-8")
    line = next(line for line in text.splitlines() if line.strip().startswith("consequence:"))
    (changed,) = after(root, HAZARDS, line, line.replace("consequence: ", "consequence: Beware. "))
    assert changed.startswith("hazard ")
