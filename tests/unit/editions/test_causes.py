"""A change has a cause: data, text, computation or form; nobody is written to for what only the program does anew."""

from __future__ import annotations

import copy
from collections.abc import Callable

import pytest

from guidegen.editions import by_program, kept
from guidegen.editions.change import Change, GuideChanges
from guidegen.editions.compare import compare
from guidegen.editions.snapshot import steps_of
from guidegen.record import GivenWords, upgraded
from tests.frozen_workshop import EDITIONS, FROZEN
from tests.unit.editions.edits import GUIDE, correct_torque, digest, edit_sentence, reword, solve, stamped
from tests.unit.editions.small import HOT, Data, course, hold, record, step, steps

pytestmark = pytest.mark.slow

WORDS = GivenWords("not computed", "not stated")
HEAT = "a step with mains, pressure or heat changed"


@pytest.fixture(scope="module")
def frozen() -> list[Data]:
    """The newest of the frozen editions, brought to today's format."""
    from guidegen.editions import snapshot

    files = kept.snapshot_files(FROZEN / EDITIONS[-1])
    return [upgraded(one, WORDS) for one in snapshot.unpack(files, EDITIONS[-1])]


def notifiable(found: tuple[GuideChanges, ...]) -> list[tuple[str, str, tuple[str, ...]]]:
    """Guide, kind and causes of all that owners must know."""
    return [(one.guide, change.kind, change.causes) for one in found for change in one.notifiable]


def test_all_four_causes_at_once(frozen: list[Data]) -> None:
    """The two of the program are listed once each, with all of their guides; only the others must be made known."""
    old, new = stamped(frozen, "p1"), stamped(frozen, "p2")
    reword(new)
    solve(new)
    correct_torque(new)
    edit_sentence(new)
    found = compare(old, new)
    assert notifiable(found) == [(GUIDE, "torque", ("data",)), (GUIDE, "step", ("text",))]
    printed = [one.sentence() for one in by_program.by_program(found)]
    guides = sum(bool(one["procedure"]) for one in frozen)
    assert printed.count(f"Steps, reworded: {guides} guides") == 1
    assert [line.startswith("Sensor drop, recomputed") for line in printed].count(True) == 1
    assert len({line.split(",")[0] for line in printed}) == len(printed)
    assert {change.kind for one in found for change in one.by_program} == {"step", "statement", "figure"}
    assert {one.guide for one in found if one.own} == {GUIDE}


def test_a_new_solver_says_how_far_it_moved_each_figure(frozen: list[Data]) -> None:
    """At most, over all guides: one line for each quantity, temperatures in kelvin."""
    old, new = stamped(frozen, "p1"), stamped(frozen, "p2")
    solve(new)
    most = max(one["drinks"][drink][side]["sensor_drop_k"]["high"] * 0.01
               for one in old for drink in one["drinks"] for side in ("without", "with"))  # fmt: skip
    (line,) = (
        one.sentence() for one in by_program.by_program(compare(old, new)) if one.what.startswith("Sensor drop,")
    )
    assert line.startswith("Sensor drop, recomputed, up to ±")
    assert float(line.split("±")[1].split("\u202f")[0]) >= float(f"{most:.1g}") * 0.9
    assert line.endswith(f"°C: {len(frozen)} guides")


def test_beside_an_edition_that_kept_no_hashes(frozen: list[Data]) -> None:
    """Every sentence and every figure is another program's, the torque is not: only that must be made known."""
    new = stamped(frozen, "p2")
    reword(new)
    solve(new)
    correct_torque(new)
    found = compare(frozen, new)
    assert notifiable(found) == [(GUIDE, "torque", ("data",))]


def test_one_sentence_beside_an_edition_that_kept_no_hashes(frozen: list[Data]) -> None:
    """It is not known whose it is, so it counts as an author's."""
    new = stamped(frozen, "p2")
    edit_sentence(new)
    assert notifiable(compare(frozen, new)) == [(GUIDE, "step", ("unclear",))]


def test_a_few_steps_are_no_rewording_of_everything() -> None:
    """In a small workshop every step may be an author's: so few of them show nothing of the program."""
    new = record(origin={"program": "p", "made_from": {}})
    for each in steps_of(new):
        each["do"] = f"Now {each['do']}"
    (one,) = compare([record()], [new])
    assert [change.notifiable for change in one.changes].count(HEAT) == 1


# --- one guide, hash by hash ----------------------------------------------------------------------


def two(edit: Callable[[Data], None], program: str = "p2") -> tuple[Change, ...]:
    """What changed from a stamped small record to an edited one of this program."""
    (old,), (new,) = stamped([record()], "p1"), stamped([record()], program)
    edit(new)
    (one,) = compare([old], [new])
    return one.changes


def work(new: Data) -> list[Data]:
    """The steps of the only phase."""
    found: list[Data] = new["procedure"]["fitting"]["phases"][0]["steps"]
    return found


def hot(new: Data) -> None:
    """The hot step reads otherwise."""
    work(new)[1]["do"] = "Touch the boiler with one finger."


def by_author(new: Data) -> None:
    """Because its author wrote it anew."""
    hot(new)
    work(new)[1]["authored"]["source"] = digest("other")


def by_data(new: Data) -> None:
    """Because a value of the machine that it prints changed."""
    hot(new)
    work(new)[1]["authored"]["filled"] = digest("other")


def by_both(new: Data) -> None:
    """Because both did."""
    by_author(new)
    by_data(new)


