"""Replies to customers: every number is the record's, every link leads somewhere, nothing is claimed too much."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any, cast

import pytest

from guidegen import trade
from guidegen.assess.reference import reference
from guidegen.editions import kept
from guidegen.record import Assessment
from guidegen.record.stated import Build
from guidegen.site.pages.pair import pair_page
from guidegen.site.pages.place import changes_nothing, kinds_of, path_of
from guidegen.site.pages.questions import questions_values
from guidegen.site.pages.replies import asked_about, reply
from guidegen.site.pages.site import Site, by_pair
from guidegen.site.pages.topics import TOPICS
from guidegen.workshop.downsides import About

pytestmark = pytest.mark.slow

REPOSITORY = Path(__file__).parents[4]
RECORDS = {
    f"{one.variant.id}/{one.kit.id}": one for one in map(Assessment.model_validate, kept.records(REPOSITORY, "2025.3"))
}
ONE_OF_EACH = (
    "tamsin-mk1/feed-preheater", "tamsin-mk3/feed-preheater", "tamsin-mk1/loop-controller", "bracken-b/feed-preheater",
    "bracken-c/feed-preheater", "tamsin-mk1/banjo-feed",
)  # fmt: skip
SPACE = "\u202f"

# Factors of NIST Special Publication 811 (2008), appendix B.8, from memory: pound 0.453 592 37 kg, US fluid ounce
# 29.573 53 ml, ounce 28.349 52 g. A difference of one kelvin is 1.8 °F.
UNITS = {
    "K": lambda v: v, "°C": lambda v: v, "kg": lambda v: v, "g": lambda v: v, "ml": lambda v: v, "W": lambda v: v,
    "Wh": lambda v: v, "s": lambda v: v, "min": lambda v: v / 60, "h": lambda v: v / 3600, "EUR": lambda v: v,
    "": lambda v: v, "lb": lambda v: v / 0.45359237, "fl oz": lambda v: v / 29.57353, "oz": lambda v: v / 28.34952,
}  # fmt: skip
KINDS = {
    "K": (), "°C": ("_k", "_degc"), "°F": ("_k", "_degc"), "kg": ("_kg",), "lb": ("_kg",), "ml": ("_ml",),
    "fl oz": ("_ml",), "W": ("_w",), "Wh": ("_wh",), "s": ("_s",), "min": ("_s",), "h": ("_s",), "EUR": ("_cost",),
    "": ("sensor",),
}  # fmt: skip
NUMBER = re.compile(rf"(−?\d+(?:\.\d+)?)(?: to (−?\d+(?:\.\d+)?))?(?:{SPACE}(fl oz|[A-Za-z°]+)| (EUR))")
BARE = re.compile(r"is (\d+\.\d+) \(range (\d+\.\d+) to (\d+\.\d+)\)")


def numbers_of(data: object, place: str = "") -> Iterator[tuple[str, float]]:
    """Every number of a record with the name of the key that it stands under; a figure gives its three."""
    if isinstance(data, dict):
        for name, one in data.items():
            inner = place if name in ("value", "low", "high", "without", "with") else str(name)
            yield from numbers_of(one, inner)
    elif isinstance(data, list | tuple):
        for one in data:
            yield from numbers_of(one, place)
    elif isinstance(data, float | int) and not isinstance(data, bool):
        yield place, float(data)


def printed_from(text: str, unit: str, held: list[tuple[str, float]]) -> bool:
    """Whether a printed number is one of the record's, to the digits that are printed."""
    shown = float(text.replace("−", "-"))
    half = 0.5000001 * 10.0 ** -len(text.partition(".")[2])
    for place, value in held:
        if not place.endswith(KINDS[unit]):
            continue
        there = UNITS[unit](value) if unit != "°F" else 1.8 * value + (32 if place.endswith("_degc") else 0)
        if abs(there - shown) <= half:
            return True
    return False


@pytest.mark.parametrize("topic", TOPICS)
@pytest.mark.parametrize("guide", RECORDS)
def test_every_number_of_a_reply_is_one_of_the_record(guide: str, topic: str) -> None:
    """With its unit, in both systems, to the digits that are printed; the factors are not the program's."""
    record = RECORDS[guide]
    held = list(numbers_of(record.model_dump(by_alias=True)))
    text = reply(record, topic).text
    assert text.startswith(f"{record.variant.name} with {record.kit.name}, revision {record.kit.revision}\n")
    # What a year costs is worked out in `site/pages/cost.py`, and held by hand in test_cost.py.
    if topic not in ("fit", "time", "sure", "cost") and record.fit.outcome != "does-not-fit":
        found = NUMBER.findall(text)
        for first, second, unit, currency in found:
            for number in filter(None, (first, second)):
                assert printed_from(number, unit or currency, held), f"{number} {unit or currency} in {text}"
        for numbers in BARE.findall(text):
            assert all(printed_from(number, "", held) for number in numbers)
        if found and "computed, not measured" not in text:
            pytest.fail(f"it does not say that its numbers are computed: {text}")


MEANT = {
    "gain": ("drinks.double.without.sensor_drop_k", "drinks.double.with.sensor_drop_k"),
    "warm-up": ("warm_up.added_s", "warm_up.with.shot_ready_s", "warm_up.without.shot_ready_s"),
    "energy": ("energy.idle_added_w", "energy.day_added_wh", "energy.with.session_wh", "energy.without.session_wh"),
    "mass": ("budget.added_kg", "coil.dry_kg", "coil.filled_kg"),
    "steam": ("after_steam.wait_s.with", "after_steam.wait_s.without", "after_steam.flush_ml.with"),
    "setpoint": ("same_cup_degc", "display.before_degc", "display.lowest_degc"),
}  # fmt: skip


