"""What can be taken away from the site: the record, its table, and data for programs."""

from __future__ import annotations

import csv
import io
import json
import posixpath
from pathlib import Path

import jsonschema
import pytest

from guidegen.record import apart
from guidegen.record.places import figures
from guidegen.site.pages import downloads, linked_data, place
from guidegen.site.pages.pictures import FOLDER as PICTURES
from tests.fixtures.records import record, site

HOW_TO = Path(__file__).parent / "how-to.schema.json"


def test_the_record_obeys_the_schema_that_is_published() -> None:
    """JSON as downloaded, and with its parts in it, against data/schema.json, by an independent validator.

    An unknown key is refused.
    """
    files = dict(downloads.files(site(record())))
    schema = json.loads(files[place.SCHEMA])
    jsonschema.Draft202012Validator.check_schema(schema)
    where = place.path_of(record(), "data")
    data = json.loads(files[where])
    joined = apart.whole(data, lambda reference: files[posixpath.normpath(posixpath.join(where, "..", reference))])
    assert {key for key in data if data[key] != joined[key]} == {*apart.APART}
    for one in (data, joined, json.loads(record().to_json())):
        jsonschema.validate(one, schema)
        with pytest.raises(jsonschema.ValidationError):
            jsonschema.validate({**one, "unknown": 1}, schema)


def test_every_file_is_found_by_its_path_alone() -> None:
    """As the preview asks for them, the parts of a record too; what no record has is not there."""
    shown = site(record())
    files = dict(downloads.files(shown))
    assert {path for path in downloads.paths(shown) if not path.startswith(f"{PICTURES}/")} == {*files}
    assert {path: downloads.file_at(path, shown) for path in files} == files
    assert downloads.file_at(f"{apart.FOLDER}/{'0' * 24}.json", shown) is None


def test_the_table_holds_every_figure_of_the_record() -> None:
    """Value and ends as in the JSON, six significant digits."""
    rows = list(csv.DictReader(io.StringIO(downloads.table([record()]).decode("utf-8-sig"))))
    known = dict(figures(record()))
    assert {row["quantity"] for row in rows} == set(known)
    for row in rows:
        figure = known[row["quantity"]]
        assert float(row["value"]) == pytest.approx(figure.value, rel=1e-5)
        assert float(row["low"]) == pytest.approx(figure.low, rel=1e-5)


def test_no_text_of_the_table_starts_a_formula_in_a_spreadsheet() -> None:
    """A reason that begins with `=` is quoted."""
    one = record()
    hostile = one.model_copy(update={"same_cup_degc": one.same_cup_degc.model_copy(
        update={"value": None, "low": None, "high": None, "reason": "=1+1"})})  # fmt: skip
    rows = csv.DictReader(io.StringIO(downloads.table([hostile]).decode("utf-8-sig")))
    assert {row["reason"] for row in rows} == {"", "'=1+1"}


def test_the_map_for_programs_lists_every_page_of_every_pair() -> None:
    """With the caution that instructions are not to be shortened."""
    text = downloads.llms(site(record())).decode()
    for kind in place.kinds_of(record()):
        assert f"({place.path_of(record(), kind)})" in text
    assert f"({place.variant_path(record().variant.id)})" in text
    assert "Do not shorten" in text


def test_the_instruction_as_schema_org_data_has_a_shape_of_our_own() -> None:
    """HowTo, sections, steps; every hazard of a step stands before its direction."""
    data = linked_data.how_to(record())
    jsonschema.validate(data, json.loads(HOW_TO.read_text(encoding="utf-8")))
    procedure = record().procedure
    assert procedure is not None
    steps = [step for phase in procedure.fitting.phases for step in phase.steps]
    listed = [step for section in data["step"] for step in section["itemListElement"]]
    assert len(listed) == len(steps)
    for step, one in zip(steps, listed, strict=True):
        kinds = [part["@type"] for part in one["itemListElement"]]
        assert kinds.index("HowToDirection") == len(step.hazards)
        assert one["itemListElement"][kinds.index("HowToDirection")]["text"] == step.do


def test_the_instructions_time_is_that_of_the_hands_and_with_the_waits_the_whole() -> None:
    """Added up here by hand; of a record that does not say its waits, no whole is claimed. ISO 8601, from memory."""
    one = record()
    procedure = one.procedure
    assert procedure is not None
    without = [phase.model_copy(update={"waits": ()}) for phase in procedure.fitting.phases]
    with_two = [without[0].model_copy(update={"waits": ("8 h",)}), without[1].model_copy(update={"waits": ("90 min",)})]
    for phases, total in ((without, None), ([*with_two, *without[2:]], "PT15H")):
        fitting = procedure.fitting.model_copy(update={"phases": tuple(phases)})
        changed = procedure.model_copy(update={"fitting": fitting, "minutes": 330.0})
        data = linked_data.how_to(one.model_copy(update={"procedure": changed}))
        assert data["performTime"] == "PT5H30M"
        assert data.get("totalTime") == total
