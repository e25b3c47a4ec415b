"""Run the benchmarks beside this file, all or those that are named: `make bench`, `python -m tests.bench edits site`.

At the end stands one table of every aim that was measured, each met or missed.
"""

from __future__ import annotations

import importlib
import sys
import time

from tests.bench._aims import Aim, say, table

PARTS = ("cold", "starts", "site", "edits", "editions", "paper", "drawings", "logs", "pairs", "physics")
"""In this order: `cold` leaves its records for the others, which compute them where it did not run."""


def main(names: list[str]) -> None:
    """Run these parts, or all."""
    unknown = sorted({*names} - {*PARTS})
    if unknown:
        raise SystemExit(f"no part is called {', '.join(unknown)}; there are: {', '.join(PARTS)}")
    aims: list[Aim] = []
    try:
        for part in names or PARTS:
            print(f"== {part}", flush=True)
            began = time.perf_counter()
            for aim in importlib.import_module(f"tests.bench.{part}").main() or ():
                aims.append(aim)
            say(part, f"took {time.perf_counter() - began:.0f} s in all")
    finally:
        if aims:
            print(table(aims), flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
