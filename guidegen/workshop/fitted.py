"""Facts about kits that are on a machine: `fitted.feed-preheater` is yes or no.

No file states one. A machine left the factory without any kit, and whoever owns one is asked.
"""

from __future__ import annotations

FITTED = "fitted."
"""Begins their names; the kit's id follows."""


def fitted(kit: str) -> str:
    """Return the name of the fact that a kit is on the machine.

    >>> fitted("feed-preheater")
    'fitted.feed-preheater'
    """
    return f"{FITTED}{kit}"
