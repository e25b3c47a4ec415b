"""guidegen: a workshop's YAML about machines and retrofit kits in, a computed, safe, versioned guide site out.

    from guidegen import assessment, build, load, record_at

    known = load("path/to/workshop")                              # the catalogue, or CatalogueError with every mistake
    record = assessment(known, "tamsin-mk2", "feed-preheater")    # one frozen record with every number
    build("path/to/workshop")                                     # the site's draft in site/next/
    record_at("site/2026.1/data/tamsin-mk2/feed-preheater.json")  # the record that an edition published

The names are imported when they are first used, so that the command line's help loads no numerical library.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

__version__ = "0.1.0"
__all__ = ["__version__", "assessment", "build", "load", "record_at"]

if TYPE_CHECKING:
    from guidegen.commands.api import assessment, build, load, record_at


def __getattr__(name: str) -> Any:
    """Import the names of the interface when they are asked for."""
    if name in __all__:
        from guidegen.commands import api

        return getattr(api, name)
    raise AttributeError(f"module 'guidegen' has no attribute {name!r}")
