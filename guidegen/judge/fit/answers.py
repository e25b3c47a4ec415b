"""Answers as they are written in a link and in an order: `57.3 mm`, `banjo`, `something-else`, `not-sure`, `photo`.

Inches are also read as a ruler shows them, `1 13/16`. `self-check-rules.js` in `site/web/assets` reads the same, and
tests compare the two.
"""

from __future__ import annotations

import math
import re
from bisect import bisect_right
from fractions import Fraction

from guidegen.judge.fit.scale import NotRead, read_count
from guidegen.judge.fit.shape import FactRules, UnitRules
from guidegen.judge.fit.walk import Answer
from guidegen.units import write_count

NOT_SURE, PHOTO = "not-sure", "photo"
SOMETHING_ELSE = "something-else"
"""The answer that is none of the offered ones."""
INCH = "in"
PARTS_OF_AN_INCH = (2, 4, 8, 16, 32, 64)
"""What rulers divide an inch into."""
_FRACTION = re.compile(r"(?:([0-9]{1,3})[ -])?([0-9]{1,2})/([0-9]{1,2})")


def read_answer(fact: FactRules, text: str) -> Answer:
    """Return the answer; raise `NotRead` where the text is none to this question."""
    words = " ".join(text.split())
    if words in (NOT_SURE, PHOTO):
        return {"unsure": True, "photo": words == PHOTO}
    if fact["choices"]:
        if words in fact["choices"]:
            return {"is": words}
        raise NotRead(f"{words!r} is none of {', '.join(fact['choices'])}, not-sure, photo")
    # The longest unit first: "57.3 mm" also ends in "m".
    for unit in sorted(fact["units"], key=lambda unit: -len(unit["unit"])):
        if words.endswith(unit["unit"]):
            return {"unit": unit["unit"], "count": read_number(unit, words.removesuffix(unit["unit"]))}
    raise NotRead(f"{words!r} has none of the units {', '.join(unit['unit'] for unit in fact['units'])}")


def read_number(unit: UnitRules, text: str) -> int:
    """Return the count of a number in one unit; raise `NotRead` where it is none.

    A fraction of an inch mostly lies between two counts. It is read where both are judged alike, so that no answer
    passes that would not pass in exact arithmetic; the nearer one stands for it, the lower of two as near.
    """
    written = text.strip().removesuffix('"').removesuffix("″").rstrip() if unit["unit"] == INCH else text
    match = _FRACTION.fullmatch(written) if unit["unit"] == INCH else None
    if match is None:
        return read_count(unit["decimals"], written)
    whole, above, parts = int(match[1] or 0), int(match[2]), int(match[3])
    if parts not in PARTS_OF_AN_INCH or not 0 < above < parts:
        raise NotRead(f"{written!r} is no fraction that a ruler shows")
    count = (whole + Fraction(above, parts)) * Fraction(10) ** unit["decimals"]
    low, high = math.floor(count), math.ceil(count)
    if _way(unit, low) != _way(unit, high):
        raise NotRead(f"{written!r} is too close to a limit for a fraction: measure in decimals of an inch, or in mm")
    return low if count - low <= Fraction(1, 2) else high


def _way(unit: UnitRules, count: int) -> int:
    return unit["ways"][bisect_right(unit["cuts"], count)]


def example(unit: UnitRules) -> str:
    """Return a number that a question surely takes in one unit: the middle of what such machines have."""
    return write_count(unit["decimals"], sum(unit["plausible"]) // 2)


def accepted(fact: FactRules) -> str:
    """Return which answers a question takes, as the fix for one that it does not.

    A number is shown with as many decimals as it is read to, and what such machines have is named.
    """
    if fact["choices"]:
        return f"write {', '.join(fact['choices'])}, {NOT_SURE} or {PHOTO}"
    shown = [f"{example(unit)} {unit['unit']}" for unit in fact["units"]]
    ranges = " or ".join(plausible_range(unit) for unit in fact["units"])
    return f"write it like {' or '.join(shown)}, such machines have {ranges}; or {NOT_SURE} or {PHOTO}"


def plausible_range(unit: UnitRules) -> str:
    """Return what such machines have, in one unit: `5.0 mm to 60.0 mm`."""
    low, high = (f"{write_count(unit['decimals'], end)} {unit['unit']}" for end in unit["plausible"])
    return f"{low} to {high}"


def is_plausible(fact: FactRules, answer: Answer) -> bool:
    """Return whether such machines have what was measured; no page takes a number that none of them has."""
    if "count" not in answer:
        return True
    unit = next(unit for unit in fact["units"] if unit["unit"] == answer["unit"])
    low, high = unit["plausible"]
    return bool(low <= answer["count"] <= high)


def asked_again(fact: FactRules, answer: Answer) -> str:
    """Return why an implausible answer is not taken."""
    unit = next(unit for unit in fact["units"] if unit["unit"] == answer["unit"])
    return f"{write_answer(fact, answer)} is not plausible: such machines have {plausible_range(unit)}"


def write_answer(fact: FactRules, answer: Answer) -> str:
    """Return the answer as text; the reverse of `read_answer`."""
    if answer.get("unsure"):
        return PHOTO if answer.get("photo") else NOT_SURE
    if "is" in answer:
        return str(answer["is"])
    unit = next(unit for unit in fact["units"] if unit["unit"] == answer["unit"])
    return f"{write_count(unit['decimals'], answer['count'])} {unit['unit']}".rstrip()


def shown(fact: FactRules, answer: Answer) -> str:
    """Return an answer, a number with the tolerance of its question."""
    text = write_answer(fact, answer)
    if "count" not in answer:
        return text
    unit = next(unit for unit in fact["units"] if unit["unit"] == answer["unit"])
    return f"{text} ± {write_count(unit['decimals'], unit['plus_minus'])} {unit['unit']}"


def stated(fact: FactRules, answer: Answer) -> str | None:
    """Return an answer as a catalogue states it, with the tolerance of its question; None where it says nothing.

    What is none of the offered answers, or hides a place, is no word of the catalogue either.
    """
    if answer.get("unsure") or answer.get("is") == SOMETHING_ELSE:
        return None
    if "is" in answer and fact["choices"].get(answer["is"]) in fact["beyond"]:
        return None
    if "is" in answer:
        return str(answer["is"])
    unit = next(unit for unit in fact["units"] if unit["unit"] == answer["unit"])
    return f"{write_answer(fact, answer)} ± {write_count(unit['decimals'], unit['plus_minus'])} {unit['unit']}"
