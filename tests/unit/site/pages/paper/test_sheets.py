"""The sheets: how many there are, what their structure says to a reader that cannot see, and their true size."""

from __future__ import annotations

import math
from collections import Counter

import pytest

pytest.importorskip("typst")
pytest.importorskip("pikepdf")

from guidegen.editions.withdrawals import concerned
from guidegen.site.pages import downloads
from guidegen.site.pages.cases import cases_of
from guidegen.site.pages.pair import pair_page
from guidegen.site.pages.paper.bench import SIDES, bench_data
from guidegen.site.pages.paper.press import Press
from guidegen.site.pages.paper.sheets import KINDS, published, sheet_bytes, sheets_of
from guidegen.site.pages.site import Site, by_pair
from tests.fixtures.records import shared
from tests.unit.site.pages.paper.printed import ADDRESS, order, pairs, printed, sheet
from tests.unit.site.pages.paper.read_pdf import Element, lines, opened, structure

pytestmark = pytest.mark.slow

POINTS = 72 / 25.4
"""Points of a millimetre: an inch is 25.4 mm by definition, a point of a PDF its 72nd part (ISO 32000-1, 8.3.2.3)."""
PRESS = Press()
MK2 = ("tamsin-mk2", "feed-preheater")


def made(ending: str, pair: tuple[str, str] = MK2) -> bytes:
    """A sheet of a pair."""
    one = printed(*pair)
    return sheet_bytes(one, sheet(one, ending), PRESS, ADDRESS)


def test_cases_are_those_of_the_record() -> None:
    """Two ways to a smooth wall are two cases; each step that says for whom it is belongs to one of them."""
    procedure = printed().procedure
    assert procedure is not None
    cases = cases_of(procedure.fitting)
    assert [one.id for one in cases] == ["trimmed", "exchanged"]
    assert [one.words for one in cases] == ["you trim your own boiler", "you have the exchange boiler"]
    for step in procedure.fitting.steps:
        taken = [one.id for one in cases if one.takes(step)]
        assert len(taken) == (1 if step.only_if else 2), step.number


def test_a_case_prints_its_own_steps_alone() -> None:
    """Each act of the case is there in order, none of the other, and every number is that of the guide."""
    one = printed()
    assert one.procedure is not None
    for case in cases_of(one.procedure.fitting):
        found = bench_data(order(sheet(one, f"bench-{case.id}-a4.pdf"), one))
        numbers = [step["number"] for group in found["groups"] for step in group["steps"]]
        assert numbers == [step.number for step in one.procedure.fitting.steps if case.takes(step)]


def test_a_hazard_is_named_once_a_phase_and_before_its_act() -> None:
    """Every statement of a phase, at the first of its steps that has it."""
    one = printed()
    assert one.procedure is not None
    found = bench_data(order(sheet(one, "bench-trimmed-a4.pdf"), one))
    case = cases_of(one.procedure.fitting)[0]
    for phase, group in zip(one.procedure.fitting.phases, _phases(found, one), strict=False):
        wanted = {each.type_of_hazard for step in phase.steps if case.takes(step) for each in step.hazards}
        named = Counter(text for step in group["steps"] for _, text in step["hazards"])
        assert named == Counter(wanted), phase.number


def _phases(found: dict, one: object) -> list:
    """The printed group of each phase; one without steps for a phase that this case leaves out."""
    by_number = {group["number"]: group for group in found["groups"]}
    return [by_number.get(phase.number, {"steps": []}) for phase in one.procedure.fitting.phases]  # type: ignore[attr-defined]


@pytest.mark.slow
def test_a_bench_sheet_is_one_sheet_or_two() -> None:
    """For every pair of the demonstration, each case, on either paper; which of them are one is said in the output."""
    counted = {}
    for pair in pairs():
        one = printed(*pair)
        for each in published(one):
            if each.kind == "bench":
                counted[each.path] = math.ceil(len(opened(sheet_bytes(one, each, PRESS, ADDRESS)).pages) / SIDES)
    print(*(f"{count} {path}" for path, count in counted.items()), sep="\n")
    assert len(counted) >= 2 * len(pairs()) > 30
    assert set(counted.values()) <= {1, 2}
    assert all(count == 1 for path, count in counted.items() if "/loop-controller/" in path)


