"""The demonstration as published, and the order texts that its pages write."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from guidegen.editions import kept
from tests.fixtures.order_texts import written
from tests.mutants.draft import catalogue

REPOSITORY = Path(__file__).parents[4]
EDITION = "2025.3"
KNOWN = catalogue()
PAIRS = [(variant, kit) for variant in KNOWN.machines for kit in KNOWN.kits]
GUIDES = {(one["variant"]["id"], one["kit"]["id"]): one for one in kept.records(REPOSITORY, EDITION)}
PROJECTION = "water_path.inlet.projection"
ANSWERS = {"water_path.inlet.fitting": "straight", PROJECTION: "31 mm"}
LETTER = "Dear workshop,\n\n{}\nMany thanks, Jo Longlast of 1 Somewhere Lane\n"

Run = Callable[..., int]


def order(variant: str, kit: str, given: dict[str, str] | None = None, choice: int = 0, *, keys: bool = False) -> str:
    """The text that the page of the edition writes; where nothing is given, the first answer to every question."""
    return written(GUIDES[variant, kit]["self_check"], given or {}, choice, keys=keys)
