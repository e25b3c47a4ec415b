"""A new variant from what somebody reported: a file that passes `check`, with everything else marked unknown.

Nothing is taken from the family in silence: a value that was measured on one variant says little about
another. What was not given is written as `unknown`, each with the measurement that would settle it; whoever is
sure that a value is the family's deletes the line.
"""

from __future__ import annotations

import types
import typing
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from guidegen.problems import CatalogueError, Code, Problem
from guidegen.trade import draft_based
from guidegen.trade.catalogue import Catalogue
from guidegen.trade.draft_lines import circuit, devices, first_of_family, protrusions, scalar, without_removals, written
from guidegen.trade.machine import Machine, MachineData, PidControl, ThermostatControl, machine_with
from guidegen.trade.paths import known_facts
from guidegen.workshop.base import ID, Loc
from guidegen.workshop.explain import validated
from guidegen.workshop.fact_table import FactTable
from guidegen.workshop.fields import Choice, Fact
from guidegen.workshop.nodes import Mapping as Mapped
from guidegen.workshop.nodes import Node, Scalar
from guidegen.workshop.own_facts import PLACE, named_nowhere, values_of
from guidegen.workshop.reader import read
from guidegen.workshop.requirements import comparisons

#: What must be given, and how the command asks for it.
ASKED = {
    "name": "Name of the variant",
    "years.from": "First year it was made",
    "mains.voltage": "Mains voltage, as 230 V~",
    "control.kind": "Control: pid or thermostat",
}
_OWN = ("name", "status", "summary", "years.from", "years.to", "invented", "control.kind", "based_on")
OF_THE_HEAD = ("family_name",)


@dataclass(frozen=True)
class Measurement:
    """What to find out next: the dotted name, what pages call it, how it is found out, and what needs it."""

    name: str
    title: str
    how: str
    needed_by: tuple[str, ...]


@dataclass(frozen=True)
class VariantDraft:
    """Files to write, by path from the workshop's root, and what to measure next, the most wanted first."""

    files: Mapping[str, str]
    next: tuple[Measurement, ...]


def draft(known: Catalogue | None, family: str, stem: str, given: Mapping[str, str]) -> VariantDraft:
    """Return the files of a new variant; raise `CatalogueError` where something given cannot be right.

    `given` maps dotted names of facts to what would stand in the YAML, as `boiler.mass: 520 g ± 10 g`.
    """
    path = f"machines/{family}/{stem}.yml"
    problems = list(_refused(known, family, stem, given))
    if problems:
        raise CatalogueError(problems)
    lines = [f"{name}: {scalar(given[name])}" for name in ("name",)]
    lines += [
        "status: reported",
        "evidence: assumed",
        f"summary: {scalar(given.get('summary', 'Reported, not yet seen.'))}",
    ]
    if known is not None and known.workshop.invented:
        lines.append("invented: true")
    base = _base(known, family, given)
    if base is not None:
        lines.append(f"based_on: {given['based_on']}")
    lines.append("years:")
    lines += [f"  {end}: {scalar(given[f'years.{end}'])}" for end in ("from", "to") if f"years.{end}" in given]
    if base is not None:
        facts = {name: text for name, text in given.items() if name not in (*_OWN, *OF_THE_HEAD)}
        lines += ["marks: []", *draft_based.body(facts, base)]
    else:
        lines += ["marks: []", *_body(given, _inherited(known, family), known)]
        _check(without_removals("\n".join(lines) + "\n"), path, known)
    text = "\n".join(lines) + "\n"
    files = {path: text}
    if known is None or family not in known.families:
        files[f"machines/{family}/family.yml"] = first_of_family(given.get("family_name", family.capitalize()))
    sure = draft_based.sure(base) if base is not None else {}
    return VariantDraft(files, _wanted(known, {**sure, **given}))


def _base(known: Catalogue | None, family: str, given: Mapping[str, str]) -> Machine | None:
    """Return the variant of the family that the new one is said to be based on."""
    return known.machines[f"{family}-{given['based_on']}"] if known is not None and "based_on" in given else None


