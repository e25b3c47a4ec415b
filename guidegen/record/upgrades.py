"""Records of older formats, brought to today's: one step per format, on plain data, so that nothing is validated twice.

A step is a table of what the older records lack and what stands in for it, and a table of the keys that had another
name. A place is a path with dots, as in `drinks.*.with.peak_k`; `*` goes through every entry of a mapping or a list.
Where there is no such part in a record, as no `coil` with a kit that has none, nothing is put in, and what is there
stays as it is.

**To add a required field to the record, add its line to the newest step** while no edition was published in today's
format; after that, raise `FORMAT` and begin a new step. A figure that nobody computed then gets `not_computed`, any
other part what is honest: null, an empty list, or `not_stated`. A key that gets another name goes to `RENAMED`.
"""

from __future__ import annotations

import copy
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, Final, Literal

FORMAT: Final[Literal[2]] = 2


@dataclass(frozen=True)
class GivenWords:
    """What is printed where an older edition has nothing to print, in the language of whoever reads."""

    not_computed: str
    not_stated: str


class Unreadable(ValueError):
    """A kept record that no step brings to today's format."""


StandIn = Callable[[GivenWords], Any]


def not_computed(words: GivenWords) -> Any:
    """Stand in for a figure."""
    return {"value": None, "low": None, "high": None, "reason": words.not_computed}


def both_not_computed(words: GivenWords) -> Any:
    """Stand in for a figure without and with the kit."""
    return {"without": not_computed(words), "with": not_computed(words)}


def not_stated(words: GivenWords) -> Any:
    """Stand in for words."""
    return words.not_stated


def always(value: Any) -> StandIn:
    """Stand in for a part whose emptiness, or old meaning, is known."""
    return lambda words: copy.deepcopy(value)


LACKS: dict[int, dict[str, StandIn]] = {
    1: {
        "origin": always(None),
        "self_check.rules.facts.*.beyond": always([]),
        "self_check.questions.*.screen": always(None),
        "self_check.conditions.*.assumed": always([]),
        "before_fitting": always([]),
        "before_restoring": always([]),
        "together": always([]),
    },
}
"""By the format that lacks it."""
RENAMED: dict[int, dict[str, str]] = {
    1: {
        "lint.*.mend": "fix",
        "self_check.rules.mending": "sufficient",
        "self_check.conditions.*.mended": "remedied_by",
    },
}
"""By the format that has the old key: its place, and the new key."""


def upgraded(data: Mapping[str, Any], words: GivenWords) -> dict[str, Any]:
    """The record in today's format; parts that need nothing are the very same objects. Raises `Unreadable`."""
    made, kept = dict(data), data.get("format")
    if not isinstance(kept, int) or not min(LACKS, default=FORMAT) <= kept <= FORMAT:
        raise Unreadable(f"a record of format {kept}; this guidegen reads up to {FORMAT}, a newer one may read it")
    for number in range(kept, FORMAT):
        for place, stand_in in LACKS[number].items():
            made = _with(made, tuple(place.split(".")), stand_in, words)
        for place, key in RENAMED.get(number, {}).items():
            made = _renamed(made, tuple(place.split(".")), key)
        made["format"] = number + 1
    return made


def _with(part: Any, path: tuple[str, ...], stand_in: StandIn, words: GivenWords) -> Any:
    name, rest = path[0], path[1:]
    if name == "*" and isinstance(part, list | tuple):
        return [_with(one, rest, stand_in, words) for one in part]
    if not isinstance(part, Mapping):
        return part
    if name == "*":
        return {key: _with(one, rest, stand_in, words) for key, one in part.items()}
    if not rest:
        return part if name in part else {**part, name: stand_in(words)}
    return {**part, name: _with(part[name], rest, stand_in, words)} if name in part else part


def _renamed(part: Any, path: tuple[str, ...], key: str) -> Any:
    name, rest = path[0], path[1:]
    if name == "*" and isinstance(part, list | tuple):
        return [_renamed(one, rest, key) for one in part]
    if not isinstance(part, Mapping):
        return part
    if name == "*":
        return {each: _renamed(one, rest, key) for each, one in part.items()}
    if not rest:
        return {key if each == name else each: one for each, one in part.items()}
    return {**part, name: _renamed(part[name], rest, key)} if name in part else part
