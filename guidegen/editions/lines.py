"""JSON as text that git can compare: what fits on a line stands on one, so that a changed value is a changed line."""

from __future__ import annotations

import json
from typing import Any

WIDTH = 118


def dumps(value: Any) -> str:
    """The value as JSON, one leaf or small group a line, ended by a newline.

    >>> print(dumps({"a": {"value": 1.5, "low": 1.0}, "b": []}), end="")
    {"a": {"value": 1.5, "low": 1.0}, "b": []}
    """
    return _text(value, "", 0) + "\n"


def loads(data: bytes | str) -> Any:
    """The value of a JSON text. Raises ValueError for what is none, and for what is nested beyond every need."""
    try:
        return json.loads(data)
    except RecursionError:
        raise ValueError("it is nested too deeply") from None


def _text(value: Any, indent: str, taken: int) -> str:
    line = json.dumps(value, ensure_ascii=False)
    if len(indent) + taken + len(line) <= WIDTH or not isinstance(value, dict | list) or _is_curve(value):
        return line
    inner = indent + " "
    if isinstance(value, dict):
        rows = []
        for key, entry in value.items():
            name = json.dumps(key, ensure_ascii=False) + ": "
            rows.append(f"{inner}{name}{_text(entry, inner, len(name) + 1)}")
        return "{\n" + ",\n".join(rows) + f"\n{indent}}}"
    return "[\n" + ",\n".join(inner + _text(entry, inner, 1) for entry in value) + f"\n{indent}]"


def _is_curve(value: Any) -> bool:
    """A row of numbers changes as a whole; a line for each would only be long."""
    return isinstance(value, list) and all(entry is None or isinstance(entry, int | float) for entry in value)
