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

from guidegen.editions import feed, kept, offers, place, root_pages, snapshot, standing, stops, withdrawals
from guidegen.editions.change import GuideChanges
from guidegen.editions.compare import compare
from guidegen.editions.edition import ANEW, DRAFT, FILE, SUMS, Edition
from guidegen.engine.settings import read_settings
from guidegen.output import OutputTree, manifest_path, write_atomically

NOTICES = "notices.json"
_KEY = "around.key"


def here(root: Path) -> dict[str, str]:
    """The editions that the site has, each with the folder it lies in: its own, or that of pages made anew."""
    site = place.site_of(root)
    folders = [str(one["version"]) for one in place.listed(site)]
    found = {name.removesuffix(ANEW): name for name in folders if name.endswith(ANEW)}
    found.update({name: name for name in folders if name != DRAFT and not name.endswith(ANEW)})
    return {name: folder for name, folder in found.items() if (site / folder).is_dir()}


def versions(root: Path, folders: Sequence[str] = ()) -> bytes:
    """What `versions.json` holds when these folders come to those that the site has, newest edition first."""
    site = place.site_of(root)
    names = {*here(root).values(), *folders}
    order = {one.edition: index for index, one in enumerate(kept.line(root))}
    # An edition that is only now being published is not in the line yet, and is the newest.
    newest_first = sorted(names, key=lambda name: -order.get(name.removesuffix(ANEW), len(order)))
    originals = [name for name in newest_first if not (name.endswith(ANEW) and name.removesuffix(ANEW) in names)]
    draft = [DRAFT] if (site / DRAFT / "index.html").is_file() else []
    return place.versions_bytes([*originals, *draft])


def refresh(root: Path) -> None:
    """Bring the root up to date: selector, snapshots, stop pages, index, short addresses, feed, notices, offers."""
    site = place.site_of(root)
    if not site.is_dir():
        return
    place.clear(site)
    folders = here(root)
    if not folders and not kept.names(root):
        return
    for name in place.published(site):
        if folders.get(name) == name:
            kept.keep(root, name)
    wanted = versions(root)
    if json.loads(wanted) != list(place.listed(site)):
        write_atomically(site / place.VERSIONS, wanted)
    key, note = _key(root, folders), root / ".guidegen" / _KEY
    tree = OutputTree(site, manifest_path(root, "root"))
    if note.is_file() and note.read_text(encoding="utf-8") == key and _is_whole(site, root):
        return
    note.unlink(missing_ok=True)
    line = tuple(one for one in kept.line(root) if one.edition in folders)
    withdrawn = tuple(one for one in withdrawals.read(root) if one.edition in folders)
    for one in line:
        called_back = withdrawals.of_edition(withdrawn, one.edition)
        stops.put(site / folders[one.edition], one, called_back, contact_of(root))
    tree.write(_files(root, site, line, folders, withdrawn))
    note.parent.mkdir(parents=True, exist_ok=True)
    note.write_text(key, encoding="utf-8")


def contact_of(root: Path) -> str:
    """The workshop's contact, read without the rest of the catalogue, which may be in the middle of a change."""
    import yaml

    held = yaml.safe_load((root / "content" / "workshop.yml").read_text(encoding="utf-8-sig"))
    return str(held.get("contact", "the workshop"))


def compared(root: Path, older: str, newer: str) -> tuple[GuideChanges, ...]:
    """What changed between two editions, from their snapshots."""
    return compare(kept.records(root, older), kept.records(root, newer))


def _files(
    root: Path,
    site: Path,
    line: Sequence[Edition],
    folders: dict[str, str],
    withdrawn: Sequence[withdrawals.Withdrawal],
) -> dict[str, bytes]:
    """Every file of the root, by path."""
    settings = read_settings(root / "mkdocs.yml")
    name, site_url = str(settings.get("site_name") or "Guides"), str(settings.get("site_url") or "")
    records: dict[str, tuple[snapshot.Data, ...]] = {}

    def between(older: str, newer: str) -> tuple[GuideChanges, ...]:
        for one in (older, newer):
            records.setdefault(one, kept.records(root, one))
        return compare(records[older], records[newer])

    found = standing.standings(line, folders, between, withdrawn)
    draft = (site / DRAFT / "index.html").is_file()
    files = dict(root_pages.pages(name, line, folders, withdrawn, found, draft))
    if line:
        folder = folders[line[-1].edition]
        paths = place.read_sums((site / folder / SUMS).read_bytes())
        files.update(root_pages.stubs(line[-1], folder, paths))
    files[feed.FILE] = feed.feed(name, site_url, feed.entries(line, folders, withdrawn))
    files[NOTICES] = _json(standing.as_json(found, line))
    files.update(offers.files(root))
    return files


def _json(value: Any) -> bytes:
    return (json.dumps(value, ensure_ascii=False, separators=(",", ":"), sort_keys=True) + "\n").encode()


def _is_whole(site: Path, root: Path) -> bool:
    """Whether every file that the root should have is there."""
    try:
        names = json.loads(manifest_path(root, "root").read_text(encoding="utf-8"))["files"]
    except (OSError, ValueError, KeyError):
        return False
    return all((site / name).is_file() for name in names)


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
    whole = hashlib.sha256(_code())
    for path in paths:
        data = path.read_bytes() if path.is_file() else b"-"
        whole.update(len(data).to_bytes(8, "little") + data)
    return whole.hexdigest()


@cache
def _code() -> bytes:
    whole = hashlib.sha256()
    for path in sorted(Path(__file__).parent.rglob("*")):
        if path.suffix in (".py", ".html"):
            whole.update(path.read_bytes())
    return whole.digest()
