"""The sentence of every decision on a cut, in the workshop's language: made here and nowhere else."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from guidegen.language import gettext, marked
from guidegen.trade.cutting import Decision, Why

SENTENCES: Mapping[Why, str] = MappingProxyType({
    Why.NO_COIL: marked("The kit puts nothing round the wall."),
    Why.ELSEWHERE: marked("It is not where the coil goes."),
    Why.FLUSH: marked("It sticks out so little that the coil lies over it."),
    Why.IN_THE_WAY: marked("Trimmed until the ring gauge passes; at least {metal} of metal remains."),
    Why.PLACE_OPEN: marked("It has not been measured well enough to tell whether the coil meets it. It is not cut."),
    Why.HEIGHT_OPEN: marked("How far it sticks out is not known, or not well enough. It is not cut until it is."),
    Why.CARRIES: marked("It carries {device}. It is not cut."),
    Why.CARRIES_OPEN: marked("Nobody has looked at what it carries. It is not cut until that is known."),
    Why.KIND: marked("A stud holds something in place. It is not cut."),
    Why.KIND_OPEN: marked("Nobody knows what it is. It is not cut until that is known."),
    Why.ASSUMED: marked("Its size is assumed. It is not cut until it has been measured."),
    Why.METAL_OPEN: marked("Nobody has measured how much metal must remain. It is not cut until somebody has."),
    Why.PRESSURE_OPEN: marked(
        "How much metal the pressure needs cannot be computed: relief pressure, metal, diameter or the hottest "
        "temperature of the boiler is not known. It is not cut until they are."
    ),
    Why.WALL_OPEN: marked(
        "At least {metal} of metal must remain, and nobody has measured whether the wall has it. It is not cut."
    ),
    Why.TOO_THIN: marked("At least {metal} of metal must remain, more than the wall has. It is not cut."),
    Why.NOT_ALONE: marked("It could be trimmed, but something else in the coil's way is not cut. So it stays too."),
    Why.EXCHANGED: marked("It stays as it is: the exchange boiler takes the place of this one."),
    Why.NOT_FITTED: marked(
        "It is in the way. Nothing is cut as long as the kit does not fit, or nobody can tell whether it does."
    ),
})  # fmt: skip


def sentence(decision: Decision) -> str:
    """Why it is left, trimmed, or not cut."""
    words = {"metal": decision.keeps_text, "device": decision.protrusion.carries.text}
    return gettext(SENTENCES[decision.why]).format(**words)
