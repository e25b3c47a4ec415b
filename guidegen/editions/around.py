"""Everything at the site's root that follows from the editions, brought up to date by every command.

Nothing here decides whether an edition exists: `versions.json` does. What a command that died left undone, or what
somebody deleted, the next command makes again.
"""

from __future__ import annotations

import datetime
import hashlib
import json
from collections.abc import Sequence
from functools import cache
from pathlib import Path
from typing import Any

from markupsafe import Markup

from guidegen.editions import (
    crawlers,
    feed,
    kept,
    lines,
    offers,
    place,
    root_pages,
    snapshot,
    standing,
    stops,
    withdrawals,
)
from guidegen.editions.about import contact_of, in_language_of, makes_of
from guidegen.editions.change import GuideChanges
from guidegen.editions.compare import compare
from guidegen.editions.edition import ANEW, DRAFT, FILE, SUMS, Edition
from guidegen.editions.front import Front, front_of, holds
from guidegen.editions.root_pages import Root
from guidegen.editions.selling import PAGE as PRICES
from guidegen.editions.selling import selling
from guidegen.language import translation
from guidegen.problems import CatalogueError
from guidegen.reading import bytes_of
from guidegen.site.drawings import colours
from guidegen.site.engine.settings import read_settings
from guidegen.site.output import OutputTree, manifest_path
from guidegen.writing import write_atomically

NOTICES = "notices.json"
_NOTE = "root.json"
"""What the root was made from, and the sum of each of its files."""


def here(root: Path) -> dict[str, str]:
    """The editions that the site has, each with the folder it lies in: its own, or that of pages made anew."""
    site = place.site_of(root)
    folders = [str(one["version"]) for one in place.listed(site)]
    found = {name.removesuffix(ANEW): name for name in folders if name.endswith(ANEW)}
    found.update({name: name for name in folders if name != DRAFT and not name.endswith(ANEW)})
    return {name: folder for name, folder in found.items() if (site / folder).is_dir()}


def versions(root: Path, folders: Sequence[str] = (), public: bool = False) -> bytes:
    """What `versions.json` holds when these folders come to those that the site has, newest edition first.

    The draft is not `public`.
    """
    names = {*here(root).values(), *folders}
    order = {one.edition: index for index, one in enumerate(kept.line(root))}
    # An edition that is only now being published is not in the line yet, and is the newest.
    newest_first = sorted(names, key=lambda name: -order.get(name.removesuffix(ANEW), len(order)))
    originals = [name for name in newest_first if not (name.endswith(ANEW) and name.removesuffix(ANEW) in names)]
    return place.versions_bytes([*originals, *([DRAFT] if has_draft(root) and not public else [])])


def has_draft(root: Path) -> bool:
    """Whether the site has a draft to speak of."""
    return (place.site_of(root) / DRAFT / "index.html").is_file()


def refresh(root: Path) -> None:
    """Bring the root up to date: selector, snapshots, stop pages, index, short addresses, feed, notices, offers."""
    with in_language_of(root):
        _refresh(root)


def stop(root: Path, edition: Edition) -> None:
    """Put the stop pages of one edition, whatever else is broken; nothing where its pages are not here."""
    with in_language_of(root):
        folder = here(root).get(edition.edition)
        if folder is not None:
            called_back = withdrawals.of_edition(withdrawals.read(root), edition.edition)
            stops.put(place.site_of(root) / folder, edition, called_back, contact_of(root))


def _refresh(root: Path) -> None:
    site = place.site_of(root)
    if not site.is_dir():
        return
    place.clear(site)
    folders = here(root)
    if not _has_root(root):
        return
    for name, folder in folders.items():
        place.sums_at(site / folder)
        if folder == name:
            kept.keep(root, name)
    wanted = versions(root)
    if json.loads(wanted) != list(place.listed(site)):
        write_atomically(site / place.VERSIONS, wanted)
    withdrawn = withdrawals.read(root)
    for one in _line(root):
        called_back = withdrawals.of_edition(withdrawn, one.edition)
        stops.put(site / folders[one.edition], one, called_back, contact_of(root))
    if is_fresh(root) and _is_whole(root):
        return
    note = root / ".guidegen" / _NOTE
    note.unlink(missing_ok=True)
    files = root_files(root)
    OutputTree(site, manifest_path(root, "root")).write(files)
    held = {"key": _key(root, folders), "sums": {path: place.digest(data) for path, data in sorted(files.items())}}
    write_atomically(note, json.dumps(held, indent=0).encode())


def is_fresh(root: Path) -> bool:
    """Whether the root was made from all that is known today."""
    with in_language_of(root):
        return _noted(root)[0] == _key(root, here(root))


def _is_whole(root: Path) -> bool:
    """Whether every file of the root is as it was made."""
    site = place.site_of(root)
    return all(
        (site / path).is_file() and place.digest_of(site / path) == total for path, total in _noted(root)[1].items()
    )


def sums_of_root(root: Path) -> dict[str, str]:
    """The sum of each file that the root should have: as noted where that is of today, else of what is made anew."""
    if is_fresh(root):
        return _noted(root)[1]
    return {path: place.digest(data) for path, data in root_files(root).items()} if _has_root(root) else {}


def made_before(root: Path) -> set[str]:
    """The files of the root that an older state of the editions led to, where that was noted."""
    return {*_noted(root)[1]}


def _has_root(root: Path) -> bool:
    """Whether there is anything that the root could speak of."""
    return bool(here(root) or kept.names(root) or offers.path_of(root).is_file())


