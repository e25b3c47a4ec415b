"""Time as loggers write it, in seconds: bytes of many rows at once where they are alike, else one text."""

from __future__ import annotations

import datetime
import re

import numpy as np
from numpy.typing import NDArray

from guidegen.runs.dialect import CLOCK, STAMP

Numbers = NDArray[np.float64]
DAY = 86400.0
_DIGITS = re.compile(r"[0-9]")


def seconds(text: str, written: str, zone: str) -> float:
    """A time in seconds; a stamp counts from 1970 in UTC. Raises ValueError where it is written otherwise.

    >>> seconds("0:01:02,5", "hh:mm:ss", ""), seconds("1970-01-01T02:00:01+02:00", "iso-8601", "")
    (62.5, 1.0)
    """
    text = text.strip().replace(",", ".")
    if written == "hh:mm:ss":
        if not CLOCK.fullmatch(text):
            raise ValueError(text)
        return _clock(text)
    found = STAMP.fullmatch(text)
    if found is None or not (own := found["zone"] or zone):
        raise ValueError(text)
    day = datetime.date.fromisoformat(found["day"]).toordinal() - datetime.date(1970, 1, 1).toordinal()
    return day * DAY + _clock(found["clock"].replace(",", ".")) - offset(own)


def offset(zone: str) -> float:
    """How far a zone is ahead of UTC, s; in zones with the sun earlier it is negative.

    >>> offset("+05:30"), offset("Z")
    (19800.0, 0.0)
    """
    if zone == "Z":
        return 0.0
    digits = zone[1:].replace(":", "")
    return (1.0 if zone[0] == "+" else -1.0) * (int(digits[:2]) * 3600.0 + int(digits[2:]) * 60.0)


def _clock(text: str) -> float:
    hours, minutes, rest = text.split(":")
    if int(minutes) > 59 or float(rest) >= 61:
        raise ValueError(text)
    return int(hours) * 3600.0 + int(minutes) * 60.0 + float(rest)


def many(letters: NDArray[np.uint8], written: str, zone: str) -> Numbers | None:
    """Times of many rows of equally many letters, (n, letters); None where their signs do not stand below each other.

    Each row is read as `seconds` reads it: the places of the digits are taken from the first row.
    """
    first = letters[0].tobytes().decode("latin-1")
    try:
        seconds(first, written, zone)
    except ValueError:
        return None
    digit = np.array([_DIGITS.fullmatch(sign) is not None for sign in first])
    same = (letters[:, ~digit] == letters[0, ~digit]).all()
    numbers = letters[:, digit].astype(np.int64) - ord("0")
    if not same or ((numbers < 0) | (numbers > 9)).any():
        return None
    places = np.flatnonzero(digit)
    stamp = STAMP.fullmatch(first.strip())
    day_end = first.index(stamp["clock"]) if stamp else 0
    clock = (stamp["clock"] if stamp else first.strip()).replace(",", ".")
    start = first.replace(",", ".").index(clock, day_end)
    result = _clocks(numbers, places, start, clock)
    if result is None:
        return None
    if stamp is None:
        return result
    # Day and zone stay for many rows: each time that they change they are read, as a text.
    rest = np.concatenate([letters[:, :start], letters[:, start + len(clock) :]], axis=1)
    begins = np.concatenate([[0], np.flatnonzero((rest[1:] != rest[:-1]).any(axis=1)) + 1])
    lead = np.empty(len(begins))
    for at, row in enumerate(begins):
        word = rest[row].tobytes().decode("latin-1")
        try:
            lead[at] = seconds(f"{word[:start]}00:00:00{word[start:]}", written, zone)
        except ValueError:
            return None
    return np.asarray(np.repeat(lead, np.diff(np.append(begins, len(rest)))) + result)


def _clocks(numbers: NDArray[np.int64], places: NDArray[np.int64], start: int, clock: str) -> Numbers | None:
    """Hours, minutes and seconds of each row; None where there are more minutes or seconds than there can be."""
    parts = [0, *(at for at, sign in enumerate(clock) if sign in ":."), len(clock)]
    total = np.zeros(len(numbers))
    for number, factor in enumerate((3600.0, 60.0, 1.0, None)[: len(parts) - 1]):
        begin, end = start + parts[number] + (number > 0), start + parts[number + 1]
        columns = numbers[:, (places >= begin) & (places < end)]
        value = (columns * 10.0 ** np.arange(columns.shape[1] - 1, -1, -1)).sum(axis=1)
        if factor is None:
            factor = 10.0 ** -columns.shape[1]
        elif number and (value > 60 - (number == 1)).any():
            return None
        total += factor * value
    return total
