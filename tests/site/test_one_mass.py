"""One value edited in a family file moves that family's guides and what sums them up, and nothing else."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from guidegen import pipeline, trade
from guidegen.record import apart

FAMILY = "machines/tamsin/family.yml"
BEFORE, AFTER = "mass: {is: 1.30 kg ± 0.02 kg", "mass: {is: 1.25 kg ± 0.02 kg"
SUMS = {
    "changes.html",
    "compare.html",
    "data/all.csv",
    "search/search_index.json",
    "search/search_index.js",
    "sitemap.xml",
}
"""What speaks of all pairs at once, or of all that changed since the last edition; each of these may move."""


def held(site: Path) -> dict[str, bytes]:
    """Every file of a built site but the parts of records, which are named by their content and so never move."""
    found = ((path.relative_to(site).as_posix(), path) for path in site.rglob("*") if path.is_file())
    return {name: path.read_bytes() for name, path in found if not name.startswith(f"{apart.FOLDER}/")}


def test_one_mass_moves_its_guides_and_nothing_else(
    tmp_path: Path, lay_down_small_workshop: Callable[[Path], Path]
) -> None:
    """The files that change are those that the catalogue says depend on the value."""
    root = lay_down_small_workshop(tmp_path / "workshop")
    site = pipeline.build(root, draws=0).folder
    before = held(site)
    known = trade.load(root)
    heirs = {
        machine.id for machine in known.machines.values() if machine.places[("group", "mass", "is")].path == FAMILY
    }
    assert heirs
    assert len(heirs) < len(known.machines)

    family = root / FAMILY
    text = family.read_text(encoding="utf-8")
    assert text.count(BEFORE) == 1
    family.write_text(text.replace(BEFORE, AFTER), encoding="utf-8")
    pipeline.build(root, draws=0)
    after = held(site)

    assert sorted(before) == sorted(after)
    moved = {path for path in before if before[path] != after[path]}
    own = {
        path for path in before if path.split("/")[0] in ("guides", "data", "sheets") and set(path.split("/")) & heirs
    }
    assert moved <= own | SUMS, sorted(moved - own - SUMS)
    records = {path for path in own if path.startswith("data/") and path.endswith(".json")}
    numbers = {path for path in own if path.endswith("/numbers.html")}
    assert records | numbers <= moved, sorted((records | numbers) - moved)
    assert "compare.html" in moved
