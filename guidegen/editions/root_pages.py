"""The pages at the site's root that follow from the editions: index, newest edition, short addresses, which is mine."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from guidegen.editions import withdrawals
from guidegen.editions.edition import LATEST, Edition
from guidegen.editions.standing import Standing
from guidegen.editions.template import render
from guidegen.editions.withdrawals import Withdrawal

GRAVE = ("withdrawn", "notice", "gone")
"""What whoever works by a guide has to know."""


@dataclass(frozen=True)
class Resolved:
    """Which edition's guide is in force for a kit's revision on a variant."""

    kit: str
    revision: str
    variant: str
    title: str
    edition: str
    withdrawn: Withdrawal | None

    @property
    def guide(self) -> str:
        """The guide's id."""
        return f"{self.variant}/{self.kit}"

    @property
    def short(self) -> str:
        """The short address, from the site's root: what a label's code leads to."""
        return short_address(self.kit, self.revision, self.variant)


def short_address(kit: str, revision: str, variant: str) -> str:
    """The address that stays the same whatever is published later.

    >>> short_address("feed-preheater", "B", "tamsin-mk2")
    'k/feed-preheater-B/tamsin-mk2/'
    """
    return f"k/{kit}-{revision}/{variant}/"


def corrections_page(edition: str) -> str:
    """Where notices for an edition stand, from the site's root; an instruction on paper prints it in full."""
    return f"corrections/{edition}.html"


def resolve(line: Sequence[Edition], withdrawn: Iterable[Withdrawal] = ()) -> tuple[Resolved, ...]:
    """For every kit revision and variant the newest edition that has a guide for them.

    Where that guide was withdrawn it stays so: an older one may have the same fault, and nobody looked.
    """
    gone = list(withdrawn)
    found: dict[tuple[str, str, str], Resolved] = {}
    for edition in line:
        called_back = withdrawals.of_edition(gone, edition.edition)
        for guide, facts in edition.guides.items():
            variant, kit = guide.split("/")
            found[kit, facts.revision, variant] = Resolved(
                kit, facts.revision, variant, facts.title, edition.edition, called_back.get(guide)
            )
    return tuple(found[key] for key in sorted(found))


def pages(
    name: str,
    line: Sequence[Edition],
    folders: Mapping[str, str],
    withdrawn: Sequence[Withdrawal],
    standings: Mapping[str, Mapping[str, Standing]],
    draft: bool,
) -> Iterator[tuple[str, bytes]]:
    """Every page of the root but the stubs of the newest edition."""
    resolved = resolve(line, withdrawn)
    title_of = {one.edition: one.title_of for one in line}
    yield (
        "index.html",
        render(
            "root.html", name=name, line=line, folders=folders, withdrawn=withdrawn, draft=draft, title_of=title_of
        ).encode(),
    )
    for edition in line:
        stands = standings.get(edition.edition, {})
        grave = {guide: one for guide, one in stands.items() if one.state in GRAVE}
        page = render("corrections.html", name=name, edition=edition, grave=grave, title_of=edition.title_of,
                      newest=line[-1], folders=folders)  # fmt: skip
        yield corrections_page(edition.edition), page.encode()
    yield "which.html", render("which.html", name=name, resolved=resolved).encode()
    for one in resolved:
        standing = standings.get(one.edition, {}).get(one.guide)
        notice = standing.says if standing and standing.state in ("notice", "gone") else None
        target = f"../../../{folders[one.edition]}/guides/{one.guide}/index.html"
        page = render("short.html", one=one, target=target, notice=notice, direct=notice is None)
        yield f"{one.short}index.html", page.encode()


def stubs(newest: Edition, folder: str, paths: Iterable[str]) -> Iterator[tuple[str, bytes]]:
    """A page of `latest/` for each page of the newest edition, leading there without a script."""
    for path in sorted(paths):
        if path.endswith(".html") and path != "404.html":
            target = "../" * (path.count("/") + 1) + f"{folder}/{path}"
            page = render("stub.html", path=path, target=target, edition=newest.edition)
            yield f"{LATEST}/{path}", page.encode()
