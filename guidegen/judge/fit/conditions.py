"""The table of remedies: for every way to "fits with conditions", which sets of remedies suffice.

The sets depend on which remediable conditions are unmet and on what is known of the needs of their remedies. Both are
fixed by the answers on the way to the end, so every such way is walked once when the site is built.
"""

from __future__ import annotations

from collections.abc import Iterator

from guidegen.judge.fit.remedies import RemedySet, sufficient_sets
from guidegen.judge.fit.requirements import Requirements
from guidegen.judge.fit.shape import Rules, SetRules, SufficientRules
from guidegen.judge.fit.store import TooLarge
from guidegen.judge.fit.walk import key_of, truth_of
from guidegen.judge.logic import Truth

MOST_REMEDIABLE = 6
"""Conditions with remedies that are asked; the table doubles with each."""
MOST_WAYS = 20_000
"""Ways to "fits with conditions" that are walked while the table is made."""
MOST_ROWS = 1_000

LETTER = {Truth.TRUE: "T", Truth.FALSE: "F", Truth.UNKNOWN: "?"}
_TRUTH = {letter: truth for truth, letter in LETTER.items()}


def sufficient_rules(requirements: Requirements, rules: Rules) -> SufficientRules:
    """Return the table for rules that are complete but for it."""
    conditions = rules["conditions"]
    asked = [place for place, one in enumerate(conditions) if not isinstance(one["test"], str)]
    bearing = [place for place in asked if conditions[place]["remedies"] or place not in rules["roots"]]
    remediable = sum(bool(conditions[place]["remedies"]) for place in bearing)
    if remediable > MOST_REMEDIABLE:
        raise TooLarge(
            f"{remediable} conditions with remedies are asked, {MOST_REMEDIABLE} at most: settle some in the data"
        )
    # Settled conditions are the same on every way; a root without remedy holds on all of them.
    rules["sufficient"]["conditions"] = bearing
    table: dict[str, int] = {}
    rows: list[list[SetRules]] = []
    for ways in _ways_to_conditions(rules):
        truths = [truth_of(rules, one["test"], ways) for one in conditions]
        key = key_of(rules, truths)
        if key not in table:
            known = {one["id"]: _TRUTH[truth] for one, truth in zip(conditions, truths, strict=True)}
            row = [_set(one) for one in sufficient_sets(requirements.roots, known)]
            if row not in rows:
                rows.append(row)
            table[key] = rows.index(row)
    if len(table) > MOST_ROWS:
        raise TooLarge(f"the table of remedies has {len(table)} rows, {MOST_ROWS} at most: settle more in the data")
    return SufficientRules(conditions=bearing, table=dict(sorted(table.items())), sets=rows)


def _ways_to_conditions(rules: Rules) -> Iterator[dict[int, int]]:
    """Yield the classes of the answers on every way to "fits with conditions"."""
    goal = -1 - rules["outcomes"].index("fits-with-conditions")
    reaches = _reaches(rules, goal)
    found = 0
    waiting: list[tuple[int, dict[int, int]]] = [(rules["top"], {})]
    while waiting:
        branch, ways = waiting.pop()
        if branch == goal:
            found += 1
            if found > MOST_WAYS:
                raise TooLarge(
                    f"more than {MOST_WAYS} combinations of answers bear on remedies: settle some in the data"
                )
            yield ways
        elif branch >= 0 and reaches[branch]:
            fact, *children = rules["nodes"][branch]
            waiting.extend((child, {**ways, fact: way}) for way, child in reversed(list(enumerate(children))))


def _reaches(rules: Rules, goal: int) -> list[bool]:
    """Return for each node whether the goal lies below; a node stands before all that it leads to."""
    nodes = rules["nodes"]
    reaches = [False] * len(nodes)
    for place in reversed(range(len(nodes))):
        reaches[place] = any(child == goal or (child >= 0 and reaches[child]) for child in nodes[place][1:])
    return reaches


def _set(one: RemedySet) -> SetRules:
    return SetRules(
        remedies=list(one.ids),
        provided=[condition.id for condition in one.provided],
        minutes=one.minutes,
        cuts=one.cuts,
        mains_work=one.mains_work,
    )
