"""One edition's own facts, and the unbroken line that editions form by superseding each other."""

from __future__ import annotations

import datetime
import re
from collections.abc import Mapping, Sequence
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, StringConstraints

from guidegen.editions import lines
from guidegen.problems import EnvironmentProblem, UsageProblem

FILE = "edition.json"
SUMS = "SHA256SUMS"
DRAFT = "next"
LATEST = "latest"
ANEW = "-rerendered"
"""What the folder of an edition is called beyond its name when its HTML was lost and made again from its snapshot."""

NAME = re.compile(r"[a-z0-9][a-z0-9.-]{0,29}")
_TAKEN = (DRAFT, LATEST, "k", "assets", "corrections", "withdrawn")
_FILES = (".html", ".json", ".txt", ".xml")
"""How files of the site's root end; an edition is a folder beside them."""

Name = Annotated[str, StringConstraints(pattern=r"^[a-z0-9][a-z0-9.-]{0,29}$")]


class LineProblem(EnvironmentProblem):
    """The editions do not form one line: a gap, a ring or a fork."""


class Closed(BaseModel):
    """Base of everything that is kept about editions."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class GuideFacts(Closed):
    """What the site's root needs to know of one guide."""

    title: str
    outcome: str
    revision: str
    """The kit's revision that this guide is for."""


class Notice(Closed):
    """The notice to those who fitted by an older edition, and which guides it concerns."""

    text: str
    guides: tuple[str, ...]


class Edition(Closed):
    """`edition.json`: an edition's own facts, frozen with it."""

    format: Literal[1] = 1
    edition: Name
    date: datetime.date
    supersedes: Name | None = None
    reason: str = Field(min_length=1)
    notice: Notice | None = None
    guides: dict[str, GuideFacts]

    def title_of(self, guide: str) -> str:
        """What a guide is called; its id where somebody named one that the edition does not have."""
        return self.guides[guide].title if guide in self.guides else guide

    def to_bytes(self) -> bytes:
        """The file as it lies in the edition."""
        return lines.dumps(self.model_dump(mode="json")).encode()


def check_name(name: str) -> str:
    """The name, or a sentence that says what an edition may be called."""
    if not NAME.fullmatch(name) or ".." in name or name.endswith((".", ANEW, *_FILES)) or name in _TAKEN:
        raise UsageProblem(
            f'"{name}" cannot be an edition: at most 30 small letters, digits, dots and hyphens, as 2026.1; '
            f"{', '.join(_TAKEN)} and names that end in {', '.join((ANEW, *_FILES))} are taken"
        )
    return name


def in_line(editions: Mapping[str, Edition]) -> tuple[Edition, ...]:
    """The editions from the first to the newest. Raises where they do not form one line."""
    followers: dict[str | None, list[str]] = {}
    for name, edition in editions.items():
        followers.setdefault(edition.supersedes, []).append(name)
        if edition.edition != name:
            raise LineProblem(f"the folder {name} holds edition {edition.edition}")
        if edition.supersedes is not None and edition.supersedes not in editions:
            raise LineProblem(f"{name} supersedes {edition.supersedes}, which is not there: bring it back")
    for older, names in sorted(followers.items(), key=lambda item: item[0] or ""):
        if len(names) > 1:
            what = f"supersede {older}" if older else "supersede nothing"
            raise LineProblem(f"{' and '.join(sorted(names))} both {what}: editions form one line")
    line: list[Edition] = []
    following = followers.get(None, [])
    while following:
        line.append(editions[following[0]])
        following = followers.get(following[0], [])
    if len(line) < len(editions):
        ring = sorted(set(editions) - {one.edition for one in line})
        raise LineProblem(f"{', '.join(ring)} supersede each other in a ring")
    return tuple(line)


def up_to(line: Sequence[Edition], name: str) -> tuple[Edition, ...]:
    """The line up to and including an edition; the whole line where it is not among them."""
    names = [one.edition for one in line]
    return tuple(line[: names.index(name) + 1]) if name in names else tuple(line)
