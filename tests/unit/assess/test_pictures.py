"""Where photographs appear, and which are still to be taken, on the demonstration's own instructions."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from guidegen.assess.pictures import every, with_kit, with_steps, with_variant
from guidegen.assess.pictures_wanted import wanted
from guidegen.assess.stated import kit_part, variant_part
from guidegen.judge.safety.guide import Guide
from guidegen.judge.safety.record import procedure_record
from guidegen.record.pictures import Picture
from guidegen.record.procedure import Instruction, InstructionCourse
from guidegen.trade import Catalogue
from guidegen.trade.load import look
from tests.mutants.draft import draft

pytestmark = pytest.mark.slow

ROOT = Path(__file__).parents[3]
WHOLE = "words: x, by: y, file: feed-preheater.png"


def with_pictures(*entries: str) -> Catalogue:
    """The demonstration with these entries in place of its own."""
    text = "pictures:\n" + "".join(f"  - {{{entry}}}\n" for entry in entries) if entries else "pictures: []\n"
    known, problems = look(ROOT, edited={"content/pictures.yml": text.encode()})
    assert [str(one) for one in problems if one.path == "content/pictures.yml"] == []
    assert known is not None
    return known


def instruction(known: Catalogue, variant: str, kit: str = "feed-preheater") -> Instruction:
    """The instruction of a pair with the photographs of a catalogue; made-up numbers."""
    guide = draft(variant, kit).guide()
    made = Instruction.model_validate(procedure_record(guide))
    return with_steps(known, known.machines[variant], known.kits[kit], guide, made)


def placed(course: InstructionCourse | None) -> dict[str, list[str]]:
    """The ids of the photographs at each step that has any, by the step's act."""
    assert course is not None
    return {f"{step.act} {step.do}": [one.id for one in step.pictures] for step in course.steps if step.pictures}


def test_an_act_is_shown_where_it_is_done_to_its_object() -> None:
    """At the first step of each course that does so, and at no other that names the thing."""
    known = with_pictures(f"id: off, {WHOLE}, shows: {{act: undo-joint, of: feed-inlet}}")
    made = instruction(known, "tamsin-mk2")
    assert placed(made.fitting) == {"undo-joint Undo the feed hose at the straight inlet fitting.": ["off"]}
    other = with_pictures(f"id: off, {WHOLE}, shows: {{act: undo-joint, of: feed-inlet, kit: banjo-feed}}")
    assert placed(instruction(other, "tamsin-mk2").fitting) == {}


def test_a_repeated_act_is_known_by_what_it_is_repeated_over() -> None:
    """`{item.id}` of the procedure is the boss of this boiler; on a boiler with another one it is not shown."""
    known = with_pictures(f"id: saw, {WHOLE}, shows: {{act: saw, of: drain-boss}}")
    (shown,) = placed(instruction(known, "tamsin-mk2").fitting).values()
    assert shown == ["saw"]
    assert placed(instruction(known, "tamsin-mk1").fitting) == {}


def test_a_part_is_shown_where_it_is_first_named() -> None:
    """The procedure lays the coil out before it does anything else with it."""
    known = with_pictures(f"id: coil, {WHOLE}, shows: {{part: coil}}")
    course = instruction(known, "tamsin-mk2").fitting
    assert [step.act for step in course.steps if step.pictures] == ["lay-out"]


def test_a_group_is_its_members() -> None:
    """A picture of a group stands where all of it is named, one of a member where that one is."""
    known = with_pictures(
        f"id: one, {WHOLE}, shows: {{part: coil-inlet}}", f"id: both, {WHOLE}, shows: {{part: coil-nuts}}"
    )
    found = placed(instruction(known, "tamsin-mk2").restoring)
    assert [names for names in found.values() if "both" in names] == [["one", "both"]]
    assert list(placed(instruction(known, "tamsin-mk2").fitting).values()) == [["one"]]


def marks_of(known: Catalogue, variant: str) -> list[Picture]:
    """The photographs of a variant's marks."""
    machine = known.machines[variant]
    return [one for mark in with_variant(known, variant_part(machine), machine).marks for one in mark.pictures]


def test_a_mark_is_of_its_variant_alone() -> None:
    """Its neighbours show something else there."""
    known = with_pictures(f"id: plate, {WHOLE}, shows: {{variant: tamsin-mk2, mark: plate}}")
    assert [one.id for one in marks_of(known, "tamsin-mk2")] == ["plate"]
    assert marks_of(known, "tamsin-mk3") == []


