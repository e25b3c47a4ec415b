"""`guidegen new procedure`: a complete fitting instruction for what a kit does, and what it needs of the kit's file.

A draft is two files of `drafts/`: the procedure, and what its acts take from the kit's lists and inventory. What the
kit has already stays as it is; what a draft cannot know, as the rating of a part, it adds as `unknown` and names, and
so it does on machines with what the work takes out of them.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from string import Template
from typing import Any

from guidegen import trade
from guidegen.commands.draft_files import COMMON, DRAFTS, LISTS, Data, data, drafts_of, needed_by, template
from guidegen.problems import CatalogueError, Code, Problem, RefusedProblem, nearest, one_of
from guidegen.trade.catalogue import Catalogue
from guidegen.trade.kit import Kit
from guidegen.workshop.editor import EditedFile
from guidegen.workshop.memory import Memory
from guidegen.workshop.nodes import to_data
from guidegen.workshop.plan import Plan
from guidegen.workshop.reader import bytes_of, read
from guidegen.workshop.requirements import comparisons
from guidegen.workshop.write_yaml import GIVEN, Value

ACTS, SOURCES = "content/acts.yml", "content/sources.yml"
ELEMENT = ("heater-element", "element-joint")
"""What the draft for another heating element names on the machine: the old one, and the joint that it sits in."""
UNWRITTEN = "has not been"
"""What a skeleton says of what nobody has described yet: a draft replaces it."""
UNKNOWN, ASSUMED = "unknown", "assumed by the draft"


def new_procedure(root: Path, name: str) -> str:
    """Write a kit's procedure and add to the kit what it takes; say what is still to be found out."""
    memory = Memory()
    known, before = trade.look(root, memory)
    if known is None or name not in known.kits:
        raise _no_kit(known, name, before)
    kit = known.kits[name]
    path = f"content/procedures/{kit.id}.yml"
    if kit.id in known.procedures:
        raise RefusedProblem(f"{path} is there already; nothing is ever written over")
    drafts = drafts_of(kit)
    needed = needed_by(drafts)
    _refuse_other_names(kit, needed)
    text = _procedure(known, kit, drafts)
    asked = dict(_asked_of_machines(known)) if "heater" in drafts else {}
    files = [EditedFile.new(path, text.encode()), _kit_with(root, kit, needed), *_acts_with(root, drafts[0])]
    files += [*_sources_with(root, known, text), *_machines_with(root, asked)]
    plan = Plan(tuple(files))
    _, after = trade.look(root, memory, plan.bytes_by_path)
    new = [one for one in after if one.severity == "error" and one not in before]
    if new:
        raise CatalogueError(new)
    plan.apply(root)
    return "\n".join(_told(plan, kit, asked))


def _no_kit(known: Catalogue | None, name: str, problems: list[Problem]) -> CatalogueError:
    """A kit that is not there, or cannot be read: a draft waits until it can."""
    errors = [one for one in problems if one.severity == "error"]
    if known is None or any(one.path == f"content/kits/{name}.yml" for one in errors):
        return CatalogueError(errors)
    near = nearest(name, known.kits)
    fix = f"write {near}" if near else f"write one of {one_of(known.kits)}, or begin it with `guidegen new kit`"
    return CatalogueError([Problem(GIVEN, 1, 1, Code.UNKNOWN_KEY, f'there is no kit "{name[:60]}"', fix)])


def _refuse_other_names(kit: Kit, needed: Data) -> None:
    """Shared blocks name a coil and its bands by id, so a kit that calls them otherwise is told before anything."""
    for name, thing in needed.get("inventory", {}).items():
        others = [one for one, its in kit.inventory.items() if its.kind == thing["kind"] and one != name]
        if thing["kind"] in ("coil", "bands", "controller", "heater") and others and name not in kit.inventory:
            place = kit.places[("inventory", others[0])]
            words = f"inventory.{others[0]}: the draft and the shared blocks call it {name}"
            raise CatalogueError(
                [Problem(place.path, place.line, place.column, Code.UNKNOWN_KEY, words, f"rename it to {name}")]
            )


