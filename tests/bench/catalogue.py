"""How long `check` takes to read a catalogue, per variant, and how that grows with its size."""

from __future__ import annotations

import tempfile
import time
import tracemalloc
from pathlib import Path

from guidegen import trade
from tests.bench.synthetic import lay_down

SIZES = (100, 1000)


def seconds(variants: int) -> float:
    """Return the time for reading, joining, validating and cross-checking a workshop of that size."""
    with tempfile.TemporaryDirectory() as folder:
        root = lay_down(Path(folder) / "workshop", variants)
        start = time.perf_counter()
        known = trade.load(root)
        spent = time.perf_counter() - start
    if len(known.machines) != variants:
        raise AssertionError(f"read {len(known.machines)} of {variants} variants")
    return spent


def megabytes(variants: int) -> float:
    """Return the most memory that Python objects take while the catalogue is read."""
    with tempfile.TemporaryDirectory() as folder:
        root = lay_down(Path(folder) / "workshop", variants)
        tracemalloc.start()
        trade.load(root)
        peak = tracemalloc.get_traced_memory()[1]
        tracemalloc.stop()
    return peak / 1e6


def main() -> None:
    """Print one line per size and one for the growth."""
    spent = {}
    for size in SIZES:
        spent[size] = min(seconds(size) for _ in range(2))
        each = spent[size] / size * 1e3
        print(f"catalogue: {size} variants read and checked in {spent[size]:.2f} s, {each:.2f} ms each")
    small, large = SIZES
    growth = (spent[large] / large) / (spent[small] / small)
    print(f"catalogue: from {small} to {large} variants the time per variant grows by a factor of {growth:.2f}")
    print(f"catalogue: {large} variants take {megabytes(large):.0f} MB at most")


if __name__ == "__main__":
    main()