def test_the_picture_taken_on_this_very_variant_counts() -> None:
    """Else those of its family, else any; where it was taken is kept with it, in words."""
    entries = [f"id: on-{variant}, {WHOLE}, taken_on: {variant}, shows: {{kit: feed-preheater}}"
               for variant in ("tamsin-mk1", "tamsin-mk2", "bracken-a")]  # fmt: skip

    def shown(variant: str, *taken: str) -> list[str]:
        known = with_pictures(*taken)
        kit = known.kits["feed-preheater"]
        return [one.id for one in with_kit(known, kit_part(kit), kit, known.machines[variant]).pictures]

    assert shown("tamsin-mk1", *entries) == ["on-tamsin-mk1"]
    assert shown("tamsin-mk3", *entries) == ["on-tamsin-mk1", "on-tamsin-mk2"]
    assert shown("bracken-c", *entries) == ["on-bracken-a"]
    assert shown("bracken-c", *entries[:2]) == ["on-tamsin-mk1", "on-tamsin-mk2"]
    assert every(with_pictures(*entries))["on-tamsin-mk1"].taken_on_name == "Tamsin Mark 1"


def test_numbers_have_the_names_of_their_things() -> None:
    """Counted in the order in which they are written; words of one's own come before the name."""
    known = with_pictures(
        f"id: a, {WHOLE}, taken_on: tamsin-mk2, shows: {{kit: feed-preheater}}, "
        "callouts: [{at: [0.5, 25 %], of: drain-boss}, {at: [0, 1], of: coil, says: the copper}]"
    )
    found = [(one.number, one.at, one.says) for one in every(known)["a"].callouts]
    assert found == [(1, (0.5, 0.25), "drain boss"), (2, (0.0, 1.0), "the copper")]


@pytest.fixture(scope="module")
def guides() -> list[tuple[str, str, Guide]]:
    """Two instructions of the demonstration: one that cuts, one that does not."""
    pairs = [("tamsin-mk2", "feed-preheater"), ("tamsin-mk1", "loop-controller")]
    return [(variant, kit, draft(variant, kit).guide()) for variant, kit in pairs]


def sections(known: Catalogue, guides: list[tuple[str, str, Guide]]) -> dict[str, list[str]]:
    """What is wanted of each kind, as `shows:` has it."""
    worked = [(known.machines[variant], known.kits[kit], guide) for variant, kit, guide in guides]
    return {one.title: [picture.shows for picture in one.pictures] for one in wanted(known, worked)}


def test_what_cannot_be_undone_is_wanted_first(guides: list[tuple[str, str, Guide]]) -> None:
    """Every step of the instruction that is marked so is asked for, until a picture shows it."""
    found = sections(with_pictures(), guides)
    assert next(iter(found)) == "Acts that cannot be undone"
    undone = {step.step.act for _, _, guide in guides for step in guide.resolved.fitting.steps
              if not step.step.reversible}  # fmt: skip
    assert {re.findall(r"act: ([a-z-]+)", one)[0] for one in found["Acts that cannot be undone"]} == undone
    known = with_pictures(f"id: saw, {WHOLE}, shows: {{act: saw, of: drain-boss}}")
    left = sections(known, guides)["Acts that cannot be undone"]
    assert sorted([*left, "{act: saw, of: drain-boss}"]) == sorted(found["Acts that cannot be undone"])


def test_each_picture_that_is_wanted_can_be_listed_as_it_is_printed(guides: list[tuple[str, str, Guide]]) -> None:
    """Whoever copies every `shows:` of the list gets no problem, and is asked for nothing more."""
    wishes = [one for many in sections(with_pictures(), guides).values() for one in many]
    assert len(wishes) == len(set(wishes)) > 40
    known = with_pictures(*(f"id: p{number}, {WHOLE}, shows: {one}" for number, one in enumerate(wishes)))
    assert {title: many for title, many in sections(known, guides).items() if many} == {}


def test_a_record_of_a_pair_holds_its_pictures_and_changes_with_their_bytes() -> None:
    """The key by which a record is kept in the preview is another one once a photograph was taken anew."""
    from guidegen.assess import Assessor

    known = with_pictures(f"id: coil, {WHOLE}, shows: {{kit: feed-preheater}}")
    plain = with_pictures()
    machine, kit = known.machines["tamsin-mk2"], known.kits["feed-preheater"]
    assert Assessor(known, "next", 0).key(machine, kit) != Assessor(plain, "next", 0).key(machine, kit)
