"""A whole build from kept records beside its peers on the same texts, and how it grows from 24 to 1,000 guides.

Each is a process of its own, from its start to its end. Ours reads the catalogue, the kept records with their ranges
and the editions, and makes pages, charts, drawings, search, links and files, but no sheets on paper; bare MkDocs and
Hugo only turn our texts into pages. With 24 guides they take turns; with 1,000 each has one.
"""

from __future__ import annotations

import json
import math
import tempfile
from collections.abc import Iterator
from functools import partial
from pathlib import Path
from typing import Any

from tests.bench._aims import PYTHON, Aim, editing, in_turn, run, say, seconds
from tests.bench._peers import hugo, mkdocs
from tests.bench.synthetic import kept_workshop

FEW, MANY = 8, 334
"""Variants; with three kits each that is 24 and 1,002 guides."""
LISTS = ("which-variant.html", "compare.html", "sources.html", "changes.html")
FIRST_VIEW_KB, GUIDE_KB = 150, 60
EDIT = ("machines/tamsin/mk2.yml", "The first Tamsin with electronic control", "The first Tamsin with a controller")
PAGES = "templates: a page is much more HTML than text, every number with both units, its range and its links"
EVERY = "that every page is made again, whatever was edited, and every record is read again"


def stages(root: Path, *texts: Path) -> dict[str, Any]:
    """Build a workshop in a process of its own."""
    printed = run([PYTHON, "-m", "tests.bench._stages", str(root), *map(str, texts)])
    return dict(json.loads(printed))


def whole(root: Path, *texts: Path) -> dict[str, Any]:
    """The same, with the seconds of the process from its start to its end, but for writing the peers' texts."""
    made: dict[str, Any] = {}
    spent = seconds(lambda: made.update(stages(root, *texts)))
    made["whole"] = spent - made["spent"].pop("texts", 0.0)
    listed = ", ".join(f"{name} {took:.1f}" for name, took in made["spent"].items())
    held = f"{made['memory_mb']:.0f} MB beyond {made['imported_mb']:.0f} MB of imports"
    say("site", f"{made['guides']} guides, {made['pages']} pages in {made['whole']:.1f} s, "
        f"{made['busy']['all']:.1f} s of the processor: {listed}; {held}")  # fmt: skip
    return made


def main() -> Iterator[Aim]:
    """A line per build, and the aims."""
    with tempfile.TemporaryDirectory() as folder:
        few, texts = kept_workshop(FEW), Path(folder) / "few"
        small = whole(few, texts)
        turns = {"ours": partial(stages, few), "hugo": partial(hugo, texts), "mkdocs": partial(mkdocs, texts)}
        yield from beside(in_turn(turns), small)
        many, texts = kept_workshop(MANY), Path(folder) / "many"
        large = whole(many, texts)
        once = {
            "ours": large["whole"],
            "hugo": seconds(partial(hugo, texts)),
            "mkdocs": seconds(partial(mkdocs, texts)),
        }
        yield from beside(once, large)
    yield from growth(small, large)
    yield from sizes(many / "site" / "next")
    with editing(many / EDIT[0]) as put:
        put(*EDIT[1:])
        again = whole(many)["whole"]
    yield Aim(f"a build of {large['guides']} guides after one edit", again, 1.0, "s", EVERY)


def beside(spent: dict[str, float], made: dict[str, Any]) -> Iterator[Aim]:
    """The ratios to both peers."""
    ours, fast, bare = spent["ours"], spent["hugo"], spent["mkdocs"]
    texts = f"{made['guides']} guides ({made['pages']} texts of {made['kilobytes']:.1f} kB)"
    say("site", f"{texts}: ours {ours:.1f} s, Hugo {fast:.2f} s, MkDocs with Material {bare:.1f} s")
    yield Aim(f"{texts}, as many times Hugo's time", ours / fast, 10, "times", PAGES)
    yield Aim(f"{texts}, as a share of bare MkDocs' time", ours / bare, 1 / 20, "", PAGES)
    page = (made["busy"]["pages"] + made["busy"]["finish"]) / made["pages"] * 1e3
    yield Aim(f"a page of {made['guides']} guides, links included", page, 2.0, "ms of the processor", PAGES)
    yield Aim(f"a chart of {made['guides']} guides, median", made["chart_ms"], 5.0, "ms", "the drawing library")


def growth(small: dict[str, Any], large: dict[str, Any]) -> Iterator[Aim]:
    """How time and memory beyond imports grow with the number of pages."""
    times = math.log(large["pages"] / small["pages"])
    time = math.log(large["whole"] / small["whole"]) / times
    say("site", f"time grows with the number of pages to the power of {time:.2f}, start and imports included")
    held = math.log(large["memory_mb"] / small["memory_mb"]) / times
    yield Aim("memory beyond imports, as a power of the number of pages", held, 0.2, "",
              "that all records and pages are held until the last is written")  # fmt: skip


def sizes(site: Path) -> Iterator[Aim]:
    """Pages that list everything, and the download of a guide."""
    listed = {name: (site / name).stat().st_size / 1e3 for name in LISTS if (site / name).exists()}
    most = max(listed, key=lambda name: listed[name])
    say("site", "pages that list everything: " + ", ".join(f"{name} {size:.0f} kB" for name, size in listed.items()))
    yield Aim(f"the largest page that lists everything ({most})", listed[most], FIRST_VIEW_KB, "kB",
              "that it has a row for each variant, or for each change")  # fmt: skip
    data = [path.stat().st_size / 1e3 for path in site.glob("data/*/*.json") if path.parent.name != "parts"]
    yield Aim("the largest JSON of a guide", max(data), GUIDE_KB, "kB", "indentation, and the procedure in each")
