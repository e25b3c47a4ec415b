"""The figures as a table: each row says its side, what it is, and how much of what moves it is assumed."""

from __future__ import annotations

import csv
import io
import json
import re

from markupsafe import Markup

from guidegen.record.places import figures
from guidegen.site.pages.columns import COLUMNS, metadata
from guidegen.site.pages.context import shell_context
from guidegen.site.pages.downloads import OF_ALL, files, table
from tests.fixtures.records import record, shared, site

FIRST = ("variant", "kit", "edition", "outcome", "quantity", "name", "unit", "value", "low", "high", "reason", "stated")
"""As they stood in every table that was ever published."""


def test_a_row_says_its_side_its_evidence_and_what_is_assumed() -> None:
    """With 0.6 assumed and 0.8 measured, 0.36 of what moves it is assumed: 0.6² / (0.6² + 0.8²)."""
    known = record()
    assumed, measured = (
        one.model_copy(update={"evidence": word})
        for one, word in zip(known.inputs, ("assumed", "measured"), strict=False)
    )
    place = f"drinks.{known.main_drink}.with.sensor_drop_k"
    made = known.model_copy(
        update={"inputs": (assumed, measured), "influence": {place: {assumed.id: -0.6, measured.id: 0.8}}}
    )
    rows = {row["quantity"]: row for row in csv.DictReader(io.StringIO(table([made]).decode("utf-8-sig")))}
    assert (rows[place]["side"], rows[place]["assumed_share"]) == ("with", "0.36")
    assert rows[place.replace(".with.", ".without.")]["side"] == "without"
    assert rows["warm_up.added_s"]["side"] == ""
    assert rows["warm_up.added_s"]["assumed_share"] == ""
    assert {row["evidence"] for row in rows.values()} <= {"calculated", "stand-in"}


def test_columns_are_only_added() -> None:
    """A spreadsheet that reads an older table reads this one."""
    assert tuple(COLUMNS)[: len(FIRST)] == FIRST


def test_a_written_page_gets_a_number_as_guides_print_it() -> None:
    """With its range, linked to its row as seen from the page; the names of all where none is called so."""
    known = record()
    figure = shell_context([known], shared())["figures"][known.variant.id, known.kit.id]
    shown = figure("a/b.html", "warm_up.added")
    assert isinstance(shown, Markup)
    assert f'href="../guides/{known.variant.id}/{known.kit.id}/numbers.html#n-warm-up-added-s"' in shown
    assert "gg-range" in shown
    assert len(figure("a.html", "no-such-number")) == len(dict(figures(known)))


def test_the_description_of_the_tables_holds_for_what_they_hold() -> None:
    """By https://www.w3.org/TR/tabular-metadata/: the columns in their order, numbers as numbers, none of two rows the
    same; `csv-metadata.json` is the name that a reader looks for in a table's folder (tabular-data-model, 5.3)."""
    shown = site(record())
    made = dict(files(shown))
    said = json.loads(made["data/csv-metadata.json"])
    assert OF_ALL["data/csv-metadata.json"] is metadata
    columns = said["tableSchema"]["columns"]
    for table_of in said["tables"]:
        data = made[f"data/{table_of['url']}"]
        assert data.startswith(b"\xef\xbb\xbf")
        head, *rows = csv.reader(io.StringIO(data.decode("utf-8-sig")))
        assert head == [one["name"] for one in columns]
        for row in rows:
            for cell, one in zip(row, columns, strict=True):
                assert cell or not one.get("required"), one["name"]
                if cell and one["datatype"] == "number":
                    float(cell)
                if cell and isinstance(one["datatype"], dict):
                    assert re.fullmatch(one["datatype"]["format"], cell)
        at = [head.index(name) for name in said["tableSchema"]["primaryKey"]]
        assert len({tuple(row[index] for index in at) for row in rows}) == len(rows)
