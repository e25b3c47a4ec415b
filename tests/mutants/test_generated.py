"""Mutants made from the table of acts, not chosen: each act of a guide left out, exchanged, or given to anybody.

A mutant that the lint accepts is printed with its guide; none may be left. An act on which nothing depends says so in
the table (`free`), and a test below holds that list short.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from tests.mutants.draft import Draft, draft
from tests.mutants.table import CLEAN

FREE = {
    "lay-out",
    "write-serial",
    "write-record",
    "keep",
    "keep-whole",
    "as-found",
    "switch-off",
    "energise-use",
    "label",
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


def refused(one: Draft) -> bool:
    """Whether the lint refuses the guide."""
    return any(finding.blocks for finding in one.findings())


@pytest.mark.slow
@pytest.mark.parametrize("guide", CLEAN, ids="/".join)
def test_no_act_can_be_left_out(guide: tuple[str, str]) -> None:
    """Each act of the guide dropped, one at a time."""
    survivors = []
    clean = draft(*guide)
    for number, name, act in acts_of(clean):
        if act in FREE:
            continue
        one = draft(*guide)
        steps = list(lists_of_steps(one))[number]
        steps[:] = [entry for entry in steps if (entry.get("id"), entry.get("act")) != (name, act)]
        if steps and not refused(one):
            survivors.append(f"{name} ({act})")
    assert survivors == []
