"""The record sheet: a line for every reading of one case, and who did what."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from guidegen.language import gettext
from guidegen.record.procedure import InstructionPhase, InstructionRemedy
from guidegen.site.pages.instruction import RECORD_LINES, readings
from guidegen.site.pages.paper.frame import SheetOrder, frame
from guidegen.site.pages.sentences import sentence


def record_data(order: SheetOrder) -> dict[str, Any]:
    """What the template prints: lines to fill in, then a table of what is read, in the order of the work."""
    return {
        **frame(order, gettext("record sheet of the way back") if order.back else gettext("record sheet")),
        "lines": [gettext(line) for line in RECORD_LINES],
        "note": gettext("Keep this sheet with the machine. The first column names the step."),
        "head": [gettext("Step"), gettext("What"), gettext("Limit"), gettext("Reading")],
        "rows": [[one["number"], sentence(one["record"]), one["limit"]] for one in readings(_done(order))],
        "signature": gettext("Date, signature"),
    }


def _done(order: SheetOrder) -> Iterator[InstructionPhase | InstructionRemedy]:
    """The phases and remedies with the steps that are done in this case."""
    for group in order.course.groups:
        yield group.model_copy(update={"steps": tuple(one for one in group.steps if order.case.takes(one))})
