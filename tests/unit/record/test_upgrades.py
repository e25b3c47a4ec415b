"""The one door for kept records: older formats are brought to today's, and what cannot be is named."""

from __future__ import annotations

import copy
from typing import Any

import pytest

from guidegen import record
from guidegen.editions import snapshot
from guidegen.judge.fit.payload import digest
from guidegen.record import Assessment, Figure, GivenWords, Unreadable, read, upgraded, upgrades
from guidegen.record.base import Record
from tests.frozen_workshop import FROZEN

WORDS = GivenWords(not_computed="nobody computed it", not_stated="nobody stated it")
Data = dict[str, Any]


@pytest.fixture(scope="module")
def kept() -> Data:
    """A record of format 1, as an edition kept it."""
    files = {path.name: path.read_bytes() for path in (FROZEN / "2025.1").glob("*.json") if path.name != "edition.json"}
    found = snapshot.unpack(files, "2025.1")
    return next(one for one in found if (one["variant"]["id"], one["kit"]["id"]) == ("tamsin-mk2", "feed-preheater"))


class Care(Record):
    """A part that a later record has."""

    words: str


class Grown(Assessment):
    """A record that has grown by a required figure and a required part."""

    creep_k: Figure
    care: Care


def test_a_record_of_an_older_format_is_read(kept: Data) -> None:
    """In today's format; what it lacks is not stated, and the data that were given stay as they were."""
    before = copy.deepcopy(kept)
    made = read(kept, WORDS)
    assert (kept["format"], made.format) == (1, record.FORMAT)
    assert made.origin is None
    assert kept == before


def test_what_needs_nothing_stays_the_very_same(kept: Data) -> None:
    """So that reading an edition copies nothing but the way to what it lacks."""
    made = upgraded(kept, WORDS)
    assert made["procedure"] is kept["procedure"]
    assert upgraded(made, WORDS) == made


def test_a_field_that_no_step_supplies_is_named(kept: Data, monkeypatch: pytest.MonkeyPatch) -> None:
    """With the place where its line belongs."""
    monkeypatch.setattr(record, "Assessment", Grown)
    with pytest.raises(Unreadable, match=r"^the record lacks creep_k, care; add what stands in to .*upgrades\.py$"):
        read(kept, WORDS)


def test_one_line_each_lets_older_records_through(kept: Data, monkeypatch: pytest.MonkeyPatch) -> None:
    """The figure says that nobody computed it, the part that nobody stated it."""
    monkeypatch.setattr(record, "Assessment", Grown)
    monkeypatch.setitem(upgrades.LACKS[1], "creep_k", upgrades.not_computed)
    monkeypatch.setitem(upgrades.LACKS[1], "care", lambda words: {"words": upgrades.not_stated(words)})
    made = read(kept, WORDS)
    assert isinstance(made, Grown)
    assert made.creep_k == Figure(value=None, reason="nobody computed it")
    assert made.care.words == "nobody stated it"


def test_a_place_goes_through_mappings_and_lists(kept: Data, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every drink, every step; where there is no such part nothing is put in, and what is there stays."""
    lacks = {
        "drinks.*.with.creep_k": upgrades.not_computed,
        "procedure.fitting.phases.*.steps.*.calm": upgrades.always([]),
        "coil.held_ml": upgrades.not_computed,
        "pump.flow": upgrades.not_computed,
    }
    monkeypatch.setitem(upgrades.LACKS, 1, lacks)
    made = upgraded(kept, WORDS)
    assert {one["with"]["creep_k"]["reason"] for one in made["drinks"].values()} == {"nobody computed it"}
    steps = [step for phase in made["procedure"]["fitting"]["phases"] for step in phase["steps"]]
    assert len(steps) > 20
    assert all(step["calm"] == [] for step in steps)
    assert made["coil"]["held_ml"] == kept["coil"]["held_ml"]
    assert "pump" not in made
    assert "creep_k" not in next(iter(kept["drinks"].values()))["with"]


@pytest.mark.parametrize("number", [record.FORMAT + 1, 0, None, "1"])
def test_another_format_is_refused(kept: Data, number: object) -> None:
    """A newer one above all: it may say what this program does not know."""
    with pytest.raises(Unreadable, match=f"a record of format {number}; this guidegen reads up to {record.FORMAT}"):
        read({**kept, "format": number}, WORDS)


def test_every_format_before_todays_has_its_step() -> None:
    """From the first on, without a gap."""
    assert sorted(upgrades.LACKS) == list(range(1, record.FORMAT))


def test_a_key_that_had_another_name_is_read_under_todays(kept: Data, monkeypatch: pytest.MonkeyPatch) -> None:
    """In its place among the others; where there is no such part nothing changes, and what was given stays."""
    monkeypatch.setitem(upgrades.RENAMED, 1, {"drinks.*.with.first": "second", "pump.flow": "rate"})
    drinks = {"double": {"with": {"before": 0, "first": 1, "after": 2}}, "single": {"with": {"before": 3}}}
    made = upgraded({**kept, "drinks": drinks}, WORDS)
    assert list(made["drinks"]["double"]["with"].items()) == [("before", 0), ("second", 1), ("after", 2)]
    assert made["drinks"]["single"] == drinks["single"]
    assert drinks["double"]["with"]["first"] == 1
    assert "pump" not in made


def test_the_old_keys_of_format_1_are_there_to_be_renamed(kept: Data) -> None:
    """The self-check of a kept edition and its findings come out under today's keys, with the same values."""
    files = {path.name: path.read_bytes() for path in (FROZEN / "2025.1").glob("*.json") if path.name != "edition.json"}
    found = [upgraded(one, WORDS) for one in snapshot.unpack(files, "2025.1")]
    assert any(one["fix"] for each in found for one in each["lint"])
    assert any(one["remedied_by"] for each in found for one in each["self_check"]["conditions"])
    made, rules = upgraded(kept, WORDS), kept["self_check"]["rules"]
    assert made["self_check"]["rules"]["sufficient"] == rules["mending"]
    assert digest(made["self_check"]["rules"]) == kept["self_check"]["pair"]["rules"]
