"""What is given on the command line as `FACT=VALUE`, several times over: each name once, because one would be lost."""

from __future__ import annotations

from collections.abc import Iterable

from guidegen.problems import UsageProblem


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
