"""Mistakes of an author: what they are called, where they are, how they are fixed.

Every check of the catalogue ends in a list of `Problem`. All problems of a run are shown together, sorted by
place. A problem never carries a traceback: whoever wrote the YAML sees the file, the line, the column, a code
that the documentation explains, and the text to write instead.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from difflib import get_close_matches
from typing import Literal

from guidegen.codes import Code as Code
from guidegen.codes import Explained as Explained
from guidegen.visible import visible

Severity = Literal["error", "warning"]


@dataclass(frozen=True, order=True)
class Problem:
    """One mistake, at one place, with its fix. Sorts by path, line, column, code."""

    path: str
    line: int
    column: int
    code: str
    message: str
    fix: str = ""
    severity: Severity = "error"

    def __str__(self) -> str:
        """Return the two lines that the terminal shows.

        >>> print(Problem("machines/a/b.yml", 14, 9, "Q03", 'boiler.water: got "80", a volume needs a unit',
        ...               "write 80 ml"))
        machines/a/b.yml:14:9: Q03 boiler.water: got "80", a volume needs a unit
          fix: write 80 ml
        """
        mark = "" if self.severity == "error" else "warning: "
        path, message, fix = (_shown(part) for part in (self.path, self.message, self.fix))
        text = f"{path}:{self.line}:{self.column}: {self.code} {mark}{message}"
        return f"{text}\n  fix: {fix}" if fix else text


LONGEST = 2000
"""So much of a path, a message or a fix is shown: whoever wrote more knows it, and everybody else is spared it."""


def _shown(part: str) -> str:
    return visible(part if len(part) <= LONGEST else f"{part[:LONGEST]}…")


class CatalogueError(Exception):
    """All mistakes of a run. `str()` is what the terminal shows."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        """Sort and keep the problems, each cause once."""
        self.problems: tuple[Problem, ...] = one_per_cause(problems)
        super().__init__("\n".join(map(str, self.problems)))


class UsageProblem(ValueError):
    """A command that was asked for something that does not exist, or in a way that it cannot be done."""


class RefusedProblem(RuntimeError):
    """A rule of the workshop or of guidegen forbids what was asked; nothing was changed.

    The sentence says which rule, and what to do instead.
    """


class FaultsFound(RuntimeError):
    """Files are not as they must be; the text names each."""


class EnvironmentProblem(RuntimeError):
    """Something that this machine lacks, in one sentence that says how to get it."""


_NUMBER = re.compile(r"\bstep [A-Z0-9]+\.[0-9]+ |\[[0-9]+\]| \(and [0-9]+ more steps?\)")
"""What differs in a message from one place to the next of the same cause: the number of a step, of an item."""


_UNDECLARED = re.compile(r'[^ ]+\.yml has no fact "[^"]*"')
"""What is wrong wherever a name shows that one file would have to declare."""


def undeclared(problem: Problem) -> str | None:
    """Return what nobody declared, in words, where that is the mistake."""
    found = _UNDECLARED.search(problem.message) if problem.code == Code.UNKNOWN_FACT else None
    return found[0] if found else None


def one_per_cause(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Return the problems, each cause once: what one line brings about in many guides, steps or items is one mistake.

    What stops one guide and is a warning in another, which is not written anyway, is the mistake alone.

    >>> one = Problem("a.yml", 3, 5, "X01", "wetted[1].source: no source", "add it")
    >>> [each.message for each in one_per_cause([one, replace(one, message="wetted[2].source: no source")])]
    ['wetted[1].source: no source (and 1 more like it)']
    """
    groups: dict[Problem | str, list[Problem]] = {}
    for one in sorted(set(problems)):
        alike = replace(one, message=_NUMBER.sub("", one.message), severity="error")
        groups.setdefault(undeclared(one) or alike, []).append(one)
    stopping = ([one for one in same if one.severity == "error"] or same for same in groups.values())
    return tuple(
        same[0] if len(same) == 1 else replace(same[0], message=f"{same[0].message} (and {len(same) - 1} more like it)")
        for same in stopping
    )


def nearest(word: str, names: Iterable[str]) -> str | None:
    """Return the name that was most likely meant, or None where nothing is near.

    >>> nearest("strait_wall", ["straight_wall", "diameter"])
    'straight_wall'
    """
    found = get_close_matches(word.lower(), sorted(names), n=1, cutoff=0.6)
    return found[0] if found else None


def one_of(names: Iterable[str]) -> str:
    """Return the names as a list in words, at most a dozen of them.

    >>> one_of(["brass", "copper"])
    'brass, copper'
    """
    listed = sorted(names)
    return ", ".join(listed[:12]) + (", …" if len(listed) > 12 else "")
