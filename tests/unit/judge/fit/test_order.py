"""The order text: written, mangled by a mail program, read back, held against rules; never a traceback."""

from __future__ import annotations

import sys
from copy import deepcopy
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

sys.path.insert(0, str(Path(__file__).parent))
sys.path.insert(0, str(Path(__file__).parents[3] / "fixtures"))

from fit_cases import Case, cases, payload
from order_mistakes import WRONG, WRONG_BY_KEYS

from guidegen.judge.fit.answers import read_answer
from guidegen.judge.fit.order import NOTHING_TO_ORDER, OrderError, write
from guidegen.judge.fit.order_codes import OrderCode
from guidegen.judge.fit.order_text import OrderText, is_order, read
from guidegen.judge.fit.received import judged, judged_today
from guidegen.problems import CatalogueError, Problem

CASE: Case = {case.name: case for case in cases()}["much known"]
PAYLOAD = payload(CASE)
FACTS = {fact["fact"]: fact for fact in CASE.rules["facts"]}
TRIM = {
    "heater.power": "1150 W", "water_path.inlet.projection": "12.0 mm", "protrusions.carry_device": "no",
    "protrusions.stand_out": "3.0 mm", "water_path.inlet.fitting": "straight", "water_path.inlet.thread": "photo",
}  # fmt: skip

EXPECTED = """\
Self-check of a machine for a kit
Machine: Some machine é
Kit: Some kit, revision B
Reference: some-machine / some-kit / B / 2026.2 / {rules}

Answers:
Heater power: 1150 W
Water_path inlet projection: 12.0 mm
Water_path inlet fitting: It is straight <b>.
Protrusions carry_device: It is no <b>.
Protrusions stand_out: 3.0 mm

Outcome: fits with conditions
Not met: The wall is smooth.
Remedies: Trim

To order:
Kit Some kit, revision B
1 × coil
  seal: 2 × flat seal, 10 × 14 mm, PTFE
"""
BY_KEYS = """\
Self-check of a machine for a kit
Machine: some-machine (Some machine é)
Kit: some-kit, revision B (Some kit)
Edition: 2026.2, rules {rules}

Answers:
heater.power = 1150 W
water_path.inlet.projection = 12.0 mm
water_path.inlet.fitting = straight
protrusions.carry_device = no
protrusions.stand_out = 3.0 mm

Outcome: fits with conditions
Not met: smooth
Remedies: fabrication:trim

To order:
Kit Some kit, revision B
1 × coil
  seal: 2 × flat seal, 10 × 14 mm, PTFE
"""


def answers(**changed: str) -> dict:
    names = {name.rsplit(".", 1)[-1]: name for name in TRIM}
    written = {**TRIM, **{names[name]: text for name, text in changed.items()}}
    return {name: read_answer(FACTS[name], text) for name, text in written.items()}


def test_the_text_says_all_that_was_asked_and_what_to_order() -> None:
    assert write(PAYLOAD, answers()) == EXPECTED.format(rules=PAYLOAD["pair"]["rules"])


def test_the_text_of_earlier_pages_is_read_as_well() -> None:
    """It names facts, requirements and remedies by key; it says the same as the text in words."""
    old = write(PAYLOAD, answers(), keys=True)
    assert old == BY_KEYS.format(rules=PAYLOAD["pair"]["rules"])
    found, now = judged(read(old), PAYLOAD), judged(read(write(PAYLOAD, answers())), PAYLOAD)
    assert found.problems == now.problems == ()
    assert found.order.answers == now.order.answers
    assert found.order.remedies == now.order.remedies == ("fabrication:trim",)


def test_words_that_two_things_share_are_told_apart() -> None:
    """The key follows them in brackets, so the text is still read back."""
    alike = deepcopy(PAYLOAD)
    for question in alike["questions"]:
        question["title"] = "size"
        question["choices"] = [[key, "as the picture shows"] for key, _ in question["choices"]]
    text = write(alike, answers())
    assert "Size (water_path.inlet.fitting): as the picture shows (straight)\n" in text
    assert judged(read(text), alike).problems == ()


def test_the_chosen_set_brings_its_parts() -> None:
    text = write(PAYLOAD, answers(), choice=1)
    assert "Remedies: Exchange boiler\n" in text
    assert text.endswith("1 × Exchange boiler\n")


