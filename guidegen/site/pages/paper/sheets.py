"""Which sheets a pair has, where each lies in the site, and its bytes."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from guidegen.language import gettext, marked
from guidegen.record import Assessment
from guidegen.site.pages.cases import EVERY, WorkCase, cases_of
from guidegen.site.pages.paper.bench import bench_data, bench_pdf
from guidegen.site.pages.paper.book import book_data
from guidegen.site.pages.paper.frame import PAPERS, SheetOrder
from guidegen.site.pages.paper.marking import has_template, template_data
from guidegen.site.pages.paper.press import Data, Press, Typeset
from guidegen.site.pages.paper.readings import record_data
from guidegen.site.pages.place import has_install, has_restore, whole_short_address
from guidegen.site.pages.sentences import sentence

FOLDER = "sheets"


@dataclass(frozen=True)
class SheetKind:
    """A kind of sheet: its name, the template, what fills it, what sets it, and whether each case has its own.

    `on_site`: on which papers the site has it. A book is large, so the site has it on one; the command makes the other.
    `back`: it is about restoring the original.
    """

    name: str
    template: str
    data: Callable[[SheetOrder], dict[str, Any]]
    pdf: Callable[[str, Data], bytes]
    of_case: bool = False
    wanted: Callable[[Assessment], bool] = has_install
    on_site: tuple[str, ...] = tuple(PAPERS)
    back: bool = False


@dataclass(frozen=True)
class PrintedSheet:
    """One sheet of a pair, which lies at `path` in the site."""

    kind: str
    paper: str
    case: WorkCase
    path: str

    @property
    def title(self) -> str:
        """What a link to it says."""
        name = sentence(gettext(KINDS[self.kind].name))
        return f"{name} ({self.case.words})" if self.case.words else name


def straight(template: str, data: Data) -> bytes:
    """A sheet that takes as many pages as it takes."""
    return Typeset(template, data).pdf()


_BENCH = SheetKind(marked("bench sheet"), "bench", bench_data, bench_pdf, of_case=True)
_RECORD = SheetKind(marked("record sheet"), "record", record_data, straight, of_case=True)
KINDS: Mapping[str, SheetKind] = {
    "bench": _BENCH,
    "record": _RECORD,
    "template": SheetKind(marked("template"), "template", template_data, straight, wanted=has_template),
    "back": replace(_BENCH, name=marked("bench sheet of the way back"), wanted=has_restore, back=True),
    "back-record": replace(_RECORD, name=marked("record sheet of the way back"), wanted=has_restore, back=True),
    "guide": SheetKind(marked("whole guide"), "book", book_data, straight, on_site=("a4",)),
}
"""By what a command and a file call them."""


def sheets_of(record: Assessment) -> Iterator[PrintedSheet]:
    """Every sheet of a pair, on each paper; none of a pair without an instruction."""
    if not has_install(record) or record.procedure is None:
        return
    for name, kind in KINDS.items():
        if kind.wanted(record):
            course = record.procedure.restoring if kind.back else record.procedure.fitting
            for case in cases_of(course) if kind.of_case and course else (EVERY,):
                for paper in PAPERS:
                    words = "-".join(filter(None, (name, case.id, paper)))
                    path = f"{FOLDER}/{record.variant.id}/{record.kit.id}/{words}.pdf"
                    yield PrintedSheet(name, paper, case, path)


def published(record: Assessment) -> Iterator[PrintedSheet]:
    """The sheets of a pair that the site has."""
    return (one for one in sheets_of(record) if one.paper in KINDS[one.kind].on_site)


def sheet_bytes(record: Assessment, sheet: PrintedSheet, press: Press, root: str = "") -> bytes:
    """The PDF. `root`: the site's address in full; empty for a draft, whose sheets lead nowhere."""
    short = whole_short_address(record.kit.id, record.kit.revision, record.variant.id, root)
    kind = KINDS[sheet.kind]
    data = kind.data(SheetOrder(record, sheet.paper, sheet.case, short, kind.back))
    return press.get(kind.template, data, kind.pdf)
