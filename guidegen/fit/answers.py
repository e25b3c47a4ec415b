"""Answers as they are written in a link and in an order: `57.3 mm`, `banjo`, `something-else`, `not-sure`, `photo`."""

from __future__ import annotations

import re

from guidegen.fit.scale import MOST_COUNTS, NotRead
from guidegen.fit.shape import FactRules, UnitRules
from guidegen.fit.walk import Answer

NOT_SURE, PHOTO = "not-sure", "photo"
_NUMBER = re.compile(r"(\d{1,8})(?:[.,](\d{1,6}))?")


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
            number = words.removesuffix(unit["unit"]).strip()
            return {"unit": unit["unit"], "count": read_count(unit, number)}
    raise NotRead(f"{words!r} has none of the units {', '.join(unit['unit'] for unit in fact['units'])}")


def read_count(unit: UnitRules, text: str) -> int:
    """Return the count of a written number; a decimal comma is read as a point, finer than the scale is refused."""
    match = _NUMBER.fullmatch(text)
    if match is None:
        raise NotRead(f"{text!r} is not a number")
    decimals = (match[2] or "").rstrip("0")
    if len(decimals) > unit["decimals"]:
        raise NotRead(f"{text!r} has more than {unit['decimals']} decimals")
    count = int(match[1] + decimals.ljust(unit["decimals"], "0"))
    if count > MOST_COUNTS:
        raise NotRead(f"{text!r} is larger than anything on a bench")
    return count


def write_answer(fact: FactRules, answer: Answer) -> str:
    """Return the answer as text; the reverse of `read_answer`."""
    if answer.get("unsure"):
        return PHOTO if answer.get("photo") else NOT_SURE
    if "is" in answer:
        return str(answer["is"])
    unit = next(unit for unit in fact["units"] if unit["unit"] == answer["unit"])
    return f"{write_count(unit['decimals'], answer['count'])} {unit['unit']}".rstrip()


def write_count(decimals: int, count: int) -> str:
    """Return a count as a number with all its decimals.

    >>> write_count(1, 573), write_count(2, 5), write_count(0, 230)
    ('57.3', '0.05', '230')
    """
    digits = str(count).rjust(decimals + 1, "0")
    return f"{digits[:-decimals]}.{digits[-decimals:]}" if decimals else digits
