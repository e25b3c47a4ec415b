"""The part of a catalogue that can be judged although something is wrong, so that one run says all there is to say."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from pathlib import PurePosixPath
from types import MappingProxyType

from guidegen.problems import Code, Problem
from guidegen.trade.catalogue import Catalogue

HARMLESS = frozenset(
    {
        Code.UNKNOWN_SOURCE, Code.EVIDENCE, Code.UNUSED_THING, Code.THREADS, Code.DOWNSIDES, Code.WRITTEN_TWICE,
        Code.PICTURE_UNREADABLE, Code.PICTURE_TOO_LARGE, Code.PICTURE_SHOWS, Code.NOT_MONEY, Code.CURRENCY,
        Code.NO_TERMS, Code.OFFER_DAYS, Code.LOG,
    }
)  # fmt: skip
"""Mistakes that no verdict and no step hangs on: beside them everything else can be judged."""
KITS, PROCEDURES = PurePosixPath("content/kits"), PurePosixPath("content/procedures")
SHARED = "shared"


def sound_part(known: Catalogue | None, problems: Iterable[Problem]) -> Catalogue | None:
    """The machines and kits in whose files nothing is wrong that their guides hang on; None where there are none.

    What every guide stands on must be sound. A kit that another one may take for a remedy takes that one with it.
    """
    wrong = {PurePosixPath(one.path) for one in problems if one.severity == "error" and one.code not in HARMLESS}
    families = {path.parts[1] for path in wrong if path.parts[0] == "machines" and len(path.parts) > 2}
    out = {path.stem for path in wrong if path.parent in (KITS, PROCEDURES)}
    frame = [path for path in wrong if path.parts[0] != "machines" and path.parent not in (KITS, PROCEDURES)]
    if known is None or known.shared is None or known.hazards is None or frame or SHARED in out:
        return None
    while more := {
        kit.id
        for kit in known.kits.values()
        if kit.id not in out and any(way.kit in out for one in kit.requirements for way in one.unmet)
    }:
        out |= more
    machines = {name: one for name, one in known.machines.items() if one.family not in families}
    kits = {name: one for name, one in known.kits.items() if name not in out}
    if not (machines and kits):
        return None
    return replace(known, machines=MappingProxyType(machines), kits=MappingProxyType(kits))
