"""The most memory that a process of a benchmark took; imports nothing that would take any."""

from __future__ import annotations

import re
from pathlib import Path


def peak_mb() -> float:
    """Of this process, in MB, so far; what `getrusage` says begins with what the process that started it had taken."""
    found = re.search(r"VmHWM:\s+(\d+) kB", Path("/proc/self/status").read_text(encoding="ascii"))
    assert found, "only Linux says it"
    return int(found[1]) / 1e3
