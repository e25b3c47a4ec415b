"""`guidegen run learn` and `run accept`: what is printed, what is written, and what is refused."""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable
from pathlib import Path
from types import SimpleNamespace

import pytest

from guidegen import trade
from guidegen.assess.learn.lesson import LessonOfParameter
from guidegen.assess.learn.parameters import Learnable, learnable
from guidegen.commands import main, teaching
from guidegen.problems import UsageProblem

pytestmark = pytest.mark.slow

DEMONSTRATION = Path(__file__).parents[3]
Run = Callable[..., int]


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """The demonstration's data without its runs, to write into."""
    for name in ("machines", "content"):
        shutil.copytree(DEMONSTRATION / name, tmp_path / name, ignore=shutil.ignore_patterns("editions", "runs"))
    return tmp_path


@pytest.fixture
def run(root: Path) -> Run:
    """Run the command there and return its exit code."""
    return lambda *words: main(["--root", str(root), "run", *map(str, words)])


def one(root: Path, ident: str, kit: str, after: tuple[float, float, float], because: str = "") -> LessonOfParameter:
    """A lesson of one input, as if it had been learned."""
    known = trade.load(root)
    found: Learnable = next(
        one for one in learnable(known, known.machine("tamsin-mk2"), [known.kit("feed-preheater")])
        if (one.input.id, one.kit) == (ident, kit)
    )  # fmt: skip
    return LessonOfParameter(found, after, after, 0.3, not because, because, "weigh it", "", 0.0)


@pytest.fixture
def taught(root: Path, monkeypatch: pytest.MonkeyPatch) -> list[LessonOfParameter]:
    """What the command is told was learned: what stands in the file of a kit, in a family's, and in none."""
    parameters = [
        one(root, "group.to_boiler", "", (2.41, 2.30, 2.50)),
        one(root, "kit.contact", "feed-preheater", (1.02, 0.97, 1.07)),
        one(root, "mains.supply", "", (0.98, 0.97, 0.99)),
        one(root, "mixing", "", (2.0, 1.0, 4.0), "no probe saw it by itself"),
    ]

    def lesson(arguments: object, root: Path) -> tuple[object, object, object]:
        known = trade.load(root)
        runs = (SimpleNamespace(invented=True),) * 4
        bench = SimpleNamespace(machine=known.machine("tamsin-mk2"))
        read = SimpleNamespace(
            campaign=SimpleNamespace(runs=runs, bench=bench), paths=("machines/tamsin/runs/a.yml",), machine="unit 1"
        )
        lesson = SimpleNamespace(
            parameters=parameters, learned=[p for p in parameters if p.learned], disagrees=True,
            untouched=(one(root, "group.mass", "", (1.0, 0.9, 1.1)).of,), set_aside=runs[:1],
        )  # fmt: skip
        return known, read, lesson

    monkeypatch.setattr(teaching, "_lesson", lesson)
    return parameters


def test_what_was_learned_is_written_as_measured_with_the_runs_as_its_source(
    run: Run, root: Path, taught: list[LessonOfParameter], capsys: pytest.CaptureFixture[str]
) -> None:
    """The variant's file, the kit's and the sources change, each in its own lines; comments and order stay."""
    kit = (root / "content/kits/feed-preheater.yml").read_text(encoding="utf-8")
    family = (root / "machines/tamsin/family.yml").read_bytes()
    assert run("accept", "tamsin-mk2", "--yes") == 0
    said = capsys.readouterr().out
    assert (
        "+    contact: {is: 1.020 W/(m·K) ± 0.050 W/(m·K), evidence: measured, source: runs-tamsin-mk2-unit-1}" in said
    )
    assert "mains.supply is of that day or of the model" in said
    assert "these intervals may be too narrow" in said
    known = trade.load(root)
    fact = known.machine("tamsin-mk2").fact("group.to_boiler")
    assert (fact.text, fact.evidence, fact.source) == ("2.41 W/K ± 0.11 W/K", "measured", "runs-tamsin-mk2-unit-1")
    assert known.kit("feed-preheater").effects[0].contact.value == pytest.approx(1.02)
    assert "3 logged runs of unit 1, Tamsin Mark 2" in (root / "content/sources.yml").read_text(encoding="utf-8")
    assert (root / "machines/tamsin/family.yml").read_bytes() == family
    after = (root / "content/kits/feed-preheater.yml").read_text(encoding="utf-8")
    assert [line for line in after.splitlines() if "contact:" not in line] == kit.splitlines()


