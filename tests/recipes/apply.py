"""The recipes of DEVELOPERS.md, read and applied as they stand there.

A recipe is a heading of the third level under `## Recipes` and its blocks of kind `diff`. In a block, `+++ path` names
the file that is edited by hand; `@@` begins a hunk, whose lines begin with a space (stands there), `-` (goes) or `+`
(comes). Nothing is counted: what a hunk keeps and takes out must stand in the file exactly once, in one piece. A file
that does not exist is made of one hunk that only adds.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

DOCUMENT = Path(__file__).parents[2] / "DEVELOPERS.md"
MOST_FILES, MOST_LINES = 5, 60
"""What a thing of a known kind may cost: files edited by hand, and changed lines in each."""
_BLOCK = re.compile(r"^```diff\n(.*?)^```$", re.MULTILINE | re.DOTALL)


@dataclass(frozen=True)
class Hunk:
    """One place of a file: what stands there before and after, and how many lines change."""

    before: str
    after: str
    changed: int


@dataclass(frozen=True)
class Recipe:
    """A recipe's name and, for every file that it edits, the hunks in their order."""

    name: str
    files: dict[str, tuple[Hunk, ...]]

    def changed(self, path: str) -> int:
        """How many lines of a file the recipe changes."""
        return sum(hunk.changed for hunk in self.files[path])


def recipes(document: str | None = None) -> dict[str, Recipe]:
    """Every recipe of a document, DEVELOPERS.md by default, by its heading."""
    text = DOCUMENT.read_text(encoding="utf-8") if document is None else document
    _, _, under = text.partition("\n## Recipes\n")
    under = re.split(r"^## ", under, maxsplit=1, flags=re.MULTILINE)[0]
    found = {}
    for part in re.split(r"^### ", under, flags=re.MULTILINE)[1:]:
        name = part.partition("\n")[0].strip()
        files: dict[str, tuple[Hunk, ...]] = {}
        for block in _BLOCK.findall(part):
            for path, hunks in _files(block):
                files[path] = (*files.get(path, ()), *hunks)
        found[name] = Recipe(name, files)
    return found


def _files(block: str) -> list[tuple[str, list[Hunk]]]:
    """The files of a block, each with its hunks."""
    made = []
    for part in re.split(r"^\+\+\+ ", block, flags=re.MULTILINE)[1:]:
        path, _, body = part.partition("\n")
        bodies = [one for one in re.split(r"^@@.*\n", body, flags=re.MULTILINE) if one.strip()]
        made.append((path.strip(), [_hunk(one, path) for one in bodies]))
    return made


def _hunk(body: str, path: str) -> Hunk:
    before, after, changed = [], [], 0
    for line in body.splitlines():
        # An editor that strips the end of a line leaves nothing of an empty one that is kept.
        sign, text = (line[0], line[1:]) if line else (" ", "")
        if sign not in " +-":
            raise ValueError(f"{path}: a line of a hunk begins with a space, + or -: {line!r}")
        before += [text] if sign in " -" else []
        after += [text] if sign in " +" else []
        changed += sign in "+-"
    if not changed:
        raise ValueError(f"{path}: a hunk that changes nothing")
    return Hunk("".join(f"{one}\n" for one in before), "".join(f"{one}\n" for one in after), changed)


def apply(recipe: Recipe, root: Path) -> None:
    """Edit the files below a folder as the recipe says; raises `ValueError` where a hunk does not fit exactly once."""
    for path, hunks in recipe.files.items():
        file = root / path
        for hunk in hunks:
            if not hunk.before:
                if file.exists():
                    raise ValueError(f"{path} exists: a hunk needs a line that it keeps or takes out")
                file.parent.mkdir(parents=True, exist_ok=True)
                file.write_text(hunk.after, encoding="utf-8")
                continue
            text = "\n" + file.read_text(encoding="utf-8")
            times = text.count("\n" + hunk.before)
            if times != 1:
                raise ValueError(f"{path}: what a hunk keeps and takes out stands there {times} times:\n{hunk.before}")
            file.write_text(text.replace("\n" + hunk.before, "\n" + hunk.after)[1:], encoding="utf-8")