def test_the_second_sheet_begins_after_a_safe_stop() -> None:
    """Whoever turns over to the other sheet may rest there: the phase before it has a safe stop."""
    one = printed()
    found = bench_data(order(sheet(one, "bench-trimmed-a4.pdf"), one))
    document = opened(made("bench-trimmed-a4.pdf"))
    assert len(document.pages) in (3, 4)
    stops = [group["number"] for group in found["groups"] if group["stop"]]
    assert stops == [str(number) for number in range(1, 12) if number != 5]


def checked_structure(data: bytes) -> Element:
    """The structure of a sheet, with what every sheet owes to whoever cannot see it."""
    document = opened(data)
    assert str(document.Root.Lang) == "en"
    assert bool(document.Root.MarkInfo.Marked)
    assert bool(document.Root.ViewerPreferences.DisplayDocTitle)
    assert "Tamsin Mark 2 with Feed Preheater" in str(document.docinfo["/Title"])
    assert b"pdfuaid:part" in document.Root.Metadata.read_bytes()
    assert "/CreationDate" not in document.docinfo
    tree = structure(document)
    assert len([*tree.every("H1")]) == 1
    assert all(one.alt for one in tree.every("Figure"))
    return tree


def test_structure_of_a_bench_sheet() -> None:
    """Each step is an item of a list, and so is each look; drawing and code have words; headings skip no level."""
    one = printed()
    tree = checked_structure(made("bench-trimmed-a4.pdf"))
    found = bench_data(order(sheet(one, "bench-trimmed-a4.pdf"), one))
    acts = [step for group in found["groups"] for step in group["steps"]]
    looks = sum(len(step["hold"]["looks"]) for step in acts if step["hold"])
    assert len([*tree.every("LI")]) == len(acts) + looks + len(found["stop_use"])
    assert len([*tree.every("Figure")]) == 2
    assert len([*tree.every("H2")]) == found["remedies"] + 2
    assert len([*tree.every("H3")]) == len(found["groups"]) - found["remedies"]


def test_structure_of_a_record_sheet() -> None:
    """A table with named columns, a row for each reading."""
    tree = checked_structure(made("record-trimmed-a4.pdf"))
    assert len([*tree.every("Table")]) == 1
    assert len([*tree.every("TH")]) == 4
    rows = KINDS["record"].data(order(sheet(printed(), "record-trimmed-a4.pdf"), printed()))["rows"]
    assert len([*tree.every("TR")]) == len(rows) + 1


def test_structure_of_a_book() -> None:
    """Contents, and each step of both courses as an item."""
    tree = checked_structure(made("guide-a4.pdf"))
    procedure = printed().procedure
    assert procedure is not None
    assert procedure.restoring is not None
    steps = len(procedure.fitting.steps) + len(procedure.restoring.steps)
    assert len([*tree.every("TOC")]) >= 1
    assert len([*tree.every("LI")]) > steps
    assert len([*tree.every("Figure")]) > 10


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_template_is_true_to_scale(paper: str) -> None:
    """The bars are 100 mm and 50 mm, the strip is the wall's circumference by its height: read off the PDF itself."""
    one = printed()
    scene = one.scene
    assert scene is not None
    assert scene.boiler.diameter_mm is not None
    document = opened(made(f"template-{paper}.pdf"))
    assert len(document.pages) == 1
    found = [*lines(document.pages[0])]
    level = sorted(abs(end[0] - start[0]) / POINTS for start, end in found if abs(end[1] - start[1]) < 1e-3)
    upright = sorted(abs(end[1] - start[1]) / POINTS for start, end in found if abs(end[0] - start[0]) < 1e-3)
    assert any(length == pytest.approx(100.0, abs=0.01) for length in level)
    assert any(length == pytest.approx(50.0, abs=0.01) for length in upright)
    assert level[-1] == pytest.approx(math.pi * scene.boiler.diameter_mm, abs=0.01)
    assert sum(length == pytest.approx(scene.boiler.straight_wall_mm, abs=0.01) for length in upright) == 2
    boss = scene.protrusions[0]
    assert boss.to_mm is not None
    assert boss.from_mm is not None
    assert sum(length == pytest.approx(boss.to_mm - boss.from_mm, abs=0.01) for length in upright) == 2
    assert sum(length == pytest.approx(boss.width_mm, abs=0.01) for length in level) >= 2
    wide, tall = document.pages[0].MediaBox[2:]
    assert all(0 < x < float(wide) and 0 < y < float(tall) for line in found for x, y in line)


