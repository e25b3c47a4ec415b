"""What counts as a change, how it is worded, and of which changes owners must be notified."""

from __future__ import annotations

import copy
from typing import Any

import pytest

from guidegen.editions.change import Change
from guidegen.editions.compare import compare
from tests.unit.editions.small import HOT, Data, course, figure, hold, record, step, steps


def changes(old: Data, new: Data) -> tuple[Change, ...]:
    """The changes of the one guide."""
    (one,) = compare([old], [new])
    return one.changes


def listed(old: Data, new: Data) -> list[tuple[str, str, bool]]:
    """Kind, sentence, and whether owners must be notified."""
    return [(one.kind, one.sentence(), bool(one.notifiable)) for one in changes(old, new)]


def with_work(work: list[Data]) -> Data:
    """A record with these steps."""
    return record(work=work)


def test_the_same_record_did_not_change() -> None:
    """Nor does one that was only assessed under another edition's name, or whose YAML moved by a line."""
    moved = copy.deepcopy(record(edition="2026.1"))
    moved["inputs"][0]["place"] = "machines/plain/family.yml:99:9"
    moved["procedure"]["fitting"]["phases"][0]["steps"][0]["place"] = "content/procedures/kit.yml:1:1"
    assert changes(record(), moved) == ()


def test_a_measured_value_in_place_of_an_assumed_one() -> None:
    """Old and new with evidence; what follows is listed with its range, and nobody must be written to."""
    new = record()
    new["inputs"][0].update(text="480 g ± 5 g", evidence="measured", source="bench-12")
    new["drinks"]["double"]["with"]["sensor_drop_k"] = figure(5.4, 5.2, 5.6)
    thin = "\u202f"
    assert listed(record(), new) == [
        ("input", "Boiler, empty: 500 g ± 10 g (assumed) → 480 g ± 5 g (measured, bench-12)", False),
        (
            "figure",
            f"Sensor drop, Double, with the kit: 5.00{thin}°C (4.50 to 5.50{thin}°C) → "
            f"5.40{thin}°C (5.20 to 5.60{thin}°C)",
            False,
        ),
    ]


def test_a_digit_that_no_page_shows_is_no_change() -> None:
    """The value differs in the sixth digit; both print the same."""
    new = record()
    new["drinks"]["double"]["with"]["sensor_drop_k"] = figure(5.00001, 4.5, 5.5)
    assert changes(record(), new) == ()


def test_a_draft_without_draws_is_compared_by_its_values() -> None:
    """That it has no ranges is no change of a machine; another value is."""
    new = record() | {"basis": "nominal"}
    new["drinks"]["double"]["with"]["sensor_drop_k"] = figure(5.0)
    assert changes(record(), new) == ()
    new["drinks"]["double"]["with"]["sensor_drop_k"] = figure(5.4)
    assert [kind for kind, _, _ in listed(record(), new)] == ["figure"]


def torque(new: Data) -> None:
    """The nominal torque goes down."""
    new["torques"][0]["nominal_n_m"] = 4.0


def step_torque(new: Data) -> None:
    """The torque that a step prints."""
    work(new)[3]["torque"]["is"] = "4 N·m"


def limit(new: Data) -> None:
    """The acceptance limit of a hold point."""
    work(new)[4]["hold"]["accept"]["limit"] = "3 drops"


def outcome(new: Data) -> None:
    """The verdict."""
    new["fit"]["outcome"] = "fits-with-conditions"


def requirement(new: Data) -> None:
    """The verdict on one requirement."""
    new["fit"]["reasons"][0]["met"] = False


def hot_wording(new: Data) -> None:
    """The words of a hot step."""
    work(new)[1]["do"] = "Touch the boiler with one finger."


def hot_gone(new: Data) -> None:
    """A hot step taken out."""
    del work(new)[1]


def hot_statement(new: Data) -> None:
    """The avoidance of a statement about heat."""
    new["procedure"]["hazards"][0]["how_to_avoid"] = ["Wait for an hour."]


def skilled(new: Data) -> None:
    """A step that anyone may do now needs an electrically skilled person."""
    work(new)[0]["role"] = "electrically-skilled"


def cut(new: Data) -> None:
    """A boss that stayed has to be cut."""
    new["protrusions"][0]["action"] = "trim"


def withheld(new: Data) -> None:
    """The instruction is taken back."""
    new["procedure"] = None


def stop_use(new: Data) -> None:
    """One more reason to stop using the machine."""
    new["procedure"]["stop_use"].append("A smell.")


def work(new: Data) -> list[Data]:
    """The steps of a record's only phase."""
    steps: list[Data] = new["procedure"]["fitting"]["phases"][0]["steps"]
    return steps


GRAVE = (torque, step_torque, limit, outcome, requirement, hot_wording, hot_gone, hot_statement, skilled, cut, withheld,
         stop_use)  # fmt: skip


@pytest.mark.parametrize("change", GRAVE, ids=lambda change: change.__name__)
def test_what_must_be_made_known(change: Any) -> None:
    """Each one alone makes at least one change that must be made known; nothing else is listed with it."""
    new = record()
    change(new)
    found = changes(record(), new)
    assert found
    assert all(one.notifiable for one in found)


def harmless_wording(new: Data) -> None:
    """The words of a step without mains, pressure or heat."""
    work(new)[0]["do"] = "Label all leads."


