"""The figures as a table: each row says its side, what it is, and how much of what moves it is assumed."""

from __future__ import annotations

import csv
import io

from markupsafe import Markup

from guidegen.record.places import figures
from guidegen.site.pages.context import shell_context
from guidegen.site.pages.downloads import COLUMNS, table
from tests.fixtures.records import record, shared

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
    rows = {row["quantity"]: row for row in csv.DictReader(io.StringIO(table([made]).decode()))}
    assert (rows[place]["side"], rows[place]["assumed_share"]) == ("with", "0.36")
    assert rows[place.replace(".with.", ".without.")]["side"] == "without"
    assert rows["warm_up.added_s"]["side"] == ""
    assert rows["warm_up.added_s"]["assumed_share"] == ""
    assert {row["evidence"] for row in rows.values()} <= {"calculated", "stand-in"}


def test_columns_are_only_added() -> None:
    """A spreadsheet that reads an older table reads this one."""
    assert COLUMNS[: len(FIRST)] == FIRST


def test_a_written_page_gets_a_number_as_guides_print_it() -> None:
    """With its range, linked to its row as seen from the page; the names of all where none is called so."""
    known = record()
    figure = shell_context([known], shared())["figures"][known.variant.id, known.kit.id]
    shown = figure("a/b.html", "warm_up.added")
    assert isinstance(shown, Markup)
    assert f'href="../guides/{known.variant.id}/{known.kit.id}/numbers.html#n-warm-up-added-s"' in shown
    assert "gg-range" in shown
    assert len(figure("a.html", "no-such-number")) == len(dict(figures(known)))