@pytest.mark.parametrize(
    ("edit", "program", "causes", "notifiable"),
    [
        (hot, "p2", ("form",), None),
        (by_author, "p2", ("text",), HEAT),
        (by_author, "p1", ("text",), HEAT),
        (by_data, "p2", ("data",), HEAT),
        (by_both, "p2", ("text", "data"), HEAT),
        (hot, "p1", ("data",), HEAT),
    ],
)
def test_whose_words_a_step_has(
    edit: Callable[[Data], None], program: str, causes: tuple[str, ...], notifiable: str | None
) -> None:
    """Where neither author nor values changed it is the program's, if it is another program at all."""
    (one,) = two(edit, program)
    assert (one.causes, one.notifiable) == (causes, notifiable)


def limit_moves(evidence: str) -> Callable[[Data], None]:
    """An acceptance limit goes up."""

    def edit(new: Data) -> None:
        work(new)[4]["hold"] = hold("3 drops", "fitting-work-label")
        work(new)[4]["hold"]["accept"]["evidence"] = evidence

    return edit


@pytest.mark.parametrize(
    ("was", "becomes", "input_too", "causes", "is_notifiable"),
    [
        ("standard", "standard", False, ("data",), True),
        ("calculated", "calculated", False, ("computation",), False),
        ("calculated", "calculated", True, ("data", "computation"), True),
        ("standard", "calculated", False, ("data",), True),
    ],
)
def test_an_acceptance_limit(
    was: str, becomes: str, input_too: bool, causes: tuple[str, ...], is_notifiable: bool
) -> None:
    """One that somebody stated is never the program's; a calculated one is, while the data stayed."""
    work_before = steps()
    work_before[4]["hold"]["accept"]["evidence"] = was
    (old,), (new,) = stamped([record(work=work_before)], "p1"), stamped([record(work=copy.deepcopy(work_before))], "p2")
    limit_moves(becomes)(new)
    if input_too:
        new["inputs"][0]["text"] = "480 g ± 5 g"
    (one,) = compare([old], [new])
    (limit,) = (change for change in one.changes if change.kind == "limit")
    assert (limit.causes, bool(limit.notifiable)) == (causes, is_notifiable)


def verdict(new: Data) -> None:
    """A requirement is judged otherwise."""
    new["fit"]["reasons"][0]["met"] = False


def torque_words(new: Data) -> None:
    """The state of a thread reads otherwise."""
    new["torques"][0]["state"] = "without grease"


@pytest.mark.parametrize("edit", [verdict, torque_words], ids=lambda edit: edit.__name__)
def test_what_must_be_made_known_whatever_caused_it(edit: Callable[[Data], None]) -> None:
    """Somebody fitted a kit because of a verdict, and tightened by a torque."""
    (one,) = two(edit)
    assert one.notifiable
    assert not one.by_program


def test_a_figure_has_the_cause_of_what_went_in() -> None:
    """Data, the program, or both; with the same program and inputs, something else that was written."""

    def moved(new: Data) -> None:
        new["drinks"]["double"]["with"]["sensor_drop_k"]["value"] = 6.0

    def measured(new: Data) -> None:
        moved(new)
        new["inputs"][0].update(text="480 g ± 5 g", evidence="measured")

    def causes(edit: Callable[[Data], None], program: str) -> tuple[str, ...]:
        (figure,) = (one for one in two(edit, program) if one.kind == "figure")
        return figure.causes

    assert causes(moved, "p2") == ("computation",)
    assert causes(measured, "p2") == ("data", "computation")
    assert causes(measured, "p1") == ("data",)
    assert causes(moved, "p1") == ("data",)


def test_an_input_that_only_another_program_asks_for() -> None:
    """Of the same machine and kit: the program's; where the machine's data changed, theirs."""

    def asked(new: Data) -> None:
        new["inputs"].append({**new["inputs"][0], "id": "case.mass", "name": "Case"})

    def written(new: Data) -> None:
        asked(new)
        new["origin"]["made_from"]["machine"] = digest("other")

    assert [one.causes for one in two(asked)] == [("computation",)]
    assert [one.causes for one in two(written)] == [("data",)]


def test_a_step_that_was_only_renamed_is_the_same_step() -> None:
    """In another phase under its own id, or under another id with all that it says: nothing is new or gone."""
    work = steps()
    work[1]["key"], work[3]["key"] = "warm/touch", "work/fasten"
    (one,) = compare([record()], [record(work=work)])
    assert one.changes == ()
    work[1]["do"] = "Touch the boiler with one finger."
    (one,) = compare([record()], [record(work=work)])
    assert [(change.kind, change.old) for change in one.changes] == [("step", "Touch the boiler.")]


def test_a_step_with_another_torque_is_another_step() -> None:
    """Its own id in another phase does not make it the same."""
    work = steps()
    work[3]["key"] = "other/tighten"
    work[3]["torque"] = {"is": "4 N·m", "thread": "M5", "state": "dry"}
    (one,) = compare([record()], [record(work=work)])
    assert {(change.kind, change.old is None, change.new is None) for change in one.changes} == {
        ("step", True, False), ("step", False, True)
    }  # fmt: skip


def test_a_new_hot_step_of_the_program_alone_is_its_structure() -> None:
    """Where the procedure as written stayed, and the machine; an author's is notifiable."""
    more = [*steps(), step("work/again", "Touch it again.", hazards=[copy.deepcopy(HOT)])]

    def split(new: Data) -> None:
        new["procedure"]["fitting"] = course(more)

    def added(new: Data) -> None:
        split(new)
        new["procedure"]["authored"]["phases"] = digest("other")

    assert [(one.causes, one.notifiable) for one in two(split)] == [(("form",), None)]
    (one,) = two(added)
    assert one.causes == ("text",)
    assert one.notifiable == "a step with mains, pressure or heat is new"
