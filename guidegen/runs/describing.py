"""The description of a logged file as YAML: what was inferred, what was said, and where the shots are."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from guidegen.problems import CatalogueError, Problem
from guidegen.runs.asking import Columns, Known
from guidegen.runs.dialect import Head
from guidegen.runs.document import LoggedRun
from guidegen.runs.meaning import IGNORED, PLACES
from guidegen.runs.shots import Drawn
from guidegen.workshop.explain import validated
from guidegen.workshop.reader import read
from guidegen.workshop.write_yaml import Value, block

SIGNS = {"comma": "a comma", "semicolon": "a semicolon", "tab": "a tab", "point": "a point"}


def description(said: Mapping[str, Value], known: Columns, digest: str, file: str) -> dict[str, Value]:
    """The document without shots; `said` is what the file cannot tell: variant, kits, date and so on."""
    written = known.head.written.model_dump(exclude_none=True)
    clock: dict[str, Value] = {"column": known.time.name, "written": known.time.unit}
    if known.answers.zone and known.time.unit == "iso-8601" and not known.has_zone:
        clock["zone"] = known.answers.zone
    made: dict[str, Value] = {
        **said, "file": file, "sha256": digest,
        "written": {key: str(value) for key, value in written.items()},
        "time": clock, "columns": [_column(known, one) for one in known.wanted],
    }  # fmt: skip
    ignored = [one.name for one in known.columns if one.meaning == IGNORED]
    return made | ({"ignored": ignored} if ignored else {})


def _column(known: Columns, one: Known) -> Value:
    kind = "place" if one.meaning in PLACES else "quantity"
    column: dict[str, Value] = {"column": one.name, kind: one.meaning, "unit": one.unit}
    if kind == "place":
        name, _, grade = known.answers.probes[one.name].partition(" ")
        probe: dict[str, Value] = {"kind": name}
        if grade.strip():
            probe["class"] = grade.strip()
        probe["lag"] = known.answers.lags[one.name]
        if one.name in known.answers.uncertainties:
            probe["uncertainty"] = known.answers.uncertainties[one.name]
        column["probe"] = probe
    return column


def with_shots(made: Mapping[str, Value], found: Sequence[Drawn]) -> dict[str, Value]:
    """The same with the shots that were found, for whoever measured to correct."""
    if not found:
        return dict(made)
    shots: list[Value] = [{"begins": f"{one.begins:.2f} s", "ends": f"{one.ends:.2f} s"} for one in found]
    return {**made, "shots_by": found[0].by, "shots": shots}


def as_yaml(made: Mapping[str, Value]) -> str:
    """The text of the file."""
    return "\n".join(block(made, 0)) + "\n"


def read_back(text: str, path: str) -> LoggedRun:
    """The document as the catalogue will read it; raises CatalogueError where it would not."""
    found: list[Problem] = []
    run = validated(LoggedRun, read(text.encode(), path), found, {"evidence": {}, "facts": ()})
    if run is None or found:
        raise CatalogueError(found)
    return run


def inferred(head: Head, known: Columns) -> Iterator[str]:
    """What was read off the file by itself, a line each; what was said on the command line is left out."""
    written = head.written
    letters = "UTF-8" if written.encoding == "utf-8" else "CP1252, because it is no UTF-8"
    yield f"letters {letters}; columns separated by {SIGNS[written.separator]}; decimal sign {SIGNS[written.decimal]}"
    names = f"names in line {written.names_in_line}" if written.names_in_line else "no line of names"
    yield f"{names}, values from line {written.values_from_line}"
    for one in known.columns:
        if not one.said:
            unit = f", {one.unit}" if one.unit else ""
            yield f'"{one.name}" is {one.meaning}{unit}'
