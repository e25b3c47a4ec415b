"""What two records say behind their steps: how failing sides end, after-care, the table of faults, when to stop.

What became acts is another form, whatever it says now; between two editions of acts every change counts.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from guidegen.editions.causes import FORM, Between, Causes, if_notifiable
from guidegen.editions.change import Change
from guidegen.editions.pairs import both, pairs
from guidegen.editions.snapshot import COURSES
from guidegen.language import gettext

Data = Mapping[str, Any]


def ending_changes(before: Data, after: Data, two: Between) -> Iterator[Change]:
    """What changed in two procedures behind their steps."""
    yield from _aftercare(before, after, two)
    yield from _stop_use(before, after, two)
    yield from _faults(before, after, two)
    yield from _ends(before, after, two)


def _became(old: Sequence[Data], new: Sequence[Data], mark: str) -> bool:
    """Whether none of the older entries is an act and some of the newer ones are."""
    return bool(old) and not any(one.get(mark) for one in old) and any(one.get(mark) for one in new)


def _aftercare(before: Data, after: Data, two: Between) -> Iterator[Change]:
    old, new = before["aftercare"], after["aftercare"]
    causes = FORM if _became(old, new, "act") else two.words("procedure.aftercare", "machine")
    for one, other in pairs(old, new):
        texts = both(one, other, _care)
        if texts[0] != texts[1]:
            yield Change("step", gettext("after-care"), *texts, place="install.html#aftercare", causes=causes)


def _care(one: Data) -> str:
    return ". ".join(filter(None, (one.get("occasion"), one["says"])))


def _stop_use(before: Data, after: Data, two: Between) -> Iterator[Change]:
    gone = [text for text in before["stop_use"] if text not in after["stop_use"]]
    come = [text for text in after["stop_use"] if text not in before["stop_use"]]
    became = bool(before["stop_use"]) and not before.get("stop_signs") and bool(after.get("stop_signs"))
    causes, name = (
        FORM if became else two.words("procedure.stop_use", "machine"),
        gettext("stop using the machine when"),
    )
    why = if_notifiable(gettext("when to stop using the machine changed"), causes)
    for text in gone:
        yield Change("statement", name, text, None, why, causes=causes)
    for text in come:
        yield Change("statement", name, None, text, why, "install.html#stop-use", causes)


def _faults(before: Data, after: Data, two: Between) -> Iterator[Change]:
    """Rows by their symptom; two editions from before they were acts are not compared."""
    old, new = before.get("faults", ()), after.get("faults", ())
    if not any(one.get("sign") for one in new):
        return
    became = _became(old, new, "sign")
    causes = FORM if became else two.words("procedure.faults", "machine")
    why = if_notifiable(gettext("what to do about a fault changed"), causes)
    for one, other in pairs(*(_named(side, "symptom" if became else "sign") for side in (old, new))):
        texts = both(one, other, lambda side: " ".join((side["cause"] + ".", side["check"], side["do"])))
        if texts[0] != texts[1]:
            name = (other or one)["symptom"]
            yield Change("statement", name, *texts, why if (other or one)["stop_use"] else None,
                         "install.html#faults", causes)  # fmt: skip


def _ends(before: Data, after: Data, two: Between) -> Iterator[Change]:
    """The ends of remedies of both editions; two editions from before these were acts are not compared."""
    for course in COURSES:
        old, new = ((side.get(course) or {}).get("remedies", ()) for side in (before, after))
        was, is_ = ([one for one in side if _stops(one)] for side in (old, new))
        if not any(one.get("ends") for one in is_):
            continue
        causes: Causes = FORM if _became(was, is_, "ends") else two.words("procedure.remedies", "shared")
        why = if_notifiable(gettext("how the work ends after a failed check changed"), causes)
        for one, other in pairs(was, is_):
            texts = both(one, other, lambda side: side["then"]["stop"])
            if one and other and texts[0] != texts[1]:
                yield Change("statement", other["name"], *texts, why, "install.html#remedies", causes)


def _stops(remedy: Data) -> bool:
    return bool(remedy.get("then") and remedy["then"].get("stop"))


def _named(rows: Sequence[Data], key: str) -> list[Data]:
    return [{**one, "id": one[key]} for one in rows]
