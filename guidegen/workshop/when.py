"""How a condition on machine and kit is written: the `when:` of a step, a phase, a part, a tool.

    when: {mains.connection: corded}
    when: {boiler.wall: [trimmed, exchanged], item.stands_out: {at_least: 0.5 mm}}
    when: {any: [{mains.connection: hard-wired}, {not: {work.mains: no}}]}

All lines hold. A line is a fact and its wanted value, a list of wanted values, or `at_least`, `at_most`, `not` with
one; `any`, `all` and `not` take conditions.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Annotated, Any

from pydantic import AfterValidator

from guidegen.problems import Code
from guidegen.workshop.base import Loc, quoted, refused

JOINTS = ("any", "all")
"""What takes a list of conditions."""
_SENSES = ("at_least", "at_most", "not")
"""What a line may ask of a quantity besides a value; `not` takes words and lists of words, too."""


def _checked(condition: dict[str, Any]) -> dict[str, Any]:
    _check(condition, ())
    return condition


def _check(condition: dict[str, Any], loc: Loc) -> None:
    for name, wanted in condition.items():
        here = (*loc, name)
        if name in JOINTS:
            if not isinstance(wanted, tuple) or not all(isinstance(part, dict) for part in wanted):
                fix = f"write {name}: [{{fact: value}}]"
                raise refused(Code.WRONG_TYPE, f"{name}: a list of conditions is wanted", fix, here)
            for index, part in enumerate(wanted):
                _check(part, (*here, index))
        elif name == "not":
            if not isinstance(wanted, dict):
                raise refused(Code.WRONG_TYPE, "not: a condition is wanted", "write not: {fact: value}", here)
            _check(wanted, here)
        elif isinstance(wanted, dict):
            _check_senses(wanted, here)
        else:
            _check_values(name, wanted, here)


def _check_senses(wanted: dict[str, Any], loc: Loc) -> None:
    for sense, limit in wanted.items():
        if sense not in _SENSES:
            raise refused(
                Code.UNKNOWN_KEY, f"no comparison {quoted(sense)}", f"use {', '.join(_SENSES)}", (*loc, sense)
            )
        if not isinstance(limit, str) and (sense != "not" or not isinstance(limit, tuple)):
            raise refused(
                Code.WRONG_TYPE, f"got {quoted(limit)}, one value is wanted", "write one value", (*loc, sense)
            )


def _check_values(name: str, wanted: Any, loc: Loc) -> None:
    if isinstance(wanted, tuple):
        if not all(isinstance(one, str) for one in wanted):
            raise refused(Code.WRONG_TYPE, f"{name}: a list of words is wanted", f"write {name}: [first, second]", loc)
    elif not isinstance(wanted, str):
        raise refused(Code.WRONG_TYPE, f"got {quoted(wanted)}, a value is wanted", f"write {name}: value", loc)


Condition = Annotated[dict[str, Any], AfterValidator(_checked)]
"""Lines that all hold; see the head of this module."""


def lines_of(condition: Mapping[str, Any] | None, loc: Loc = ()) -> Iterator[tuple[Loc, str, Any]]:
    """Yield every fact that a condition asks, however deep, with its loc and what is wanted of it."""
    for name, wanted in (condition or {}).items():
        here = (*loc, name)
        if name in JOINTS:
            for index, part in enumerate(wanted):
                yield from lines_of(part, (*here, index))
        elif name == "not":
            yield from lines_of(wanted, here)
        else:
            yield here, name, wanted


def values_in(wanted: Any) -> Iterator[str]:
    """Yield every value that a line compares with."""
    if isinstance(wanted, Mapping):
        for one in wanted.values():
            yield from values_in(one)
    elif isinstance(wanted, tuple | list):
        for one in wanted:
            yield from values_in(one)
    else:
        yield str(wanted)


def names_in(condition: Mapping[str, Any] | None) -> frozenset[str]:
    """Return the facts that a condition asks."""
    return frozenset(name for _, name, _ in lines_of(condition))
