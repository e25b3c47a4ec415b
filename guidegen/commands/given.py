"""What is given on the command line: days, and values by name, each name once, because one of two would be lost."""

from __future__ import annotations

import argparse
import datetime
import re
from collections.abc import Iterable

from guidegen.problems import UsageProblem


def day_of(text: str) -> datetime.date:
    """A day of the calendar, as 2026-03-31."""
    try:
        if re.fullmatch("[0-9]{4}-[0-9]{2}-[0-9]{2}", text):
            return datetime.date.fromisoformat(text)
    except ValueError:
        pass
    raise argparse.ArgumentTypeError(f"a day is written as 2026-03-31, got {text!r}")


def named_values(what: str, texts: Iterable[str], empty: bool = False) -> dict[str, str]:
    """The values by their names. `what` is what messages call the option; a value may be `empty`.

    >>> named_values("--fact", ["inlet = straight"])
    {'inlet': 'straight'}
    """
    found: dict[str, str] = {}
    for text in texts:
        name, equals, value = (part.strip() for part in text.partition("="))
        if not equals or not name or not (value or empty):
            raise UsageProblem(f'{what} wants FACT=VALUE, got "{text}"')
        if name in found:
            raise UsageProblem(f"{what}: {name} is given twice; keep one")
        found[name] = value
    return found
