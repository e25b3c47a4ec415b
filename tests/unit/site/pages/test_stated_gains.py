"""A gain that is stated: what pages and letters say of it, and what they leave out of a kit that has none of heat."""

from __future__ import annotations

import re
from functools import cache
from typing import Any

import pytest

from guidegen.assess.stated import gains as recorded
from guidegen.record import Assessment, Figure
from guidegen.record.places import neutral
from guidegen.site.pages import gains, worth
from guidegen.site.pages.comparison import comparison_page
from guidegen.site.pages.kits import kit_page
from guidegen.site.pages.numbers import ShownNumbers
from guidegen.site.pages.pair import pair_page
from guidegen.site.pages.place import gain_is, kinds_of
from guidegen.site.pages.reference import sources_page
from guidegen.site.pages.replies import asked_about, reply
from guidegen.site.pages.terminal import summary
from guidegen.site.pages.together import together_page
from guidegen.site.pages.topics import TOPICS, question
from guidegen.site.pages.variants import variant_page
from guidegen.units import NARROW_SPACE
from guidegen.workshop.gains import WrittenGain
from tests.fixtures.records import record, site

SPACE = NARROW_SPACE


def written(before: str, after: str, **more: str) -> WrittenGain:
    """Return a gain as a kit states it."""
    texts = {"id": "pump", "title": "noise of the pump", "how": "A metre away.", "about": "noise", **more}
    return WrittenGain.model_validate({**texts, "before": before, "after": after})


@cache
def mount(*stated: WrittenGain) -> Assessment:
    """Return a made-up record of a kit that changes nothing of heat: every ratio is one."""
    made, same = record("tamsin-mk1", "banjo-feed"), Figure(value=1.0)
    drinks = {
        name: one.model_copy(update={"drop_ratio": one.drop_ratio.model_copy(update={"sensor": same})})
        for name, one in made.drinks.items()
    }
    update = {
        "gains": recorded(stated),
        "drinks": drinks,
        "energy": made.energy.model_copy(update={"day_ratio": same}),
        "fit": made.fit.model_copy(update={"outcome": "fits"}),
        "measured": None,
    }
    return made.model_copy(update=update)


NOISE = written("62 dB(A) ± 1 dB(A)", "55 dB(A) ± 1 dB(A)")
CHANGE = f"62 → 55{SPACE}dB(A)"
HEAT = {name for name, topic in TOPICS.items() if topic.thermal} - {"gain"}


def words(page: str) -> str:
    """Return a page as a reader sees it, with narrow spaces as they are."""
    return re.sub(r"[ \n]+", " ", re.sub("<[^>]*>", "", page))


def test_its_pages_state_the_gain_and_say_nothing_of_heat() -> None:
    """Overview, comparison, page of the kit and of the variant; no charts, no verdict, nothing to settle."""
    one = mount(NOISE)
    whole = site(one)
    overview = words(pair_page(one, "overview", whole).body)
    assert f"Noise of the pump: {CHANGE}" in overview
    assert f"Without the kit: 62 ± 1{SPACE}dB(A) (assumed)" in overview
    for page in (overview, words(comparison_page(whole).body), words(kit_page(one.kit.id, whole).body)):
        assert f"Noise of the pump: {CHANGE}" in page
        assert not [word for word in ("Worth it?", "Dip in a", "would settle", "narrow the ranges") if word in page]
    assert f"Noise of the pump: {CHANGE}" in words(variant_page(one.variant.id, whole).body)
    assert "charts" not in kinds_of(one)
    assert (gain_is(one), worth.answer(one), worth.judged(one)) == ("stated", "", None)


def test_letters_answer_its_gain_and_leave_the_topics_of_heat_out() -> None:
    """`answer gain` and `answer noise` state it; whoever asks for the energy all the same hears that none changes."""
    one = mount(NOISE)
    assert HEAT.isdisjoint(asked_about(one))
    assert question(one, "gain") == "What does it gain?"
    for name in ("gain", "noise"):
        assert f"Noise of the pump: {CHANGE}. Without the kit: 62 dB(A) ± 1 dB(A), assumed" in reply(one, name).text
    assert "stated by the workshop, not computed" in reply(one, "gain").text
    # Downsides about the temperature's course belong to a gain of heat.
    assert not [down for down in one.downsides if down.about == "profile" and down.what in reply(one, "gain").text]
    assert "changes no temperature and no energy" in reply(one, "energy").text
    assert "Assumed:" not in reply(one, "sure").text
    said = summary(one)
    assert CHANGE in said
    assert "ratio" not in said


def test_a_kit_that_does_not_fit_gains_nothing() -> None:
    """Nobody should order it, so nothing tempts."""
    one = mount(NOISE)
    refused = one.model_copy(update={"fit": one.fit.model_copy(update={"outcome": "does-not-fit"})})
    assert (gain_is(refused), gains.of(refused)) == ("none", ())
    assert CHANGE not in words(pair_page(refused, "overview", site(refused)).body)
    assert CHANGE not in reply(refused, "gain").text


def test_a_gain_beside_heat_stands_beside_the_dip() -> None:
    """A coil that hums less as well: both are said, and every topic stays."""
    one = record().model_copy(update={"gains": recorded([NOISE])})
    assert gain_is(one) == "claimed"
    page = words(pair_page(one, "overview", site(one)).body)
    assert CHANGE in page
    assert "Worth it?" in page
    assert set(asked_about(one)) == set(TOPICS)


