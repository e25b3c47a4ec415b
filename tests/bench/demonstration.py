"""How long the demonstration takes to assess from nothing: compiling, reading, every pair with all its draws."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

REPOSITORY = Path(__file__).parents[2]
AIM = 120.0
"""s on two processors."""
ASSESS = """
import sys
from pathlib import Path
from guidegen import trade
from guidegen.assess import DRAWS, Assessor
known = trade.load(Path(sys.argv[1]))
assessor = Assessor(known, "next")
for machine in known.machines.values():
    for kit in known.kits.values():
        assessor.assess(machine, kit)
print(len(known.machines) * len(known.kits), DRAWS)
"""


def seconds(compiled: str) -> tuple[float, str]:
    """A process of its own, with a folder for compiled code; and what it prints."""
    environment = {**os.environ, "NUMBA_CACHE_DIR": compiled, "PYTHONPATH": str(REPOSITORY)}
    start = time.perf_counter()
    command = [sys.executable, "-c", ASSESS, str(REPOSITORY)]
    done = subprocess.run(command, env=environment, capture_output=True, text=True, check=True)
    return time.perf_counter() - start, done.stdout


def main() -> None:
    """Print the time with and without compiling, and their ratio to the aim."""
    with tempfile.TemporaryDirectory() as folder:
        first, counts = seconds(folder)
        again, _ = seconds(folder)
    pairs, draws = counts.split()
    print(
        f"demonstration: {pairs} pairs with {draws} draws from nothing in {first:.0f} s, {first / AIM:.2f} of the aim "
        f"of {AIM:.0f} s; {again:.0f} s once compiled, {again / int(pairs):.1f} s a pair; {os.cpu_count()} processors"
    )


if __name__ == "__main__":
    main()
