"""How a scalar is read by the type of its field, and what every field of a machine says about itself."""

from __future__ import annotations

import types
import typing
from typing import Annotated, Any

import pytest
from pydantic import BaseModel, ValidationError

from guidegen.trade.paths import known_facts
from guidegen.trade.schema import KINDS
from guidegen.workshop.base import Model, Place, Text
from guidegen.workshop.fields import Choice, Choices, Mass, Spec


class Sample(Model):
    """One field of each plain type."""

    version: str
    count: int
    share: float
    sure: bool
    numbers: tuple[float, ...] = ()


def plain(**fields: str) -> dict[str, Any]:
    """Return what the reader hands over for plain scalars."""
    return {name: Text(text, Place("a.yml", 1, 1)) for name, text in fields.items()}


def test_a_scalar_is_read_by_the_type_of_its_field() -> None:
    """Text keeps what was written; only a number field makes a number of it."""
    made = Sample.model_validate(plain(version="1.10", count="3", share="0.5", sure="true"))
    assert (made.version, made.count, made.share, made.sure) == ("1.10", 3, 0.5, True)
    assert Sample.model_validate(plain(version="no", count="3", share="1", sure="false")).version == "no"


@pytest.mark.parametrize(
    "fields",
    [
        {"count": "3.0"}, {"count": "0x10"}, {"count": "1_000"}, {"count": "12:30"}, {"share": ".inf"},
        {"share": ".nan"}, {"share": "1e400"}, {"sure": "yes"}, {"sure": "True"}, {"sure": "1"},
    ],
)  # fmt: skip
def test_the_implicit_types_are_a_closed_list(fields: dict[str, str]) -> None:
    """Octal, hexadecimal, sexagesimal, infinities and the many words for true are text."""
    with pytest.raises(ValidationError):
        Sample.model_validate(plain(**{"version": "1", "count": "3", "share": "1", "sure": "true"} | fields))


def _annotations(model: type[BaseModel], seen: set[type[BaseModel]]) -> list[tuple[str, Any]]:
    if model in seen:
        return []
    seen.add(model)
    found: list[tuple[str, Any]] = []
    for name, info in model.model_fields.items():
        stack = [info.annotation]
        while stack:
            one = stack.pop()
            found.append((f"{model.__name__}.{name}", one))
            stack.extend(typing.get_args(one) if typing.get_origin(one) is not Annotated else typing.get_args(one)[:1])
            if isinstance(one, type) and issubclass(one, BaseModel):
                found.extend(_annotations(one, seen))
    return found


def test_no_field_leaves_open_what_a_scalar_is() -> None:
    """A union of text and number would bring back the guessing that the reader does away with; lists are tuples."""
    seen: set[type[BaseModel]] = set()
    for name, annotation in [pair for model, _ in KINDS.values() for pair in _annotations(model, seen)]:
        assert annotation is not list, name
        if typing.get_origin(annotation) in (types.UnionType, typing.Union):
            plain_types = {one for one in typing.get_args(annotation) if one in (str, int, float, bool)}
            assert len(plain_types) <= 1, name


def test_every_fact_of_a_machine_has_a_title_and_a_way_to_settle_it() -> None:
    """Pages name each number, and each assumed one names its measurement."""
    bare = [name for name, field in known_facts().items() if name != "control.kind" and field.spec is None]
    assert bare == []
    unsettled = [name for name, field in known_facts().items() if field.spec and not field.spec.settles]
    assert unsettled == []


def test_every_quantity_has_a_plausible_range() -> None:
    """Else an unknown one could not be stood in for. A mains voltage is read off a plate, never assumed."""
    without = {
        name
        for name, field in known_facts().items()
        if field.dimension and field.spec and field.spec.plausible is None and not name.startswith("protrusions.")
    }
    assert without == {"mains.voltage"}


class Marked(Model):
    """A field with a spec over a quantity, one over a choice."""

    mass: Annotated[Mass, Spec("Mass", ("1 kg", "3 kg"), "weigh it")]
    word: Annotated[Choice, Choices(("a", "b")), Spec("Word", stand_in="b")]


def test_a_choice_has_a_stand_in_where_its_spec_says_so() -> None:
    """The safe word is the spec's to choose."""
    made = Marked.model_validate(plain(mass="unknown", word="unknown"))
    assert (made.word.value, made.word.known, made.mass.value) == ("b", False, pytest.approx(2.0))
