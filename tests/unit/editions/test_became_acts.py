"""An edition of sentences beside one of acts: another form, of which nobody must be notified; numbers are compared."""

from __future__ import annotations

import copy

from guidegen.editions.compare import compare
from tests.unit.editions.small import HOT, Data, hold, record, step, steps


def as_acts(work: list[Data]) -> list[Data]:
    """The same steps, written as acts."""
    return [{**copy.deepcopy(one), "act": "an-act"} for one in work]


def changes(new: list[Data], old: list[Data] | None = None) -> list[tuple[str, tuple[str, ...], bool]]:
    """Kind and causes of each change, and whether owners must be notified."""
    (one,) = compare([record(work=old or steps())], [record(work=new)])
    return [(change.kind, change.causes, change.notifiable is not None) for change in one.changes]


def test_a_step_that_only_became_an_act_did_not_change() -> None:
    """The name of its act is nothing that a reader sees."""
    assert changes(as_acts(steps())) == []


def test_words_new_steps_and_steps_that_are_gone_are_the_form() -> None:
    """Even a hot one: what was hidden in a sentence is a step of its own now."""
    new = as_acts(steps())
    new[0]["do"] = "Say it otherwise."
    del new[-1]
    new.append({**step("work/again", "Touch it again.", hazards=[copy.deepcopy(HOT)]), "act": "touch"})
    found = changes(new)
    assert len(found) == 3
    assert {(causes, told) for _, causes, told in found} == {(("form",), False)}


def test_a_torque_or_a_reading_that_differs_is_notifiable_as_ever() -> None:
    """No form explains another number."""
    old = [*steps(), step("work/meter", "Measure.", hold=hold("0.3 Ω"))]
    new = as_acts(old)
    new[-1]["hold"] = hold("0.2 Ω")
    (one,) = changes(new, old)
    assert (one[0], one[2]) == ("limit", True)
    new = as_acts(steps())
    tight = next(one for one in new if one["torque"])
    tight["torque"] = {**tight["torque"], "is": "9 N·m ± 1 N·m"}
    assert ("torque", True) in [(kind, told) for kind, _, told in changes(new)]


def test_a_count_in_other_words_is_the_same_count() -> None:
    """Nothing may drip, however it is put."""
    old = [*steps(), step("work/look", "Look.", hold=hold("0 new valves"))]
    new = as_acts(old)
    new[-1]["hold"] = hold("0 valves")
    assert changes(new, old) == []


def test_between_two_editions_of_acts_nothing_is_the_form_of_it() -> None:
    """A sentence that differs then has a cause like any other."""
    old, new = as_acts(steps()), as_acts(steps())
    new[0]["do"] = "Say it otherwise."
    (one,) = changes(new, old)
    assert one[1] != ("form",)


CARE = {"id": "week", "says": "Look.", "because": None, "source": None}
FAULT = {"symptom": "A drop", "cause": "A seal", "check": "Look", "do": "Ask", "stop_use": True}
END = {"stop": "Do not go on.", "who_can_help": "us", "number": None, "anchor": None}


def around(new: bool = False, **more: Data) -> Data:
    """A record with something behind its steps, in sentences or as acts."""
    one = record()
    care, fault, end = copy.deepcopy(CARE), copy.deepcopy(FAULT), copy.deepcopy(END)
    if new:
        care |= {"act": "look-beneath", "occasion": "After a week"}
        fault |= {"sign": "drop"}
    remedy = {"id": "safe", "letter": "A", "name": "It fails", "steps": [], "then": {**end, **more.get("end", {})}}
    remedy |= {"ends": ["no-power"]} if new else {}
    procedure = one["procedure"]
    procedure |= {"aftercare": [{**care, **more.get("care", {})}], "faults": [{**fault, **more.get("fault", {})}]}
    procedure["fitting"]["remedies"] = [remedy]
    procedure |= {"stop_use": ["Any drop of water."], "stop_signs": ["drop"]} if new else {}
    return one


def told(old: Data, new: Data) -> list[tuple[str, tuple[str, ...], bool]]:
    """Kind and causes of each change, and whether owners must be notified."""
    (one,) = compare([old], [new])
    return [(change.kind, change.causes, change.notifiable is not None) for change in one.changes]


def test_what_became_acts_behind_the_steps_is_the_form_whatever_it_says() -> None:
    """After-care, a fault, the end of a failing side, what stops the use: listed, and nobody is written to."""
    new = around(True, care={"says": "Look beneath."}, fault={"do": "Call."}, end={"stop": "Never again."})
    found = told(around(), new)
    assert {kind for kind, _, _ in found} == {"step", "statement"}
    assert len(found) == 5
    assert {(causes, notify) for _, causes, notify in found} == {(("form",), False)}


def test_between_two_editions_of_acts_an_end_that_differs_is_made_known() -> None:
    """So is what to do at a symptom that stops the use, and one that is listed no more; not another look."""
    assert told(around(True), around(True)) == []
    for part, change in (("end", {"stop": "Go on."}), ("fault", {"do": "Go on."})):
        ((_, causes, notify),) = told(around(True), around(True, **{part: change}))
        assert causes != ("form",)
        assert notify
    less = around(True)
    less["procedure"] |= {"stop_use": [], "stop_signs": []}
    ((_, _, notify),) = told(around(True), less)
    assert notify
    ((_, _, notify),) = told(around(True), around(True, care={"says": "Look twice."}))
    assert not notify


def test_two_editions_of_sentences_are_compared_as_they_always_were() -> None:
    """Their faults and ends were never compared, and are not now."""
    assert told(around(), around(fault={"do": "Call."}, end={"stop": "Never again."})) == []
