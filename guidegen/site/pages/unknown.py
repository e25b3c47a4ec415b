"""The forms for what is not known: of a figure that nobody may claim yet, of a cut that is not decided."""

from __future__ import annotations

from dataclasses import dataclass

from guidegen.language import gettext, marked, ngettext
from guidegen.record import Assessment
from guidegen.record.claims import claimed, is_laid_out, mostly_unknown, wanted
from guidegen.record.stated import Protrusion

NAMED = 4
"""So many measurements are named; more are work for an afternoon nobody has."""
UNKNOWN = "unknown"

SIZES = ("boiler.diameter", "boiler.straight_wall")
"""What has to be measured before a coil can be laid out."""

NOT_YET = marked("not known yet")
WHY_NOT = marked(
    "Most of what decides this has not been measured on this variant. Any number here would describe such machines "
    "in general, not yours."
)
NOT_LAID_OUT = marked(
    "How the coil would lie on this boiler is not known before the boiler is measured, and that decides what it does."
)


def not_yet() -> str:
    """What stands in the place of a figure that is not claimed."""
    return gettext(NOT_YET)


def why_not(record: Assessment, *places: str) -> str:
    """Why these figures are not claimed; empty where they are."""
    if claimed(record, *places):
        return ""
    return gettext(WHY_NOT if is_laid_out(record) or mostly_unknown(record) else NOT_LAID_OUT)


def settling(record: Assessment, *places: str) -> list[str]:
    """The measurements that would settle these figures first, each with what it is for."""
    sizes = [_measurement(one.title, one.settles) for one in record.missing if one.name in SIZES]
    inputs = [_measurement(one.name, one.settles) for one in wanted(record, *places)]
    return list(dict.fromkeys((*sizes, *inputs)))[:NAMED]


def _measurement(name: str, settles: str | None) -> str:
    return f"{name}: {settles}" if settles else name


def figure_not_claimed(record: Assessment, *places: str) -> list[str]:
    """The same as lines of a letter: that it is not known, why, and what would settle it."""
    words = gettext("Not known yet. {why}").format(why=why_not(record, *places))
    settles = settling(record, *places)
    if not settles:
        return [words]
    return [words, gettext("What would settle it first: {measurements}.").format(measurements="; ".join(settles))]


@dataclass(frozen=True)
class Cuts:
    """What is cut off this variant: how many things for certain, and those of which that is not known yet."""

    count: int
    undecided: tuple[Protrusion, ...]

    @property
    def words(self) -> str:
        """How many cuts, in a cell; empty where it is known that there is none."""
        if self.undecided:
            return gettext("not known on this variant")
        if not self.count:
            return ""
        return ngettext("one cut on this variant", "{count} cuts on this variant", self.count).format(count=self.count)


def cuts(record: Assessment) -> Cuts:
    """The cuts of a pair, as they were decided: nothing is cut before it is known where the coil goes."""
    undecided = tuple(one for one in record.protrusions if one.undecided or _looked_at_by_nobody(one))
    return Cuts(sum(one.action == "trim" for one in record.protrusions), undecided)


def _looked_at_by_nobody(one: Protrusion) -> bool:
    """The same of a record from before decisions had reasons."""
    return not one.reason and one.action == "cannot" and one.carries in (None, UNKNOWN)


def undone(record: Assessment) -> str:
    """Whether it can be undone, before the sentence that says how."""
    if not record.restore.possible:
        return gettext("It cannot be undone:")
    if cuts(record).undecided:
        return gettext("It can be undone, except for what may have to be cut, which is not known yet:")
    return gettext("It can be undone:")


def voltage(volts: float | None) -> str:
    """The mains voltage as a list of machines names it."""
    return gettext("voltage not known") if volts is None else f"{volts:.0f} V"


def withheld(record: Assessment) -> list[str]:
    """Why there is no instruction, as sentences of a letter; nothing where one is there or never will be."""
    if not record.withheld:
        return []
    facts = [f"{one.title} ({one.settles})" if one.settles else one.title for one in record.missing]
    return [record.withheld, *([f"{'; '.join(facts)}."] if facts else [])]
