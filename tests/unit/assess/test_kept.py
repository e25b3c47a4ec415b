"""Numbers are kept by the question they answer and the code that answered it: no word in it, and no value missing."""

from __future__ import annotations

import dataclasses
import gc
import os
import re
import shutil
import sys
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from types import FrameType
from typing import Any

import numpy as np
import pytest

from guidegen import pipeline, trade
from guidegen.assess import Assessor, inputs, numbers
from guidegen.assess.asking import question, served
from guidegen.assess.kept import PACKAGE, Kept, import_closure
from guidegen.assess.numbers import Studies, compute
from guidegen.assess.question import PairQuestion
from guidegen.commands import main
from guidegen.heat import compiled
from guidegen.heat.study import Study
from guidegen.record import Assessment
from guidegen.trade import Catalogue

pytestmark = pytest.mark.slow

PAIR = ("tamsin-mk2", "feed-preheater")
WORDS = (
    ("content/workshop.yml", "name: Kettleby Bench Works", "name: Kettleby & Daughter"),
    ("content/workshop.yml", "contact: bench@", "contact: hello@"),
    ("content/offers.yml", "84 EUR", "89 EUR"),
    ("content/glossary.yml", "means: ", "means: In short, "),
    ("content/questions.yml", "why: ", "why: In short, "),
    ("content/procedures/shared.yml", "why: ", "why: Briefly "),
    ("content/procedures/loop-controller.yml", "why: ", "why: In short, "),
    ("content/kits/loop-controller.yml", "summary: ", "summary: In short, "),
    ("content/kits/feed-preheater.yml", "reason: ", "reason: In short, "),
    ("machines/tamsin/mk2.yml", "summary: ", "summary: In short, "),
    ("content/drinks.yml", "name: double", "name: doppio"),
)
"""Edits that change what pages say and nothing that is computed."""


def questions(known: Catalogue, draws: int = 8) -> dict[tuple[str, str], str]:
    """The digest of every pair's question."""
    asked = served(known)
    return {
        (machine.id, kit.id): question(machine, kit, [*inputs.of_machine(machine, known), *kit.inputs()], asked, draws)[
            0
        ].digest()
        for machine in known.machines.values()
        for kit in known.kits.values()
    }


@pytest.fixture(scope="module")
def known(tmp_path_factory: pytest.TempPathFactory, lay_down_small_workshop: Callable[[Path], Path]) -> Catalogue:
    """One variant of the demonstration with each control and of each family."""
    return trade.load(lay_down_small_workshop(tmp_path_factory.mktemp("kept") / "workshop"))


@pytest.fixture(scope="module")
def before(known: Catalogue) -> dict[tuple[str, str], str]:
    """The digests of its questions."""
    return questions(known)


@pytest.fixture
def asked(known: Catalogue) -> PairQuestion:
    """The question of one pair, with a few draws."""
    machine, kit = known.machine(PAIR[0]), known.kit(PAIR[1])
    listed = [*inputs.of_machine(machine, known), *kit.inputs()]
    return question(machine, kit, listed, served(known), 8)[0]


# --- what is in a question ---------------------------------------------------------------------------


@pytest.mark.slow
def test_no_word_changes_a_question(
    tmp_path: Path, lay_down_small_workshop: Callable[[Path], Path], before: dict[tuple[str, str], str]
) -> None:
    """Neither the workshop's name nor a step, a question or another kit's summary: all of them at once."""
    root = lay_down_small_workshop(tmp_path / "workshop")
    for path, old, new in WORDS:
        text = (root / path).read_text(encoding="utf-8")
        assert old in text
        (root / path).write_text(text.replace(old, new, 1), encoding="utf-8")
    assert questions(trade.load(root)) == before


VALUES = (
    ("content/workshop.yml", "tariff: 0.30", "tariff: 0.31"),
    ("content/workshop.yml", "currency: EUR", "currency: EUR\nworth: {felt: 0.6 K}"),
    ("content/workshop.yml", "sessions_per_day: 2", "sessions_per_day: 3"),
    ("content/workshop.yml", "on_for: 45 min", "on_for: 46 min"),
    ("content/workshop.yml", "feed: 20 °C ± 5 K", "feed: 20 °C ± 6 K"),
    ("content/workshop.yml", "room: 22 °C", "room: 23 °C"),
)


