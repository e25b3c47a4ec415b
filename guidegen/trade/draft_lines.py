"""The lines of a drafted variant that are more than name and value: lists, and facts with whoever reported them."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from pathlib import Path

from guidegen.trade.circuit import CIRCUIT

FAMILY = Path(__file__).parents[1] / "starter" / "machines" / "first-family" / "family.yml"
"""The starter's family; a new one begins as the same text under its own name."""
_CARRIES = {"no": "nothing", "yes": "last-protection  # wires were seen; which device it is, somebody has to look"}
_PLAIN = re.compile(r"[A-Za-z0-9][\w ./()·°±%~⎓+²–-]*")
_RESERVED = re.compile(r"null|true|false|yes|no|on|off|.*[ ]#.*|.*:\s.*|.*\s|[+-]?[0-9.]+", re.IGNORECASE)


class Reported(str):
    """A fact as somebody reported it: its text, and the note that says so, beside `evidence: assumed`."""

    __slots__ = ("note",)
    note: str

    def __new__(cls, text: str, note: str) -> Reported:
        """Make the text and keep the note."""
        made = super().__new__(cls, text)
        made.note = note
        return made


def without_removals(text: str) -> str:
    """Return a draft as it reads once what it removes from its family is gone."""
    kept = re.sub(r"\n +- [a-z0-9-]+: null", "", text)
    return re.sub(r"(protrusions:)(?=\n)(?!\n +-)", r"\1 []", kept)


def protrusions(indent: str, given: Mapping[str, str], inherited: list[str]) -> Iterator[str]:
    """Yield what stands out of the wall: nothing, or one thing of which only what was given is known.

    What carries a device is taken to carry the one that protects: that is never cut.
    """
    out, device = given.get("protrusions.stand_out"), given.get("protrusions.carry_device")
    smooth = out is not None and re.fullmatch(r"0+(\.0+)? ?[a-z]+( ?±.*)?", out) is not None and device != "yes"
    yield f"{indent}protrusions:{' []' if smooth and not inherited else ''}"
    yield from (f"{indent}  - {one}: null" for one in inherited)
    if smooth:
        return
    name = "whatever stands out of the wall; nobody has looked yet"
    yield f"{indent}  - id: {'reported' if out or device else 'not-looked-at'}"
    yield f"{indent}    name: {'the highest thing on the wall, as reported' if out or device else name}"
    yield f"{indent}    kind: unknown"
    yield f"{indent}    band: {{from: unknown, to: unknown}}"
    yield f"{indent}    stands_out: {written(out) if out is not None else 'unknown'}"
    yield f"{indent}    width: unknown"
    yield f"{indent}    carries: {_CARRIES.get(device, scalar(device)) if device is not None else 'unknown'}"
    yield f"{indent}    metal_left: unknown"
    yield f"{indent}    function: unknown"


def devices(given: Mapping[str, str], inherited: list[str]) -> Iterator[str]:
    """Yield the safety devices that every machine must have, with everything about them unknown."""
    yield "safety_devices:"
    yield from (f"  - {one}: null" for one in inherited)
    if given["control.kind"] == "thermostat":
        yield "  - {id: brew-thermostat, name: brew thermostat, kind: thermostat, class: control,"
        yield "     rating: unknown, seat: unknown}"
    yield "  - {id: last-protection, name: what cuts off last; nobody has looked yet, kind: thermal-fuse,"
    yield "     class: protective, rating: unknown, seat: unknown}"


def first_of_family(name: str) -> str:
    """The file of a new family: its name, and what such machines have that an instruction may speak of."""
    text = FAMILY.read_text(encoding="utf-8")
    return text.replace("name: First Family", f"name: {scalar(name)}", 1)


def circuit() -> Iterator[str]:
    """Yield that nobody has followed the heater's circuit yet: that of the family has other devices in it."""
    yield "inventory:"
    yield f"  {CIRCUIT}: {{kind: unknown}}"


def written(text: str) -> str:
    """Return a fact as YAML; with its note where somebody reported it."""
    if not isinstance(text, Reported):
        return scalar(text)
    return f"{{is: {scalar(text)}, evidence: assumed, note: {scalar(text.note)}}}"


def scalar(text: str) -> str:
    """Return a text as a YAML scalar, in quotes where it could be read as something else."""
    line = text.strip()
    numeric = re.fullmatch(r"[0-9]{1,9}(\.[0-9]{1,9})?", line)
    if numeric or (_PLAIN.fullmatch(line) and not _RESERVED.fullmatch(line)):
        return line
    return json.dumps(line, ensure_ascii=False)
