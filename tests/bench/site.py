"""A whole build by size, beside bare MkDocs with Material on pages as large, and how soon the preview shows an edit.

Both run once, one after the other, on the same machine. The peer gets the text of our pages as Markdown and nothing
else to do: one theme, one plugin (search), no drawings, no assessment; so ours are counted without those two.
"""

from __future__ import annotations

import json
import math
import os
import re
import statistics
import subprocess
import sys
import tempfile
import time
import urllib.request
from pathlib import Path
from typing import Any

from tests.bench.synthetic import ROOT, lay_down

SIZES = (17, 34, 84)
"""Variants; with three kits each that is 51, 102 and 252 guides."""
WITH_PEER = (17, 84)
APART = ("assessment", "charts", "write again")
EDITS = 7
PAUSE_S = 1.5
AIM_RATIO, AIM_EDIT_S, AIM_CHART_MS = 20, 0.3, 5.0
ENVIRONMENT = {**os.environ, "PYTHONPATH": str(ROOT), "NO_MKDOCS_2_WARNING": "1"}


def stages(root: Path, peer: Path) -> dict[str, Any]:
    """Build a workshop in a process of its own."""
    command = [sys.executable, "-m", "tests.bench._stages", str(root), str(peer)]
    done = subprocess.run(command, env=ENVIRONMENT, cwd=ROOT, check=True, capture_output=True, text=True)
    measured: dict[str, Any] = json.loads(done.stdout)
    return measured


def peer_seconds(peer: Path) -> float:
    """The time that bare MkDocs takes, its start included."""
    began = time.perf_counter()
    subprocess.run([sys.executable, "-m", "mkdocs", "build", "-q"], cwd=peer, env=ENVIRONMENT, capture_output=True)
    spent = time.perf_counter() - began
    if not (peer / "site" / "compare.html").exists() and not (peer / "site" / "compare" / "index.html").exists():
        raise AssertionError("the peer built nothing")
    return spent


def edits(root: Path) -> list[float]:
    """Seconds from writing a mass into a variant's file until its open page is served anew, by a fresh preview."""
    variant = "made-up-0001-mk3"
    page = f"guides/{variant}/feed-preheater/index.html"
    source = root / "machines" / "made-up-0001" / "mk3.yml"
    text = source.read_text(encoding="utf-8")
    command = [sys.executable, "-m", "guidegen", "--root", str(root), "serve", "--port", "0", "--draws", "0"]
    running = subprocess.Popen(command, env=ENVIRONMENT, cwd=ROOT, stdout=subprocess.PIPE, text=True)
    try:
        assert running.stdout is not None
        address = running.stdout.readline().split()[0]

        def get(path: str) -> str:
            with urllib.request.urlopen(address + path, timeout=60) as answer:
                return str(answer.read().decode())

        def state() -> str:
            found = re.search(r"live\.js\?of=(\w+)", get(page))
            assert found
            return found[1]

        while "gg-" not in get(page):
            time.sleep(0.05)
        spent = []
        for number in range(EDITS):
            time.sleep(PAUSE_S)
            of = state()
            shown = json.loads(get(f"guidegen-live/state?page=/{page}&of={of}"))["shown"]
            changed = re.sub(r"mass: \d+ g", f"mass: {500 + number} g", text, count=1)
            began = time.perf_counter()
            # In one piece, as an editor does it.
            beside = source.with_suffix(".part")
            beside.write_text(changed, encoding="utf-8")
            beside.replace(source)
            while json.loads(get(f"guidegen-live/state?page=/{page}&of={of}&shown={shown}"))["of"] == of:
                pass
            get(page)
            spent.append(time.perf_counter() - began)
        return spent
    finally:
        running.terminate()
        running.wait()
        source.write_text(text, encoding="utf-8")


def main() -> None:
    """Print a line per size, the ratios, and how all of it grows."""
    measured = {}
    for variants in SIZES:
        with tempfile.TemporaryDirectory() as folder:
            root, peer = lay_down(Path(folder) / "workshop", variants), Path(folder) / "peer"
            made = measured[variants] = stages(root, peer)
            spent = made["spent"]
            own = made["own"] = sum(seconds for name, seconds in spent.items() if name not in APART)
            whole = own + spent["assessment"] + spent["charts"]
            listed = ", ".join(f"{name} {seconds:.2f}" for name, seconds in spent.items())
            print(
                f"site: {made['guides']} guides, {made['pages']} pages in {whole:.1f} s ({listed}), "
                f"{own:.1f} s without assessment and charts; {made['peak_mb']:.0f} MB",
                flush=True,
            )
            print(f"site: a chart takes {made['chart_ms']:.2f} ms, median of {made['charts']} (aim {AIM_CHART_MS:.0f})")
            if variants in WITH_PEER:
                theirs = peer_seconds(peer)
                print(
                    f"site: MkDocs with Material takes {theirs:.1f} s for {made['pages']} Markdown pages of "
                    f"{made['kilobytes']:.1f} kB: {theirs / own:.0f} times as long (aim {AIM_RATIO})",
                    flush=True,
                )
            took = edits(root)
            print(
                f"site: edit to served in {statistics.median(took):.2f} s, {max(took):.2f} s at most of {EDITS} "
                f"(aim {AIM_EDIT_S})",
                flush=True,
            )
    small, large = (measured[size] for size in (SIZES[0], SIZES[-1]))
    times = large["pages"] / small["pages"]
    for name in ("own", "peak_mb"):
        exponent = math.log(large[name] / small[name]) / math.log(times)
        what = "time without assessment and charts" if name == "own" else "memory"
        print(f"site: {times:.1f} times the pages take {large[name] / small[name]:.1f} times the {what}", end=" ")
        print(f"(exponent {exponent:.2f})")
    print(
        "site: bound by templates and the link check: a page of ours is much more HTML than text, with every "
        "number in both systems of units, its range and its links; setting pages into the frame is a hundredth of it."
    )


if __name__ == "__main__":
    main()