def test_a_step_of_an_older_record_says_for_whom_it_is() -> None:
    """Such a record names no cases; then every step is there, with its condition before the act."""
    one = printed()
    assert one.procedure is not None
    phases = [
        phase.model_copy(update={"steps": tuple(step.model_copy(update={"cases": ()}) for step in phase.steps)})
        for phase in one.procedure.fitting.phases
    ]
    fitting = one.procedure.fitting.model_copy(update={"phases": tuple(phases)})
    older = one.model_copy(update={"procedure": one.procedure.model_copy(update={"fitting": fitting})})
    assert [case.id for case in cases_of(fitting)] == [""]
    found = bench_data(order(sheet(older, "bench-a4.pdf"), older))
    said = {step["number"]: step["only_if"] for group in found["groups"] for step in group["steps"]}
    assert said == {step.number: step.only_if or "" for step in fitting.steps}


def test_a_site_without_a_press_has_no_sheets() -> None:
    """Neither files nor links to them, as where the pages of an edition are made anew."""
    one = printed()
    bare = Site.of(by_pair([one]), shared())
    pressed = Site.of(by_pair([one]), shared(), address=ADDRESS, press=PRESS)
    assert not [path for path in downloads.paths(bare) if path.startswith("sheets/")]
    assert 'href="../../../sheets/' not in str(pair_page(one, "install", bare).body)
    listed = {path for path in downloads.paths(pressed) if path.startswith("sheets/")}
    body = "".join(str(pair_page(one, kind, pressed).body) for kind in ("install", "restore"))
    assert listed == {each.path for each in published(one)}
    assert all(f'href="../../../{path}"' in body for path in listed)
    path = "sheets/tamsin-mk2/feed-preheater/record-trimmed-a4.pdf"
    assert downloads.file_at(path, pressed) == made("record-trimmed-a4.pdf")
    assert downloads.file_at(path, bare) is None


def test_only_what_is_cut_has_a_template() -> None:
    """A kit that cuts nothing has none."""
    one = printed("tamsin-mk2", "banjo-feed")
    assert {each.kind for each in sheets_of(one)} == {"bench", "record", "back", "back-record", "guide"}


def test_the_way_back_has_a_bench_sheet_of_its_own() -> None:
    """Its steps, numbered as on its page, and none of the fitting; its record has a line for each of its readings."""
    one = printed()
    assert one.procedure is not None
    assert one.procedure.restoring is not None
    done = one.procedure.restoring.steps
    found = bench_data(order(sheet(one, "/back-a4.pdf"), one))
    assert [step["number"] for group in found["groups"] for step in group["steps"]] == [step.number for step in done]
    rows = KINDS["back-record"].data(order(sheet(one, "/back-record-a4.pdf"), one))["rows"]
    assert {row[0] for row in rows} <= {step.number for step in done}
    assert rows
    assert made("/back-a4.pdf") != made("bench-trimmed-a4.pdf")


def test_a_withdrawal_finds_the_sheets() -> None:
    """A sheet of a guide that was called back is one of its files."""
    for each in published(printed()):
        assert concerned(each.path, ["tamsin-mk2/feed-preheater"]) == "tamsin-mk2/feed-preheater"
        assert concerned(each.path, ["tamsin-mk2/banjo-feed"]) is None