# --- the procedure ---------------------------------------------------------------------------------------


def _procedure(known: Catalogue, kit: Kit, drafts: tuple[str, ...]) -> str:
    laid = [part.id for part in kit.parts if part.when is None]
    words = {
        "name": kit.name,
        "title": json.dumps(f"Fitting the {kit.name}", ensure_ascii=False),
        "applies": json.dumps(f"{{machine.name}} with the {kit.name}, revision {{kit.revision}}.", ensure_ascii=False),
        "rules": _rules(known),
        "first": laid[0],
    }
    if "on-boiler" in drafts:
        words |= _put_on(laid, "put-on", "try-on", "take-off", _place(kit))
    if "on-casing" in drafts:
        words |= _put_on(laid, "put-in", "try-in", "take-out", "casing")
    return Template(template(drafts)).substitute(words)


def _rules(known: Catalogue) -> str:
    """The key of the source that the workshop's own limits rest on."""
    values = known.shared.values.values() if known.shared else ()
    own = [one.source for one in values if one.evidence == "maker-document"]
    if not own or own[0] is None:
        words = "content/procedures/shared.yml: the blocks that every procedure uses are not there"
        raise RefusedProblem(f"{words}; `guidegen new workshop DIR` lays them down, copy them from there")
    return own[0]


def _place(kit: Kit) -> str:
    """Where parts go that change the flow of heat: the group for weights of the group alone, else the boiler."""
    places = [place for effect in kit.effects if (place := getattr(effect, "to", None))]
    return "group-head" if places and all(one == "group" for one in places) else "boiler"


def _put_on(parts: list[str], on: str, look: str, off: str, place: str) -> dict[str, str]:
    steps = [
        line
        for part in parts
        for line in (
            f"      - {{id: {part}-on, act: {on}, of: {part}, at: {place}}}",
            f"      - {{id: {part}-look, act: {look}, of: {part}, back_to: {part}-on}}",
        )
    ]
    back = [f"        - {{id: {part}-off, act: {off}, of: {part}, at: {place}}}" for part in reversed(parts)]
    return {"on": "\n".join(steps), "off": "\n".join(back)}


# --- what it takes of the kit ------------------------------------------------------------------------------


def _kit_with(root: Path, kit: Kit, needed: Data) -> EditedFile:
    """The kit's file with what the draft takes and the kit has not."""
    path = kit.places[("name",)].path
    file = EditedFile.of(path, bytes_of(root / path, path))
    for name in LISTS:
        items = list(_missing(kit, name, needed))
        if items and not getattr(kit, name):
            file = file.set((name,), items)
        else:
            for item in items:
                file = file.append((name,), item)
    for name, thing in needed.get("inventory", {}).items():
        if name not in kit.inventory:
            file = (
                file.add(("inventory",), name, thing)
                if file.has(("inventory",))
                else file.add((), "inventory", {name: thing})
            )
    written = {str(one.about) for one in kit.downsides if UNWRITTEN not in one.what}
    written |= {str(_about(wanted)) for wanted in _missing(kit, "downsides", needed)}
    for one in kit.downsides:
        if UNWRITTEN in one.what and one.about in written:
            file = file.remove(("downsides", one.id))
    if needed.get("parts") and UNWRITTEN in kit.parts[0].name:
        file = file.remove(("parts", kit.parts[0].id))
    if UNWRITTEN in kit.restore.how:
        file = file.set(("restore",), needed["restore"])
    return file


def _missing(kit: Kit, name: str, needed: Data) -> Iterator[Value]:
    """The items of one of the kit's lists that the draft takes, and that it has not."""
    wanted = list(needed[name])
    key = "part" if name == "wetted" else "id"
    there = {getattr(one, key) for one in getattr(kit, name)}
    if name == "downsides":
        about = {one["about"] for one in wanted}
        wanted += [one for one in data(COMMON)[name] if one["about"] not in about]
        spoken = {one.about for one in kit.downsides if UNWRITTEN not in one.what}
        wanted = [one for one in wanted if one["about"] not in spoken]
    if name == "requirements":
        asked = {leaf.fact for one in kit.requirements for leaf in comparisons(one)}
        wanted = [one for one in wanted if one.get("fact") not in asked]
    yield from (one for one in wanted if one[key] not in there)


