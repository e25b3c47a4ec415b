"""Mutants made from the table of acts, not chosen: each act of a guide left out, exchanged, or given to anybody.

A mutant that the lint accepts is printed with its guide; none may be left. An act on which nothing depends says so in
the table (`free`), and a test below holds that list short.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import Any

import pytest

from guidegen.judge.acts.effects import ROLES, least_role
from guidegen.judge.acts.kernel import EFFECTS
from guidegen.judge.acts.row import rows
from guidegen.judge.safety.english import forms
from guidegen.judge.safety.texts import act_in, nouns_of, refused_word
from tests.mutants.draft import Draft, draft
from tests.mutants.table import CLEAN, Mutant, survivors

FREE = {
    "look-for-kits",
    "look-for-later-kits",
    "lay-out",
    "write-serial",
    "write-record",
    "keep",
    "keep-whole",
    "as-found",
    "switch-off",
    "lock-plug",
}
"""Written down here a second time on purpose: what may be missing without hurting anybody."""


def lists_of_steps(one: Draft) -> Iterator[list[dict[str, Any]]]:
    """Every list of entries of a draft, those of repeated steps too."""
    blocks = [*one.procedure["phases"], *one.procedure.get("remedies", []), *one.shared["blocks"].values()]
    blocks += [*one.shared["remedies"], *one.procedure.get("restore", {}).get("phases", [])]
    for block in blocks:
        yield block["steps"]
        yield from (entry["steps"] for entry in block["steps"] if "each" in entry)


def acts_of(one: Draft) -> list[tuple[int, str, str]]:
    """The acts that this guide does: the list they stand in, their id and name; each once."""
    used = {(step.step.id, step.step.act) for course in one.guide().resolved.courses for step in course.steps}
    found = [(number, entry["id"], entry["act"])
             for number, steps in enumerate(lists_of_steps(one)) for entry in steps
             if "do" in entry and (entry["id"], entry.get("act")) in used]  # fmt: skip
    return list(dict.fromkeys(found))


def left_out(guide: tuple[str, str]) -> Iterator[Mutant]:
    """Each act of the guide dropped, one at a time; the last of a list stays, as an empty list cannot be written."""
    clean = draft(*guide)
    lengths = [len(steps) for steps in lists_of_steps(clean)]
    for number, name, act in acts_of(clean):

        def change(one: Draft, number: int = number, dropped: tuple[str, str] = (name, act)) -> None:
            steps = list(lists_of_steps(one))[number]
            steps[:] = [entry for entry in steps if (entry.get("id"), entry.get("act")) != dropped]

        if act not in FREE and lengths[number] > 1:
            yield Mutant("", f"{name} ({act}) left out", guide, change)


@pytest.mark.slow
@pytest.mark.parametrize("guide", CLEAN, ids="/".join)
def test_no_act_can_be_left_out(guide: tuple[str, str]) -> None:
    """Each act of the guide dropped, one at a time."""
    assert survivors(left_out(guide)) == []


def depends(later: dict[str, Any], earlier: dict[str, Any]) -> bool:
    """Whether an act asks by the table for what the one above it does."""
    order, done = later.get("order", {}), earlier.get("order", {})
    before = {name.removeprefix("=") for one in order.get("after", ()) if "|" not in one for name in [one]}
    ended = {name.removeprefix("=") for name in done.get("takes", ())}
    sets, needs = earlier.get("sets", {}), later.get("requires", {})
    return (
        earlier.get("act") in before
        or bool(ended & {*order.get("without", ())})
        or any(needs.get(name) == value for name, value in sets.items() if name in ("pressure", "water"))
    )


def swapped(guide: tuple[str, str]) -> Iterator[Mutant]:
    """Each act put above the one before it in the same list, where the table says that it needs that one."""
    done = {(number, name) for number, name, _ in acts_of(draft(*guide))}
    for number, steps in enumerate(lists_of_steps(draft(*guide))):
        for at, (earlier, later) in enumerate(pairwise(steps)):

            def change(one: Draft, number: int = number, at: int = at) -> None:
                changed = list(lists_of_steps(one))[number]
                changed[at], changed[at + 1] = changed[at + 1], changed[at]

            both = {(number, earlier.get("id")), (number, later.get("id"))} <= done
            if both and earlier["id"] != later["id"] and depends(later, earlier):
                yield Mutant("", f"{later['id']} above {earlier['id']}", guide, change)


@pytest.mark.slow
@pytest.mark.parametrize("guide", CLEAN, ids="/".join)
def test_no_act_can_be_swapped_with_one_that_it_asks_for(guide: tuple[str, str]) -> None:
    """Some are tried in each guide."""
    mutants = list(swapped(guide))
    assert len(mutants) > 2
    assert survivors(mutants) == []


FREE_VERBS = {
    "ask", "check", "compare", "confirm", "copy", "count", "follow", "hold", "identify", "label", "lay", "leave",
    "listen", "look", "mark", "measure", "photograph", "prove", "put", "read", "test", "try", "watch", "write",
}  # fmt: skip
"""First verbs of acts that touch nothing, or that mean much else: what they do is not an act of this work by itself."""


def test_no_form_of_an_acts_verb_passes_beside_a_device() -> None:
    """Each verb that a sentence of the table begins with, in each of its forms, beside the cover or a lead."""
    steps = [row for row in rows().values() if row.place == "step"]
    verbs = {way.say.split()[0].lower() for row in steps for way in row.ways if way.say} - FREE_VERBS
    nouns = nouns_of(draft("tamsin-mk2", "feed-preheater").facts.things)
    texts = []
    for verb in sorted(verbs):
        made = forms(verb)
        for thing in ("the top cover", "the earth lead"):
            texts += [f"{verb.capitalize()} {thing} first.", f"You must {verb} {thing}."]
            texts += [f"Your friend {made.third} {thing}.", *(f"Begin by {one} {thing}." for one in made.ing)]
            texts += [f"Then {thing} is {past}." for past in made.past if past != verb]
    assert [text for text in texts if act_in(text, nouns) is None and refused_word(text) is None] == []
    assert len(texts) > 300


SKILLED = {
    "cut-installation", "earth-test", "earth-test-casing", "insulation-test", "insulation-wiring", "look-untouched",
    "prove-dead", "tie-leads", "try-series", "unlock",
}  # fmt: skip
"""Acts that are for an electrically skilled person whatever the machine: written down here by hand."""


@pytest.mark.parametrize("name", rows())
def test_no_role_can_be_lowered(name: str) -> None:
    """Whatever its author says, an act asks for as much skill as its row and its effect."""
    for way in rows()[name].ways:
        least = max(way.role or "anyone", EFFECTS[way.effect or ""].role, key=ROLES.index)
        lowered = least_role(EFFECTS[way.effect or ""], way.role, "anyone")
        assert ROLES.index(lowered) >= ROLES.index(least)
        assert name not in SKILLED or lowered == "electrically-skilled"


def test_what_may_be_left_out_is_just_this() -> None:
    """The table calls no other act free."""
    assert {name for name, row in rows().items() if row.free} == FREE