def given_from(data: bytes, path: str) -> dict[str, str]:
    """Read what is known from the bytes of a YAML file: dotted names, or nested as in a variant's file.

    `boiler.mass: 520 g` and `boiler: {mass: 520 g}` mean the same.
    """
    found: dict[str, str] = {}
    problems: list[Problem] = []

    def flatten(node: Node, name: str) -> None:
        if isinstance(node, Mapped):
            for key, value in node.entries.items():
                flatten(value, f"{name}.{key}" if name else key)
        elif isinstance(node, Scalar):
            found[name] = node.text
        else:
            place, words = node.place, f"{name}: got a list, one value is wanted"
            code = Code.WRONG_TYPE
            problems.append(Problem(place.path, place.line, place.column, code, words, "write it into the new file"))

    flatten(read(data, path), "")
    if problems:
        raise CatalogueError(problems)
    return found


def _refused(known: Catalogue | None, family: str, stem: str, given: Mapping[str, str]) -> Iterator[Problem]:
    for name in (family, stem):
        if not ID.fullmatch(name):
            yield _problem(Code.BAD_ID, f'"{name[:60]}" is no id', "at most 40 small letters, digits and hyphens")
    if len(f"{family}-{stem}") > 40:
        yield _problem(Code.BAD_ID, f'"{family}-{stem}" is longer than 40 characters', "shorten it")
    if known is not None and f"{family}-{stem}" in known.machines:
        yield _problem(Code.DUPLICATE_ID, f"there is a variant {family}-{stem} already", "give it another name")
    for name in ASKED:
        if not given.get(name, "").strip():
            yield _problem(Code.MISSING_KEY, f"{name}: is missing", f"give {name}")
    if "based_on" in given:
        yield from _refused_base(known, family, given)
    names = {*_table(known), *_OWN, *OF_THE_HEAD}
    for name in given:
        if name not in names:
            yield _problem(Code.UNKNOWN_FACT, *named_nowhere(name, names))


def _refused_base(known: Catalogue | None, family: str, given: Mapping[str, str]) -> Iterator[Problem]:
    """A variant to begin from that is none of the family, or that has another control."""
    stem = given["based_on"]
    base = known.machines.get(f"{family}-{stem}") if known is not None else None
    if base is None:
        words = f'based_on: the family {family} has no variant "{stem[:60]}"'
        yield _problem(Code.BASE_MISSING, words, "name a variant of it by its file")
    elif given.get("control.kind", base.control.kind) != base.control.kind:
        words = f"based_on: {stem} has the control {base.control.kind}, this variant has {given['control.kind']}"
        yield _problem(Code.NO_CONTROL, words, "leave based_on out")


def _inherited(known: Catalogue | None, family: str) -> dict[str, list[str]]:
    """Return the ids of the list items that the family file would hand down."""
    found: dict[str, list[str]] = {"protrusions": [], "safety_devices": []}
    for machine in known.machines.values() if known is not None else ():
        if machine.family != family:
            continue
        lists: dict[str, list[str]] = {
            "protrusions": [one.id for one in machine.boiler.protrusions],
            "safety_devices": [one.id for one in machine.safety_devices],
        }
        for name, items in lists.items():
            loc: Loc = ("boiler", name) if name == "protrusions" else (name,)
            for index, item in enumerate(items):
                of_family = machine.places[(*loc, index, "id")].path.endswith("/family.yml")
                if of_family and item not in found[name]:
                    found[name].append(item)
    return found


def _table(known: Catalogue | None) -> FactTable:
    """Return every name that a machine of the workshop may state."""
    return known.table if known is not None else known_facts()


def _body(given: Mapping[str, str], inherited: Mapping[str, list[str]], known: Catalogue | None) -> Iterator[str]:
    """Yield the lines of everything behind the head of the file."""
    for name, info in MachineData.model_fields.items():
        if name == "control":
            model = PidControl if given["control.kind"] == "pid" else ThermostatControl
            yield "control:"
            yield f"  kind: {scalar(given['control.kind'])}"
            yield from _fields(model, "control.", "  ", given, inherited)
        elif name == "safety_devices":
            yield from devices(given, inherited[name])
        elif name == "inventory":
            yield from circuit()
        elif name == PLACE:
            yield from _own(given, known)
        elif _is_fact(info) or (_submodel(info) is not None and name != "years"):
            yield from _field(name, info, "", "", given, inherited)


