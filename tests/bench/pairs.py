"""Pairs per second with all their draws, and what the dearest questions take of it: the pair is its own peer.

Each question is timed where it is called, in the same run; without it a pair would take as much less. One pair is under
PID control, one under a thermostat; once compiled, from nothing kept.
"""

from __future__ import annotations

import time
from collections import defaultdict
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

from guidegen.assess import DRAWS, inputs, numbers
from guidegen.assess.asking import question, served
from guidegen.heat import program
from tests.mutants.draft import catalogue

PAIRS = (("tamsin-mk2", "feed-preheater"), ("tamsin-mk1", "feed-preheater"))
QUESTIONS: dict[str, tuple[Any, str]] = {
    "drinks from rest, all of a relay's phases, followed": (program, "first"),
    "a second drink after each wait": (program, "again"),
    "when a drink is like that of a soaked machine": (program, "shot_ready"),
    "a session": (program, "session"),
    "the setpoint for the same cup": (numbers, "setpoint_for"),
}


def main() -> None:
    """Print pairs per second, and by which factor they would be more without each question."""
    for variant, kit in PAIRS:
        pair(variant, kit, 8)
        whole, spent = pair(variant, kit, DRAWS)
        print(f"{variant} with {kit}: {1 / whole:.2f} pairs per second with {DRAWS} draws")
        for name, seconds in spent.items():
            print(f"  × {whole / (whole - seconds):.2f} without: {name}")


def pair(variant: str, kit: str, draws: int) -> tuple[float, dict[str, float]]:
    """Seconds of one pair, and of each question in it."""
    known = catalogue()
    machine, one = known.machine(variant), known.kit(kit)
    began = time.perf_counter()
    asked = question(machine, one, [*inputs.of_machine(machine, known), *one.inputs()], served(known), draws)[0]
    with timed() as spent:
        numbers.compute(asked, numbers.Studies())
    return time.perf_counter() - began, spent


@contextmanager
def timed() -> Iterator[dict[str, float]]:
    """Seconds by question, while this lasts; a question within another is counted in the outer one alone."""
    spent: dict[str, float] = defaultdict(float)
    before = {name: getattr(*place) for name, place in QUESTIONS.items()}
    inside = [0]

    def watched(name: str, call: Callable[..., Any]) -> Callable[..., Any]:
        def wrapped(*given: Any, **named: Any) -> Any:
            began = time.perf_counter()
            inside[0] += 1
            try:
                return call(*given, **named)
            finally:
                inside[0] -= 1
                if not inside[0]:
                    spent[name] += time.perf_counter() - began

        return wrapped

    for name, (room, attribute) in QUESTIONS.items():
        setattr(room, attribute, watched(name, before[name]))
    try:
        yield spent
    finally:
        for name, (room, attribute) in QUESTIONS.items():
            setattr(room, attribute, before[name])
