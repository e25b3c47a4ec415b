"""Entries of kept numbers: one that is torn, changed or misplaced counts as absent, and what nobody uses goes."""

from __future__ import annotations

import dataclasses
import os
import re
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from guidegen import trade
from guidegen.assess import inputs
from guidegen.assess.asking import question, served
from guidegen.assess.kept import Kept
from guidegen.assess.numbers import Studies, compute
from guidegen.assess.question import PairQuestion

SMALL = Path(__file__).parents[2] / "fixtures" / "catalogue_min"


@pytest.fixture(scope="module")
def asked() -> PairQuestion:
    """The question of one pair, with a few draws."""
    known = trade.load(SMALL)
    machine, kit = known.machine("plain-one"), known.kit("collar")
    return question(machine, kit, [*inputs.of_machine(machine, known), *kit.inputs()], served(known), 4)[0]


def entries(kept: Kept) -> list[Path]:
    """What is kept."""
    return sorted(path for path in kept.folder.rglob("*") if path.is_file())


DAMAGES: dict[str, Callable[[bytes], bytes]] = {
    "nothing": lambda data: b"",
    "half of it": lambda data: data[: len(data) // 2],
    "another digit": lambda data: data[:-20] + re.sub(b"[0-9]", lambda one: b"%d" % (9 - int(one[0])), data[-20:]),
    "as it was written before there were sums": lambda data: data.partition(b"\n")[2],
    "no text": lambda data: b"\xff\x00",
}


@pytest.mark.parametrize("damage", DAMAGES)
def test_a_damaged_entry_counts_as_absent(tmp_path: Path, asked: PairQuestion, damage: str) -> None:
    """It is computed anew, and the entry repaired."""
    kept = Kept(tmp_path)
    made = kept.get(asked, lambda: compute(asked, Studies()), "")
    (path,) = entries(kept)
    data = path.read_bytes()
    path.write_bytes(DAMAGES[damage](data))
    assert path.read_bytes() != data
    assert kept.find(asked) is None
    assert kept.get(asked, lambda: made, "") == made
    assert kept.find(asked) == made
    assert (kept.found, kept.computed) == (0, 2)


def test_an_entry_under_the_name_of_another_counts_as_absent(tmp_path: Path, asked: PairQuestion) -> None:
    """As where somebody copied files about."""
    kept = Kept(tmp_path)
    made = kept.get(asked, lambda: compute(asked, Studies()), "")
    (path,) = entries(kept)
    other = dataclasses.replace(asked, hottest=asked.hottest + 1.0)
    kept.get(other, lambda: made, "")
    (second,) = {*entries(kept)} - {path}
    shutil.copy(path, second)
    assert kept.find(asked) == made
    assert kept.find(other) is None


def test_what_was_not_used_for_longest_goes(
    tmp_path: Path, asked: PairQuestion, monkeypatch: pytest.MonkeyPatch
) -> None:
    """And what a killed run left, and what an older version kept in one flat folder; what is used now stays."""
    monkeypatch.setattr("guidegen.assess.kept.LEAST_KEPT", 3)
    made = compute(asked, Studies())
    others = [dataclasses.replace(asked, hottest=300.0 + number) for number in range(6)]
    paths: list[Path] = []
    for age, one in enumerate(others):
        Kept(tmp_path).get(one, lambda: made, "")
        (path,) = {*entries(Kept(tmp_path))} - {*paths}
        paths.append(path)
        os.utime(path, ns=(age * 10**9, age * 10**9))
    kept = Kept(tmp_path)
    assert kept.find(others[0]) == made
    (kept.folder / "0123.json").write_bytes(b"{}")
    (paths[0].parent / ".killed.part").write_bytes(b"{")
    kept.prune()
    assert entries(kept) == sorted([paths[0], paths[4], paths[5]])
    kept.found = 1
    monkeypatch.setattr("guidegen.assess.kept.LEAST_KEPT", 0)
    monkeypatch.setattr("guidegen.assess.kept.TIMES_KEPT", 2)
    kept.prune()
    assert entries(kept) == sorted([paths[0], paths[5]])


def test_nothing_kept_is_nothing_to_prune(tmp_path: Path) -> None:
    """Before the first build."""
    Kept(tmp_path).prune()
    assert [*tmp_path.iterdir()] == []