def test_nothing_is_written_without_being_asked(
    run: Run, root: Path, taught: list[LessonOfParameter], capsys: pytest.CaptureFixture[str]
) -> None:
    """No terminal, no `--yes`: the lines are shown, and every byte stays."""
    before = {path: path.read_bytes() for path in root.rglob("*.yml")}
    assert run("accept", "tamsin-mk2") == 2
    assert "evidence: measured" in capsys.readouterr().out
    assert {path: path.read_bytes() for path in root.rglob("*.yml")} == before


def test_what_was_not_learned_is_refused_by_name(
    run: Run, taught: list[LessonOfParameter], capsys: pytest.CaptureFixture[str]
) -> None:
    """With why, and what would settle it; a name that is none with the nearest."""
    assert run("accept", "tamsin-mk2", "--only", "mixing", "--yes") == 4
    assert (
        "mixing was not learned: no probe saw it by itself; this would settle it: weigh it" in capsys.readouterr().err
    )
    assert run("accept", "tamsin-mk2", "--only", "group.to_boilr", "--yes") == 2
    assert "write group.to_boiler" in capsys.readouterr().err


def test_one_input_alone_may_be_taken(run: Run, root: Path, taught: list[LessonOfParameter]) -> None:
    """The kit's file stays as it was."""
    kit = (root / "content/kits/feed-preheater.yml").read_bytes()
    assert run("accept", "tamsin-mk2", "--only", "group.to_boiler", "--yes") == 0
    assert (root / "content/kits/feed-preheater.yml").read_bytes() == kit


def test_invented_runs_say_nothing_of_a_real_machine(
    run: Run, root: Path, taught: list[LessonOfParameter], capsys: pytest.CaptureFixture[str]
) -> None:
    """Where the family is not marked as invented, nothing is written."""
    path = root / "machines/tamsin/family.yml"
    path.write_text(path.read_text(encoding="utf-8").replace("invented: true", "invented: false"), encoding="utf-8")
    assert run("accept", "tamsin-mk2", "--yes") == 4
    assert "say nothing of a real machine" in capsys.readouterr().err


def test_invented_runs_say_nothing_of_a_real_kit(
    run: Run, root: Path, taught: list[LessonOfParameter], capsys: pytest.CaptureFixture[str]
) -> None:
    """Also of an invented machine: its own inputs may be taken without the kit's."""
    path = root / "content/kits/feed-preheater.yml"
    path.write_text(path.read_text(encoding="utf-8").replace("invented: true", "invented: false"), encoding="utf-8")
    before = path.read_bytes()
    assert run("accept", "tamsin-mk2", "--yes") == 4
    assert "say nothing of a real kit (feed-preheater)" in capsys.readouterr().err
    assert path.read_bytes() == before
    assert run("accept", "tamsin-mk2", "--only", "group.to_boiler", "--yes") == 0


def test_an_input_that_the_runs_never_touch_is_refused_as_one(
    run: Run, taught: list[LessonOfParameter], capsys: pytest.CaptureFixture[str]
) -> None:
    """It is an input, though the runs say nothing of it."""
    assert run("accept", "tamsin-mk2", "--only", taught[0].of.key.replace("to_boiler", "mass"), "--yes") == 4
    assert "was not learned: these runs tell nothing of it; this would settle it:" in capsys.readouterr().err


def test_two_machines_have_two_sources() -> None:
    """Also where their names are long, or are written with letters that no key has."""
    names = ["a", "b", "x" * 40 + "1", "x" * 40 + "2", "Ä", "Ö"]
    keys = {teaching.source_key("tamsin-mk2", name) for name in names}
    assert len(keys) == len(names)
    assert all(re.fullmatch("[a-z0-9-]{1,40}", key) for key in keys)


def test_runs_of_nobody_knows_which_machine_are_refused() -> None:
    """Alone, and beside named ones that are not asked for by name."""
    runs: dict[str, object] = {"machines/a/runs/one.yml": object()}
    for there in ({"": runs}, {"": runs, "unit 1": runs}):
        with pytest.raises(UsageProblem, match=r"one\.yml: nobody wrote.*write machine:"):
            teaching._runs(there, "a-b", None)  # type: ignore[arg-type]
    assert teaching._runs({"": {}, "unit 1": runs}, "a-b", "unit 1") is runs  # type: ignore[arg-type,comparison-overlap]


def test_without_runs_there_is_nothing_to_learn(run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    """The message names the command that keeps one."""
    assert run("learn", "tamsin-mk2") == 2
    assert "no run of tamsin-mk2 is kept; guidegen run add keeps one" in capsys.readouterr().err
