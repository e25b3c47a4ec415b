"""What was learned of a machine, kept beside its runs and read back: each kit its own, stale where runs changed."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from guidegen import trade
from guidegen.assess.assessor import Assessor
from guidegen.assess.learned import learned, path_of, sums
from guidegen.problems import CatalogueError
from guidegen.record.learned import KeptLesson, LearnedInput, OpenInput, StrayingPlace
from guidegen.site.pages.learned import learned_values
from tests.conftest import REPOSITORY
from tests.fixtures.records import record

VARIANT, MACHINE = "tamsin-mk1", "invented machine 0417"


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """The demonstration's data, to write into, of which nothing is learned yet."""
    for name in ("machines", "content"):
        shutil.copytree(REPOSITORY / name, tmp_path / name, ignore=shutil.ignore_patterns("editions", "*.learned.json"))
    return tmp_path


@pytest.fixture
def known(root: Path) -> trade.Catalogue:
    """With a lesson beside its runs: one input of the machine, one of each of two kits, one open."""
    found = trade.load(root)
    runs = {path: run for path, run in found.runs.items() if run.variant == VARIANT}
    lesson = KeptLesson(
        variant=VARIANT, machine=MACHINE, invented=True, made_from=sums(found, runs), set_aside=("mk1-stock-1",),
        learned=tuple(
            LearnedInput(id=name, kit=kit, name=name, before="2 W/K ± 1 W/K", after="2.4 W/K ± 0.1 W/K")
            for name, kit in (("group.to_boiler", ""), ("kit.contact", "feed-preheater"),
                              ("kit.control.setpoint", "loop-controller"))
        ),
        open=(OpenInput(id="mixing", kit="", name="cells", left_open="unseen", tied="", settled_by="a probe"),),
        straying=(StrayingPlace(place="sensor", off_k=0.2),),
    )  # fmt: skip
    path_of(found, VARIANT).write_text(lesson.model_dump_json(), encoding="utf-8")
    return trade.load(root)


def test_a_pair_gets_what_bears_on_it(known: trade.Catalogue) -> None:
    """The machine's own inputs and those of its kit; of 22 runs of which one was set aside it says 21."""
    found = learned(known, VARIANT, "feed-preheater")
    assert found is not None
    assert [one.id for one in found.learned] == ["group.to_boiler", "kit.contact"]
    assert (found.runs, found.set_aside, found.stale) == (21, 1, False)
    assert learned(known, "tamsin-mk2", "feed-preheater") is None


def test_a_kept_record_is_not_taken_for_one_of_another_lesson(known: trade.Catalogue) -> None:
    """Nor where a run that it rests on has another byte, by which it is stale; of another variant all stays."""

    def keys() -> list[bytes]:
        return [Assessor(known, "next", 0).key(known.machine(one), known.kit("feed-preheater"))
                for one in (VARIANT, "tamsin-mk2")]  # fmt: skip

    found = [keys()]
    run = known.root / "machines/tamsin/runs/mk1-stock-2.yml"
    run.write_bytes(run.read_bytes() + b"# looked at again\n")
    found.append(keys())
    path_of(known, VARIANT).unlink()
    found.append(keys())
    assert len({one for one, _ in found}) == 3
    assert len({other for _, other in found}) == 1


@pytest.mark.parametrize("what", ["changed", "gone"])
def test_other_runs_make_it_stale(known: trade.Catalogue, what: str) -> None:
    """A description that was corrected, or a run that was taken away."""
    path = known.root / "machines/tamsin/runs/mk1-stock-2.yml"
    if what == "changed":
        path.write_text(path.read_text("utf-8").replace("block: 2", "block: 7"), encoding="utf-8")
    else:
        path.unlink()
        path.with_suffix(".csv").unlink()
    found = learned(trade.load(known.root), VARIANT, "feed-preheater")
    assert found is not None
    assert found.stale


def test_what_run_learn_never_wrote_is_refused_with_its_place(known: trade.Catalogue) -> None:
    """And with what to do about it."""
    path_of(known, VARIANT).write_text('{"format": 1}', encoding="utf-8")
    with pytest.raises(CatalogueError) as error:
        learned(known, VARIANT, "feed-preheater")
    (problem,) = error.value.problems
    assert "machines/tamsin/runs/mk1.learned.json:1:1: X31" in str(problem)
    assert "run guidegen run learn tamsin-mk1" in str(problem)


def test_the_page_says_what_was_learned_and_what_stayed_open(known: trade.Catalogue) -> None:
    """With what would settle it, whether the runs are today's, and that nobody measured anything."""
    one = record().model_copy(update={"learned": learned(known, VARIANT, "feed-preheater")})
    says = learned_values(one)
    assert says is not None
    assert says["lead"] == "From 21 logged runs of one machine. One more could not be followed. They are invented."
    assert [each["after"] for each in says["learned"]] == ["2.4 W/K ± 0.1 W/K"] * 2
    assert [(each["why"], each["settled_by"]) for each in says["open"]] == [("no probe saw it by itself", "a probe")]
    assert says["straying"] == ["the sensor"]
    assert learned_values(record().model_copy(update={"learned": None})) is None
