"""`guidegen fit` on the demonstration: what is said, with which exit code."""

from __future__ import annotations

import json
import re

import pytest

from guidegen.assess import verdict
from tests.unit.commands.customers.order_texts import (
    KNOWN,
    PAIRS,
    Run,
)

pytestmark = pytest.mark.slow


def test_the_oldest_tamsin_fits_with_conditions(run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    """The web stands out by 9 mm and 0.5 mm may, the fitting by 31 mm and 20 mm may: both are in the YAML."""
    assert run("fit", "tamsin-mk1", "feed-preheater") == 0
    printed = capsys.readouterr().out
    assert printed.startswith(
        "Tamsin Mark 1 with Feed Preheater, revision B\nfits with conditions, if the machine is as"
    )
    assert re.search(r"at most 0\.50*\smm [a-z]+: too much by 8\.50*\smm", printed)
    assert re.search(r"at most 20(\.0)?\smm [a-z]+: too much by 11(\.0)?\smm", printed)
    exchange, trim = (line for line in printed.splitlines() if line.startswith(("  1. ", "  2. ")))
    assert "trim what sticks out" in trim.lower()
    assert "cuts something that cannot be put back" in trim
    assert "exchange boiler" in exchange.lower()
    assert "cuts" not in exchange
    assert "    seal: 1 × seal above the banjo, 10 × 14 × 1.5 mm, copper" in printed
    assert "--answer water_path.inlet.fitting=…" in printed


def well_answered(variant: str, kit: str) -> list[str]:
    """As words of the command: the answers about the owner's unit that stand in no way of a sale."""
    checked = verdict.checked(KNOWN, KNOWN.machine(variant), KNOWN.kit(kit), "next")
    asked = {one["fact"] for one in checked.payload["rules"]["facts"]}
    good = {one.fact: one.good[0].is_ for one in checked.questions.questions if one.holds is not None}
    return [word for name in good.keys() & asked for word in ("--answer", f"{name}={good[name]}")]


def test_answers_are_printed_with_the_tolerance_of_their_question(run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    """20 mm ± 1 mm is too close to a limit of 20 mm to tell; 21 mm ± 1 mm as well, 22 mm is surely too much."""
    printed = {}
    for given in ("19", "20", "21", "22"):
        words = ("--answer", "water_path.inlet.fitting=straight", "--answer", f"water_path.inlet.projection={given} mm")
        words += ("--answer", "boiler.clearance=30 mm", *well_answered("bracken-a", "feed-preheater"))
        assert run("fit", "bracken-a", "feed-preheater", *words, "--json") == 0
        printed[given] = json.loads(capsys.readouterr().out)
    assert [one["outcome"] for one in printed.values()] == [
        "fits", "cannot-tell-yet", "cannot-tell-yet", "fits-with-conditions",
    ]  # fmt: skip
    assert printed["21"]["reasons"][0]["numbers"] == [
        "how far the inlet fitting sticks out: 21 mm ± 1 mm. "
        "At most 20 mm is allowed: too close to tell, measure better."
    ]
    assert printed["21"]["to_order"] == ["Nothing to order on this outcome."]
    assert printed["22"]["remedies"][0]["remedies"] == ["kit:banjo-feed"]
    assert all(one["finished"] for one in printed.values())


def test_what_would_decide_is_printed(run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    """ "Not sure" everywhere: the cheapest thing to find out."""
    machine, kit = KNOWN.machine("tamsin-mk1-120"), KNOWN.kit("feed-preheater")
    asked = [one["fact"] for one in verdict.checked(KNOWN, machine, kit, "next").payload["rules"]["facts"]]
    words = [word for name in asked for word in ("--answer", f"{name}=not-sure")]
    assert run("fit", "tamsin-mk1-120", "feed-preheater", *words) == 0
    printed = capsys.readouterr().out
    assert "\ncannot tell yet, on these answers" in printed
    assert "what would decide, the best start first:\n  " in printed


@pytest.mark.parametrize("pair", PAIRS, ids="/".join)
def test_without_answers_it_says_what_the_guide_says(
    run: Run, capsys: pytest.CaptureFixture[str], pair: tuple[str, str]
) -> None:
    """The same outcome and the same requirements that are not met, with the same numbers, on every pair."""
    variant, kit = pair
    assert run("fit", variant, kit, "--json") == 0
    printed = json.loads(capsys.readouterr().out)
    fit = verdict.fit_part(verdict.checked(KNOWN, KNOWN.machine(variant), KNOWN.kit(kit), "next"))
    assert printed["outcome"] == fit.outcome
    numbers = {one["id"]: one["numbers"] for one in printed["reasons"] if "/" not in one["id"]}
    assert numbers.keys() <= {one.id for one in fit.reasons if one.met is not True}
    for one in fit.reasons:
        if one.met is False:
            assert numbers[one.id] == [one.detail]


COIL = ("tamsin-mk1", "feed-preheater", "--answer")
USAGE = [
    ((*COIL, "water_path.inlet.fiting=straight"), "write water_path.inlet.fitting"),
    ((*COIL, "boiler.material=brass"), "the variant's data settle it"),
    (("bracken-b", "feed-preheater", "--answer", "boiler.material=brass"), "nothing is asked here"),
    ((*COIL, "water_path.inlet.projection=31"), "write it like 32 mm or 1.28 in, such machines have 5 mm to 60 mm or"),
    ((*COIL, "water_path.inlet.projection=3.14 mm"), "is finer than this is read"),
    ((*COIL, "water_path.inlet.projection=0 mm"), "0 mm is not plausible: such machines have 5 mm to 60 mm"),
    ((*COIL, "water_path.inlet.projection=5000 mm"), "such machines have 5 mm to 60 mm; measure again, or write photo"),
    ((*COIL, "water_path.inlet.projection=5 m"), "such machines have 5 mm to 60 mm"),
    ((*COIL, "water_path.inlet.projection=-3 mm"), "such machines have 5 mm to 60 mm"),
    ((*COIL, "water_path.inlet.projection=17 g"), "such machines have 5 mm to 60 mm"),
    ((*COIL, "water_path.inlet.fitting=banana"), "write straight, banjo, something-else, damaged, not-sure or photo"),
    ((*COIL, "water_path.inlet.fitting"), "wants FACT=VALUE"),
    ((*COIL, "water_path.inlet.fitting=banjo", "--answer", "water_path.inlet.fitting=banjo"), "is given twice"),
    (("tamsin-mk1",), "fit wants VARIANT and KIT, or --read ORDER"),
    (("tamsin-mk1", "feed-preheater", "--read", "order.txt"), "give it alone"),
]


@pytest.mark.parametrize(("words", "says"), USAGE)
def test_wrong_usage_names_the_way_out(
    run: Run, capsys: pytest.CaptureFixture[str], words: tuple[str, ...], says: str
) -> None:
    """Exit code 2, one sentence."""
    assert run("fit", *words) == 2
    printed = capsys.readouterr().err
    assert says in printed
    assert printed.count("\n") == 1
