"""Mutants of texts: an act in another form of its verb, a word that no instruction needs, words that nobody read."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from tests.mutants.draft import Draft, read_everything
from tests.mutants.edits import Change, hazard, insert, phase, remedy, top, write
from tests.mutants.table import BANJO, BANJO_WIRED, EXCHANGE, LOOP, LOOP_WIRED, TRIM, WIRED, Mutant


def act(**texts: str) -> dict[str, Any]:
    """Return a harmless act with a text."""
    return {"id": "more", "act": "empty-tank", "of": ("tank",), **texts}


def aftercare(**texts: str) -> Change:
    """Write one more act of after-care with a text."""
    one = {"id": "more", "occasion": "always", "act": "look-beneath", **texts}
    return lambda draft: draft.procedure["aftercare"].append(one)


def fault(**texts: str) -> Change:
    """Write a text into the last row of the fault table."""
    do = ({"act": "ask-workshop", **texts},)
    return lambda draft: draft.procedure["faults"][-1].update(do=do)


def value(name: str, text: str) -> Change:
    """Write a stated value of the procedure in other words."""
    return lambda draft: draft.procedure["values"][name].update({"is": text})


def unread(change: Callable[[Draft], None]) -> Change:
    """Make a change after everything was read."""

    def changed(draft: Draft) -> None:
        read_everything(draft)
        change(draft)

    return changed


ROWS = (
    Mutant("TXT01", "an act in the passive", TRIM,
           insert("cool/", "empty-tank", act(why="The cover is lifted off before the plug is out."))),
    Mutant("TXT01", "an act with a modal", EXCHANGE,
           insert("cool/", "empty-tank", act(how="Meanwhile you may pull the fuse."))),
    Mutant("TXT01", "an act as a participle", WIRED,
           insert("cool/", "empty-tank", act(how="Having undone the valve, the water runs faster."))),
    Mutant("TXT01", "leads joined", LOOP,
           insert("prepare/", "serial", act(how="With the leads joined it goes faster."))),
    Mutant("TXT01", "bridge it and try again", TRIM,
           insert("cool/", "empty-tank", act(why="Somebody can bridge it and try again."))),
    Mutant("TXT01", "an act in the reason of a compiled step", BANJO,
           write("exchange/", "keep", "why", "So the earth lead can be pulled off the boiler.")),
    Mutant("TXT01", "a device bridged in the sentence itself", EXCHANGE,
           write("put-boiler-back", "device-on", "do", "Bridge the {item.name} with a short lead.")),
    Mutant("TXT01", "a device bypassed in a method", LOOP,
           write("fit/", "series", "hold.method", "Bypass one protective device after the other.")),
    Mutant("TXT01", "a safe stop that bridges", BANJO_WIRED, phase("exchange", "stop.say", "Bridge the thermostat.")),
    Mutant("TXT01", "a stop that resets and goes on", LOOP_WIRED,
           remedy("make-safe", "then.stop", ("no-power", {"act": "hang-sign", "how": "Reset it and go on."}))),
    Mutant("TXT01", "after-care that opens the machine", BANJO, aftercare(how="Open the casing once a year.")),
    Mutant("TXT01", "a fault table that opens the machine", TRIM, fault(how="Open the cover and look.")),
    Mutant("TXT01", "a stronger fuse", LOOP, fault(why="A stronger fuse would hold.")),
    Mutant("TXT01", "a hazard that is bypassed", WIRED,
           hazard("dry-heating", "designed_out", "A bypassed thermostat would do.")),
    Mutant("TXT01", "an act in the words of a number", EXCHANGE,
           value("compression_turn", "half a turn while somebody pulls the earth lead off"), ("ACT02",)),
    Mutant("TXT02", "a new reason", TRIM, unread(insert("cool/", "empty-tank", act(why="A full tank is heavy.")))),
    Mutant("TXT02", "another word in a stop", BANJO, unread(phase("exchange", "stop.say", "Stop here for today."))),
    Mutant("TXT02", "another word in a hazard", LOOP, unread(hazard("hot-metal", "consequence", "It burns."))),
    Mutant("TXT02", "another word of what to do", WIRED, unread(fault(why="It is quicker."))),
    Mutant("TXT02", "another word of after-care", TRIM, unread(aftercare(why="It is quicker."))),
    Mutant("TXT02", "another title", LOOP_WIRED, unread(top("title", "Another title"))),
)  # fmt: skip
