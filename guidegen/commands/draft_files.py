"""The files of `drafts/`: which of them lay down what a kit does, and what they say for a kit that does several things.

`inside.yml` is every instruction for work at coil, element and control in one, in the order in which it is done. A tag
at the end of a line says for which drafts the line is, and what is indented under it: `#: coil heater` where the kit
has one of them, `with` asks for one of those that follow as well, `without` for none of them.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any, cast

from guidegen.problems import RefusedProblem
from guidegen.trade.kit import Kit
from guidegen.workshop.nodes import to_data
from guidegen.workshop.reader import read_file

DRAFTS = Path(__file__).parent / "drafts"
INSIDE = ("coil", "heater", "control")
"""Drafts that stand together in `inside.yml`, in the order in which their work is fitted."""
PUT_ON = ("on-boiler", "on-casing")
"""Drafts for parts that are put on somewhere; of two that of the boiler, which asks for more."""
LISTS = ("parts", "tools", "consumables", "wetted", "requirements", "downsides")
COMMON = "common.kit.yml"
Data = Mapping[str, Any]
_TAG = re.compile(r"\s*#: ([a-z -]+)$")


def drafts_of(kit: Kit) -> tuple[str, ...]:
    """The drafts for what a kit does: those of the work inside together, or the one for parts that are put on."""
    drafts = {effect.draft for effect in kit.effects}
    if inside := tuple(one for one in INSIDE if one in drafts):
        return inside
    if kit.wetted:
        words = f"{kit.id} has parts that touch the water, and no draft knows which joints they make"
        raise RefusedProblem(f"{words}; write its steps by hand: `guidegen check --acts` lists the acts")
    return (min(drafts),)


@cache
def data(name: str) -> Data:
    """What a file of `drafts/` holds."""
    return cast(Data, to_data(read_file(DRAFTS / name, name))[0])


def template(drafts: tuple[str, ...]) -> str:
    """The procedure of these drafts, with the names in it that are still to be filled."""
    name = "inside" if drafts[0] in INSIDE else drafts[0]
    return chosen((DRAFTS / f"{name}.yml").read_text(encoding="utf-8"), drafts)


def chosen(text: str, drafts: Iterable[str]) -> str:
    r"""The lines of a text that are for some drafts, without their tags.

    >>> chosen("a:  #: coil\n  b: 1\nc: 2  #: heater with coil\nd: 3  #: without coil\n", ["coil"])
    'a:\n  b: 1\n'
    """
    there = frozenset(drafts)
    kept: list[str] = []
    skipped: int | None = None
    for line in text.splitlines():
        indent = len(line) - len(line.lstrip())
        if not line or (skipped is not None and indent > skipped):
            kept += [""] if not line and kept[-1:] != [""] else []
            continue
        tag = _TAG.search(line)
        skipped = indent if tag and not _is_for(tag[1], there) else None
        if skipped is None:
            kept.append(_TAG.sub("", line))
    return "\n".join(kept) + "\n"


def _is_for(tag: str, there: frozenset[str]) -> bool:
    """Whether a tag speaks of these drafts."""
    rest, _, none = tag.partition("without")
    some, _, also = rest.partition("with")
    groups = [there & {*names.split()} for names in (some, also) if names.strip()]
    return all(groups) and not there & {*none.split()}


def needed_by(drafts: tuple[str, ...]) -> Data:
    """What the acts of these drafts take of the kit, each thing once; what restores it, the last work first."""
    files = [data(f"{one}.kit.yml") for one in drafts]
    how = " ".join(one["restore"]["how"] for one in reversed(files))
    things = {name: thing for one in files for name, thing in one.get("inventory", {}).items()}
    lists: dict[str, Any] = {name: tuple(_joined(name, drafts, files)) for name in LISTS}
    return {**lists, "inventory": things, "restore": {**files[0]["restore"], "how": how}}


def _joined(name: str, drafts: tuple[str, ...], files: list[Data]) -> Iterator[Data]:
    """The items of one list; what a draft says of its own stands before the common words for the same."""
    common = {one["id"]: one for one in data(COMMON).get(name, ())}
    every = [(draft, one) for draft, file in zip(drafts, files, strict=True) for one in file.get(name, ())]
    if name == "downsides":
        yield from _downsides(every)
        return
    key = "part" if name == "wetted" else "id"
    own = {one[key]: one for _, one in every if not isinstance(one, str)}
    names = dict.fromkeys(one if isinstance(one, str) else one[key] for _, one in every)
    yield from (own.get(one, common.get(one)) for one in names)  # type: ignore[misc]


def _downsides(every: list[tuple[str, Data]]) -> Iterator[Data]:
    """What each draft says; that there is none of a kind only where no other says otherwise."""
    spoken = {one["about"] for _, one in every if one["likely"] != "none"}
    seen: list[Data] = []
    for draft, one in every:
        silent = one["likely"] == "none" and (one["about"] in spoken or one["about"] in {at["about"] for at in seen})
        if silent or any({**at, "id": one["id"]} == {**one} for at in seen):
            continue
        taken = one["id"] in {at["id"] for at in seen}
        seen.append({**one, "id": f"{one['id']}-{draft}"} if taken else one)
    yield from seen
