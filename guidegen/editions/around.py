"""Everything at the site's root that follows from the editions, brought up to date by every command.

Nothing here decides whether an edition exists: `versions.json` does. What a command that died left undone, or what
somebody deleted, the next command makes again.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from functools import cache
from pathlib import Path
from typing import Any
from urllib.parse import urljoin

from guidegen.editions import (
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
from guidegen.editions.about import contact_of, in_language_of
from guidegen.editions.change import GuideChanges
from guidegen.editions.compare import compare
from guidegen.editions.edition import ANEW, DRAFT, FILE, SUMS, Edition
from guidegen.language import translation
from guidegen.reading import bytes_of
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


def corrections(root: Path, edition: Edition | None) -> str:
    """Where notices for an edition stand, in full; empty for the draft, and where the site has no address."""
    site_url = str(read_settings(root / "mkdocs.yml").get("site_url") or "")
    return urljoin(site_url, root_pages.corrections_page(edition.edition)) if edition and site_url else ""


def root_files(root: Path, public: bool = False) -> dict[str, bytes]:
    """Every file of the root but the list itself, by path; a `public` root does not speak of the draft."""
    with in_language_of(root):
        return _root_files(root, public)


def _root_files(root: Path, public: bool) -> dict[str, bytes]:
    site, folders, line = place.site_of(root), here(root), _line(root)
    withdrawn = tuple(one for one in withdrawals.read(root) if one.edition in folders)
    settings = read_settings(root / "mkdocs.yml")
    name, site_url = str(settings.get("site_name") or "Guides"), str(settings.get("site_url") or "")
    records: dict[str, tuple[snapshot.Data, ...]] = {}

    def between(older: str, newer: str) -> tuple[GuideChanges, ...]:
        for one in (older, newer):
            records.setdefault(one, kept.records(root, one))
        return compare(records[older], records[newer])

    found = standing.standings(line, folders, between, withdrawn)
    draft = has_draft(root) and not public
    files = dict(root_pages.pages(name, line, folders, withdrawn, found, draft))
    if line:
        folder = folders[line[-1].edition]
        files.update(root_pages.stubs(line[-1], folder, place.sums_at(site / folder)))
    files[feed.FILE] = feed.feed(name, site_url, feed.entries(line, folders, withdrawn))
    files[NOTICES] = _json(standing.as_json(found, line))
    files.update(offers.files(root))
    return files


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
        site / place.VERSIONS,
        *(site / folder / SUMS for folder in folders.values()),
        *(path for name in folders for path in sorted(kept.folder_of(root, name).glob("*.json"))),
        *(site / folder / FILE for folder in folders.values()),
    ]
    whole = hashlib.sha256(_code() + translation().fingerprint.encode())
    for path in paths:
        data = bytes_of(path) if path.is_file() else b"-"
        whole.update(len(data).to_bytes(8, "little") + data)
    return whole.hexdigest()


@cache
def _code() -> bytes:
    whole = hashlib.sha256()
    for path in sorted(Path(__file__).parent.rglob("*")):
        if path.suffix in (".py", ".html"):
            whole.update(path.read_bytes())
    return whole.digest()
