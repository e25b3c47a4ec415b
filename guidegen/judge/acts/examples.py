"""An example of every act: how it is written in a procedure, on things that stand for their kind."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import Any

from guidegen.judge.acts.compiled import Compiled, compiled
from guidegen.judge.acts.effects import ActPlace
from guidegen.judge.acts.row import TableRow, rows
from guidegen.judge.acts.things import Thing, Things
from guidegen.workshop.acts import PlainAct, WrittenAct
from guidegen.workshop.around import Care, WrittenSign, as_step
from guidegen.workshop.rows import SLOTS

STANDS_FOR = {
    "bands": "clamp-bands", "bolt": "boiler-bolt", "boiler": "boiler", "bracket": "controller-bracket",
    "casing": "casing", "coil": "coil", "controller": "controller", "cover": "top-cover",
    "device": "limit-thermostat", "display": "display", "earth": "earth-screw", "face": "boiler-face",
    "faces": "sealing-faces", "fitting": "banjo-fitting", "gasket": "old-gasket", "heater": "heater",
    "hose": "feed-hose", "joint": "inlet-fitting", "lead": "heater-lead", "mains-terminals": "mains-terminals",
    "new-gasket": "new-gasket", "new-hose": "new-hose", "other-kit": "banjo-feed",
    "outlet": "steam-pipe", "part": "new-part", "place": "place",
    "port": "straight-inlet", "pump": "pump", "valve": "brew-valve",
    "protrusion": "drain-boss", "return": "relief-return", "screw": "casing-screw", "seat": "thermostat-seat",
    "sensor": "sensor",
    "spare-boiler": "exchange-boiler", "switch": "own-switch", "tank": "water-tank", "tap": "steam-tap",
    "terminals": "heater-tabs", "wall": "straight-wall",
}  # fmt: skip
"""A thing of each kind, by its id, which reads as its words do."""
ANY = {"of": "coil", "at": "pump", "to": "boiler"}
"""What stands in a slot that takes anything."""
EARLIER_STEP = "an-earlier-step"
AMOUNTS = {"time": "150 s", "turn": "1/2 turn ± 1/8 turn"}
LIMITS = {"acidity": "pH 6.5", "count": "2 attempts", "length": "10 mm", "pressure": "20 bar", "resistance": "0.2 Ω",
          "ratio": "5 %", "temperature": "35 °C", "time": "60 s"}  # fmt: skip
SAFER = {"insulation-test": "1 MΩ", "insulation-wiring": "2 MΩ", "insulation-heater": "1 MΩ"}
"""Of an act for whose bound the example of its dimension is laxer."""
LONGER = {"look-hot": "10 min", "prove-vessel": "10 min"}
TORQUE = {"is": "{boiler.bolts.torque}"}
TOLERANCE = " ± 2 °C"


@cache
def things() -> Things:
    """The things of all examples."""
    said = {name: (kind, "the " + name.replace("-", " ")) for kind, name in STANDS_FOR.items()}
    tools = {tool: "the " + tool.replace("-", " ") for row in rows().values() for way in row.ways for tool in way.tools}
    found = {name: Thing(name, "tool", say, say, (name,), listed="tools") for name, say in tools.items()}
    return Things(found | {
        name: Thing(name, kind, say, say.removeprefix("the "), (name,), f"thing.{name}", heats=kind == "lead")
        for name, (kind, say) in said.items()
    })  # fmt: skip


def written(name: str) -> dict[str, Any]:
    """The act as its keys, each with its value: those of a step, or of what stands where it may."""
    row = rows()[name]
    found: dict[str, Any] = {"id": name, "act": name}
    if row.place == "care":
        found = {"id": name, "occasion": "after-a-year", "act": name}
    elif row.place != "step":
        found = {"act" if row.place == "stop" else "is": name}
    for slot in SLOTS:
        kinds = row.kinds(slot)
        if kinds:
            found[slot] = ANY[slot] if "any" in kinds else STANDS_FOR[kinds[0]]
    if row.amount:
        found["amount"] = LONGER.get(name, AMOUNTS[row.amount])
    if row.torqued:
        found["torque"] = TORQUE
    return found | dict(_of_the_hold(name, row))


def _of_the_hold(name: str, row: TableRow) -> Iterator[tuple[str, str]]:
    hold = row.hold
    if hold is not None and hold.asks_limit:
        dimension = hold.at_most or hold.at_least or hold.within or ""
        limit = SAFER.get(name, LIMITS[dimension])
        yield "limit", limit + (TOLERANCE if hold.within else "")
    if hold is not None and hold.goto == "back":
        yield "back_to", EARLIER_STEP


def made(name: str) -> Compiled:
    """The steps that the example becomes: one for each way of the act."""
    return compiled(as_written(written(name), rows()[name].place), things())


def as_written(data: dict[str, Any], place: ActPlace) -> WrittenAct:
    """What stands at a place, as a step would have it."""
    if place == "step":
        return WrittenAct.model_validate(data)
    models: dict[ActPlace, type[PlainAct]] = {"care": Care, "stop": PlainAct}
    return as_step(models.get(place, WrittenSign).model_validate(data))
