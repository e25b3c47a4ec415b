"""What happens between two editions, done to records: somebody corrects or rewords, or another program runs."""

from __future__ import annotations

import copy
import hashlib
from collections.abc import Iterator

from guidegen.editions.snapshot import steps_of
from tests.unit.editions.small import Data

GUIDE = "tamsin-mk2/feed-preheater"


def digest(*parts: object) -> str:
    """A short hash, as records keep them."""
    return hashlib.sha256(repr(parts).encode()).hexdigest()[:12]


def stamped(records: list[Data], program: str) -> list[Data]:
    """The same as today's program writes them: with what they were made by and from."""
    found = copy.deepcopy(records)
    for one in found:
        parts = ("machine", "kit", "drinks", "tariff", "room", "feed", "usage", "shared")
        one["origin"] = {"program": program, "made_from": {name: digest(name) for name in parts}}
        if one["procedure"]:
            names = ("preliminary", "aftercare", "faults", "stop_use", "phases", "remedies", "restore")
            one["procedure"]["authored"] = {name: digest(name) for name in names}
            for each in steps_of(one):
                values = [number["text"] for number in each["numbers"] if number["evidence"] != "calculated"]
                each["authored"] = {"source": digest(each["key"]), "filled": digest(values)}
            for holder in (one["procedure"], *steps_of(one)):
                for hazard in holder["hazards"]:
                    hazard["authored"] = digest(hazard["id"])
    return found


def reword(records: list[Data]) -> None:
    """The program words every sentence of every step and statement anew."""
    for one in records:
        for each in steps_of(one):
            each["do"] = f"Now {each['do'][0].lower()}{each['do'][1:]}"
        for holder in (one["procedure"], *steps_of(one)) if one["procedure"] else ():
            for hazard in holder["hazards"]:
                hazard["consequence"] = f"Beware: {hazard['consequence']}"


def figures(part: object) -> Iterator[Data]:
    """Every figure below a part."""
    if isinstance(part, dict):
        if part.keys() == {"value", "low", "high", "reason"}:
            yield part
        for child in part.values():
            yield from figures(child)
    elif isinstance(part, list | tuple):
        for child in part:
            yield from figures(child)


def solve(records: list[Data]) -> None:
    """A new solver moves every figure by a hundredth."""
    for one in records:
        for figure in figures({key: value for key, value in one.items() if key not in ("procedure", "self_check")}):
            for name in ("value", "low", "high"):
                if figure[name] is not None:
                    figure[name] *= 1.01


def of(records: list[Data]) -> Data:
    """The one guide that somebody edits."""
    return next(one for one in records if f"{one['variant']['id']}/{one['kit']['id']}" == GUIDE)


def correct_torque(records: list[Data]) -> None:
    """Somebody corrects a torque in the machine's data."""
    of(records)["torques"][0]["nominal_n_m"] -= 1
    if of(records)["origin"]:
        of(records)["origin"]["made_from"]["machine"] = digest("another")


def edit_sentence(records: list[Data]) -> str:
    """An author writes a hot step anew; returns its key."""
    for each in steps_of(of(records)):
        if any(hazard.get("kind") == "heat" for hazard in each["hazards"]):
            each["do"] = "Do this with both hands and no haste."
            if each.get("authored"):
                each["authored"]["source"] = digest("another sentence")
            return str(each["key"])
    raise AssertionError("no hot step")