def test_nothing_is_ordered_on_unknown() -> None:
    """Not a part, not even the kit: the text asks for nothing."""
    text = write(PAYLOAD, answers(stand_out="not-sure"))
    assert "Outcome: cannot tell yet" in text
    assert text.endswith(f"{NOTHING_TO_ORDER}\n")
    assert "1 × coil" not in text


def test_an_unfinished_check_writes_no_order() -> None:
    with pytest.raises(OrderError, match=r"heater\.power is still asked"):
        write(PAYLOAD, {})


MANGLED = {
    "as sent": lambda text: text,
    "quoted": lambda text: "".join(f"> {line}\n" for line in text.splitlines()),
    "quoted twice, greeting and signature": lambda text: (
        "Hello,\n\n" + "".join(f">> {line}\n" for line in text.splitlines()) + "\nThanks\n-- \nme"
    ),
    "lines of another system": lambda text: text.replace("\n", "\r\n"),
    "spaces that do not break": lambda text: text.replace(" ", "\u00a0"),
    "no empty lines": lambda text: "\n".join(line for line in text.splitlines() if line),
}


@pytest.mark.parametrize("how", MANGLED)
def test_what_a_mail_program_does_to_it_changes_nothing(how: str) -> None:
    order, sent = read(MANGLED[how](write(PAYLOAD, answers()))), read(write(PAYLOAD, answers()))
    printed = ("variant", "kit", "revision", "edition", "rules", "outcome", "chosen")
    assert {name: getattr(order, name) for name in printed} == {name: getattr(sent, name) for name in printed}
    assert (order.variant, order.kit, order.revision, order.edition) == ("some-machine", "some-kit", "B", "2026.2")
    assert order.outcome == "fits-with-conditions"
    found = judged(order, PAYLOAD)
    assert found.problems == ()
    assert found.order.remedies == ("fabrication:trim",)
    assert found.order.answers["protrusions.stand_out"] == "3.0 mm"


def test_name_and_address_before_it_change_nothing() -> None:
    """As the page puts them over the order, where its owner filled them in."""
    own = "Name: Jo Longlast\nAddress: 1 Somewhere Lane, Town\nSerial number: 0183\n"
    assert judged(read(own + write(PAYLOAD, answers())), PAYLOAD).problems == ()


BROKEN = {
    "a part": ("10 × 14 mm, PTFE", "10 × 14\n> mm, PTFE"),
    "the reference": ("/ 2026.2 /", "/\n> 2026.2 /"),
    "an answer": ("It is straight <b>.", "It is\n> straight <b>."),
    "a title": ("Water_path inlet fitting", "Water_path\n> inlet fitting"),
    "a number": ("12.0 mm", "12.0\n> mm"),
    "a remedy": ("Remedies: Trim", "Remedies:\n> Trim"),
    "a reason": ("The wall is smooth", "The wall\n> is smooth"),
}


@pytest.mark.parametrize("where", BROKEN)
def test_a_line_that_was_broken_is_still_the_same(where: str) -> None:
    """Where the mail's width ends, behind a mark of quotation."""
    whole, broken = BROKEN[where]
    text = write(PAYLOAD, answers())
    assert whole in text
    found = judged(read(text.replace(whole, broken)), PAYLOAD)
    assert found.problems == ()
    assert found.order.answers == judged(read(text), PAYLOAD).order.answers


def test_only_an_order_is_taken_for_one() -> None:
    """Facts in YAML are read as YAML, also where a kit is named; a spoiled order is read as an order."""
    for keys in (False, True):
        assert is_order(MANGLED["quoted"](write(PAYLOAD, answers(), keys=keys)))
        assert is_order(write(PAYLOAD, answers(), keys=keys).split("Answers:")[0])
    assert not is_order("# Kit: feed-preheater\nname: Plain Nine\nboiler: {mass: 520 g}\n")


def problems_of(text: str) -> tuple[Problem, ...]:
    """What is wrong with a text, by itself or held against the rules that it names."""
    try:
        return judged(read(text, "order.txt"), PAYLOAD).problems
    except CatalogueError as error:
        return error.problems


ALL_WRONG = [(False, row) for row in WRONG.values()] + [(True, row) for row in WRONG_BY_KEYS.values()]


