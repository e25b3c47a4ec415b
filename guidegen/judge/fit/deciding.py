"""Where the outcome is not clear: what is cheapest to find out.

`needed` is the set of facts of least effort that decides whatever they turn out to be; `first` is the one of them to
start with: the cheapest that may decide alone, or else the cheapest.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TypedDict

from guidegen.judge.fit.shape import Rules

UNCLEAR = "cannot-tell-yet"


class Decide(TypedDict):
    """The cheapest facts that would decide; empty where none would."""

    first: str | None
    needed: list[str]


def decide(rules: Rules, ways: Mapping[int, int]) -> Decide:
    """Return what to find out, given the classes of the answers so far."""
    facts = rules["facts"]
    unclear = -1 - rules["outcomes"].index(UNCLEAR)
    given = [[ways.get(place, fact["unsure"])] for place, fact in enumerate(facts)]
    open_facts = [
        place for place, fact in enumerate(facts) if given[place][0] not in fact["definite"] and fact["definite"]
    ]
    best: list[int] | None = None
    best_minutes = 0.0
    for mask in range(1, 1 << len(open_facts)):
        chosen = [place for bit, place in enumerate(open_facts) if mask >> bit & 1]
        minutes = sum(facts[place]["minutes"] for place in chosen)
        if best is not None and (minutes, len(chosen)) >= (best_minutes, len(best)):
            continue
        if unclear not in ends(rules, _with(rules, given, chosen)):
            best, best_minutes = chosen, minutes
    if best is None:
        return Decide(first=None, needed=[])
    cheapest = sorted(best, key=lambda place: (facts[place]["minutes"], place))
    alone = [place for place in cheapest if ends(rules, _with(rules, given, [place])) != {unclear}]
    first = (alone or cheapest)[0]
    return Decide(first=facts[first]["fact"], needed=[facts[place]["fact"] for place in cheapest])


def ends(rules: Rules, allowed: list[list[int]]) -> set[int]:
    """Return the ends that can be reached where each fact has one of the allowed classes."""
    seen: set[int] = set()
    waiting = [rules["top"]]
    found: set[int] = set()
    while waiting:
        branch = waiting.pop()
        if branch < 0:
            found.add(branch)
        elif branch not in seen:
            seen.add(branch)
            node = rules["nodes"][branch]
            waiting.extend(node[1 + way] for way in allowed[node[0]])
    return found


def _with(rules: Rules, given: list[list[int]], chosen: list[int]) -> list[list[int]]:
    """Return the allowed classes: the chosen facts definite in every way, the others as given."""
    return [rules["facts"][place]["definite"] if place in chosen else one for place, one in enumerate(given)]
