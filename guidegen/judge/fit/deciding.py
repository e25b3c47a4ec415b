"""Where the outcome is not clear: what is cheapest to find out.

`needed` is the set of facts of least effort that decides whatever they turn out to be; `first` is the one of them to
start with: the cheapest that may decide alone, or else the cheapest.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TypedDict

from guidegen.judge.fit.shape import FactRules, Rules

UNCLEAR = "cannot-tell-yet"
MOST_TRIED = 12
"""Facts that may stand for each other, as where one of two is enough; with more of them all are named."""

Finer = Mapping[int, list[int]]
"""Per fact that can be made clearer: the classes that its answer may turn out to be of."""


class Decide(TypedDict):
    """The cheapest facts that would decide; empty where none would."""

    first: str | None
    needed: list[str]


def decide(rules: Rules, ways: Mapping[int, int]) -> Decide:
    """Return what to find out, given the classes of the answers so far."""
    facts = rules["facts"]
    given = [[ways.get(place, fact["unsure"])] for place, fact in enumerate(facts)]
    finer = {place: found for place, fact in enumerate(facts) if (found := clearer(fact, given[place][0]))}
    best = _cheapest(rules, given, finer)
    if best is None:
        return Decide(first=None, needed=[])
    cheapest = sorted(best, key=lambda place: (facts[place]["minutes"], place))
    unclear = {_unclear(rules)}
    alone = [place for place in cheapest if ends(rules, _with(given, finer, [place])) != unclear]
    first = (alone or cheapest)[0]
    return Decide(first=facts[first]["fact"], needed=[facts[place]["fact"] for place in cheapest])


def clearer(fact: FactRules, way: int) -> list[int]:
    """Return the classes with nothing open that an answer of a class may turn out to be of; none where it is clear."""
    if way in fact["definite"] or way in fact["beyond"]:
        return []
    now = fact["classes"][way]
    return [
        one
        for one in fact["definite"]
        if all(old in ("?", new) for old, new in zip(now, fact["classes"][one], strict=True))
    ]


def _cheapest(rules: Rules, given: list[list[int]], finer: Finer) -> list[int] | None:
    """Return the set of facts of least effort that decides whatever they turn out to be; the first of equals."""
    facts, open_facts = rules["facts"], sorted(finer)

    def decides(chosen: list[int]) -> bool:
        return _unclear(rules) not in ends(rules, _with(given, finer, chosen))

    # Who knows more is never less clear: so what all the others do not decide without belongs to every set.
    needed = {place for place in open_facts if not decides([one for one in open_facts if one != place])}
    others = [place for place in open_facts if place not in needed]
    if len(others) > MOST_TRIED:
        needed, others = set(open_facts), []
    best: list[int] | None = None
    best_minutes = 0.0
    for mask in range(1 << len(others)):
        tried = {place for bit, place in enumerate(others) if mask >> bit & 1}
        chosen = [place for place in open_facts if place in needed or place in tried]
        minutes = sum(facts[place]["minutes"] for place in chosen)
        if not chosen or (best is not None and (minutes, len(chosen)) >= (best_minutes, len(best))):
            continue
        if decides(chosen):
            best, best_minutes = chosen, minutes
    return best


def _unclear(rules: Rules) -> int:
    return -1 - rules["outcomes"].index(UNCLEAR)


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


def _with(given: list[list[int]], finer: Finer, chosen: list[int]) -> list[list[int]]:
    """Return the allowed classes: of the chosen facts every clear one that is left, of the others the given one."""
    return [finer[place] if place in chosen else one for place, one in enumerate(given)]
