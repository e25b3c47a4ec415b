"""The foot of a printed page: which machine, kit and edition it is of, and where the guide in force stands."""

from __future__ import annotations

import re

from guidegen.site.pages.printed import foot
from tests.fixtures.records import record


def content(style: str) -> str:
    """What the foot says, read as CSS Syntax Module Level 3, 4.3.5 and 4.3.7, reads a string and its escapes."""
    held = re.fullmatch(r'<style media="print">@page\{@bottom-left\{content:"([^"\n]*)";[^"]*\}\}</style>', style)
    assert held is not None
    return re.sub(r"\\([0-9a-f]{1,6}) ", lambda found: chr(int(found[1], 16)), held[1])


def test_the_foot_names_machine_kit_edition_and_the_short_address() -> None:
    """All four; without the scheme, as somebody types it."""
    one = record()
    said = content(foot(one, "https://example.org/guides/"))
    kit, revision, variant = one.kit.id, one.kit.revision, one.variant.id
    for part in (one.variant.name, one.kit.name, f"revision {revision}"):
        assert part in said
    assert said.endswith(f" · example.org/guides/k/{kit}-{revision}/{variant}/")
    assert "example.org" not in content(foot(one, ""))


def test_a_name_closes_neither_string_nor_element() -> None:
    """Quotes, backslashes, line ends and markup in a name are read back as they were."""
    name = 'A "b" \\ c </style> d'
    one = record()
    hostile = one.model_copy(update={"variant": one.variant.model_copy(update={"name": name})})
    style = foot(hostile, "")
    assert style.count("</style>") == 1
    assert content(style).startswith(f"{name} · ")
