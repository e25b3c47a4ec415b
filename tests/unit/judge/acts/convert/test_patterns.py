"""A template read backwards. What a slot holds was read off each sentence by hand."""

from __future__ import annotations

import pytest

from guidegen.judge.acts.convert.patterns import slots_in, words

READ = [
    (
        "Undo the feed hose at the banjo.",
        "Undo {of}[ at {at}].",
        [{"of": "feed hose at banjo"}, {"of": "feed hose", "at": "banjo"}],
    ),
    ("Lift the top cover off again.", "Lift {of} off.", [{"of": "top cover"}]),
    (
        "Compare the sensor's seat with its photograph.",
        "Compare the seat of {of} with its photograph.",
        [{"of": "sensor"}],
    ),
    (
        "Tighten the nut, by hand and {turn} more.",
        "Tighten {of} by hand and {amount} more.",
        [{"of": "nut", "amount": "{turn}"}],
    ),
    ("Label both leads, the sensor and every device.", "Label {of}.", [{"of": "both leads , sensor and every device"}]),
    ("Lift the top cover.", "Lift {of} off.", []),
    ("Do not lift the top cover off.", "Lift {of} off.", []),
    ("Lift the top cover off and bridge the switch.", "Lift {of} off.", []),
]


@pytest.mark.parametrize(("sentence", "template", "slots"), READ)
def test_a_sentence_is_read_by_its_template(sentence: str, template: str, slots: list[dict[str, str]]) -> None:
    """Articles, commas, an owner's s and "again" make no other sentence; a word more does."""
    assert [dict(one) for one in slots_in(sentence, template)] == slots


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("the inlet of the coil", "the coil's inlet"),
        ("The boiler.", "the boiler"),
        ("lead of the sensor", "sensor lead"),
    ],
)
def test_names_with_the_same_words_are_one(one: str, other: str) -> None:
    """Whose it is may stand before or behind."""
    assert words(one) == words(other)


def test_another_word_is_another_name() -> None:
    """The old one is not the new one."""
    assert words("the old feed hose") != words("the new feed hose")
