"""What every sheet says: which machine, kit and edition it is for, and where the guide in force is."""

from __future__ import annotations

import io
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import segno

from guidegen.language import gettext, translation
from guidegen.record import Assessment
from guidegen.record.procedure import InstructionCourse
from guidegen.site.charts.axes import edition
from guidegen.site.pages.cases import EVERY, WorkCase
from guidegen.site.pages.sentences import sentence

PAPERS: Mapping[str, str] = {"a4": "a4", "letter": "us-letter"}
"""What a paper is called by whoever prints, and by the typesetter."""


@dataclass(frozen=True)
class SheetOrder:
    """What is to be printed: of which record, on which paper, for which case, and where the guide stands.

    `address` is the short address that leads to the guide in force; empty for a draft, which has none. `back`: of
    restoring the original, in place of the fitting.
    """

    record: Assessment
    paper: str = "a4"
    case: WorkCase = EVERY
    address: str = ""
    back: bool = False

    @property
    def course(self) -> InstructionCourse:
        """The work that the sheet is about."""
        procedure = self.record.procedure
        course = procedure and (procedure.restoring if self.back else procedure.fitting)
        if not course:
            raise ValueError("a record without this work has no sheet for it")
        return course


def frame(order: SheetOrder, name: str) -> dict[str, Any]:
    """The data that every template reads; `name` is what the sheet is called."""
    record = order.record
    pair = gettext("{variant} with {kit}").format(variant=record.variant.name, kit=record.kit.name)
    invented = record.variant.invented or record.kit.invented
    version = record.procedure.version if record.procedure else None
    shown = gettext("kit revision {revision}, instruction version {version}, {edition}")
    return {
        "lang": translation().code.partition("-")[0],
        "paper": PAPERS[order.paper],
        "title": gettext("{pair}: {sheet}").format(pair=pair, sheet=name),
        "name": sentence(name),
        "pair": pair,
        "identity": shown.format(revision=record.kit.revision, version=version, edition=edition(record)),
        "case": sentence(order.case.words),
        "page": gettext("page {page} of {pages}"),
        "address": order.address.removeprefix("https://"),
        "code": code(order.address),
        "code_alt": gettext("Code that leads to the guide in force"),
        "draft": "" if order.address else gettext("A draft, not published: do not work by it."),
        "invented": gettext("Invented for a demonstration: do not work on a real machine from this.")
        if invented
        else "",
    }


def code(address: str) -> str:
    """The address as a QR code in SVG, with the quiet zone of four modules that ISO/IEC 18004 asks for.

    A quarter of it may be soiled or torn. Empty without an address.
    """
    if not address:
        return ""
    drawn = io.BytesIO()
    segno.make_qr(address, error="q").save(drawn, kind="svg", xmldecl=False, border=4, nl=False, light="#fff")
    return drawn.getvalue().decode()
