"""`guidegen plan`: what is printed, and the sheet."""

from __future__ import annotations

import io
from pathlib import Path

import numpy as np
import pikepdf
import pytest

from guidegen import trade
from guidegen.assess.asking import served
from guidegen.assess.learn import planning
from guidegen.assess.learn.machine import Bench
from guidegen.assess.learn.parameters import learnable
from guidegen.assess.learn.planning import Expectation, FigureNow, PlannedRun, RunPlan
from guidegen.commands import main

pytestmark = pytest.mark.slow

DEMONSTRATION = Path(__file__).parents[3]


@pytest.fixture
def made(monkeypatch: pytest.MonkeyPatch) -> RunPlan:
    """A plan that nobody computed."""
    known = trade.load(DEMONSTRATION)
    bench = Bench(known, known.machine("tamsin-mk2"), (known.kit("feed-preheater"),), ())
    figures = (FigureNow("drop ratio", "drinks.*.drop_ratio.sensor", 0.3, np.zeros(0), 0.0, 0.2),)
    runs = (PlannedRun("shot", ("feed-preheater",), "outlet"), PlannedRun("cold-start", (), "group"))
    some = tuple(Expectation(one, (0.1,)) for one in runs)
    plan = RunPlan(bench, ("feed-preheater",), figures, some, some, {"stock": 0.5, "feed-preheater": 0.2})
    monkeypatch.setattr(planning, "plan", lambda *given: plan)
    return plan


def run(*words: object) -> int:
    """Run the command on the demonstration."""
    return main(["--root", str(DEMONSTRATION), "plan", "tamsin-mk2", "feed-preheater", *map(str, words)])


def test_widths_shots_and_order_are_printed(made: RunPlan, capsys: pytest.CaptureFixture[str]) -> None:
    """Half-widths with what is left of today's; the number of shots follows from both scatters; the seed is said."""
    assert run("--half-width", "0.3", "--seed", "7") == 0
    said = capsys.readouterr().out
    assert "0.3 ± 0.2" in said
    assert "± 0.1 (50%)" in said
    # t(14) = 2.145 and sqrt(0.5² + 0.2²) = 0.539: 2.145 * 0.539 / sqrt(15) = 0.298, and of 14 pairs 0.311.
    assert "takes 15 shots of each configuration" in said
    assert "drawn with --seed 7" in said
    assert said.count("  block ") == 15


def test_the_sheet_is_an_accessible_pdf_with_all_of_it(made: RunPlan, tmp_path: Path) -> None:
    """Tagged, named, and the same bytes again."""
    first, second = tmp_path / "a.pdf", tmp_path / "b.pdf"
    assert run("--out", first, "-q") == run("--out", second, "-q") == 0
    assert first.read_bytes() == second.read_bytes()
    with pikepdf.open(io.BytesIO(first.read_bytes())) as sheet:
        assert sheet.Root.MarkInfo.Marked
        assert "Tamsin Mark 2 with Feed Preheater" in str(sheet.docinfo["/Title"])


def test_a_sheet_promises_no_more_than_its_blocks(
    made: RunPlan, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """√(0.5² + 0.2²) = 0.539 K: 1.96 · 0.539 / √200 = 0.0746: 200 are too few for 0.05, enough for 0.076."""
    assert run("--out", tmp_path / "a.pdf", "--half-width", "0.05") == 2
    assert "write --half-width 0.076 or more" in capsys.readouterr().err
    assert not (tmp_path / "a.pdf").exists()


def test_five_drinks_with_one_probe_are_not_five_probes() -> None:
    """One input and one own error along the same slope: 5 a² / (1 + 5 b²) of an offset, 5 a² / (1 + m²) of a mass each.

    By hand from A − B (1 + D)⁻¹ Bᵀ of all five drinks together.
    """
    a, b = 3.0, 2.0
    slopes = np.array([[a, b]])
    assert planning.own_removed(slopes, [False], 5) ** 2 == pytest.approx(5 * a**2 / (1 + 5 * b**2))
    assert planning.own_removed(slopes, [True], 5) ** 2 == pytest.approx(5 * a**2 / (1 + b**2))
    both = planning.own_removed(np.array([[a, b, 1.0]]), [False, True], 5)
    whole = 5 * np.array([[a * a, a * b], [a * b, b * b]]) / 2.0
    assert both**2 == pytest.approx(whole[0, 0] - whole[0, 1] ** 2 / (1 + whole[1, 1]))


def test_what_moves_no_figure_is_not_divided_by() -> None:
    """A kit that changes nothing has ratios of one and adds nothing to the warm-up: these are no figures of a plan."""
    known = trade.load(DEMONSTRATION)
    machine, kit = known.machine("tamsin-mk2"), known.kit("banjo-feed")
    bench = Bench(known, machine, (kit,), tuple(learnable(known, machine, (kit,))))
    found = {one.words: one for one in planning._figures(bench, (kit.id,), served(known), 128)}
    assert set(found) == {"drop with the kit", "mean outlet with the kit"}
    assert all(one.before > 0.0 for one in found.values())


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--half-width", "0"), "no number above zero"),
        (("--draws", "3"), "no number from 64"),
        (("--out", "sheet.txt"), "end it in .pdf"),
        (("feed-preheater",), "a kit is named twice"),
    ],
)
def test_what_cannot_be_planned_is_said(
    words: tuple[str, ...], said: str, made: RunPlan, capsys: pytest.CaptureFixture[str]
) -> None:
    """Each with what to write instead."""
    try:
        code = run(*words)
    except SystemExit as left:
        code = int(left.code or 0)
    assert code == 2
    assert said in capsys.readouterr().err