@pytest.mark.slow
@pytest.mark.parametrize(("path", "old", "new"), VALUES, ids=lambda value: str(value)[:40])
def test_a_value_of_the_workshop_changes_every_question(
    tmp_path: Path,
    lay_down_small_workshop: Callable[[Path], Path],
    before: dict[tuple[str, str], str],
    path: str,
    old: str,
    new: str,
) -> None:
    """Its tariff, its day, its room and its water take part in every pair."""
    root = lay_down_small_workshop(tmp_path / "workshop")
    text = (root / path).read_text(encoding="utf-8")
    assert old in text
    (root / path).write_text(text.replace(old, new, 1), encoding="utf-8")
    after = questions(trade.load(root))
    assert [pair for pair in before if before[pair] == after[pair]] == []


def leaves(value: Any, place: str = "") -> Iterator[tuple[str, Any]]:
    """Every plain value of a question, with its place."""
    if dataclasses.is_dataclass(value):
        for one in dataclasses.fields(value):
            yield from leaves(getattr(value, one.name), f"{place}.{one.name}")
    elif isinstance(value, Mapping):
        for key, one in value.items():
            yield from leaves(one, f"{place}.{key}")
    elif value is not None:
        yield place, value


def nudged(value: Any, place: str, target: str) -> Any:
    """The question with one value a little other."""
    if place == target:
        if isinstance(value, np.ndarray):
            return value + np.where(np.arange(value.size).reshape(value.shape) == value.size - 1, 1e-9, 0.0)
        if isinstance(value, tuple):
            return (*value, value[-1]) if value else (0.0,)
        return value + "x" if isinstance(value, str) else value + 1
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        parts = {one.name: nudged(getattr(value, one.name), f"{place}.{one.name}", target)
                 for one in dataclasses.fields(value)}  # fmt: skip
        made = object.__new__(type(value))
        for name, part in parts.items():
            object.__setattr__(made, name, part)
        return made
    if isinstance(value, Mapping):
        return {key: nudged(one, f"{place}.{key}", target) for key, one in value.items()}
    return value


def test_every_value_of_a_question_is_in_its_digest(asked: PairQuestion) -> None:
    """One draw of one input a billionth off, one cell, one price: another question."""
    places = [place for place, _ in leaves(asked)]
    assert len(places) > 100
    before = asked.digest()
    assert [place for place in places if nudged(asked, "", place).digest() == before] == []


@pytest.mark.slow
def test_more_draws_are_another_question(known: Catalogue, before: dict[tuple[str, str], str]) -> None:
    """With the same stated values."""
    assert not {*before.values()} & {*questions(known, 16).values()}


# --- what answers it ---------------------------------------------------------------------------------


@pytest.mark.slow
def test_computing_runs_no_module_outside_the_closure(asked: PairQuestion) -> None:
    """Every function that really ran was looked at: a change in any of its modules makes the numbers anew."""
    files: set[str] = set()

    def seen(frame: FrameType, event: str, argument: object) -> None:
        files.add(frame.f_code.co_filename)

    sys.setprofile(seen)
    try:
        compute(asked, Studies())
    finally:
        sys.setprofile(None)
    ran = {path for path in map(Path, files) if path.is_relative_to(PACKAGE)}
    assert PACKAGE / "heat" / "program.py" in ran
    assert ran - {*import_closure()} == set()


def test_compiled_modules_are_in_the_closure() -> None:
    """The profiler does not see them run. No number follows from how many steps there are, nor from a probe's lag."""
    apart = {PACKAGE / "heat" / "pacing.py", PACKAGE / "heat" / "lagging.py"}
    assert {*compiled.sources()} - apart <= {*import_closure()}


def test_no_words_and_no_pages_are_in_the_closure() -> None:
    """What pages say, how data are read and judged, and the words of choices change no number."""
    rooms = {path.relative_to(PACKAGE).parts[0] for path in import_closure()}
    assert not rooms & {"site", "judge", "trade", "workshop", "editions", "commands", "pipeline.py"}
    assert PACKAGE / "language" / "choices.py" not in import_closure()
    assert PACKAGE / "assess" / "wording.py" not in import_closure()