def _noted(root: Path) -> tuple[str, dict[str, str]]:
    """The key that the root was made by, and the sums of its files; nothing where the note cannot be read."""
    try:
        held = lines.loads(bytes_of(root / ".guidegen" / _NOTE))
        return str(held["key"]), {str(path): str(total) for path, total in held["sums"].items()}
    except (OSError, ValueError, TypeError, LookupError, AttributeError):
        return "", {}


def _line(root: Path) -> tuple[Edition, ...]:
    """The editions whose pages are here, oldest first."""
    folders = here(root)
    return tuple(one for one in kept.line(root) if one.edition in folders)


def compared(root: Path, older: str, newer: str) -> tuple[GuideChanges, ...]:
    """What changed between two editions, from their snapshots."""
    return compare(kept.records(root, older), kept.records(root, newer))


def address(root: Path, edition: Edition | None) -> str:
    """Where the site's root stands, in full; empty for the draft, and where the site has no address."""
    return str(read_settings(root / "mkdocs.yml").get("site_url") or "") if edition else ""


def root_files(root: Path, public: bool = False) -> dict[str, bytes]:
    """Every file of the root but the list itself, by path; a `public` root does not speak of the draft."""
    with in_language_of(root):
        return _root_files(root, public)


def _root_files(root: Path, public: bool) -> dict[str, bytes]:
    held = root_of(root, public)
    files = dict(root_pages.pages(held))
    files.update(crawlers.files(held))
    files[feed.FILE] = feed.feed(held.name, held.site_url, feed.entries(held.line, held.folders, held.withdrawn))
    files[NOTICES] = _json(standing.as_json(held.standings, held.line))
    files.update(offers.files(root))
    return files


def prices(root: Path) -> bytes:
    """The price list by itself, as the preview shows it beside the draft: it leads to no page of an edition."""
    with in_language_of(root):
        name = str(read_settings(root / "mkdocs.yml").get("site_name") or "Guides")
        front = Front("", (), selling(root), None)
        alone = Root(name=name, site_url="", contact=contact_of(root), about="", line=(), folders={}, withdrawn=(),
                     standings={}, front=front, machines={}, draft=False)  # fmt: skip
        return alone.page("prices.html", PRICES, selling=front.selling)


def root_of(root: Path, public: bool) -> Root:
    """All that the pages of the root are made of."""
    folders, line = here(root), _line(root)
    withdrawn = tuple(one for one in withdrawals.read(root) if one.edition in folders)
    settings = read_settings(root / "mkdocs.yml")
    site_url = str(settings.get("site_url") or "")
    records: dict[str, tuple[snapshot.Data, ...]] = {}

    def records_of(edition: str) -> tuple[snapshot.Data, ...]:
        if edition not in records:
            records[edition] = kept.records(root, edition)
        return records[edition]

    def between(older: str, newer: str) -> tuple[GuideChanges, ...]:
        return compare(records_of(older), records_of(newer))

    newest = records_of(line[-1].edition) if line else ()
    return Root(
        name=str(settings.get("site_name") or "Guides"),
        site_url=f"{site_url.rstrip('/')}/" if site_url else "",
        contact=contact_of(root),
        about=str(Markup(settings.get("copyright") or "").striptags()),
        line=line,
        folders=folders,
        withdrawn=withdrawn,
        standings=standing.standings(line, folders, between, withdrawn),
        front=front_of(newest, makes_of(root), selling(root), datetime.date.today()),
        machines={one["variant"]["id"]: one["variant"]["name"] for one in newest},
        draft=has_draft(root) and not public,
        paths=place.sums_at(place.site_of(root) / folders[line[-1].edition]) if line else (),
    )


def _json(value: Any) -> bytes:
    return (json.dumps(value, ensure_ascii=False, separators=(",", ":"), sort_keys=True) + "\n").encode()


def _key(root: Path, folders: dict[str, str]) -> str:
    """A hash of all that the root follows from."""
    site = place.site_of(root)
    paths = [
        root / "mkdocs.yml",
        root / "content" / "workshop.yml",
        withdrawals.path_of(root),
        offers.path_of(root),
        *sorted((root / "content" / "kits").glob("*.yml")),
        site / place.VERSIONS,
        *(site / folder / SUMS for folder in folders.values()),
        *(path for name in folders for path in sorted(kept.folder_of(root, name).glob("*.json"))),
        *(site / folder / FILE for folder in folders.values()),
    ]
    whole = hashlib.sha256(_code() + translation().fingerprint.encode())
    # A price goes with its last day, though no file has changed.
    whole.update(b"priced" if _is_priced(root) else b"")
    for path in paths:
        whole.update(place.digest_of(path).encode() if path.is_file() else b"-")
    return whole.hexdigest()


def _is_priced(root: Path) -> bool:
    """Whether prices hold today; what cannot be read is named by whoever needs it."""
    try:
        return holds(selling(root), datetime.date.today())
    except CatalogueError:
        return False


@cache
def _code() -> bytes:
    """A hash of what makes the root: the programs and templates of the editions, and what draws."""
    whole = hashlib.sha256()
    here, site = Path(__file__).parent, Path(colours.__file__).parents[1]
    found = [*here.rglob("*"), *(site / "drawings").glob("*"), *(site / "pages").glob("*.py")]
    found += [site / "web" / "assets" / name for name in ("base.css", "drawings.css", "mark.svg")]
    for path in sorted(found):
        if path.suffix in (".py", ".html", ".css", ".svg", ".js"):
            whole.update(path.read_bytes())
    return whole.digest()