@pytest.mark.parametrize("topic", MEANT)
def test_a_reply_gives_the_numbers_that_are_meant(topic: str) -> None:
    """Digits of the record itself, in the order of the sentences."""
    record = RECORDS["tamsin-mk2/feed-preheater"]
    text, at = reply(record, topic).text, 0
    for place in MEANT[topic]:
        part: object = record.model_dump(by_alias=True)
        for name in place.split("."):
            assert isinstance(part, dict)
            part = part[name]
        assert isinstance(part, dict)
        in_minutes = "_s" in (place[-2:], place.rpartition(".")[0][-2:]) and part["value"] >= 150
        # Of what may be more or less the ends are meant, and no middle.
        # So they are of what is said of the outlet, which nobody has measured.
        either = "added" in place and part["low"] < 0 < part["high"]
        meant = part["low"] if either or place == "same_cup_degc" else part["value"]
        value = abs(meant) / (60 if in_minutes else 1)
        spots = [match for match in re.finditer(r"\d+(?:\.\d+)?", text[at:])
                 if abs(float(match[0]) - value) <= 0.5000001 * 10.0 ** -len(match[0].partition(".")[2])]  # fmt: skip
        assert spots, f"{place} {value} is not printed behind {text[:at]!r}"
        at += spots[0].end()


def test_the_gain_is_answered_first_and_in_per_cent() -> None:
    """That record's ratio is 0.379 (0.118 to 0.573): 62 per cent less, 43 to 88. It is of before verdicts were kept."""
    text = reply(RECORDS["tamsin-mk2/feed-preheater"], "gain").text
    dips = f"5.41 → 2.05{SPACE}°C (9.7 → 3.7{SPACE}°F)"
    assert f"the boiler sensor's dip in a double is about 62 % smaller (43 to 88 %): {dips}." in text


def test_what_a_machine_has_already_is_not_refused() -> None:
    """It is not needed; nothing is said to be missing, and no requirement is called not met."""
    one = RECORDS["tamsin-mk2/loop-controller"]
    one = one.model_copy(update={"fit": one.fit.model_copy(update={"outcome": "has-already"})})
    text = reply(one, "gain").text
    assert "Not needed: it left the factory with what this kit brings" in text
    assert "not met" not in text.lower()
    assert "does not fit" not in text


@pytest.mark.parametrize("guide", ONE_OF_EACH)
def test_every_link_leads_to_a_place_on_a_page(guide: str) -> None:
    """Of a guide of every outcome, and of one that changes nothing."""
    record = RECORDS[guide]
    site = Site.of(by_pair([record]), reference(trade.load(REPOSITORY)))
    bodies: dict[str, str] = {}
    for topic in TOPICS:
        path, _, fragment = reply(record, topic).path.partition("#")
        kind = next(kind for kind in ("overview", "fit", "numbers") if path_of(record, kind) == path)
        body = bodies.setdefault(kind, pair_page(record, kind, site).body)
        assert not fragment or f'id="{fragment}"' in body, f"{topic}: {path}#{fragment}"


def test_every_downside_is_named_under_some_topic() -> None:
    """What a kit must say before anyone orders can also be asked for."""
    named = {about for topic in TOPICS.values() for about in topic.downsides}
    assert named == set(About.__args__)


def test_what_does_not_fit_claims_nothing() -> None:
    """The reason with its number, and no gain."""
    printed = reply(RECORDS["bracken-b/feed-preheater"], "gain").text
    assert "does not fit" in printed
    assert f"short by 10.6{SPACE}mm" in printed
    assert "no gains or costs are claimed" in printed
    assert "computed, not measured" not in printed


def test_what_is_not_known_is_said_first() -> None:
    printed = reply(RECORDS["bracken-c/feed-preheater"], "gain").text
    assert printed.splitlines()[1] == "We cannot tell yet whether it fits. What follows holds if it does."


def test_a_kit_that_serves_another_says_so() -> None:
    """A banjo fitting changes no temperature."""
    record = RECORDS["tamsin-mk1/banjo-feed"]
    assert changes_nothing(record)
    for topic in ("gain", "second", "warm-up", "energy", "steam", "setpoint"):
        assert "By itself it changes no temperature and no energy.\n" in reply(record, topic).text


def test_a_build_that_was_recorded_is_not_called_calculated() -> None:
    record = RECORDS["tamsin-mk2/feed-preheater"]
    assert "calculated, not yet carried out on this variant" in reply(record, "gain").text
    one = Build(date="2026-02-03", role="the owner", minutes=None, findings="")
    built = record.model_copy(update={"builds": (one,)})
    assert "computed, not measured: carried out once on this variant." in reply(built, "gain").text


@pytest.mark.parametrize("name", RECORDS)
def test_the_page_of_questions_says_what_the_replies_say(name: str) -> None:
    """Every line of every reply that it asks about, and no other topic; each leads to a page that the pair has."""
    record = RECORDS[name]
    values = questions_values(record, path_of(record, "questions"), cast(Any, None), cast(Any, None))
    pages = {path_of(record, kind) for kind in kinds_of(record)}
    assert [one["id"] for one in values["questions"]] == [f"ask-{topic}" for topic in asked_about(record)]
    for one in values["questions"]:
        text = reply(record, one["id"].removeprefix("ask-"))
        assert text.text.splitlines()[1 : len(one["lines"]) + 1] == [*"\n".join(one["lines"]).splitlines()]
        assert text.path.partition("#")[0] in pages