def test_the_closure_follows_imports_and_skips_those_for_types(tmp_path: Path) -> None:
    """From package, from module, inside functions; not under TYPE_CHECKING."""
    for name, text in {
        "a.py": "from guidegen.b import c\nfrom guidegen.d import name\n"
                "if TYPE_CHECKING:\n    from guidegen.g import Typed\n\ndef f():\n    import guidegen.e\n",
        "b/__init__.py": "", "b/c.py": "", "d.py": "", "e.py": "from guidegen.b import name\n", "g.py": "",
    }.items():  # fmt: skip
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(text, encoding="utf-8")
    found = [path.relative_to(tmp_path).as_posix() for path in import_closure("guidegen.a", tmp_path)]
    assert found == ["a.py", "b/__init__.py", "b/c.py", "d.py", "e.py"]


def test_an_edit_of_a_kernel_is_seen(tmp_path: Path) -> None:
    """The closure of a copy of the package, and one of its files changed."""
    copy = tmp_path / "guidegen"
    shutil.copytree(PACKAGE, copy, ignore=shutil.ignore_patterns("__pycache__", "web", "starter", "locale"))
    closure = import_closure(package=copy)
    assert [path.relative_to(copy) for path in closure] == [path.relative_to(PACKAGE) for path in import_closure()]
    assert copy / "heat" / "kernels.py" in closure


# --- what is kept ------------------------------------------------------------------------------------


@pytest.mark.slow
@pytest.mark.usefixtures("computed_anew")
def test_what_was_computed_is_computed_once(known: Catalogue, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The second record is the first to the byte, and nothing was computed for it."""
    machine, kit = known.machine(PAIR[0]), known.kit(PAIR[1])

    def assess() -> Assessment:
        return Assessor(known, "next", 0, Kept(tmp_path)).assess(machine, kit)

    first = assess()
    monkeypatch.setattr("guidegen.assess.assessor.compute", None)
    assert assess().to_json() == first.to_json()
    assert Assessor(known, "2030.1", 0, Kept(tmp_path)).assess(machine, kit).edition == "2030.1"


@pytest.mark.slow
@pytest.mark.usefixtures("computed_anew")
def test_studies_of_one_variant_are_held_at_a_time(known: Catalogue) -> None:
    """Some 20 MB each with all draws, they are let go of when the next variant comes."""

    def alive() -> int:
        gc.collect()
        return sum(isinstance(one, Study) for one in gc.get_objects())

    before = alive()
    assessor = Assessor(known, "next", 0)
    held = []
    for name in ("tamsin-mk1", "tamsin-mk2", "bracken-c"):
        assessor.assess(known.machine(name), known.kit("banjo-feed"))
        held.append(alive() - before)
    assert held[0] > 0
    assert max(held) <= held[0] + 1


def test_nothing_is_written_into_the_package() -> None:
    """Compiled code lies in the user's own cache, and belongs to the user."""
    folder = compiled.cache_folder()
    assert not folder.is_relative_to(PACKAGE)
    assert folder.stat().st_uid == os.getuid()


def test_the_names_of_numbers_are_those_of_the_record() -> None:
    """`Assessor` puts them in one by one."""
    assert {*numbers.Numbers.model_fields} <= {*Assessment.model_fields}
    assert not any(re.search("word|lint|procedure", name) for name in numbers.Numbers.model_fields)


def test_the_log_says_how_many_were_computed(tmp_path: Path, caplog: pytest.LogCaptureFixture) -> None:
    """`-v` shows it: all at first, none after the workshop got another name."""
    root = tmp_path / "workshop"
    assert main(["new", "workshop", str(root), "-q"]) == 0
    with caplog.at_level("INFO", "guidegen"):
        pipeline.check(root)
        file = root / "content" / "workshop.yml"
        text = file.read_text(encoding="utf-8")
        file.write_text(re.sub("(?m)^name: .*", "name: Another Name", text, count=1), encoding="utf-8")
        pipeline.check(root)
    lines = [line for line in caplog.messages if line.startswith("numbers of")]
    assert lines == ["numbers of 1 pairs: 0 kept, 1 computed", "numbers of 1 pairs: 1 kept, 0 computed"]
