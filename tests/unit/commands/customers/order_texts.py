"""The demonstration as published, and the order texts that its pages write."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from guidegen import trade
from guidegen.editions import kept
from guidegen.judge.fit.answers import read_answer
from guidegen.judge.fit.order import write
from guidegen.judge.fit.walk import walk

REPOSITORY = Path(__file__).parents[4]
EDITION = "2025.3"
KNOWN = trade.load(REPOSITORY)
PAIRS = [(variant, kit) for variant in KNOWN.machines for kit in KNOWN.kits]
GUIDES = {(one["variant"]["id"], one["kit"]["id"]): one for one in kept.records(REPOSITORY, EDITION)}
ANSWERS = {"water_path.inlet.fitting": "straight", "water_path.inlet.projection": "31 mm"}
LETTER = "Dear workshop,\n\n{}\nMany thanks, Jo Longlast of 1 Somewhere Lane\n"

Run = Callable[..., int]


def order(variant: str, kit: str, given: dict[str, str] | None = None, choice: int = 0) -> str:
    """The text that the page of the edition writes; where nothing is given, the first answer to every question."""
    return written(GUIDES[variant, kit]["self_check"], given or {}, choice)


def written(payload: Any, given: dict[str, str], choice: int = 0) -> str:
    """The text that the page of these rules writes."""
    facts = {fact["fact"]: fact for fact in payload["rules"]["facts"]}
    answers = {name: read_answer(facts[name], text) for name, text in given.items()}
    while (name := walk(payload["rules"], answers)["ask"]) is not None:
        takes = facts[name]["choices"] or ("31 mm",)
        answers[name] = read_answer(facts[name], next(iter(takes)))
    return write(payload, answers, choice)
