"""Bag label and packing slip of a unit, to print: a PDF that the typesetter of the sheets makes."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from guidegen.editions.about import in_language_of
from guidegen.editions.units_sold import FOLDER, Unit
from guidegen.language import gettext, translation
from guidegen.problems import EnvironmentProblem
from guidegen.site.pages.paper.frame import PAPERS, code
from guidegen.site.pages.paper.press import Typeset
from guidegen.site.pages.place import whole_short_address
from guidegen.writing import write_private


def address(unit: Unit, site_url: str) -> str:
    """What the code says: the short address, which leads to the guide that is in force, or to its stop page."""
    if not site_url:
        raise EnvironmentProblem("mkdocs.yml has no site_url, so a label could not say where its guide is")
    return whole_short_address(unit.kit, unit.revision, unit.variant, site_url)


def label(root: Path, unit: Unit, title: str, site_url: str, workshop: str, contact: str, paper: str = "a4") -> Path:
    """Write the label and the slip of one unit, and return where they lie. `title` is the guide's."""
    leads_to = address(unit, site_url)
    with in_language_of(root):
        data = label_data(unit, title, leads_to, workshop, contact, paper)
    path = root / FOLDER / "labels" / f"{unit.serial}.pdf"
    write_private(path, Typeset("label", data).pdf())
    return path


def label_data(unit: Unit, title: str, leads_to: str, workshop: str, contact: str, paper: str) -> dict[str, Any]:
    """What the template prints."""
    rows = [
        (gettext("Serial number"), unit.serial),
        (gettext("For"), f"{title} ({unit.variant})"),
        (gettext("Kit, revision"), f"{unit.kit}, {unit.revision}"),
        (gettext("Guide"), gettext("edition {edition}: {address}").format(edition=unit.edition, address=leads_to)),
        (gettext("Tube batch"), unit.tube_batch),
        (gettext("Pressure test"), unit.pressure_test),
        *((gettext("Agreed: {name}").format(name=name), value) for name, value in sorted(unit.facts.items())),
    ]
    return {
        "lang": translation().code.partition("-")[0],
        "paper": PAPERS[paper],
        "title": gettext("Label and packing slip, {serial}").format(serial=unit.serial),
        "code": code(leads_to),
        "code_alt": gettext("Address of the guide"),
        "guide": title,
        "lines": [
            gettext("kit revision {revision}").format(revision=unit.revision),
            gettext("serial {serial}").format(serial=unit.serial),
            gettext("guide of edition {edition}").format(edition=unit.edition),
        ],
        "workshop": workshop,
        "slip": gettext("Packing slip"),
        "rows": [[name, str(value)] for name, value in rows if value],
        "before": gettext(
            "Before you start, open the address above: it says whether anything has changed. Questions: {contact}."
        ).format(contact=contact),
    }
