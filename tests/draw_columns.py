"""Gives every input that has no column of the draws the next free one: `python -m tests.draw_columns`.

A column is given once and for all; see `guidegen/assess/columns.py`.
"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from guidegen.assess import columns, inputs

FILE = Path(columns.__file__)


def with_names(text: str, names: Iterable[str], wanted: Iterable[str]) -> str:
    """The table's text with those wanted that it does not name yet added at its end."""
    missing = [name for name in wanted if name not in set(names)]
    before, end, after = text.partition("\n)\n")
    return before + "".join(f'\n    "{name}",' for name in missing) + end + after


if __name__ == "__main__":
    old = FILE.read_text(encoding="utf-8")
    new = with_names(old, columns.NAMES, inputs.names())
    FILE.write_text(new, encoding="utf-8")
    print(f"{len(new.splitlines()) - len(old.splitlines())} columns given")