def harmless_new(new: Data) -> None:
    """One more photograph."""
    new["procedure"]["fitting"] = course([*work(new), step("work/last", "Take one more photograph.")])


def downside(new: Data) -> None:
    """A downside in other words."""
    new["downsides"][0]["what"] = "Somewhat heavier."


def tool(new: Data) -> None:
    """Another tool."""
    new["procedure"]["uses"]["tools"].append({"id": "file", "name": "file", "steps": []})


def cutting_statement(new: Data) -> None:
    """A statement about sharp edges."""
    new["procedure"]["hazards"][1]["how_to_avoid"] = ["Wear thick gloves."]


@pytest.mark.parametrize(
    "change", [harmless_wording, harmless_new, downside, tool, cutting_statement], ids=lambda change: change.__name__
)
def test_what_is_listed_without_a_notice(change: Any) -> None:
    """A change all the same, and one only."""
    new = record()
    change(new)
    (one,) = changes(record(), new)
    assert one.notifiable is None


def test_a_step_that_changes_places_with_a_hot_one_must_be_made_known() -> None:
    """Only one of the two is listed as moved; the order of harmless steps among themselves need not be made known."""
    work = steps()
    swapped = [work[1], work[0], *work[2:]]
    (one,) = changes(record(), with_work(swapped))
    assert one.kind == "step"
    assert one.notifiable
    end = [step("work/a", "Do a."), step("work/b", "Do b.")]
    turned = [step("work/b", "Do b."), step("work/a", "Do a.")]
    (one,) = changes(with_work([*steps(), *end]), with_work([*steps(), *turned]))
    assert one.kind == "step"
    assert one.notifiable is None


def test_a_new_hot_step_must_be_made_known() -> None:
    """It was not done by those who fitted before."""
    work = steps()
    work.insert(2, step("work/again", "Touch it again.", hazards=[copy.deepcopy(HOT)]))
    (one,) = changes(record(), with_work(work))
    assert (one.old, one.new, one.about) == (None, "Touch it again.", "step 1.3")
    assert one.place == "install.html#fitting-work-again"
    assert one.notifiable


def test_numbers_that_only_moved_are_no_change() -> None:
    """A harmless step in front changes the number of every other, and is listed alone."""
    work = [step("work/zero", "Lay a cloth."), *steps()]
    (one,) = changes(record(), with_work(work))
    assert one.about == "step 1.1"


def test_the_limit_of_a_new_hold_point_must_be_made_known() -> None:
    """There was none before."""
    work = steps()
    work[0]["hold"] = hold("1 drop")
    kinds = {(one.kind, bool(one.notifiable)) for one in changes(record(), with_work(work))}
    assert ("limit", True) in kinds


def test_guides_come_and_go() -> None:
    """A new variant concerns nobody who fitted; a guide that is gone concerns those who did."""
    found = {one.guide: one for one in compare([record("plain-one")], [record("plain-two")])}
    assert found["plain-two/collar"].is_new
    assert not found["plain-two/collar"].notifiable
    assert found["plain-one/collar"].notifiable
    assert [one.guide for one in compare([record()], [record()]) if one.changes] == []


def test_a_number_that_a_step_prints_is_listed_alone_and_a_torque_once() -> None:
    """Only the number that changed, by its name; the torque's own text is not listed a second time as a number."""
    old, new = record(), record()
    for side, wait, torque in ((old, "40 min", "5 N·m"), (new, "55 min", "4 N·m")):
        work(side)[3]["torque"]["is"] = torque
        work(side)[3]["numbers"] = [
            {"name": "boiler.bolts.torque", "text": torque, "evidence": "standard", "source": None},
            {"name": "cool_down.wait", "text": wait, "evidence": "calculated", "source": None},
            {"name": "coil.turns", "text": "6.1", "evidence": "calculated", "source": None},
        ]
    assert [(one.kind, one.old, one.new) for one in changes(old, new)] == [
        ("torque", "5 N·m, M5, dry", "4 N·m, M5, dry"),
        ("step", "Waiting time 40 min", "Waiting time 55 min"),
    ]


def test_what_a_later_record_can_hold_beyond_an_earlier_one_is_no_obstacle() -> None:
    """Old snapshots stay comparable when the record grows."""
    new = record()
    new["procedure"]["fitting"]["phases"][0]["steps"][0]["tempo"] = "slowly"
    new["energy"] = {"with": {"idle_w": figure(30.0)}}
    kinds = [(one.kind, one.old) for one in changes(record(), new)]
    assert kinds == [("step", ""), ("figure", None)]


def test_a_figure_is_named_with_its_wait_and_has_its_unit() -> None:
    """Second drinks differ by nothing else, and a cost is one of a currency."""
    old, new = record(), record()
    for side, drop, cost in ((old, 2.0, 0.02), (new, 3.0, 0.03)):
        side["waiting"] = [{"wait_s": wait, "sensor_drop_k": {"with": figure(drop)}} for wait in (30.0, 600.0)]
        side["energy"] = {"currency": "EUR", "with": {"session_cost": figure(cost)}}
    thin = "\u202f"
    assert [one.sentence() for one in changes(old, new)] == [
        f"Sensor drop, 0.5 min later, with the kit: 2.00{thin}°C → 3.00{thin}°C",
        f"Sensor drop, 10 min later, with the kit: 2.00{thin}°C → 3.00{thin}°C",
        "Session cost, with the kit, EUR: 0.0200 → 0.0300",
    ]
