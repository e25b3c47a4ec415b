"""The fields of the YAML as pages and the terminal print them: what each is, how it is measured, what it moves."""

from __future__ import annotations

from guidegen.record.base import Record


class FieldPart(Record):
    """One field. `written`: what stands there, in words; `example`: a line that could.

    Of a fact: `title`, what pages call it; `settles`, how it is found out; `plausible`, the ends of what such machines
    have; `vital`, whether life and limb hang on it. `needed_by`: what depends on it, a line each.
    """

    name: str
    says: str
    written: str
    example: str
    title: str | None = None
    settles: str | None = None
    plausible: tuple[str, str] | None = None
    vital: bool = False
    required: bool = False
    needed_by: tuple[str, ...] = ()


class FieldSection(Record):
    """The fields of one kind of file, and where such files are."""

    kind: str
    where: str
    about: str
    fields: tuple[FieldPart, ...]
