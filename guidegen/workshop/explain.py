"""What pydantic found becomes problems: place, code, the value that was written, and a fix."""

from __future__ import annotations

import re
import types
import typing
from typing import Annotated, Any, Literal, TypeVar, cast

from pydantic import BaseModel, Tag, ValidationError
from pydantic_core import ErrorDetails

from guidegen.problems import Code, Problem, nearest, one_of
from guidegen.workshop.base import Document, Loc, Place, quoted
from guidegen.workshop.fields import Choice, Fact
from guidegen.workshop.nodes import Mapping, Node, Scalar, Sequence, dotted, to_data, written

D = TypeVar("D", bound=Document)

_OWN = frozenset(Code)


def validated(
    model: type[D], root: Mapping, problems: list[Problem], context: dict[str, Any] | None = None
) -> D | None:
    """Return the document, or None after adding everything that is wrong with it to `problems`.

    `context` holds what the document does not say itself: `evidence`, the defaults of each file, and `facts`, the
    `FactTable` that requirements are checked against.
    """
    data, places = to_data(root)
    try:
        document = model.model_validate(data, context=context or {})
    except ValidationError as error:
        for detail in error.errors(include_url=False):
            if detail["type"] == "too_short" and detail["input"]:
                # Items with mistakes do not count for pydantic; the mistakes are reported already.
                continue
            problems.append(_problem(model, root, detail))
        return None
    document._places = places
    return document


def _problem(model: type[BaseModel], root: Mapping, detail: ErrorDetails) -> Problem:
    context = detail.get("ctx") or {}
    inner: Loc = tuple(context.get("inner", ()))
    loc = written(root, tuple(part for part in (*detail["loc"], *inner) if part != "[key]"))
    kind = detail["type"]
    name = dotted(root, loc)
    if kind in _OWN:
        place = _place(root, loc, key=kind == Code.UNKNOWN_KEY)
        return _made(place, kind, name, str(context["message"]), str(context["fix"]))
    code, message, fix = _words(model, root, loc, detail, context)
    return _made(_place(root, loc, key=code is Code.UNKNOWN_KEY), code, name, message, fix)


def _made(place: Place, code: str, name: str, message: str, fix: str) -> Problem:
    words = f"{name}: {message}" if name else message
    return Problem(place.path, place.line, place.column, code, words, fix)


def _place(root: Mapping, loc: Loc, *, key: bool) -> Place:
    """Return the place of the value at a loc (or of its key), or of the nearest thing around it."""
    node: Node = root
    place = root.place
    for part in loc:
        if isinstance(node, Mapping) and isinstance(part, str) and part in node.entries:
            where, node = node.keys[part], node.entries[part]
            empty = isinstance(node, Scalar) and not node.text
            # A block under a key starts on a line of its own; the key is what people look for.
            place = where if key or empty or not isinstance(node, Scalar) else node.place
        elif isinstance(node, Sequence) and isinstance(part, int) and part < len(node.items):
            node = node.items[part]
            place = node.place
        else:
            break
    return place


def _words(
    model: type[BaseModel], root: Mapping, loc: Loc, detail: ErrorDetails, context: dict[str, Any]
) -> tuple[Code, str, str]:
    """Return code, message and fix for one of pydantic's own kinds of error."""
    kind, value = detail["type"], detail["input"]
    got = f"got {quoted(value)}"
    if kind == "missing":
        field = str(loc[-1])
        return Code.MISSING_KEY, "is missing", f"add {field}: {_example(model, detail['loc'])}"
    if kind == "extra_forbidden":
        return _no_such(_model_at(model, detail["loc"][:-1]), str(loc[-1]))
    if value is None or value == "":
        return Code.EMPTY_VALUE, "has no value", "write one"
    if detail["loc"][-1:] == ("[key]",) or (kind == "string_pattern_mismatch" and "a-z0-9" in str(context["pattern"])):
        return Code.BAD_ID, f"{got}, no id", f"write {_as_id(str(value))}"
    if kind in ("literal_error", "union_tag_invalid"):
        words = re.findall(r"'([^']*)'", str(context.get("expected") or context.get("expected_tags") or ""))
        tag = context.get("tag")
        near = nearest(str(tag or value), words)
        fix = f"write {near}" if near else f"use one of {', '.join(words)}"
        return Code.WRONG_CHOICE, f"got {quoted(tag or value)}, not one of the words known here", fix
    if kind == "union_tag_not_found":
        return Code.MISSING_KEY, "`kind` is missing", "add kind:"
    if kind in ("int_type", "int_parsing", "float_type", "int_from_float"):
        whole = kind.startswith("int")
        wanted = "a whole number" if whole else "a plain number"
        return Code.NOT_A_NUMBER, f"{got}, {wanted} is wanted", f"write it like {'3' if whole else '0.8'}"
    if kind == "bool_type":
        return Code.NOT_TRUE_FALSE, f"{got}, only true or false", "write true or false"
    if kind.startswith("date"):
        return Code.NOT_A_DATE, f"{got}, a date is wanted", "write it like 2026-03-31"
    return _more_words(kind, got, context)


