"""An edition's records as files: `<variant>.json` for each variant, and `shared.json` for what many of them repeat.

Steps and hazard statements are the bulk of a record and mostly the same on every variant, so each stands once, in
`shared.json`, and a variant's file names it. What a machine brings into all of its kits stands once in its file.
Nothing is lost but the line numbers of the YAML, which move whenever somebody writes a comment.
"""

from __future__ import annotations

import copy
import json
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from guidegen.editions import curves, lines
from guidegen.editions.edition import DRAFT

FORMAT = 1
SHARED = "shared.json"
COURSES = ("fitting", "restoring")
_LINE = re.compile(r":[0-9]+:[0-9]+$")

Data = dict[str, Any]


def pack(records: Iterable[Mapping[str, Any]]) -> dict[str, bytes]:
    """The files of a snapshot. `records` are assessments as plain data, as `Assessment.model_dump` gives them."""
    plain = [_named(_without_lines(copy.deepcopy(dict(record))), DRAFT) for record in records]
    shared: Data = {"format": FORMAT, "hazards": {}, "blank": {}, "steps": {}, "curves": {}}
    curves.share(plain, shared["curves"])
    _share_hazards(plain, shared["hazards"])
    _share_steps(plain, shared)
    by_variant: dict[str, list[Data]] = {}
    for record in plain:
        by_variant.setdefault(record["variant"]["id"], []).append(record)
    files = {f"{variant}.json": _variant_file(group) for variant, group in by_variant.items()}
    return {name: lines.dumps(data).encode() for name, data in sorted({**files, SHARED: shared}.items())}


def unpack(files: Mapping[str, bytes], edition: str) -> tuple[Data, ...]:
    """The records of a snapshot, as plain data, in the order of their ids.

    The files do not name their edition: a variant that did not change is the same file in each.
    """
    shared = lines.loads(files[SHARED])
    if shared["format"] != FORMAT:
        raise ValueError(f"a snapshot of format {shared['format']}; this guidegen reads {FORMAT}")
    records: list[Data] = []
    for name, data in files.items():
        if name != SHARED:
            records += _records_of(lines.loads(data), shared, edition)
    return tuple(sorted(records, key=lambda one: (one["variant"]["id"], one["kit"]["id"])))


def steps_of(record: Mapping[str, Any]) -> Iterator[Data]:
    """Every step of a record's procedure, remedies included."""
    for course in COURSES:
        for group in groups_of(record, course):
            yield from group["steps"]


def groups_of(record: Mapping[str, Any], course: str) -> list[Data]:
    """The phases of a course and then its remedies; none where the record has no such course."""
    held = (record["procedure"] or {}).get(course) or {"phases": [], "remedies": []}
    return [*held["phases"], *held["remedies"]]


# --- sharing -----------------------------------------------------------------------------------------


def _named(record: Data, edition: str) -> Data:
    """The record with the edition's name where the self-check keeps it, for the orders that it writes."""
    check = record.get("self_check")
    if not check or "pair" not in check:
        return record
    return {**record, "self_check": {**check, "pair": {**check["pair"], "edition": edition}}}


def _without_lines(part: Any) -> Any:
    if isinstance(part, dict):
        return {
            key: _LINE.sub("", entry) if key == "place" and isinstance(entry, str) else _without_lines(entry)
            for key, entry in part.items()
        }
    return [_without_lines(entry) for entry in part] if isinstance(part, list | tuple) else part


def _share_hazards(records: Sequence[Data], table: Data) -> None:
    """Replace a statement by its id where the table has it so; one that differs stays written out."""
    for record in records:
        procedure = record["procedure"]
        for holder in [procedure, *steps_of(record)] if procedure else []:
            for index, hazard in enumerate(holder["hazards"]):
                if table.setdefault(hazard["id"], hazard) == hazard:
                    holder["hazards"][index] = hazard["id"]


