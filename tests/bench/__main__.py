"""Run every benchmark that stands beside this file: `make bench`."""

from __future__ import annotations

import importlib
from pathlib import Path

for path in sorted(Path(__file__).parent.glob("*.py")):
    if path.stem.startswith("_") or path.stem == "synthetic":
        continue
    print(f"== {path.stem}", flush=True)
    importlib.import_module(f"tests.bench.{path.stem}").main()
