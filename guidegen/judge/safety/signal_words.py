"""The signal word of a hazard statement, from how bad and how likely it is.

The word is derived, never typed. Meanings after ANSI Z535.6 and ISO 3864-2, as manuals quote them: DANGER will
result in death or serious injury if not avoided; WARNING could; CAUTION could result in minor or moderate
injury; NOTICE is about property only. The NOTE of our guides carries no hazard and has no place in the table.
"""

from __future__ import annotations

from typing import Literal

Severity = Literal["death", "serious", "moderate", "minor", "property"]
Probability = Literal["will", "could"]
Word = Literal["DANGER", "WARNING", "CAUTION", "NOTICE"]

#: worst first: the order in which statements of one step stand
ORDER: tuple[Word, ...] = ("DANGER", "WARNING", "CAUTION", "NOTICE")

TABLE: dict[tuple[Severity, Probability], Word] = {
    ("death", "will"): "DANGER",
    ("serious", "will"): "DANGER",
    ("death", "could"): "WARNING",
    ("serious", "could"): "WARNING",
    ("moderate", "will"): "CAUTION",
    ("moderate", "could"): "CAUTION",
    ("minor", "will"): "CAUTION",
    ("minor", "could"): "CAUTION",
    ("property", "will"): "NOTICE",
    ("property", "could"): "NOTICE",
}


def signal_word(severity: Severity, probability: Probability) -> Word:
    """Return the signal word.

    >>> signal_word("death", "will"), signal_word("death", "could"), signal_word("property", "will")
    ('DANGER', 'WARNING', 'NOTICE')
    """
    return TABLE[severity, probability]


#: Safety signs whose meaning was checked: ISO 7010 id -> referent. Everything else stays words until checked.
VETTED_SIGNS: dict[str, str] = {
    "W001": "general warning sign",
    "W017": "hot surface",
    "M002": "refer to instruction manual",
    "M003": "wear ear protection",
    "M021": "disconnect before carrying out maintenance or repair",
    "E003": "first aid",
}
