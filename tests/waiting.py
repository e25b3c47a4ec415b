"""How long a test waits for something that comes by itself, so that none fails because a machine is slow."""

from __future__ import annotations

PATIENT = 900.0
"""s; whatever has not come by then does not come."""