def _about(downside: Value) -> Value:
    return downside["about"] if isinstance(downside, Mapping) else None


def _sources_with(root: Path, known: Catalogue, text: str) -> Iterator[EditedFile]:
    """The workshop's sources with those that the draft cites and that are not there yet."""
    there = known.sources.sources
    new = {name: one for name, one in data("sources.yml")["sources"].items() if name not in there and name in text}
    if new:
        file = EditedFile.of(SOURCES, bytes_of(root / SOURCES, SOURCES))
        for name, one in new.items():
            file = file.add(("sources",), name, one)
        yield file


def _acts_with(root: Path, draft: str) -> Iterator[EditedFile]:
    """The workshop's own acts with those of the draft, where it has any."""
    theirs = DRAFTS / f"{draft}.acts.yml"
    if not theirs.exists():
        return
    if not (root / ACTS).exists():
        yield EditedFile.new(ACTS, theirs.read_bytes())
        return
    file = EditedFile.of(ACTS, bytes_of(root / ACTS, ACTS))
    for name, act in data(theirs.name)["acts"].items():
        if not file.has(("acts", name)):
            file = file.add(("acts",), name, act)
    yield file


def _asked_of_machines(known: Catalogue) -> Iterator[tuple[str, tuple[str, ...]]]:
    """The families whose element may come out, each with what none of their machines names of it.

    What only some of them name, the others lack because somebody took it from them.
    """
    may = [one for one in known.machines.values() if not one.heater.kind.known or one.heater.kind.value == "sheath"]
    for family in dict.fromkeys(one.family for one in may):
        named = {name for one in known.machines.values() if one.family == family for name in one.inventory}
        if missing := tuple(name for name in ELEMENT if name not in named):
            yield f"machines/{family}/family.yml", missing


def _machines_with(root: Path, asked: Mapping[str, tuple[str, ...]]) -> Iterator[EditedFile]:
    """Their files with these things as unknown."""
    for path, names in asked.items():
        file = EditedFile.of(path, bytes_of(root / path, path))
        if not file.has(("inventory",)):
            file = file.add((), "inventory", {})
        for name in names:
            file = file.add(("inventory",), name, {"kind": UNKNOWN})
        yield file


# --- what is said of it --------------------------------------------------------------------------------------


def _told(plan: Plan, kit: Kit, asked: Mapping[str, tuple[str, ...]]) -> Iterator[str]:
    yield from (f"wrote {one.path}" for one in plan.changed)
    open_ = list(_unknown(next(one for one in plan.files if one.path.startswith("content/kits/"))))
    open_ += [f"{path}: inventory.{name}" for path, names in asked.items() for name in names]
    if open_:
        yield "to find out before a guide can be made, because nobody but you and the parts' makers can know it:"
        yield from (f"  {name}" for name in open_)
    yield "next: correct what is not so on your kit, above all the numbers under `values` and the downsides"
    yield f"then `guidegen read --confirm --role maker`, `guidegen check`, `guidegen check --states VARIANT {kit.id}`"


def _unknown(file: EditedFile) -> Iterator[str]:
    """The values of a file that are written as unknown or that a draft assumed, by name."""

    def below(value: Any, name: str) -> Iterator[str]:
        if isinstance(value, Mapping) and value.get("note") == ASSUMED:
            yield f"{file.path}: {name}, {ASSUMED}: {value['is']}"
        elif isinstance(value, Mapping):
            for key, one in value.items():
                yield from below(one, f"{name}.{key}" if name else key)
        elif isinstance(value, tuple):
            for one in value:
                item = one.get("id", one.get("part")) if isinstance(one, Mapping) else None
                yield from below(one, f"{name}.{item}" if item else name)
        elif value == UNKNOWN:
            yield f"{file.path}: {name}"

    yield from below(to_data(read(file.after, file.path))[0], "")
