"""Reads PDFs back by a library that shares nothing with the typesetter: structure, texts of it, and lines as drawn."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import dataclass, field

import pikepdf

Point = tuple[float, float]


@dataclass
class Element:
    """An element of the structure: its kind, its alternative text, and what is inside it."""

    kind: str
    alt: str | None
    inside: list[Element] = field(default_factory=list)

    def every(self, kind: str) -> Iterator[Element]:
        """Every element of a kind at or below this one."""
        if self.kind == kind:
            yield self
        for one in self.inside:
            yield from one.every(kind)


def opened(data: bytes) -> pikepdf.Pdf:
    """The document."""
    return pikepdf.open(io.BytesIO(data))


def structure(document: pikepdf.Pdf) -> Element:
    """The structure tree."""
    root = document.Root.StructTreeRoot
    return Element("Root", None, [*_kids(root)])


def _kids(element: pikepdf.Object) -> Iterator[Element]:
    kids = element.get("/K", [])
    for kid in kids if isinstance(kids, pikepdf.Array) else [kids]:
        if isinstance(kid, pikepdf.Dictionary) and "/S" in kid:
            alt = kid.get("/Alt")
            yield Element(str(kid.S)[1:], None if alt is None else str(alt), [*_kids(kid)])


def lines(page: pikepdf.Page) -> Iterator[tuple[Point, Point]]:
    """Every straight line of a page, in points from its lower left corner, following the matrices in force."""
    matrix, stack, at = pikepdf.Matrix(), [], (0.0, 0.0)
    for operands, operator in pikepdf.parse_content_stream(page):
        match str(operator):
            case "q":
                stack.append(matrix)
            case "Q":
                matrix = stack.pop()
            case "cm":
                matrix = pikepdf.Matrix(*map(float, operands)) @ matrix
            case "m":
                at = matrix.transform((float(operands[0]), float(operands[1])))
            case "l":
                end = matrix.transform((float(operands[0]), float(operands[1])))
                yield at, end
                at = end
