"""JSON as text that git can compare: what fits on a line stands on one, so that a changed value is a changed line."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from guidegen.problems import EnvironmentProblem
from guidegen.reading import bytes_of

WIDTH = 118
MOST_WRONG = 8
"""So many mistakes of one file are named."""
MOST_BYTES = 1_000_000
"""In so much of a file the line of a mistake is looked for."""


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


Model = TypeVar("Model", bound=BaseModel)


def validated(model: type[Model], path: Path) -> Model:
    """What a JSON file holds. Raises EnvironmentProblem with the line of each thing that is wrong.

    A file that is not there raises FileNotFoundError, since for most of them that means something.
    """
    try:
        data = bytes_of(path)
        return model.model_validate_json(data)
    except FileNotFoundError:
        raise
    except OSError as error:
        raise EnvironmentProblem(f"{path.as_posix()} cannot be read: {error.strerror}") from error
    except ValidationError as error:
        wrong = [
            f"{path.as_posix()}:{_line_of(one['loc'], data)}: {'.'.join(map(str, one['loc']))}"
            f"{': ' if one['loc'] else ''}{one['msg']}"
            for one in error.errors()[:MOST_WRONG]
        ]
        raise EnvironmentProblem(
            f"{path.as_posix()} cannot be read:\n" + "\n".join(f"  {row}" for row in wrong)
        ) from error


def _line_of(loc: Sequence[str | int], data: bytes) -> int:
    """The line of a value, or of the nearest thing around it that is written; JSON is read as the YAML that it is."""
    import yaml

    line = 1
    try:
        node = yaml.compose(data[:MOST_BYTES].decode(), yaml.CSafeLoader)
        for step in loc:
            line = node.start_mark.line + 1 if node else line
            node = _below(node, step)
            if node is None:
                return line
        return node.start_mark.line + 1 if node else line
    except (ValueError, RecursionError, yaml.YAMLError):
        return line


def _below(node: Any, step: str | int) -> Any:
    if isinstance(step, int):
        return node.value[step] if isinstance(node.value, list) and step < len(node.value) else None
    pairs = node.value if isinstance(node.value, list) else []
    found = (pair[1] for pair in pairs if isinstance(pair, tuple) and pair[0].value == step)
    return next(found, None)


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
