"""How soon the preview serves an edit of each kind, with 24 and with 1,000 guides, editions and ranges present.

The preview is a process of its own with the draws that it has by default. A page is open, a file is replaced as an
editor does it, and the page is asked for until it says the new words; what the preview does by itself goes on,
and the first edit after the start counts as any other.
"""

from __future__ import annotations

import statistics
import subprocess
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from tests.bench._aims import ENVIRONMENT, PYTHON, Aim, editing, say
from tests.bench.site import FEW, MANY
from tests.bench.synthetic import ROOT, kept_workshop

EDITS, PAUSE_S, ASK_EVERY_S, PATIENCE_S = 10, 1.5, 0.01, 600.0
MEDIAN_S, WORST_S = 0.3, 0.5
GUIDE = "guides/tamsin-mk2/feed-preheater"


@dataclass(frozen=True)
class Kind:
    """What is edited where, `{n}` being another number each time, and the page on which it is waited for."""

    name: str
    file: str
    old: str
    new: str
    shown: str
    page: str
    bound: str


KINDS = (
    Kind("a value", "machines/tamsin/mk2.yml", "is: 103 °C", "is: 102.{n}7 °C", "102.{n}7", f"{GUIDE}/numbers.html",
         "the stated numbers of the pair, computed anew, and the page"),
    Kind("a step's words", "content/procedures/feed-preheater.yml", "at the other end of the lead",
         "at end {n} of the lead", "at end {n} of the lead", f"{GUIDE}/install.html",
         "judging the instruction anew, and the longest page"),
    Kind("a glossary word", "content/glossary.yml", "The metal vessel with", "The metal vessel {n} with",
         "The metal vessel {n} with", "glossary.html", "reading and cross-checking the catalogue"),
    Kind("the workshop's name", "mkdocs.yml", "site_name: Kettleby Bench Works", "site_name: Kettleby Bench Works {n}",
         "Kettleby Bench Works {n}", f"{GUIDE}/index.html", "the engine, which makes the shell of all pages anew"),
    Kind("a hand-written page", "content/pages/index.md", "Then check your own machine", "Then check your {n} machines",
         "Then check your {n} machines", "index.html", "the engine, which makes the shell of all pages anew"),
)  # fmt: skip


@contextmanager
def preview(root: Path, program: Path = ROOT) -> Iterator[str]:
    """The address of a preview that serves a workshop while this lasts; `program` is where ours is taken from."""
    command = [PYTHON, "-m", "guidegen", "--root", str(root), "serve", "--port", "0"]
    environment = {**ENVIRONMENT, "PYTHONPATH": str(program)}
    running = subprocess.Popen(
        command, env=environment, cwd=program, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True
    )
    try:
        assert running.stdout is not None
        yield running.stdout.readline().split()[0]
    finally:
        running.terminate()
        running.wait()


def page_with(address: str, page: str, words: str) -> str:
    """The page, as soon as it says these words."""
    until = time.monotonic() + PATIENCE_S
    while time.monotonic() < until:
        try:
            with urllib.request.urlopen(f"{address}{page}", timeout=PATIENCE_S) as answer:
                text = str(answer.read().decode())
        except urllib.error.HTTPError:
            text = ""
        if words in text:
            return text
        time.sleep(ASK_EVERY_S)
    raise RuntimeError(f"{page} did not say {words!r} within {PATIENCE_S:.0f} s")


def edits(root: Path, address: str, kind: Kind) -> list[float]:
    """Seconds from each edit of a kind until its page says so."""
    shown = page_with(address, kind.page, "gg-")
    spent = []
    with editing(root / kind.file) as put:
        for number in range(EDITS):
            words = kind.shown.format(n=number)
            assert words not in shown, f"{kind.page} says {words!r} already"
            time.sleep(PAUSE_S)
            began = time.perf_counter()
            put(kind.old, kind.new.format(n=number))
            shown = page_with(address, kind.page, words)
            spent.append(time.perf_counter() - began)
    return spent


def main() -> Iterator[Aim]:
    """Two aims for each kind and size."""
    for variants in (FEW, MANY):
        root, guides = kept_workshop(variants), variants * 3
        began = time.perf_counter()
        with preview(root) as address:
            page_with(address, f"{GUIDE}/index.html", "gg-")
            say("edits", f"{guides} guides: the first page after {time.perf_counter() - began:.1f} s")
            for kind in KINDS:
                took = edits(root, address, kind)
                middle, worst = statistics.median(took), max(took)
                what = f"{kind.name} served, {guides} guides"
                say("edits", f"{what}: {middle:.2f} s, at most {worst:.2f} s of {EDITS}")
                yield Aim(f"{what}, median", middle, MEDIAN_S, "s", kind.bound)
                yield Aim(f"{what}, worst of {EDITS}", worst, WORST_S, "s", kind.bound)