@pytest.mark.parametrize(("keys", "row"), ALL_WRONG, ids=[*WRONG, *(f"{name}, by keys" for name in WRONG_BY_KEYS)])
def test_what_is_wrong_is_reported_with_its_place(keys: bool, row: tuple) -> None:
    """At the named line and column stands what the table says."""
    change, code, there, message = row
    text = change(write(PAYLOAD, answers(), keys=keys))
    (problem, *_) = problems_of(text)
    assert (problem.path, problem.code) == ("order.txt", code)
    assert message in problem.message
    assert problem.fix
    stands = [*text.split("\n"), ""][problem.line - 1][problem.column - 1 :]
    assert stands.startswith(there.format(rules=PAYLOAD["pair"]["rules"]))


def test_every_code_of_the_text_itself_is_in_the_table() -> None:
    """The others are reported where editions and today's catalogue are at hand."""
    elsewhere = {"T04", "T05", "T09"}
    assert {row[1] for row in WRONG.values()} | elsewhere == {code.value for code in OrderCode}


def test_a_greeting_behind_the_order_is_passed_over() -> None:
    text = write(PAYLOAD, answers()) + "https://guides.example/#check=1\n\nThanks, and 2 greetings\n"
    assert problems_of(text) == ()


TEXT = write(PAYLOAD, answers())
MUTATIONS = st.lists(
    st.tuples(st.sampled_from(("cut", "put", "swap", "line")), st.integers(0, len(TEXT)), st.text(max_size=6)),
    min_size=1, max_size=4,
)  # fmt: skip


@settings(max_examples=200, deadline=None)
@given(MUTATIONS)
def test_whatever_happened_to_a_text_it_is_sound_or_its_place_is_reported(
    mutations: list[tuple[str, int, str]],
) -> None:
    """Never a traceback; and what passes says the same as before."""
    text = TEXT
    for how, at, piece in mutations:
        if how == "cut":
            text = text[:at] + text[at + len(piece) + 1 :]
        elif how == "put":
            text = text[:at] + piece + text[at:]
        elif how == "swap":
            text = text[at:] + text[:at]
        else:
            lines = text.split("\n")
            lines[at % len(lines)] = piece
            text = "\n".join(lines)
    problems = problems_of(text)
    if problems:
        assert all(problem.line <= text.count("\n") + text.count("\r") + 1 for problem in problems)
    else:
        order = read(text)
        assert judged(order, PAYLOAD).found["outcome"] == order.outcome


@settings(max_examples=100, deadline=None)
@given(st.text(max_size=200))
def test_no_text_at_all_ends_in_a_traceback(text: str) -> None:
    assert problems_of(text)


def test_a_claimed_outcome_is_not_believed() -> None:
    """Somebody corrects the text by hand: the answers still give what they give."""
    text = write(PAYLOAD, answers(stand_out="not-sure")).replace("cannot tell yet", "fits")
    (problem,) = problems_of(text)
    assert problem.message == "the answers give “cannot tell yet”, the text says “fits”"


def changed() -> tuple[OrderText, dict]:
    """An order, and rules of today by which what stands out by 3 mm may stay."""
    now = deepcopy(PAYLOAD)
    smooth = now["rules"]["facts"][[*FACTS].index("protrusions.stand_out")]
    smooth["units"][0]["cuts"] = [cut + 100 for cut in smooth["units"][0]["cuts"]]
    return read(write(PAYLOAD, answers()), "order.txt"), now


def test_what_ends_otherwise_today_is_not_carried_out() -> None:
    """The text is sound by its own rules; by today's it is reported at its outcome."""
    order, now = changed()
    assert judged(order, PAYLOAD).problems == ()
    assert judged_today(order, PAYLOAD).problems == ()
    (problem,) = judged_today(order, now).problems
    assert (problem.code, problem.line) == ("T09", 13)
    assert problem.message == "by today's rules the answers give “fits”"


def test_a_question_that_is_new_today_is_reported() -> None:
    order = judged(changed()[0], PAYLOAD).order
    del order.answers["protrusions.stand_out"]  # type: ignore[attr-defined]
    (problem,) = judged_today(order, PAYLOAD).problems
    assert (problem.code, problem.message) == ("T09", "today “protrusions stand_out” must be answered, too")