def _share_steps(records: Sequence[Data], shared: Data) -> None:
    """Move every step into the table. Its number and anchor follow from where it stands."""
    used: dict[str, Counter[str]] = {}
    for record in records:
        for step in _bare_steps(record):
            used.setdefault(step["key"], Counter())[json.dumps(step)] += 1
    names: dict[str, str] = {}
    texts: dict[str, Data] = {}
    for key in sorted(used):
        # The most used wording takes the plain name; of two equally used ones the first in the records.
        for number, (text, _) in enumerate(used[key].most_common()):
            names[text] = key if number == 0 else f"{key}~{number + 1}"
            texts[names[text]] = json.loads(text)
    shared["blank"] = blank = _most_common(list(texts.values()))
    shared["steps"] = {name: _differing(step, blank) for name, step in sorted(texts.items())}
    for record in records:
        for course in COURSES:
            for group in groups_of(record, course):
                bare = [_bare(step, course, group, index) for index, step in enumerate(group["steps"])]
                group["steps"] = [names[json.dumps(step)] for step in bare]


def _bare_steps(record: Data) -> Iterator[Data]:
    for course in COURSES:
        for group in groups_of(record, course):
            for index, step in enumerate(group["steps"]):
                yield _bare(step, course, group, index)


def _bare(step: Data, course: str, group: Data, index: int) -> Data:
    """The step without what its place implies; a step that is numbered otherwise keeps what it has."""
    place = _placed(step["key"], course, group, index)
    bare = {key: value for key, value in step.items() if place.get(key, ...) != value}
    hold = bare.get("hold")
    if hold and hold["on_fail"]:
        bare["hold"] = {**hold, "on_fail": {**hold["on_fail"], "number": None}}
        anchor = hold["on_fail"]["anchor"]
        if anchor:
            bare["hold"]["on_fail"]["anchor"] = anchor.removeprefix(f"{course}-")
    return bare


def _placed(key: str, course: str, group: Data, index: int) -> Data:
    mark = group.get("number", group.get("letter"))
    return {"number": f"{mark}.{index + 1}", "anchor": f"{course}-{key.replace('/', '-')}"}


def _most_common(steps: Sequence[Data]) -> Data:
    counts: dict[str, Counter[str]] = {}
    for step in steps:
        for key, value in step.items():
            counts.setdefault(key, Counter())[json.dumps(value)] += 1
    return {key: json.loads(count.most_common(1)[0][0]) for key, count in counts.items() if key != "key"}


def _differing(step: Data, blank: Data) -> Data:
    return {key: value for key, value in step.items() if blank.get(key, ...) != value}


def _variant_file(group: Sequence[Data]) -> Data:
    """One file: what the kits have in common, then each kit's own."""
    first = group[0]
    inputs = {one["id"]: one for one in first["inputs"]}
    kits = {}
    for record in group:
        own = {key: value for key, value in record.items() if key not in ("format", "variant", "edition")}
        own["inputs"] = [one["id"] if inputs.get(one["id"]) == one else one for one in record["inputs"]]
        kits[record["kit"]["id"]] = own
    return {
        "format": FORMAT,
        "record": first["format"],
        "variant": first["variant"],
        "inputs": list(inputs.values()),
        "kits": kits,
    }


# --- and back ----------------------------------------------------------------------------------------


def _records_of(held: Data, shared: Data, edition: str) -> Iterator[Data]:
    inputs = {one["id"]: one for one in held["inputs"]}
    for kit in held["kits"].values():
        record = {"format": held["record"], "variant": held["variant"], "edition": edition, **kit}
        record = _named(curves.spread(record, shared["curves"]), edition)
        record["inputs"] = [inputs[one] if isinstance(one, str) else one for one in kit["inputs"]]
        if record["procedure"]:
            _restore(record, shared)
        yield record


def _restore(record: Data, shared: Data) -> None:
    table = shared["hazards"]
    procedure = record["procedure"]
    procedure["hazards"] = [table[one] if isinstance(one, str) else one for one in procedure["hazards"]]
    for course in COURSES:
        numbers: dict[str, str] = {}
        for group in groups_of(record, course):
            for index, name in enumerate(group["steps"]):
                step = copy.deepcopy({**shared["blank"], **shared["steps"][name]})
                step["hazards"] = [table[one] if isinstance(one, str) else one for one in step["hazards"]]
                group["steps"][index] = {**_placed(step["key"], course, group, index), **step}
                numbers[group["steps"][index]["anchor"]] = group["steps"][index]["number"]
        for group in groups_of(record, course):
            for step in group["steps"]:
                branch = step["hold"] and step["hold"]["on_fail"]
                if branch and branch["anchor"]:
                    branch["anchor"] = f"{course}-{branch['anchor']}"
                    branch["number"] = numbers.get(branch["anchor"])
