"""The starter's variant and kit, a mistake in its data, and a stream that is a terminal."""

from __future__ import annotations

import io
from collections.abc import Callable
from pathlib import Path

REPOSITORY = Path(__file__).parents[4]
VARIANT, KIT = "first-family-first-variant", "first-kit"
Run = Callable[..., int]


class Terminal(io.StringIO):
    """A stream that says it is a terminal."""

    def isatty(self) -> bool:
        """Say so."""
        return True


def spoil(root: Path) -> None:
    """Forget the unit of a mass."""
    path = root / "machines" / "first-family" / "first-variant.yml"
    text = path.read_text(encoding="utf-8")
    assert "  mass: unknown  # weigh the empty boiler" in text
    path.write_text(text.replace("  mass: unknown  # weigh the empty boiler", "  mass: 520"), encoding="utf-8")