def _no_such(model: Any, name: str) -> tuple[Code, str, str]:
    """Return the words for a field that a model has not: its own, where it has any."""
    if hasattr(model, "no_such"):
        return cast("tuple[Code, str, str]", model.no_such(name))
    names = _names(model)
    near = nearest(name, names)
    fix = f"write {near}" if near else f"use one of {one_of(names)}" if names else "delete it"
    return Code.UNKNOWN_KEY, "no such field here", fix


def _more_words(kind: str, got: str, context: dict[str, Any]) -> tuple[Code, str, str]:
    if kind == "string_type":
        return Code.WRONG_TYPE, f"{got}, text is wanted", "write text on one line"
    if kind == "tuple_type":
        return Code.WRONG_TYPE, f"{got}, a list is wanted", "write one item per line, each after a hyphen"
    if kind in ("dict_type", "model_type", "model_attributes_type"):
        return Code.WRONG_TYPE, f"{got}, a mapping is wanted", "write key: value"
    limits = {
        "greater_than_equal": ("ge", "at least {}"), "less_than_equal": ("le", "at most {}"),
        "greater_than": ("gt", "more than {}"), "less_than": ("lt", "less than {}"),
        "string_too_short": ("min_length", "at least {} character"),
        "string_too_long": ("max_length", "at most {} characters"),
        "too_short": ("min_length", "at least {} item"), "too_long": ("max_length", "at most {} items"),
        "string_pattern_mismatch": ("pattern", "text of the form {}"),
    }  # fmt: skip
    if kind in limits:
        name, words = limits[kind]
        limit = f"{context[name]:g}" if isinstance(context[name], float) else str(context[name])
        words = words.format(limit)
        return Code.OUT_OF_BOUNDS, f"{got}, wanted: {words}", f"write {words}"
    return Code.WRONG_TYPE, f"{got}, which does not belong here", "look at `guidegen schema`"


def _as_id(text: str) -> str:
    made = re.sub(r"[^a-z0-9]+", "-", text.lower()).strip("-")[:40]
    return made or "an id of small letters, digits and hyphens"


def _example(model: type[BaseModel], loc: tuple[int | str, ...]) -> str:
    """Return what to write for a missing field: `unknown` where that is allowed."""
    annotation = _annotation_at(model, loc)
    if annotation in (Fact, Choice):
        return "unknown"
    if typing.get_origin(annotation) is Literal:
        return " | ".join(map(str, typing.get_args(annotation)))
    if typing.get_origin(annotation) is tuple:
        return "[]"
    return "…"


def _names(model: Any) -> list[str]:
    if isinstance(model, type) and issubclass(model, BaseModel):
        return [info.alias or name for name, info in model.model_fields.items()]
    return []


def _model_at(model: type[BaseModel], loc: tuple[int | str, ...]) -> Any:
    found = _annotation_at(model, loc)
    return found if isinstance(found, type) and issubclass(found, BaseModel) else None


def _annotation_at(annotation: Any, loc: tuple[int | str, ...]) -> Any:
    """Follow a loc through the annotations of the models."""
    annotation = _bare(annotation)
    if not loc:
        return annotation
    part, rest = loc[0], loc[1:]
    origin = typing.get_origin(annotation)
    if origin in (types.UnionType, typing.Union):
        members = [member for member in typing.get_args(annotation) if member is not type(None)]
        if len(members) == 1:
            return _annotation_at(members[0], loc)
        for member in members:
            if part in _tags(member):
                return _annotation_at(member, rest)
        return None
    if origin is tuple and isinstance(part, int):
        return _annotation_at(typing.get_args(annotation)[0], rest)
    if origin is dict:
        return _annotation_at(typing.get_args(annotation)[1], rest)
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return _annotation_at(_field(annotation, str(part)), rest)
    return None


def _tags(member: Any) -> tuple[Any, ...]:
    """Return how a member of a union is called in a loc: its tag, the kinds it has, or its own name."""
    named = [one.tag for one in typing.get_args(member) if isinstance(one, Tag)]
    bare = _bare(member)
    return (*named, *typing.get_args(_bare(_field(bare, "kind"))), getattr(bare, "__name__", ""))


def _field(model: Any, name: str) -> Any:
    for field, info in getattr(model, "model_fields", {}).items():
        if name in (info.alias, field):
            return info.annotation
    return None


def _bare(annotation: Any) -> Any:
    while typing.get_origin(annotation) is Annotated:
        annotation = typing.get_args(annotation)[0]
    return annotation
