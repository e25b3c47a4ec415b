"""The interface for other programs: load a workshop, assess a pair, build the site."""

from __future__ import annotations

import json
from pathlib import Path

from guidegen import pipeline, trade
from guidegen.editions.lacking import lacking
from guidegen.reading import bytes_of
from guidegen.record import Assessment, apart, read
from guidegen.trade import Catalogue


def load(root: str | Path) -> Catalogue:
    """Read and cross-check a workshop. Raises CatalogueError with every mistake and its place."""
    return trade.load(Path(root))


def assessment(known: Catalogue, variant: str, kit: str) -> Assessment:
    """The record of one variant with one kit. Raises KeyError for an id the catalogue does not have."""
    return pipeline.assess_pair(known, variant, kit)


def build(root: str | Path, engine: str = "mkdocs") -> pipeline.Built:
    """Build the draft of the site into `site/next/` and say what changed."""
    return pipeline.build(Path(root), engine)


def record_at(path: str | Path) -> Assessment:
    """The record of a site's `data/<variant>/<kit>.json`, of today or of an older edition, whole.

    Raises OSError for a part that is not there, and ValueError for what is no record that this program reads.
    """
    here = Path(path)
    held = apart.whole(json.loads(bytes_of(here)), lambda reference: bytes_of(here.parent / reference))
    return read(held, lacking())
