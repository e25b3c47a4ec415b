"""The pages at the site's root that follow from the editions: front, lists of guides, short addresses, stubs."""

from __future__ import annotations

import posixpath
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from importlib import resources
from urllib.parse import urljoin, urlsplit

from guidegen.editions import withdrawals
from guidegen.editions.edition import LATEST, Edition
from guidegen.editions.front import Front
from guidegen.editions.selling import PAGE as PRICES
from guidegen.editions.selling import SCRIPT, script
from guidegen.editions.standing import Standing
from guidegen.editions.template import render
from guidegen.editions.withdrawals import Withdrawal
from guidegen.record.stated import REFUSED
from guidegen.site.pages.place import WHICH as FINDER
from guidegen.site.pages.place import corrections_page, kit_path, short_address

GRAVE = ("withdrawn", "notice", "gone")
"""What whoever works by a guide has to know."""
FRONT = "index.html"
EDITIONS = "editions.html"
WHICH = "which.html"
NOT_FOUND = "404.html"
AWAY = "away.html"
"""Where a browser without a network is led by the worker, whose own file names this one."""
WORKER = "worker.js"
"""What answers from guides that were taken along; it lies here because it may answer for what is below it alone."""


@dataclass(frozen=True)
class Resolved:
    """Which edition's guide is in force for a kit's revision on a variant."""

    kit: str
    revision: str
    variant: str
    title: str
    edition: str
    withdrawn: Withdrawal | None
    outcome: str = ""

    @property
    def guide(self) -> str:
        """The guide's id."""
        return f"{self.variant}/{self.kit}"

    @property
    def short(self) -> str:
        """The short address, from the site's root: what a label's code leads to."""
        return short_address(self.kit, self.revision, self.variant)

    @property
    def fits(self) -> bool:
        """Whether anybody can have fitted it by this guide, or may: one that does not fit is for nobody to look up."""
        return self.outcome not in REFUSED


@dataclass(frozen=True)
class Root:
    """All that the pages of the root are made of. `about` is printed at their foot."""

    name: str
    site_url: str
    contact: str
    about: str
    line: Sequence[Edition]
    folders: Mapping[str, str]
    withdrawn: Sequence[Withdrawal]
    standings: Mapping[str, Mapping[str, Standing]]
    front: Front
    machines: Mapping[str, str]
    """The names of the variants that the newest edition knows."""
    draft: bool
    """Whether to speak of the draft: to the maker alone."""
    paths: Collection[str] = ()
    """The files of the newest edition, from its folder."""

    @property
    def finder(self) -> str:
        """The page on which an owner finds his machine, from the root; empty where the newest edition has none."""
        return self.in_newest(FINDER)

    def in_newest(self, path: str) -> str:
        """Where a page of the newest edition lies, from the root; empty where it has no such page."""
        return f"{self.folders[self.line[-1].edition]}/{path}" if path in self.paths else ""

    def about_kit(self, kit: str) -> str:
        """The page of a kit, from the root: the newest edition's own, else the list of its guides; empty without."""
        listed = any(one.kit == kit and one.fits for one in self.resolved())
        return self.in_newest(kit_path(kit)) or (f"{kit_address(kit)}index.html" if listed else "")

    def page(self, template: str, at: str, **values: object) -> bytes:
        """A page of the root, in the frame that all of them have."""
        up = "../" * at.count("/")
        return render(template, site=self, home=up, address=self.address(at), **values).encode()

    def address(self, path: str) -> str:
        """The whole address of a page of the root, a folder's without the file; empty where the site has none."""
        return urljoin(self.site_url, path.removesuffix("index.html")) if self.site_url else ""

    def machine(self, one: Resolved) -> str:
        """What the machine of a guide is called: the guide's title where no record of it is known."""
        return self.machines.get(one.variant) or one.title

    def resolved(self) -> tuple[Resolved, ...]:
        """Which guides are in force."""
        return resolve(self.line, self.withdrawn)


