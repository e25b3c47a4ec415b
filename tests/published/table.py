"""The table of all outside checks, for the site: written by `python -m tests.published.table`, compared by a test."""

from __future__ import annotations

import importlib
import json
import math
from collections.abc import Iterator
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent
FILE = HERE.parents[1] / "guidegen" / "site" / "pages" / "data" / "checks.json"
MOST_DIGITS = 10


def rows() -> Iterator[dict[str, Any]]:
    """One row per check: what, expected, ours, tolerance, source and what the row is worth; grouped by its file."""
    for path in sorted(HERE.glob("test_*.py")):
        module = importlib.import_module(f"tests.published.{path.stem}")
        for check in getattr(module, "CHECKS", ()):
            yield {
                "group": path.stem.removeprefix("test_").replace("_", "-"),
                "name": check.name,
                "quantity": check.quantity,
                "unit": check.unit,
                "expected": f"{check.expected:.12g}".replace("-", "−"),
                "ours": shown(float(check.compute()), check.tolerance),
                "difference": shown(float(check.compute()) - check.expected, check.tolerance),
                "tolerance": f"{check.tolerance:.1e}",
                "source": check.source,
                "tag": check.tag,
                "kind": check.kind,
                "formulas": list(check.formulas),
            }


def shown(value: float, tolerance: float) -> str:
    """One digit finer than the tolerance; a difference below that is nought.

    >>> shown(142.1345, 0.5), shown(-0.46, 0.5), shown(-0.0001, 0.5), shown(62.465912345678, 1e-9)
    ('142.13', '−0.46', '0', '62.46591235')
    """
    places = max(0, 1 - math.floor(math.log10(tolerance)))
    digits = MOST_DIGITS if value == 0 else places + 1 + math.floor(math.log10(abs(value)))
    if digits >= MOST_DIGITS:
        return f"{value:.{MOST_DIGITS}g}".replace("-", "−")
    text = f"{value:.{places}f}"
    return "0" if float(text) == 0 else text.replace("-", "−")


def text() -> str:
    """The file's content."""
    return json.dumps(list(rows()), ensure_ascii=False, indent=1) + "\n"


if __name__ == "__main__":
    FILE.write_text(text(), encoding="utf-8")
