"""A sheet on paper: ours, set from the record, beside the browser's print of the page that it is made from.

Both make an A4 PDF of one instruction; the browser is given the finished page, and its start is not counted.
"""

from __future__ import annotations

import importlib.util
import io
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from guidegen import pipeline, trade
from guidegen.site.pages.paper.press import Press
from guidegen.site.pages.paper.sheets import published, sheet_bytes
from tests.bench._aims import Aim
from tests.bench.synthetic import ROOT

VARIANT, KIT = "tamsin-mk2", "feed-preheater"
BROWSER = Path("/usr/bin/chromium")
AIM_S = 0.5


def ours() -> Iterator[Aim]:
    """A line for each sheet on A4: seconds from the record to the bytes, kilobytes, pages."""
    with tempfile.TemporaryDirectory() as folder, trade.opened(ROOT) as known:
        record = pipeline.assess_pair(known, VARIANT, KIT, draws=0)
        press = Press(Path(folder))
        for sheet in (one for one in published(record) if one.paper == "a4"):
            began = time.perf_counter()
            made = sheet_bytes(record, sheet, press)
            spent = time.perf_counter() - began
            sheet_bytes(record, sheet, press)
            again = time.perf_counter() - began - spent
            print(
                f"paper: {sheet.title}: {spent:.2f} s, {again * 1e3:.0f} ms once kept, "
                f"{len(made) / 1e3:.0f} kB, {pages(made)} pages",
                flush=True,
            )
            yield Aim(f"a sheet on paper: {sheet.title}", spent, AIM_S, "s", "the typesetter, asked for several sizes")


def pages(data: bytes) -> int:
    """How many pages a PDF has."""
    import pikepdf

    with pikepdf.open(io.BytesIO(data)) as document:
        return len(document.pages)


def browsers(page: Path) -> None:
    """Print how long the browser takes for the page of the same instruction, where there is a browser."""
    if importlib.util.find_spec("playwright") is None or not BROWSER.exists() or not page.exists():
        print("paper: no browser, or no built site, to compare with")
        return
    from playwright.sync_api import sync_playwright

    with sync_playwright() as started:
        browser = started.chromium.launch(executable_path=BROWSER, args=["--no-sandbox", "--disable-gpu"])
        tab = browser.new_page()
        tab.goto(page.as_uri())
        began = time.perf_counter()
        made = tab.pdf(format="A4")
        spent = time.perf_counter() - began
        browser.close()
    print(f"paper: the browser's print: {spent:.2f} s, {len(made) / 1e3:.0f} kB, {pages(made)} pages")


def main() -> Iterator[Aim]:
    """Ours, then the browser's."""
    yield from ours()
    browsers(ROOT / "site" / "next" / "guides" / VARIANT / KIT / "install.html")
