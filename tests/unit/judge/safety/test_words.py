"""The signal words and signs.

Meanings by ANSI Z535.6 and ISO 3864-2, as manuals quote them: DANGER, death or serious injury will result; WARNING,
could result; CAUTION, minor or moderate injury could result; NOTICE, property only.
"""

from __future__ import annotations

import typing

import pytest

from guidegen.judge.safety.signal_words import (
    ORDER,
    TABLE,
    VETTED_SIGNS,
    Probability,
    Severity,
    Word,
    signal_word,
)


@pytest.mark.parametrize(
    ("severity", "probability", "word"),
    [
        ("death", "will", "DANGER"),
        ("serious", "will", "DANGER"),
        ("death", "could", "WARNING"),
        ("serious", "could", "WARNING"),
        ("moderate", "could", "CAUTION"),
        ("minor", "could", "CAUTION"),
        ("property", "will", "NOTICE"),
        ("property", "could", "NOTICE"),
    ],
)
def test_the_word_follows_the_standard(severity: Severity, probability: Probability, word: Word) -> None:
    """Each meaning of the standards gives its word."""
    assert signal_word(severity, probability) == word


def test_every_pair_has_a_word_and_only_property_has_notice() -> None:
    """No gap in the table, and NOTICE is never about injury."""
    for severity in typing.get_args(Severity):
        for probability in typing.get_args(Probability):
            assert (signal_word(severity, probability) == "NOTICE") == (severity == "property")
    assert set(TABLE.values()) == set(ORDER)


def test_more_severe_is_never_a_weaker_word() -> None:
    """At equal probability a graver outcome has no weaker word."""
    worst_first: tuple[Severity, ...] = ("death", "serious", "moderate", "minor", "property")
    for probability in typing.get_args(Probability):
        ranks = [ORDER.index(signal_word(severity, probability)) for severity in worst_first]
        assert ranks == sorted(ranks)


def test_only_checked_signs_are_known() -> None:
    """ISO 7010 signs whose referent was looked up; everything else stays words."""
    assert set(VETTED_SIGNS) == {"W001", "W017", "M002", "M003", "M021", "E003"}
