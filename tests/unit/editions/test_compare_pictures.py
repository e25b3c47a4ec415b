"""Photographs that came, went or were taken anew between two editions."""

from __future__ import annotations

from typing import Any

from guidegen.editions.compare_pictures import picture_changes
from tests.unit.editions.small import record

Data = dict[str, Any]


def with_pictures(*pictures: Data) -> Data:
    """A small record whose kit has these."""
    made = record()
    return {**made, "kit": {**made["kit"], "pictures": list(pictures)}}


def picture(name: str, digest: str, words: str) -> Data:
    """As much of one as is compared."""
    return {"id": name, "digest": digest, "words": words}


def test_pictures_are_compared_by_their_bytes_and_words() -> None:
    """New, gone, taken anew, described otherwise; what stayed is not listed, and nobody is written to."""
    old = with_pictures(
        picture("stays", "1", "A coil."),
        picture("again", "2", "A hose."),
        picture("words", "3", "A nut."),
        picture("gone", "4", "A plate."),
    )
    new = with_pictures(
        picture("stays", "1", "A coil."),
        picture("again", "22", "A hose."),
        picture("words", "3", "A brass nut."),
        picture("new", "5", "A lamp."),
    )
    found = list(picture_changes(old, new))
    assert [one.sentence() for one in found] == [
        "picture: A hose. → A hose. (a new photograph)",
        "picture: A nut. → A brass nut.",
        "picture: new, A lamp.",
        "picture: gone, was A plate.",
    ]
    assert not any(one.notifiable for one in found)


def test_an_edition_of_before_pictures_had_none() -> None:
    """Its record has no such key."""
    assert list(picture_changes(record(), record())) == []
    assert [one.sentence() for one in picture_changes(record(), with_pictures(picture("a", "1", "A coil.")))] == [
        "picture: new, A coil."
    ]