# 1 bar is 100 000 Pa and 1 psi 6894.757 Pa (NIST SP 811, B.8, from memory): 9 bar are 130.5 psi, 6 bar 87.0 psi.
@pytest.mark.parametrize(
    ("before", "after", "said", "certain"),
    [
        ("9 bar", "6 bar", f"9 → 6{SPACE}bar (131 → 87{SPACE}psi)", True),
        ("131 psi", "87 psi", f"9.03 → 6{SPACE}bar (131 → 87{SPACE}psi)", True),
        ("3 s ± 1 s", "2 s ± 1 s", f"3 → 2{SPACE}s", False),
        ("3 s ± 0.4 s", "2 s ± 0.4 s", f"3 → 2{SPACE}s", True),
        ("3", "1", "3 → 1", True),
    ],
)
def test_a_change_is_printed_as_written_and_in_the_other_system(
    before: str, after: str, said: str, certain: bool
) -> None:
    """Its own unit keeps its digits; ranges that overlap are said to."""
    (one,) = recorded([written(before, after)])
    assert gains.change_text(one) == said
    assert one.certain is certain
    assert ("overlap" in next(gains.lines(mount(written(before, after))))) is not certain


def unmoved(value: Any, place: str = "") -> Any:
    """Return data of a record whose every figure with the kit is that without it."""
    if isinstance(value, list | tuple):
        return [unmoved(one, place) for one in value]
    if not isinstance(value, dict) or place == ".gains":
        return value
    if "stated" in value and neutral(place) is not None:
        return {"value": neutral(place)}
    made = {name: unmoved(one, f"{place}.{name}") for name, one in value.items()}
    return {**made, "with": made["without"]} if {"without", "with"} <= {*made} else made


def test_its_numbers_are_the_gain_and_what_the_kit_changes_or_a_downside_names() -> None:
    """Mass and the warm-up that a downside names, with the inputs that they depend on; links lead to a row or none."""
    one = mount(NOISE)
    data = unmoved(one.model_dump(by_alias=True))
    data["budget"]["with"] = {**data["budget"]["with"], "mass_kg": {"value": 9.0}}
    made = Assessment.model_validate(data)
    down = made.downsides[0].model_copy(update={"figure": "warm_up.without.boiler_ready_s", "likely": "certain"})
    influence = {"warm_up.without.boiler_ready_s": {"feed": 0.5}, "drinks.double.drop_ratio.sensor": {"kit.x": 0.5}}
    made = made.model_copy(update={"downsides": (down,), "influence": influence})
    page = pair_page(made, "numbers", site(made)).body
    assert f"Without the kit: 62 ± 1{SPACE}dB(A) (assumed)" in words(page)
    rows = set(re.findall(r'id="n-([^"]*)"', page))
    assert rows == {
        f"{part}-{side}-{name}"
        for part, name in (("budget", "mass-kg"), ("warm-up", "boiler-ready-s"))
        for side in ("without", "with")
    }
    assert set(re.findall(r'id="in-([^"]*)"', page)) == {"feed", "kit-contact"}
    shown = ShownNumbers(made, "numbers.html")
    assert shown.at("budget.with.mass_kg") == "numbers.html#n-budget-with-mass-kg"
    assert shown.at("energy.day_ratio") == "numbers.html"
    assert "every other figure stays" in words(page).lower()


def test_two_kits_without_heat_on_one_machine_state_both_gains() -> None:
    """Each under its kit's name, the same id twice; of figures that would hold for both nothing is said."""
    first = mount(NOISE)
    other = record("tamsin-mk1", "loop-controller")
    second = first.model_copy(
        update={"kit": other.kit, "procedure": other.procedure, "gains": recorded([written("3 s", "2 s")])}
    )
    names = {"other": second.kit.id, "other_name": second.kit.name, "first": first.kit.id, "second": second.kit.id}
    pair = first.together[0].model_copy(update={**names, "computed_as": first.kit.id})
    first = first.model_copy(update={"together": (pair,)})
    page = together_page(first, second.kit.id, site(first, second))
    assert page is not None
    said = words(page.body)
    assert CHANGE in said
    assert f"3 → 2{SPACE}s" in said
    assert "Neither changes a temperature or the energy." in said
    assert "hold for both" not in said
    ids = re.findall(r'id="(gain-[^"]*)"', page.body)
    assert ids == [f"gain-{one.kit.id}-pump" for one in (first, second)]


def test_its_source_says_what_cites_it() -> None:
    """The page of sources leads to the gain on the page of numbers, as to an input."""
    key = next(iter(site().reference.sources))
    stated = {"id": "pump", "title": "noise", "how": "A metre away.", "before": "62 dB(A)"}
    after = {"is": "55 dB(A)", "evidence": "measured", "source": key}
    one = mount(WrittenGain.model_validate({**stated, "after": after}))
    page = f"guides/{one.variant.id}/{one.kit.id}/numbers.html"
    assert f'href="{page}#gain-pump"' in sources_page(site(one)).body
    assert 'id="gain-pump"' in pair_page(one, "numbers", site(one)).body
