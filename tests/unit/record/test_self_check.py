"""The self-check in the record: the judge's rules and words, key by key, in the form that is published."""

from __future__ import annotations

import json
from typing import Any, get_args, get_origin, get_type_hints

import pytest
from pydantic import BaseModel, ValidationError

from guidegen.assess.verdict import checked
from guidegen.judge.fit import payload, shape
from guidegen.record import self_check
from guidegen.record.self_check import SelfCheck
from tests.mutants.draft import catalogue

ONE_AND_THE_SAME = [
    (payload.Payload, SelfCheck),
    (payload.Which, self_check.Finder),
]
BESIDE = {"makes"}
"""What is put beside the judge's words: he knows of no instruction."""


def nested(kind: Any, other: Any) -> list[tuple[Any, Any]]:
    """A shape of the judge beside its model, where the two types hold one."""
    if get_origin(kind) in (list, tuple, dict):
        return [pair for one, two in zip(get_args(kind), inner(other), strict=False) for pair in nested(one, two)]
    return [(kind, other)] if isinstance(other, type) and issubclass(other, BaseModel) else []


def inner(kind: Any) -> list[Any]:
    """What a container holds; a tuple of any length as one."""
    return [one for one in get_args(kind) if one is not Ellipsis]


def pairs() -> list[tuple[Any, Any]]:
    """Every shape that the judge writes beside the model of the record that holds it."""
    found = list(ONE_AND_THE_SAME)
    for written, held in found:
        for name, kind in get_type_hints(written).items():
            found += [pair for pair in nested(kind, held.model_fields[name].annotation) if pair not in found]
    return found


@pytest.mark.parametrize(("written", "held"), pairs(), ids=lambda one: one.__name__)
def test_the_record_holds_exactly_the_keys_that_the_judge_writes(written: Any, held: Any) -> None:
    """In the same order, so that the published JSON is the same; what is excluded is not published."""
    published = [name for name, field in held.model_fields.items() if not field.exclude and name not in BESIDE]
    assert published == list(get_type_hints(written))


def test_every_shape_of_the_judge_has_a_model() -> None:
    """A shape that is added without one is not compared by the test above."""
    shapes = {one for module in (payload, shape) for one in vars(module).values() if hasattr(one, "__required_keys__")}
    assert shapes == {written for written, _ in pairs()}


@pytest.mark.parametrize(("variant", "kit"), [("tamsin-mk1", "feed-preheater"), ("bracken-c", "feed-preheater")])
def test_what_comes_out_as_json_is_what_the_judge_wrote(variant: str, kit: str) -> None:
    """To the byte, keys in order."""
    known = catalogue()
    written = checked(known, known.machines[variant], known.kits[kit], "next").payload
    held = SelfCheck.model_validate(written)
    assert json.dumps(held.model_dump(mode="json", exclude=BESIDE), ensure_ascii=False) == json.dumps(
        written, ensure_ascii=False
    )
    assert held == SelfCheck.model_validate_json(json.dumps(written))


def test_a_key_that_nobody_knows_is_refused() -> None:
    """A record of another form is no record of this one."""
    with pytest.raises(ValidationError, match="sufficient"):
        self_check.CheckRules.model_validate({"format": 1, "sufficing": {}})
