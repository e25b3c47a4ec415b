"""Every field of every kind of file by its dotted name, read off the models."""

from __future__ import annotations

import datetime
import types
import typing
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Annotated, Any, Literal

from pydantic import BaseModel, StringConstraints, Tag
from pydantic.fields import FieldInfo

from guidegen.trade.schema import KINDS
from guidegen.unit_table import NAMES, UNITS
from guidegen.workshop.facts import Choice, Fact, Spec
from guidegen.workshop.fields import Choices, Dimension
from guidegen.workshop.money import Money

MACHINE = "machine"
"""The kind whose fields have names without their kind: requirements and commands know them so."""
SCALARS: dict[Any, str] = {
    bool: "true or false", int: "a whole number", float: "a number", str: "text", datetime.date: "a day",
    Money: "an amount of money",
}  # fmt: skip


@dataclass(frozen=True)
class WalkedField:
    """A field: its dotted name, the model and the key that it is, its type, and what is known of it beforehand."""

    name: str
    model: str
    key: str
    annotation: Any
    required: bool
    spec: Spec | None
    dimension: str | None
    words: tuple[str, ...]
    same_as: str | None = None
    """The name under which stands what is below it, where that was said before."""

    @property
    def written(self) -> str:
        """What stands there, in words."""
        if self.dimension is not None:
            units = ", ".join(unit for unit in UNITS[self.dimension] if unit)
            return f"{NAMES[self.dimension]}, in {units}" if units else NAMES[self.dimension]
        if self.words:
            return f"one of {', '.join(self.words)}"
        return _in_words(self.annotation)


def walk(kind: str) -> Iterator[WalkedField]:
    """The fields of one kind of file, in the order of its model; what comes again further below stands once."""
    yield from _of_model(KINDS[kind][0], "" if kind == MACHINE else f"{kind}.", {})


def walk_model(model: type[BaseModel], place: str) -> Iterator[WalkedField]:
    """The fields of a model that stands at a place of a kind of file."""
    yield from _of_model(model, f"{place}.", {})


def _of_model(model: type[BaseModel], prefix: str, seen: dict[type[BaseModel], str]) -> Iterator[WalkedField]:
    seen[model] = prefix.rstrip(".")
    for name, info in model.model_fields.items():
        key = info.alias or name
        inner = list(_models(info.annotation))
        before = next((seen[one] for _, one in inner if one in seen), None)
        yield replace(_field(model, f"{prefix}{key}", key, info), same_as=before)
        for tag, one in inner:
            if one not in seen:
                yield from _of_model(one, f"{prefix}{key}.{tag}", seen)


def _field(model: type[BaseModel], name: str, key: str, info: FieldInfo) -> WalkedField:
    marks = [*info.metadata, *_marks(info.annotation)]
    return WalkedField(
        name=name,
        model=model.__name__,
        key=key,
        annotation=info.annotation,
        required=info.is_required(),
        spec=next((one for one in marks if isinstance(one, Spec)), None),
        # Of a field that takes any quantity the unit says the dimension, not the model.
        dimension=next((one.dimension for one in marks if isinstance(one, Dimension)), "") or None,
        words=next((one.words for one in marks if isinstance(one, Choices) and one.words), ()),
    )


def _marks(annotation: Any) -> Iterator[Any]:
    """What is annotated on a fact that may be left out, which stands inside a union."""
    if typing.get_origin(annotation) is Annotated:
        inner, *marks = typing.get_args(annotation)
        if inner in (Fact, Choice) or typing.get_origin(inner) is Annotated:
            yield from (*marks, *_marks(inner))
    elif typing.get_origin(annotation) in (types.UnionType, typing.Union):
        for one in typing.get_args(annotation):
            yield from _marks(one)


def _models(annotation: Any) -> Iterator[tuple[str, type[BaseModel]]]:
    """The models that a field holds, each with what its names begin with where there are more than two of them."""
    found = list(_members(annotation, ""))
    several = len(found) > 2 or any(tag for tag, _ in found)
    for tag, model in found:
        name = tag or _kind_of(model)
        yield (f"{name}." if several and name else ""), model


def _members(annotation: Any, tag: str) -> Iterator[tuple[str, type[BaseModel]]]:
    if typing.get_origin(annotation) is Annotated:
        inner, *marks = typing.get_args(annotation)
        named = next((one.tag for one in marks if isinstance(one, Tag)), tag)
        yield from _members(inner, "" if named == "plain" else named)
    elif isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield tag, annotation
    else:
        for one in typing.get_args(annotation):
            yield from _members(one, tag)


def _kind_of(model: type[BaseModel]) -> str:
    """The one kind that a model is for; empty where it is for several."""
    info = model.model_fields.get("kind")
    kinds = typing.get_args(info.annotation) if info and typing.get_origin(info.annotation) is Literal else ()
    return str(kinds[0]) if len(kinds) == 1 else ""


def _in_words(annotation: Any) -> str:
    """A type in words."""
    origin, inner = typing.get_origin(annotation), typing.get_args(annotation)
    if origin is Annotated:
        shape = next((one for one in inner if isinstance(one, StringConstraints)), None)
        return "an id" if shape is not None and "a-z0-9" in str(shape.pattern) else _in_words(inner[0])
    if origin is Literal:
        return f"one of {', '.join(map(str, inner))}" if len(inner) > 1 else f"the word {inner[0]}"
    if origin in (types.UnionType, typing.Union):
        words = dict.fromkeys(_in_words(one) for one in inner if one is not type(None))
        return " or ".join(words)
    if origin is tuple:
        return f"a list, each item {_in_words(inner[0])}"
    if origin is dict:
        return f"a mapping by name, each {_in_words(inner[1])}"
    if annotation in (Fact, Choice):
        return "words" if annotation is Choice else "a quantity with its unit"
    return SCALARS.get(annotation, "a mapping")
