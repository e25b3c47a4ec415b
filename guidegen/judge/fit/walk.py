"""Walk the compiled rules: what is asked next, or how it ends and why.

`self-check-rules.js` and `self-check-deciding.js` in `site/web/assets` hold the same functions in the browser's
language, under the same names; tests compare the two on every node and edge and on random answers. Both read nothing
but the rules and the answers.

An answer is `{"unit": "mm", "count": 573}`, `{"is": "banjo"}` or `{"unsure": true}`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, TypedDict

from guidegen.judge.fit.deciding import Decide, decide
from guidegen.judge.fit.shape import FactRules, Rules, SetRules, Tree

Answer = Mapping[str, Any]
Answers = Mapping[str, Answer]


class Walk(TypedDict):
    """Where the answers lead. `ask` is the next fact, or None at an end; the rest is filled in at an end only."""

    ask: str | None
    asked: list[str]
    outcome: str | None
    reasons: list[list[str]]
    """Condition and `F` or `?`, in document order."""
    remedies: list[SetRules]
    decide: Decide | None


def walk(rules: Rules, answers: Answers) -> Walk:
    """Follow the answers from the top; an answer that is missing or cannot be read is asked for."""
    facts = rules["facts"]
    ways: dict[int, int] = {}
    branch = rules["top"]
    while branch >= 0:
        node = rules["nodes"][branch]
        fact = node[0]
        way = class_of(facts[fact], answers.get(facts[fact]["fact"]))
        if way is None:
            return Walk(
                ask=facts[fact]["fact"], asked=_names(facts, ways), outcome=None, reasons=[], remedies=[], decide=None
            )
        ways[fact] = way
        branch = node[1 + way]
    outcome = rules["outcomes"][-1 - branch]
    truths = [truth_of(rules, one["test"], ways) for one in rules["conditions"]]
    row = rules["sufficient"]["table"].get(key_of(rules, truths))
    remedied = outcome == "fits-with-conditions" and row is not None
    return Walk(
        ask=None,
        asked=_names(facts, ways),
        outcome=outcome,
        reasons=reasons_of(rules, truths, ways),
        remedies=rules["sufficient"]["sets"][row] if remedied and row is not None else [],
        decide=decide(rules, ways) if outcome == "cannot-tell-yet" else None,
    )


def class_of(fact: FactRules, answer: Answer | None) -> int | None:
    """Return the class of an answer, or None where it is no answer to this question."""
    if answer is None:
        return None
    if answer.get("unsure") is True:
        return fact["unsure"]
    if "is" in answer:
        return fact["choices"].get(answer["is"])
    count = answer.get("count")
    if not isinstance(count, int) or count < 0:
        return None
    for unit in fact["units"]:
        if unit["unit"] == answer.get("unit"):
            below = sum(cut <= count for cut in unit["cuts"])
            return unit["ways"][below]
    return None


def truth_of(rules: Rules, test: Tree, ways: Mapping[int, int]) -> str:
    """Return `T`, `F` or `?`; a fact that was not asked leaves its comparisons open."""
    if isinstance(test, str):
        return "?" if test == "-" else test
    if isinstance(test[0], int):
        fact, place = test
        return rules["facts"][fact]["classes"][ways[fact]][place] if fact in ways else "?"
    if test[0] == "unless":
        return "?" if hides(test, ways) else truth_of(rules, test[1], ways)
    final, neutral = ("F", "T") if test[0] == "all" else ("T", "F")
    truths = [truth_of(rules, member, ways) for member in test[1:]]
    if final in truths:
        return final
    return "?" if "?" in truths else neutral


def reasons_of(rules: Rules, truths: Sequence[str], ways: Mapping[int, int]) -> list[list[str]]:
    """Return the conditions that are not true, those of a remedy where it is wanted.

    A condition that is open because nothing of it was asked is no reason: the outcome did not hang on it.
    """
    found: dict[str, str] = {}

    def look(places: Sequence[int]) -> None:
        for place in places:
            condition = rules["conditions"][place]
            if truths[place] == "T":
                continue
            if truths[place] == "F" or answered(condition["test"], ways):
                found.setdefault(condition["id"], truths[place])
            for remedy in condition["remedies"]:
                look(remedy["needs"])

    look(rules["roots"])
    return [[name, truth] for name, truth in found.items()]


def key_of(rules: Rules, truths: Sequence[str]) -> str:
    """Return the row of the table of remedies: the truth of each condition that bears on it, `-` where it does not."""
    wanted: set[int] = set()

    def look(places: Sequence[int]) -> None:
        for place in places:
            wanted.add(place)
            if truths[place] == "F":
                for remedy in rules["conditions"][place]["remedies"]:
                    look(remedy["needs"])

    look(rules["roots"])
    return "".join(truths[place] if place in wanted else "-" for place in rules["sufficient"]["conditions"])


def answered(test: Tree, ways: Mapping[int, int]) -> bool:
    """Return whether anything of a test was answered or hidden by an answer, or nothing of it could be asked."""
    facts = asked_in(test)
    return not facts or any(fact in ways for fact in facts) or is_hidden(test, ways)


def asked_in(test: Tree) -> list[int]:
    """Return the facts that a test asks for; -1 stands for one that nobody needs to ask."""
    if isinstance(test, str):
        return [-1] if test == "-" else []
    if isinstance(test[0], int):
        return [test[0]]
    return [fact for member in below(test) for fact in asked_in(member)]


def is_hidden(test: Tree, ways: Mapping[int, int]) -> bool:
    """Return whether an answer hides something of a test."""
    if isinstance(test, str) or isinstance(test[0], int):
        return False
    return (test[0] == "unless" and hides(test, ways)) or any(is_hidden(member, ways) for member in below(test))


def below(test: Tree) -> list[Tree]:
    """Return the tests that a group, or an `unless`, is made of."""
    return list(test[1:2] if test[0] == "unless" else test[1:])


def hides(test: Tree, ways: Mapping[int, int]) -> bool:
    """Return whether an answer hides what an `unless` speaks of."""
    return ways.get(test[2]) in test[3:]


def _names(facts: Sequence[FactRules], ways: Mapping[int, int]) -> list[str]:
    return [facts[fact]["fact"] for fact in ways]


def longest(rules: Rules) -> int:
    """Return how many questions the longest way through the rules asks."""
    steps: dict[int, int] = {}

    def below(branch: int) -> int:
        if branch < 0:
            return 0
        if branch not in steps:
            steps[branch] = 1 + max(map(below, rules["nodes"][branch][1:]))
        return steps[branch]

    return below(rules["top"])
