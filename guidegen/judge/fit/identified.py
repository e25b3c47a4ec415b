"""What an owner's answers say about the variant, in whichever order they came: who is left, and which contradict.

`self-check-which.js` in `site/web/assets` holds the same functions in the browser's language, under the same names;
tests compare the two. Both read nothing but the rules, what each variant shows, and the answers.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TypedDict

from guidegen.judge.fit.answers import SOMETHING_ELSE
from guidegen.judge.fit.shape import Rules
from guidegen.judge.fit.walk import Answer, Answers, class_of, walk

NOT_KNOWN, NOT_STATED = -1, -2
"""Of a variant at a question: nobody knows, so no answer excludes it; or a mark that its data do not mention, so that
another variant's excludes it. Else the place of what it shows among the question's comparisons."""

Shows = Sequence[Sequence[int]]
"""Per question of the rules, per variant."""


class Identified(TypedDict):
    """Where the answers lead: the next fact to ask, or None at an end, and the places of the variants that are left.

    `asked` has the facts that the walk asked for, then what was answered besides. `against` are answers of which no
    variant shows all, where there are such: two or more that contradict each other.
    """

    ask: str | None
    asked: list[str]
    left: list[int]
    against: list[str]


def identified(rules: Rules, shows: Shows, answers: Answers) -> Identified:
    """Return where the answers lead: nothing more is asked once one is left, or once they contradict each other.

    Every answer counts, also one that would not have been asked after the others.
    """
    found = walk(rules, answers)
    left = _left(rules, shows, _given(rules, answers))
    ask = found["ask"] if len(left) > 1 else None
    against = [] if left else contradicting(rules, shows, answers)
    others = (fact["fact"] for fact in rules["facts"] if class_of(fact, answers.get(fact["fact"])) is not None)
    asked = list(dict.fromkeys((*found["asked"], *others)))
    return Identified(ask=ask, asked=asked, left=left, against=against)


def contradicting(rules: Rules, shows: Shows, answers: Answers) -> list[str]:
    """Return a smallest choice of answers that no variant shows all of, in the order of the questions.

    None leaves any of them out without a variant being left. Where one answer alone excludes all, or something was
    seen that none of ours shows, the machine is another one, and nothing contradicts.
    """
    given = _given(rules, answers)
    for place in list(given):
        without = {one: way for one, way in given.items() if one != place}
        if not _left(rules, shows, without):
            given = without
    names = [rules["facts"][place]["fact"] for place in sorted(given)]
    strange = any(answers[name].get("is") == SOMETHING_ELSE for name in names)
    return [] if strange or len(names) < 2 else names


def agrees(letters: str, shown: int) -> bool:
    """Return whether an answer leaves a variant: `letters` is the truth of each comparison, `T`, `F` or `?`."""
    if shown == NOT_KNOWN:
        return True
    return "T" not in letters if shown == NOT_STATED else letters[shown] != "F"


def _given(rules: Rules, answers: Answers) -> dict[int, int]:
    """The class of each answer that says something, by the place of its question."""
    found = {}
    for place, fact in enumerate(rules["facts"]):
        answer: Answer | None = answers.get(fact["fact"])
        way = class_of(fact, answer)
        if way is not None and way != fact["unsure"]:
            found[place] = way
    return found


def _left(rules: Rules, shows: Shows, given: Mapping[int, int]) -> list[int]:
    count = len(shows[0]) if shows else 0
    letters = {place: rules["facts"][place]["classes"][way] for place, way in given.items()}
    return [one for one in range(count) if all(agrees(said, shows[place][one]) for place, said in letters.items())]