def kit_address(kit: str) -> str:
    """Where all guides of a kit are listed, from the site's root.

    >>> kit_address("feed-preheater")
    'k/feed-preheater/'
    """
    return f"k/{kit}/"


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
                kit, facts.revision, variant, facts.title, edition.edition, called_back.get(guide), facts.outcome
            )
    return tuple(found[key] for key in sorted(found))


def pages(root: Root) -> Iterator[tuple[str, bytes]]:
    """Every page of the root, and the pictures that they name."""
    resolved = root.resolved()
    by_kit: dict[str, list[Resolved]] = {}
    for one in resolved:
        if one.fits:
            by_kit.setdefault(one.kit, []).append(one)
    title_of = {one.edition: one.title_of for one in root.line}
    order = [one.id for one in root.front.kits]
    by_kit = {
        kit: by_kit[kit] for kit in sorted(by_kit, key=lambda kit: order.index(kit) if kit in order else len(order))
    }
    yield FRONT, root.page("front.html", FRONT, drawn=True, description=root.front.makes)
    yield EDITIONS, root.page("editions.html", EDITIONS, title_of=title_of)
    yield WHICH, root.page("which.html", WHICH, by_kit=by_kit)
    yield PRICES, root.page("prices.html", PRICES, selling=root.front.selling)
    if root.front.selling.lines:
        yield SCRIPT, script()
    for kit, listed in by_kit.items():
        path = f"{kit_address(kit)}index.html"
        yield path, root.page("kit.html", path, drawn=True, kit=root.front.kit(kit), listed=listed)
    yield from _corrections(root)
    for one in resolved:
        yield _short(root, one)
    yield from _revisions(root, resolved)
    yield NOT_FOUND, _not_found(root)
    yield AWAY, root.page("away.html", AWAY)
    yield WORKER, resources.files("guidegen.editions").joinpath("templates", WORKER).read_bytes()
    yield from root.front.files()
    yield from _stubs(root)


def _corrections(root: Root) -> Iterator[tuple[str, bytes]]:
    for edition in root.line:
        stands = root.standings.get(edition.edition, {})
        grave = {guide: one for guide, one in stands.items() if one.state in GRAVE}
        path = corrections_page(edition.edition)
        yield path, root.page("corrections.html", path, edition=edition, grave=grave, title_of=edition.title_of)


def _revisions(root: Root, resolved: Iterable[Resolved]) -> Iterator[tuple[str, bytes]]:
    """A page for each short address without its variant: the machines with a guide for this revision of the kit."""
    found: dict[str, list[Resolved]] = {}
    for one in resolved:
        found.setdefault(posixpath.dirname(one.short.rstrip("/")), []).append(one)
    # A kit may be called as another kit's revision is: then that kit's own page stands there.
    kits = {kit_address(one.kit) for one in resolved}
    for folder, listed in found.items():
        path = f"{folder}/index.html"
        if f"{folder}/" in kits:
            continue
        yield path, root.page("revision.html", path, kit=root.front.kit(listed[0].kit), listed=listed)


def _short(root: Root, one: Resolved) -> tuple[str, bytes]:
    """The page of a short address."""
    standing = root.standings.get(one.edition, {}).get(one.guide)
    notice = standing.says if standing and standing.state in ("notice", "gone") else None
    path = f"{one.short}index.html"
    target = posixpath.relpath(f"{root.folders[one.edition]}/guides/{one.guide}/index.html", one.short)
    return path, root.page("short.html", path, one=one, target=target, notice=notice, direct=notice is None)


def _not_found(root: Root) -> bytes:
    """The page for an address that is nowhere: it is shown at any depth, so its links start at the server's root."""
    home = urlsplit(root.site_url).path or "/"
    return render("not-found.html", site=root, home=home, address="").encode()


def _stubs(root: Root) -> Iterator[tuple[str, bytes]]:
    """A page of `latest/` for each page of the newest edition, leading there without a script."""
    for path in sorted(root.paths):
        if path.endswith(".html") and path != NOT_FOUND:
            there = root.in_newest(path)
            values = {"path": path, "edition": root.line[-1].edition, "canonical": root.address(there)}
            target = "../" * (path.count("/") + 1) + there
            yield f"{LATEST}/{path}", root.page("stub.html", f"{LATEST}/{path}", target=target, **values)
