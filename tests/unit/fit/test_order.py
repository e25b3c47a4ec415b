"""The order text: written, mangled by a mail program, read back, and held against the rules."""

from __future__ import annotations

import sys
from copy import deepcopy
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[2] / "fixtures"))

from fit_cases import Case, cases, payload

from guidegen.fit.answers import read_answer
from guidegen.fit.order import NOTHING_TO_ORDER, OrderError, findings, read, write

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
    order = read(MANGLED[how](write(PAYLOAD, answers())))
    assert order == read(write(PAYLOAD, answers()))
    assert (order.variant, order.kit, order.revision, order.edition) == ("some-machine", "some-kit", "B", "2026.2")
    assert order.outcome == "fits-with-conditions"
    assert order.remedies == ("fabrication:trim",)
    assert order.answers["protrusions.stand_out"] == "3.0 mm"


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (lambda text: "Please send me the kit.", "no line for machine, kit, edition, outcome"),
        (lambda text: text.replace("Answers:", "My answers:"), "no line “Answers:”"),
        (lambda text: text.replace("= 3.0 mm", "is 3"), "is no answer"),
        (
            lambda text: text.replace("heater.power = 1150 W", "heater.power = 1 W\nheater.power = 2 W"),
            "answered twice",
        ),
        (lambda text: text.replace("fits with conditions", "fits nicely"), "'fits nicely' is none of"),
    ],
)
def test_a_text_that_is_none_says_what_is_missing(change, message: str) -> None:
    with pytest.raises(OrderError, match=message):
        read(change(write(PAYLOAD, answers())))


def test_a_good_order_has_no_findings() -> None:
    assert findings(read(write(PAYLOAD, answers())), PAYLOAD, PAYLOAD) == ()


def test_a_claimed_outcome_is_not_believed() -> None:
    """Somebody mends the text by hand: the answers still give what they give."""
    order = read(write(PAYLOAD, answers(stand_out="not-sure")).replace("cannot tell yet", "fits"))
    assert findings(order, PAYLOAD, PAYLOAD) == (
        "by the rules of edition 2026.2 the answers give “cannot tell yet”, not “fits”",
    )


def test_a_set_that_does_not_suffice_is_found() -> None:
    order = read(write(PAYLOAD, answers()).replace("fabrication:trim", "kit:banjo"))
    assert findings(order, PAYLOAD, PAYLOAD) == (
        "by the rules of edition 2026.2 kit:banjo is not a sufficient set of remedies",
    )


def test_what_changed_since_is_said() -> None:
    """New rules with another limit, another revision and other parts: each is a finding of its own."""
    now = deepcopy(PAYLOAD)
    smooth = now["rules"]["facts"][[*FACTS].index("protrusions.stand_out")]
    smooth["units"][0]["cuts"] = [cut + 100 for cut in smooth["units"][0]["cuts"]]
    now["pair"] = {**now["pair"], "rules": "00000000", "revision": "C"}
    now["parts"] = {**now["parts"], "": ["Kit Some kit, revision C"]}
    found = findings(read(write(PAYLOAD, answers())), PAYLOAD, now)
    assert found == (
        "by today's rules the answers give “fits”, not “fits with conditions”",
        "the kit is at revision C today, the text says B",
        "the list of parts has changed since that edition: send today's",
    )


def test_an_edition_that_is_not_at_hand_is_said() -> None:
    assert findings(read(write(PAYLOAD, answers())), None, PAYLOAD) == (
        "edition 2026.2 is not at hand: checked against today's rules only",
    )


def test_rules_that_ask_more_today_are_said() -> None:
    order = read(write(PAYLOAD, answers()).replace("heater.power = 1150 W\n", ""))
    assert findings(order, PAYLOAD, PAYLOAD) == ("by the rules of edition 2026.2: heater.power must be answered, too",)


def test_an_answer_finer_than_the_scale_is_a_finding_not_a_guess() -> None:
    order = read(write(PAYLOAD, answers()).replace("= 3.0 mm", "= 3.05 mm"))
    found = findings(order, PAYLOAD, PAYLOAD)
    assert "protrusions.stand_out: '3.05' is finer than this is read: 1 decimals" in found[0]