def _own(given: Mapping[str, str], known: Catalogue | None) -> Iterator[str]:
    """Yield the lines of the workshop's own facts, where it has any."""
    if known is not None and known.facts is not None and known.facts.facts:
        yield f"{PLACE}:"
        for name in values_of(known.facts.facts).model_fields:
            yield from _line(f"{PLACE}.{name}", name, "  ", given, known.table)


def _fields(
    model: type[BaseModel], prefix: str, indent: str, given: Mapping[str, str], inherited: Mapping[str, list[str]]
) -> Iterator[str]:
    for name, info in model.model_fields.items():
        yield from _field(info.alias or name, info, prefix, indent, given, inherited)


def _field(
    name: str, info: FieldInfo, prefix: str, indent: str, given: Mapping[str, str], inherited: Mapping[str, list[str]]
) -> Iterator[str]:
    inner = _submodel(info)
    if inner is not None:
        yield f"{indent}{name}:"
        yield from _fields(inner, f"{prefix}{name}.", f"{indent}  ", given, inherited)
    elif _is_fact(info):
        yield from _line(f"{prefix}{name}", name, indent, given, known_facts())
    elif name == "protrusions":
        yield from protrusions(indent, given, inherited[name])


def _line(path: str, name: str, indent: str, given: Mapping[str, str], table: FactTable) -> Iterator[str]:
    """Yield what was given of a fact, or that it is unknown and how it is found out."""
    if path in given:
        yield f"{indent}{name}: {written(given[path])}"
    else:
        kind = table.get(path)
        spec = kind.spec if kind is not None else None
        how = f"  # {spec.settles}" if spec and spec.settles else ""
        yield f"{indent}{name}: unknown{how}"


def _wanted(known: Catalogue | None, given: Mapping[str, str]) -> tuple[Measurement, ...]:
    """Return what to measure next: first what decides whether a kit fits, then the rest in model order."""
    needed: dict[str, list[str]] = {}
    for kit in known.kits.values() if known is not None else ():
        for requirement in kit.requirements:
            for comparison in comparisons(requirement):
                users = needed.setdefault(comparison.fact or "", [])
                if kit.id not in users:
                    users.append(kit.id)
    other = "thermostat" if given["control.kind"] == "pid" else "pid"
    skipped = {"pid": ("setpoint", "kp", "ki", "kd"), "thermostat": ("opens", "closes", "lag")}[other]
    found = []
    for name, field in _table(known).items():
        beside = name.startswith("control.") and name.split(".")[1] in skipped
        if name in given or beside or field.spec is None or not field.spec.settles:
            continue
        found.append(Measurement(name, field.spec.title, field.spec.settles, tuple(needed.get(name, ()))))
    return tuple(sorted(found, key=lambda one: -len(one.needed_by)))


def _check(text: str, path: str, known: Catalogue | None) -> None:
    """Read the text as `check` would; a mistake is one of what was given, since the rest is ours."""
    problems: list[Problem] = []
    model = machine_with(known.facts.facts if known is not None and known.facts is not None else ())
    validated(model, read(text.encode(), path), problems)
    if problems:
        raise CatalogueError(problems)


def _submodel(info: FieldInfo) -> type[BaseModel] | None:
    annotation = info.annotation
    return annotation if isinstance(annotation, type) and issubclass(annotation, BaseModel) else None


def _is_fact(info: FieldInfo) -> bool:
    annotation: Any = info.annotation
    if typing.get_origin(annotation) in (types.UnionType, typing.Union):
        annotation = typing.get_args(annotation)[0]
    if typing.get_origin(annotation) is Annotated:
        annotation = typing.get_args(annotation)[0]
    return annotation in (Fact, Choice)


def _problem(code: Code, message: str, fix: str) -> Problem:
    return Problem("what was given", 1, 1, code, message, fix)
