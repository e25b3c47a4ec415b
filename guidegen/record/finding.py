"""What the lint found, as the record keeps it for the terminal and for `data/`."""

from __future__ import annotations

from typing import Literal

from guidegen.record.base import Record


class LintFinding(Record):
    """What a rule of the lint found in the instruction, with its place as path, line and column."""

    rule: str
    severity: Literal["error", "warning"]
    blocks: bool
    waived: bool
    message: str
    fix: str
    step: str | None
    place: str
