"""The columns of the tables of figures, and their description for other programs: CSV on the Web of the W3C.

A program that knows it (https://www.w3.org/TR/tabular-metadata/, 17 December 2015) learns from `csv-metadata.json` what
each column is, which hold numbers, and what makes a row the only one of its kind. The name is the one that such a
program looks for beside a table.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from guidegen.site.pages.families import families
from guidegen.site.pages.place import ALL_FIGURES, TABLE_METADATA, family_figures, path_of
from guidegen.site.pages.site import Site

ENCODING = "utf-8-sig"
"""UTF-8 with a byte order mark: without it spreadsheets take the file for one of the system's old code page, and print
`Â°C`. Readers by the standard (and Python's `utf-8-sig`) leave it out."""


@dataclass(frozen=True)
class FigureColumn:
    """What a column holds: in words, as a datatype of the standard, and the words that it may hold, where it is one."""

    says: str
    datatype: str = "string"
    words: tuple[str, ...] = ()
    required: bool = False


COLUMNS: Mapping[str, FigureColumn] = {
    "variant": FigureColumn("Id of the machine's variant.", required=True),
    "kit": FigureColumn("Id of the kit.", required=True),
    "edition": FigureColumn("The edition that published the row; next is a draft.", required=True),
    "outcome": FigureColumn("Whether the kit goes on the variant.", required=True),
    "quantity": FigureColumn("Which figure it is: its place in the record.", required=True),
    "name": FigureColumn("What the figure is called.", required=True),
    "unit": FigureColumn("The unit of value, low, high, stated and limit; 1 for none.", required=True),
    "value": FigureColumn("The median of the draws from the inputs' uncertainties.", "number"),
    "low": FigureColumn("Lower end of the range that holds 95 % of the draws.", "number"),
    "high": FigureColumn("Upper end of that range.", "number"),
    "reason": FigureColumn("Why there is no value, where there is none."),
    "stated": FigureColumn("What the stated values alone give.", "number"),
    "limit": FigureColumn("How far was watched, where a draw did not get there.", "number"),
    "beyond": FigureColumn("The share of draws beyond that limit, 0 to 1.", "number"),
    "side": FigureColumn("Without or with the kit; empty for what compares both.", words=("without", "with")),
    "evidence": FigureColumn("Calculated, or a stand-in.", words=("calculated", "stand-in")),
    "assumed_share": FigureColumn(
        "How much of what moves it is assumed, 0 to 1, by squared rank correlations.", "number"
    ),
}
"""Columns are only ever added, at the end."""


def metadata(site: Site) -> bytes:
    """What `csv-metadata.json` says: one description of the columns, for every table of figures."""
    folder = TABLE_METADATA.rpartition("/")[0] + "/"
    of_families = (family_figures(one.id) for one in families(site))
    tables = [ALL_FIGURES, *of_families, *(path_of(record, "table") for record in site.records.values())]
    made = {
        "@context": ["http://www.w3.org/ns/csvw", {"@language": "en"}],
        "dialect": {"encoding": "utf-8", "delimiter": ",", "header": True},
        "tableSchema": {
            "columns": [_column(name, one) for name, one in COLUMNS.items()],
            "primaryKey": ["variant", "kit", "quantity"],
        },
        "tables": [{"url": path.removeprefix(folder)} for path in tables],
    }
    return (json.dumps(made, ensure_ascii=False, indent=1) + "\n").encode()


def _column(name: str, one: FigureColumn) -> dict[str, Any]:
    words = {"base": one.datatype, "format": "|".join(one.words)} if one.words else one.datatype
    required = {"required": True} if one.required else {}
    return {"name": name, "titles": name, "dc:description": one.says, "datatype": words, **required}
