"""The order text: written, mangled by a mail program, read back, held against rules; never a traceback."""

from __future__ import annotations

import sys
from copy import deepcopy
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

sys.path.insert(0, str(Path(__file__).parents[3] / "fixtures"))

from fit_cases import Case, cases, payload

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


def test_the_chosen_set_brings_its_parts() -> None:
    text = write(PAYLOAD, answers(), choice=1)
    assert "Remedies: part:exchange\n" in text
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
    printed = ("variant", "kit", "revision", "edition", "rules", "outcome", "answers", "remedies")
    assert {name: getattr(order, name) for name in printed} == {name: getattr(sent, name) for name in printed}
    assert (order.variant, order.kit, order.revision, order.edition) == ("some-machine", "some-kit", "B", "2026.2")
    assert order.outcome == "fits-with-conditions"
    assert order.remedies == ("fabrication:trim",)
    assert order.answers["protrusions.stand_out"] == "3.0 mm"
    assert judged(order, PAYLOAD).problems == ()


def test_a_line_that_was_broken_is_still_the_same() -> None:
    """A long line of parts is broken where the mail's width ends, behind a mark of quotation."""
    text = write(PAYLOAD, answers()).replace("10 × 14 mm, PTFE", "10 × 14\n> mm, PTFE")
    assert judged(read(text), PAYLOAD).problems == ()


def test_only_an_order_is_taken_for_one() -> None:
    """Facts in YAML are read as YAML, also where a kit is named; a spoiled order is read as an order."""
    assert is_order(MANGLED["quoted"](write(PAYLOAD, answers())))
    assert is_order(write(PAYLOAD, answers()).split("Answers:")[0])
    assert not is_order("# Kit: feed-preheater\nname: Plain Nine\nboiler: {mass: 520 g}\n")


def problems_of(text: str) -> tuple[Problem, ...]:
    """What is wrong with a text, by itself or held against the rules that it names."""
    try:
        return judged(read(text, "order.txt"), PAYLOAD).problems
    except CatalogueError as error:
        return error.problems


WRONG = {
    "a letter": (lambda text: "Please send me the kit.", "T01", "Please", "no line for machine, kit, edition"),
    "nothing": (lambda text: "", "T01", "", "no line for machine, kit, edition"),
    "no kit": (lambda text: text.replace("Kit: some-kit, revision B", "Kit: some-kit"), "T01", "Self", "for kit"),
    "cut behind the head": (lambda text: text.split("Answers:")[0], "T02", "{rules}", "ends before its answers"),
    "cut in the answers": (lambda text: text.split("protrusions.c")[0], "T02", "straight", "ends before its outcome"),
    "cut in the parts": (lambda text: text.split("  seal")[0], "T02", "coil", "ends before “seal: 2 × flat seal"),
    "no answer": (lambda text: text.replace("= 3.0 mm", "is 3"), "T03", "protrusions.stand_out is", "is no answer"),
    "answered twice": (
        lambda text: text.replace("heater.power = 1150 W", "heater.power = 1 W\nheater.power = 2 W"),
        "T03", "heater.power = 2", "heater.power is answered twice",
    ),
    "no outcome": (
        lambda text: text.replace("fits with conditions", "fits nicely"), "T03", "Outcome", "'fits nicely' is none of",
    ),
    "two orders": (lambda text: text + text, "T03", "Machine", "a second order begins here"),
    "other rules": (
        lambda text: text.replace(PAYLOAD["pair"]["rules"], "01234567"), "T06", "Edition", "the text says 01234567",
    ),
    "no unit": (lambda text: text.replace("1150 W", "1150"), "T07", "heater.power", "none of the units W"),
    "no number": (lambda text: text.replace("12.0", "l2.0"), "T07", "water_path.inlet.pro", "'l2.0' is not a number"),
    "too fine": (lambda text: text.replace("12.0", "12.04"), "T07", "water_path.inlet.pro", "finer than this is read"),
    "an unknown fact": (lambda text: text.replace("heater.power", "heater.towel"), "T07", "heater.towel", "not asked"),
    "an answer left out": (
        lambda text: text.replace("protrusions.stand_out = 3.0 mm\n", ""),
        "T07", "Answers", "protrusions.stand_out is not answered",
    ),
    "an answer too many": (
        lambda text: text.replace("\n\nOutcome", "\nwater_path.inlet.thread = G 1/8\n\nOutcome"),
        "T07", "water_path.inlet.thread", "is not asked after the other answers",
    ),
    "a better outcome": (
        lambda text: text.replace("3.0 mm", "not-sure"), "T08", "Outcome", "the answers give “cannot tell yet”",
    ),
    "another revision": (lambda text: text.replace("revision B (", "revision C ("), "T08", "Kit", "the text says C"),
    "a set that does not do": (
        lambda text: text.replace("Remedies: fabrication:trim", "Remedies: kit:banjo"),
        "T08", "Remedies", "kit:banjo does not make the kit fit; one of these would: fabrication:trim",
    ),
    "no set": (lambda text: text.replace("Remedies: fabrication:trim\n", ""), "T08", "Outcome", "no remedy does not"),
    "a reason left out": (lambda text: text.replace("Not met: smooth\n", ""), "T08", "Remedies", "“Not met: smooth”"),
    "another count": (lambda text: text.replace("1 × coil", "2 × coil"), "T08", "2 × coil", "wrote “1 × coil”"),
    "a part more": (lambda text: text + "1 × grinder\n", "T08", "1 × grinder", "is not in what the page wrote"),
}  # fmt: skip


@pytest.mark.parametrize("how", WRONG)
def test_what_is_wrong_is_reported_with_its_place(how: str) -> None:
    """At the named line and column stands what the table says."""
    change, code, there, message = WRONG[how]
    text = change(write(PAYLOAD, answers()))
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
    order, _ = changed()
    del order.answers["protrusions.stand_out"]  # type: ignore[attr-defined]
    (problem,) = judged_today(order, PAYLOAD).problems
    assert (problem.code, problem.message) == ("T09", "today protrusions.stand_out must be answered, too")
