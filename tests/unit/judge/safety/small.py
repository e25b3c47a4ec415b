"""The smallest guides that a rule can judge: a few steps, everything else harmless."""

from __future__ import annotations

from typing import Any

from guidegen.judge.acts.things import Things
from guidegen.judge.safety.facts import Facts
from guidegen.judge.safety.guide import Device, Drawback, Guide, KitSide, MachineSide, Paper
from guidegen.judge.safety.resolve import resolve
from guidegen.judge.safety.rules import RULES
from guidegen.workshop.base import Loc, Place, Places
from guidegen.workshop.downsides import EVERY_KIT
from guidegen.workshop.procedures import Hazards, Procedure, SharedBlocks

HELP = {"stop": "Do not go on.", "who_can_help": "a repair shop"}
OFF = {"id": "off", "do": "Pull the plug.", "sets": {"mains": "off"},
       "isolate": {"by": "plug", "control": "Keep it in sight.", "in_sight": True, "pins_clear": True}}  # fmt: skip
COOL = {"id": "cool", "do": "Measure the boiler.", "sets": {"temperature": "cool"}, "cooling": {"by": "measuring"},
        "uses": {"tools": ["contact-probe"]}, "hold": {"criterion": "Cool.", "on_fail": HELP, "accept": {
            "at_most": "40 °C", "instrument": "contact-probe", "evidence": "standard", "source": "s"}}}  # fmt: skip
OPEN = {"id": "open", "do": "Lift the cover off.", "sets": {"enclosure": "open"}}
CLOSE = {"id": "close", "do": "Put the cover back.", "sets": {"enclosure": "closed"}}
LIVE = {"id": "live", "do": "Plug the machine in.", "sets": {"mains": "live"}}
PUMP = {"id": "pump", "do": "Plug the machine in.", "sets": {"mains": "pump_only"}}
RELEASE = {"id": "release", "do": "Open the tap.", "sets": {"pressure": "released"},
           "release": {"by": "The tap is open.", "proof": "Nothing comes out."}}  # fmt: skip
DRAIN = {"id": "drain", "do": "Tilt the machine.", "sets": {"water": "drained"}}
DEVICES = (
    Device("fuse", "thermal fuse", "thermal-fuse", "protective", "10 A, 184 °C", None),
    Device("brew", "brew thermostat", "thermostat", "control", "16 A", None),
    Device("relief", "relief valve", "relief-valve", "protective", "12 bar", None),
)


def hold(**accept: Any) -> dict[str, Any]:
    """Return a complete hold point with this acceptance."""
    return {"criterion": "It passes.", "on_fail": HELP,
            "accept": {"evidence": "standard", "source": "s", **accept}}  # fmt: skip


def guide(*steps: dict[str, Any], phases: list[dict[str, Any]] | None = None, hazards: Any = None,
          shared: Any = None, machine: Any = None, kit: Any = None, facts: Any = None, paper: Any = None,
          things: Any = None, **top: Any) -> Guide:  # fmt: skip
    """Return a guide with one phase of these steps, or with these phases."""
    data = {"phases": phases or [{"id": "work", "name": "Work", "steps": list(steps)}], **top}
    resolved = resolve(
        document(Procedure, data, "p.yml"), document(SharedBlocks, shared or {"blocks": {}}, "shared.yml"),
        Facts({**(facts or {})}, things=things or Things()),
    )  # fmt: skip
    statements = document(Hazards, {"hazards": hazards or {}}, "hazards.yml")
    side: dict[str, Any] = {"id": "kit", "revision": "A", "tools": {}, "parts": {}, "consumables": {}}
    return Guide(
        resolved,
        statements,
        machine or MachineSide("m", "corded", DEVICES),
        KitSide(**{**side, **(kit or {})}),
        paper or Paper("next", "bench@example", "en"),
        {"kettle": "boiler"},
    )


def messages(rule: str, one: Guide) -> list[str]:
    """Return what one rule finds."""
    (check,) = [each.check for each in RULES if each.id == rule]
    return [found.message for found in check(one)]


def document(model: type[Any], data: Any, path: str) -> Any:
    """Return a document whose places follow the order of what is written."""
    made = model.model_validate(_prepared(data))
    table: dict[Loc, Place] = {}
    names: dict[Loc, Place] = {}

    def number(value: Any, loc: Loc) -> None:
        table[loc] = Place(path, len(table) + 1, 1)
        if isinstance(value, dict):
            for name, inner in value.items():
                names[(*loc, name)] = Place(path, len(table) + 1, 1)
                number(inner, (*loc, name))
        elif isinstance(value, list | tuple):
            for index, inner in enumerate(value):
                number(inner, (*loc, index))

    number(data, ())
    made._places = Places(table, names)
    return made


def _prepared(value: Any, key: str = "") -> Any:
    if isinstance(value, dict):
        whole = {name: _prepared(inner, name) for name, inner in value.items()}
        return {"minutes": 1, **whole} if "do" in whole and "id" in whole else whole
    if isinstance(value, list | tuple):
        return tuple(_prepared(inner) for inner in value)
    return value


def honest(*more: str) -> dict[str, Any]:
    """Return what a kit says of its downsides: those of every kit, and more."""
    return {"downsides": tuple(Drawback(about, "It is so.", "certain", "Nothing.") for about in (*EVERY_KIT, *more))}
