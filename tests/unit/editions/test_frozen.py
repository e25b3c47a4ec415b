"""Editions of an older record format, kept as they were: today's program reads, prints, answers and compares them."""

from __future__ import annotations

import copy
import hashlib
import shutil
from pathlib import Path
from typing import Any

import pytest

from guidegen import trade
from guidegen.assess.reference import reference
from guidegen.commands import answering, orders
from guidegen.editions import commands, kept, snapshot
from guidegen.editions.compare import compare
from guidegen.editions.lacking import lacking
from guidegen.problems import EnvironmentProblem
from guidegen.record import FORMAT, upgrades
from guidegen.site import pages
from guidegen.site.pages.topics import TOPICS
from guidegen.trade import Catalogue
from tests import frozen_workshop
from tests.fixtures.order_texts import written
from tests.frozen_workshop import EDITIONS, FROZEN

pytestmark = pytest.mark.slow

PAIR = ("tamsin-mk2", "feed-preheater")
MISSING = "not computed in this edition"


@pytest.fixture(scope="module")
def root(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Today's demonstration with the frozen editions."""
    return frozen_workshop.lay_down(tmp_path_factory.mktemp("frozen") / "workshop")


@pytest.fixture(scope="module")
def known(root: Path) -> Catalogue:
    """Its catalogue."""
    return trade.load(root)


def test_not_a_byte_of_them_changed() -> None:
    """The sums name every file, and every file has its sum."""
    rows = [line.split() for line in (FROZEN / "SHA256SUMS").read_text(encoding="utf-8").splitlines() if line[0] != "#"]
    found = {path.relative_to(FROZEN).as_posix(): path for name in EDITIONS for path in (FROZEN / name).iterdir()}
    assert {path: hashlib.sha256(found[path].read_bytes()).hexdigest() for path in sorted(found)} == {
        path: total for total, path in rows
    }


def test_they_are_of_the_first_format(root: Path) -> None:
    """Else they would prove nothing about upgrading."""
    for name in EDITIONS:
        files = kept.snapshot_files(kept.folder_of(root, name))
        assert {one["format"] for one in snapshot.unpack(files, name)} == {1}
        assert {one["format"] for one in kept.records(root, name)} == {FORMAT}


@pytest.mark.parametrize("name", EDITIONS)
def test_every_record_is_read(root: Path, name: str) -> None:
    """All guides of the edition, under its name."""
    (edition,) = (one for one in kept.line(root) if one.edition == name)
    found = kept.assessments(root, name)
    assert [f"{one.variant.id}/{one.kit.id}" for one in found] == list(edition.guides)
    assert {one.edition for one in found} == {name}


@pytest.mark.slow
@pytest.mark.parametrize("name", EDITIONS)
def test_its_guides_are_printed(root: Path, known: Catalogue, name: str) -> None:
    """Every page of a variant's guides, and the pages about all of them."""
    records = [one for one in kept.assessments(root, name) if one.variant.id == PAIR[0]]
    paths = {page.path for page in pages.render(records, reference(known)).pages}
    for kind in ("index", "fit", "numbers", "install", "restore", "charts"):
        assert f"guides/{'/'.join(PAIR)}/{kind}.html" in paths


@pytest.mark.slow
@pytest.mark.parametrize("name", EDITIONS)
def test_all_of_its_pages_can_be_made_anew(root: Path, tmp_path: Path, name: str) -> None:
    """By the command, with the shell, and marked."""
    from guidegen import pipeline

    shutil.copytree(root, tmp_path / "workshop")
    folder = pipeline.make_anew(tmp_path / "workshop", name)
    for guide in next(one for one in kept.line(root) if one.edition == name).guides:
        assert "made again from its own data" in (folder / "guides" / guide / "index.html").read_text(encoding="utf-8")


@pytest.mark.slow
@pytest.mark.parametrize("name", EDITIONS)
def test_it_answers_questions(root: Path, known: Catalogue, name: str) -> None:
    """With a link to the edition."""
    for topic in ("fit", "gain", "warm-up", "mass"):
        assert topic in TOPICS
        text, note = answering.answer(root, known, PAIR[0], topic, PAIR[1], name)
        assert f"/{name}/guides/{'/'.join(PAIR)}/" in text
        assert note == ""


@pytest.mark.slow
@pytest.mark.parametrize("name", EDITIONS)
def test_an_order_that_it_wrote_is_read_by_its_own_rules(root: Path, known: Catalogue, name: str) -> None:
    """Whatever today's rules say of it."""
    checks = {
        one["kit"]["id"]: one["self_check"] for one in kept.records(root, name) if one["variant"]["id"] == PAIR[0]
    }
    for payload in checks.values():
        received = orders.receive(root, known, written(payload, {}), "order.txt")
        assert received.then is not None
        assert received.sound is not None
        assert not received.sound.problems
    assert len(checks) == 3


@pytest.mark.slow
def test_they_are_compared_with_each_other_as_before(root: Path) -> None:
    """A mass was measured, then a torque was corrected: only the torque needs a notice; neither is the program's."""
    found = compare(kept.records(root, "2025.1"), kept.records(root, "2025.2"))
    kinds = {change.kind: change.causes for one in found for change in one.changes}
    assert kinds == {"input": ("data",), "figure": ("data",)}
    assert not any(one.notifiable for one in found)
    found = compare(kept.records(root, "2025.2"), kept.records(root, "2025.3"))
    assert {change.kind for one in found for change in one.notifiable} == {"torque"}
    assert not any(one.by_program for one in found)


@pytest.mark.slow
def test_they_are_compared_with_what_another_program_says_today(root: Path) -> None:
    """The same record as today's program would write it: nothing in it reads otherwise, so nothing changed."""
    today = [copy.deepcopy(one) | {"origin": {"program": "p", "made_from": {}}} for one in kept.records(root, "2025.3")]
    printed = list(commands.changes(root, "2025.3", "next", lambda: today))
    assert printed == ["from 2025.3 to what the workshop says today", "24 of 24 guides did not change"]


# --- an output that they lack ---------------------------------------------------------------------


@pytest.fixture
def lacking_recovery(root: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """As if a figure had only come after them, with the one line that it takes."""
    read = snapshot.unpack

    def unpack(files: Any, edition: str) -> Any:
        found = copy.deepcopy(read(files, edition))
        for one in found:
            for drink in one["drinks"].values():
                for side in ("without", "with"):
                    del drink[side]["sensor_recovery_s"]
                del drink["drop_ratio"]["sensor"]
            del one["warm_up"]["added_s"]
        return found

    monkeypatch.setattr(snapshot, "unpack", unpack)
    return root


LINES = (
    "drinks.*.without.sensor_recovery_s",
    "drinks.*.with.sensor_recovery_s",
    "drinks.*.drop_ratio.sensor",
    "warm_up.added_s",
)


def test_without_its_line_it_is_named(lacking_recovery: Path, known: Catalogue) -> None:
    """With edition, guide and field: by every command that needs the typed record."""
    words = "edition 2025.3, tamsin-mk2/feed-preheater: the record lacks drinks.single.drop_ratio.sensor"
    with pytest.raises(EnvironmentProblem, match=words):
        answering.answer(lacking_recovery, known, PAIR[0], "gain", PAIR[1], "2025.3")


@pytest.mark.slow
def test_with_its_line_it_reads_not_computed(
    lacking_recovery: Path, known: Catalogue, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On the numbers page, the overview, the comparison, in the CSV, in a reply; and nowhere `None`."""
    for place in LINES:
        monkeypatch.setitem(upgrades.LACKS[1], place, upgrades.not_computed)
    records = [one for one in kept.assessments(lacking_recovery, "2025.3") if one.variant.id == PAIR[0]]
    made = pages.render(records, reference(known))
    guide = f"guides/{'/'.join(PAIR)}"
    bodies = {page.path: page.body for page in made.pages}
    for path in (f"{guide}/index.html", f"{guide}/numbers.html", "compare.html"):
        assert MISSING in bodies[path]
    assert not any(">None<" in body or ">nan" in body for body in bodies.values())
    row = next(
        line for line in made.files[f"data/{'/'.join(PAIR)}.csv"].decode().splitlines() if "warm_up.added" in line
    )
    assert row.endswith(f",,,,{MISSING},,,,,,")
    assert MISSING in answering.answer(lacking_recovery, known, PAIR[0], "warm-up", PAIR[1], "2025.3")[0]


@pytest.mark.slow
def test_with_its_line_its_coming_is_listed_once(lacking_recovery: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As the program's, and nobody is written to."""
    older = kept.records(lacking_recovery, "2025.3")
    for place in LINES:
        monkeypatch.setitem(upgrades.LACKS[1], place, upgrades.not_computed)
    older = kept.records(lacking_recovery, "2025.3")
    monkeypatch.undo()
    newer = [one | {"origin": {"program": "p", "made_from": {}}} for one in kept.records(lacking_recovery, "2025.3")]
    printed = list(commands.by_program.lines(compare(older, newer)))
    assert printed[0] == "recomputed or reworded by the program; nobody has to be written to"
    assert "  Sensor recovery, computed for the first time: 24 guides" in printed
    assert len(printed) == 4
    assert lacking().not_computed == MISSING
