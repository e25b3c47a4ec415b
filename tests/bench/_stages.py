"""One whole build of a workshop in a process of its own, stage by stage: times, sizes and the most memory it took.

Started by `site.py`: `python -m tests.bench._stages WORKSHOP [TEXTS]`. It is the command `guidegen build`, but for the
typesetter: each sheet on paper is empty, as a general generator sets none, and `paper.py` measures them.
With a second folder it also writes the text of every page as Markdown, for the peers; that is timed by itself.
"""

from __future__ import annotations

import contextlib
import io
import json
import statistics
import sys
import time
from collections import defaultdict
from collections.abc import Callable
from pathlib import Path
from typing import Any

from guidegen import pipeline
from guidegen.assess import DRAWS
from guidegen.commands import main
from guidegen.site import bind, engine, finish, output, pages
from guidegen.site.charts import CHARTS
from guidegen.site.pages.page import Page
from guidegen.site.pages.paper.press import Press
from tests.bench._memory import peak_mb
from tests.bench._peers import write_texts

CLOCKS = (time.perf_counter, time.process_time)
TIMED: dict[str, tuple[Any, str]] = {
    "records": (pipeline, "judge_all"),
    "pages": (pages, "render"),
    "changes": (pipeline, "pages_with_changes"),
    "engine": (engine, "run"),
    "bind": (bind, "bind"),
    "finish": (finish, "finish"),
    "write": (output.OutputTree, "write"),
}


def build(root: Path, texts: Path | None = None, draws: int = DRAWS) -> dict[str, Any]:
    """Seconds by stage, by the clock (`spent`) and of the processor (`busy`), and the most memory beyond imports."""
    spent: dict[str, float] = defaultdict(float)
    busy: dict[str, float] = defaultdict(float)
    charts: list[float] = []
    bound: list[Page] = []
    imported = peak_mb()
    time_charts(charts)
    Press.get = lambda self, template, data, make: b""  # type: ignore[method-assign]
    before = {name: getattr(*place) for name, place in TIMED.items()}
    for name, (room, attribute) in TIMED.items():
        setattr(room, attribute, timed(before[name], name, (spent, busy), bound))
    try:
        with contextlib.redirect_stdout(io.StringIO()):
            code = main(["--quiet", "--root", str(root), "build", "--draws", str(draws)])
    finally:
        for name, (room, attribute) in TIMED.items():
            setattr(room, attribute, before[name])
    if code:
        raise SystemExit(code)
    made = {
        "guides": len([*(root / "site" / "next").glob("guides/*/*/index.html")]),
        "pages": len(bound),
        "spent": spent,
        "busy": {**busy, "all": time.process_time()},
        "chart_ms": statistics.median(charts) * 1e3,
        "memory_mb": peak_mb() - imported,
        "imported_mb": imported,
    }
    if texts is not None:
        began = time.perf_counter()
        made["kilobytes"] = write_texts(texts, bound) / len(bound) / 1e3
        spent["texts"] = time.perf_counter() - began
    return made


def timed(
    call: Callable[..., Any], name: str, sums: tuple[dict[str, float], dict[str, float]], bound: list[Page]
) -> Callable[..., Any]:
    """The same call, which adds its seconds to both sums, and the pages where they are set into the shell."""

    def wrapped(*given: Any, **named: Any) -> Any:
        if name == "bind":
            bound.extend(given[0])
        began = [clock() for clock in CLOCKS]
        try:
            return call(*given, **named)
        finally:
            for spent, clock, start in zip(sums, CLOCKS, began, strict=True):
                spent[name] += clock() - start

    return wrapped


def time_charts(charts: list[float]) -> None:
    """Let every chart that is drawn from now on add the seconds that it took."""

    def added(draw: Callable[..., Any]) -> Callable[..., Any]:
        def drawn(record: Any) -> Any:
            began = time.perf_counter()
            made = draw(record)
            if made is not None:
                charts.append(time.perf_counter() - began)
            return made

        return drawn

    CHARTS.update({name: added(draw) for name, draw in CHARTS.items()})


if __name__ == "__main__":
    print(json.dumps(build(Path(sys.argv[1]), Path(sys.argv[2]) if len(sys.argv) > 2 else None)))
