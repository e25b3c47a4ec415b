"""What each field of the YAML is, in a sentence: for editors, for `guidegen explain`, for the page of fields."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import cast

from guidegen.workshop.nodes import to_data
from guidegen.workshop.reader import read_file

FILE = Path(__file__).with_name("described.yml")
EVERYWHERE = "every"
"""The fields that mean the same wherever they stand."""


@cache
def texts() -> Mapping[str, Mapping[str, str]]:
    """The sentences by model and field."""
    return cast("Mapping[str, Mapping[str, str]]", to_data(read_file(FILE, FILE.name))[0])


def described(model: str, field: str) -> str:
    """What a field of a model is; raises `KeyError` where nobody has said it.

    >>> described("Boiler", "clearance").startswith("Free room between the boiler's wall and the nearest thing")
    True
    """
    own = texts().get(model, {})
    return str(own[field] if field in own else texts()[EVERYWHERE][field])
