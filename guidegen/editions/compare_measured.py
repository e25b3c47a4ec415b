"""What logs say of a guide in two records: the ratio of the dips before and after, where it was measured."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from guidegen.editions.change import Cause, Change
from guidegen.language import gettext, marked

Data = Mapping[str, Any]
RATIO = marked("{value} ({low} to {high}), {shots} shots on one machine")


def measured_changes(old: Data, new: Data) -> Iterator[Change]:
    """One change where the words differ; what an edition of before logs kept has none."""
    before, after = old.get("measured"), new.get("measured")
    words = _words(before), _words(after)
    if words[0] != words[1]:
        causes: tuple[Cause, ...] = ("computation",) if _logs(before) == _logs(after) else ("data",)
        place = "numbers.html#measured" if after else ""
        yield Change("measured", gettext("the dip with the kit over the dip without"), *words, None, place, causes)


def _words(measured: Data | None) -> str | None:
    if measured is None:
        return None
    found = measured["before_after"]
    if found is None:
        return gettext("logged, before and after not compared")
    value, low, high = (
        "…" if one is None else f"{one:.2f}" for one in map(found["ratio"].get, ("value", "low", "high"))
    )
    return gettext(RATIO).format(value=value, low=low, high=high, shots=measured["shots"])


def _logs(measured: Data | None) -> set[str]:
    return {one["sha256"] for one in measured["runs"]} if measured else set()
