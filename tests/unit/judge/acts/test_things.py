"""Things named together where all of a group are there."""

from __future__ import annotations

import pytest

from guidegen.judge.acts.things import Thing, Things

ENDS, PAIR = ("left", "right"), Thing("ends", "joint", "both ends of the hose", "ends", ("left", "right"))
THINGS = Things({**{name: Thing(name, "joint", f"the {name} end", name, (name,)) for name in (*ENDS, "top")},
                 "ends": PAIR})  # fmt: skip


@pytest.mark.parametrize(
    ("names", "wanted"),
    [
        (("left", "top", "right"), "both ends of the hose and the top end"),
        (("top", "right", "left"), "the top end and both ends of the hose"),
        (("top", "right"), "the top end and the right end"),
        (("top",), "the top end"),
        ((), ""),
    ],
)
def test_a_group_stands_for_its_members_where_all_are_there(names: tuple[str, ...], wanted: str) -> None:
    """At the place of the first of them; with one of them missing each is named."""
    assert THINGS.listed(THINGS.gathered(names)) == wanted
