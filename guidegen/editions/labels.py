"""Bag label and packing slip of a unit, to print: HTML with the code drawn into it, nothing loaded from anywhere."""

from __future__ import annotations

from pathlib import Path
from urllib.parse import urljoin

from guidegen.editions.about import in_language_of
from guidegen.editions.root_pages import short_address
from guidegen.editions.template import render
from guidegen.editions.units_sold import FOLDER, Unit
from guidegen.language import gettext
from guidegen.problems import EnvironmentProblem
from guidegen.site.pages.qr import qr
from guidegen.writing import write_private


def address(unit: Unit, site_url: str) -> str:
    """What the code says: the short address, which leads to the guide that is in force, or to its stop page."""
    if not site_url:
        raise EnvironmentProblem("mkdocs.yml has no site_url, so a label could not say where its guide is")
    return urljoin(site_url, short_address(unit.kit, unit.revision, unit.variant))


def label(root: Path, unit: Unit, title: str, site_url: str, workshop: str, contact: str) -> Path:
    """Write the label and the slip of one unit, and return where they lie. `title` is the guide's."""
    leads_to = address(unit, site_url)
    with in_language_of(root):
        drawn = qr(leads_to, gettext("Address of the guide"))
        page = render(
            "label.html", unit=unit, title=title, address=leads_to, code=drawn, workshop=workshop, contact=contact
        )
    path = root / FOLDER / "labels" / f"{unit.serial}.html"
    write_private(path, page.encode())
    return path
