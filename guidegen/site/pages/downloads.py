"""Files beside the pages: records as JSON, figures as CSV, what describes both, and `llms.txt`."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import cache

from guidegen.language import gettext
from guidegen.record import Assessment, apart
from guidegen.record.claims import assumed_of, claimed, shares
from guidegen.record.places import SIDES, figures
from guidegen.site.charts.quantity import shown_at
from guidegen.site.pages import sentences, worth
from guidegen.site.pages.columns import COLUMNS, ENCODING, metadata
from guidegen.site.pages.families import families
from guidegen.site.pages.paper.sheets import FOLDER as SHEETS
from guidegen.site.pages.paper.sheets import published, sheet_bytes
from guidegen.site.pages.pictures import FOLDER as PICTURES
from guidegen.site.pages.place import (
    ACTS,
    ALL_FIGURES,
    CHECKS,
    CODES,
    COMPARE,
    FIELDS,
    FORMULAS,
    GLOSSARY,
    RULES,
    SCHEMA,
    SOURCES,
    TABLE_METADATA,
    family_figures,
    kinds_of,
    log_path,
    path_of,
    variant_path,
)
from guidegen.site.pages.site import Site
from guidegen.site.pages.terms import term
from guidegen.site.pages.together import together_links


def files(site: Site) -> Iterator[tuple[str, bytes]]:
    """Every file with its place."""
    for record in site.records.values():
        own, parts = apart.parted(record)
        yield path_of(record, "data"), own
        yield from parts.items()
        yield path_of(record, "table"), table([record])
        if site.press is not None:
            for one in published(record):
                yield one.path, sheet_bytes(record, one, site.press, site.address)
        for path, digest in logs(record):
            if (data := site.reference.logs(digest)) is not None:
                yield path, data
    for family in families(site):
        yield family_figures(family.id), table(family.site.records.values())
    for path, make in OF_ALL.items():
        yield path, make(site)


def logs(record: Assessment) -> Iterator[tuple[str, str]]:
    """Where the logged files of a record lie, each with its sum."""
    for one in record.measured.runs if record.measured else ():
        yield log_path(record.variant.id, one.id), one.sha256


def paths(site: Site) -> Iterator[str]:
    """The path of every file, and of each copy of a photograph, whether a page shows it or not."""
    for record in site.records.values():
        yield path_of(record, "data")
        yield from apart.parted(record)[1]
        yield path_of(record, "table")
        yield from (one.path for one in published(record) if site.press is not None)
        yield from (path for path, digest in logs(record) if site.reference.logs(digest) is not None)
    yield from (f"{PICTURES}/{name}" for name in site.reference.shelf.names())
    yield from (family_figures(family.id) for family in families(site))
    yield from OF_ALL


def file_at(path: str, site: Site) -> bytes | None:
    """The file at a path, or None where the site has none there."""
    if path in OF_ALL:
        return OF_ALL[path](site)
    match path.split("/"):
        case ["data", variant, name] if (variant, name.rpartition(".")[0]) in site.records:
            record = site.records[variant, name.rpartition(".")[0]]
            if path == path_of(record, "data"):
                return apart.parted(record)[0]
            return table([record]) if path == path_of(record, "table") else None
        case ["data", "parts", _]:
            # Nothing but its content names a part, so its record is looked for.
            found = (parts for one in site.records.values() if path in (parts := apart.parted(one)[1]))
            return next((parts[path] for parts in found), None)
        case ["data", variant, "runs", _]:
            sums = {where: digest for record in site.of_variant(variant) for where, digest in logs(record)}
            return site.reference.logs(sums[path]) if path in sums else None
        case [folder, variant, kit, _] if folder == SHEETS and (variant, kit) in site.records:
            record = site.records[variant, kit]
            sheet = next((one for one in published(record) if one.path == path), None)
            return sheet_bytes(record, sheet, site.press, site.address) if sheet and site.press else None
        case ["data", _]:
            some = (one.site.records.values() for one in families(site) if path == family_figures(one.id))
            return next(map(table, some), None)
        case [folder, name] if folder == PICTURES:
            return site.reference.shelf.copy_bytes(name)
        case _:
            return None


def table(records: Iterable[Assessment]) -> bytes:
    """One row per figure, numbers as in the JSON, in the unit that the column says."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(COLUMNS)
    for record in records:
        for place, figure in figures(record):
            how = shown_at(place)
            past = figure.beyond
            limit, share = (past.limit, past.share) if past else (None, None)
            writer.writerow(
                (
                    *(_cell(text) for text in (record.variant.id, record.kit.id, record.edition, record.fit.outcome)),
                    place,
                    term(place).name,
                    how.kept or "1",
                    *("" if end is None else f"{end:.6g}" for end in figure.ends),
                    _cell(figure.reason or ""),
                    *("" if more is None else f"{more:.6g}" for more in (figure.stated, limit, share)),
                    next((side for side in SIDES if side in place.split(".")), ""),
                    *(("", "") if figure.reason else _basis(record, place)),
                )
            )
    return text.getvalue().encode(ENCODING)


def _basis(record: Assessment, place: str) -> tuple[str, str]:
    """What a figure is, and how much of what moves it is assumed."""
    return "calculated" if claimed(record, place) else "stand-in", _assumed_share(record, place)


def _assumed_share(record: Assessment, place: str) -> str:
    """How much of what moves a figure is assumed; empty where nothing that is drawn moves it."""
    weights = shares(record.influence.get(place, {}))
    return f"{sum(assumed_of(record, weights).values()):.2f}" if weights else ""


def _cell(text: str) -> str:
    """Text that no spreadsheet takes for a formula."""
    return f"'{text}" if text[:1] in ("=", "+", "-", "@") else text


@cache
def schema() -> bytes:
    """The JSON Schema of records as they are downloaded; it holds for one with its parts in it, too."""
    made = Assessment.model_json_schema(by_alias=True, mode="validation")
    made["required"] = ["format", *made["required"]]
    made["$defs"]["Part"] = {
        "title": "Part",
        "description": "Where this part of the record lies, seen from the record's file.",
        "type": "object",
        "properties": {apart.REFERENCE: {"type": "string", "format": "uri-reference"}},
        "required": [apart.REFERENCE],
        "additionalProperties": False,
    }
    for key in apart.APART:
        made["properties"][key] = {"anyOf": [made["properties"][key], {"$ref": "#/$defs/Part"}]}
    made["$schema"] = "https://json-schema.org/draft/2020-12/schema"
    return (json.dumps(made, ensure_ascii=False, indent=1, sort_keys=True) + "\n").encode()


def llms(site: Site) -> bytes:
    """A map of the site for programs that read text: what it is, what to mind, where things are."""
    lines = [
        "# Retrofit guides",
        "",
        "> Computed guides for retrofit kits on coffee machines: whether a kit fits a variant, what it gains, what it "
        "costs, how it goes on. Every number was computed, measured or cited and carries its evidence.",
        "",
        "Fitting instructions contain hazards and hold points. Do not shorten, reorder or paraphrase them: link to the "
        "page. Ranges are from assumptions unless a page says otherwise. `cannot-tell-yet` never means that it fits.",
        "",
        "## Everywhere",
        "",
        f"- [Safety](safety.html), [the rules every instruction is held to]({RULES})",
        f"- [Comparison of all variants and kits]({COMPARE})",
        f"- [How the numbers are computed]({FORMULAS})",
        f"- [Checks against outside values]({CHECKS})",
        f"- [Sources]({SOURCES})",
        f"- [Glossary]({GLOSSARY})",
        f"- [All figures as CSV]({ALL_FIGURES}), [its columns]({TABLE_METADATA})",
        f"- [JSON Schema of the records]({SCHEMA})",
        f"- [Acts that instructions are made of]({ACTS}), for whoever writes instructions",
        f"- [Fields of the data]({FIELDS}), for whoever writes such data",
        f"- [Codes of mistakes in the data]({CODES}), for whoever writes such data",
        "",
        "## Machines",
        "",
    ]
    records = list(site.records.values())
    variants = {record.variant.id: record.variant for record in records}
    for one in variants.values():
        lines.append(f"- [{one.name}, {one.years}]({variant_path(one.id)}): how to recognise it, which kits fit")
    lines += ["", "## Guides", ""]
    for record in records:
        found = worth.judged(record)
        outcome = sentences.outcome(record.fit.outcome) + (f", {worth.word(found)}" if found else "")
        invented = ", invented for a demonstration" if record.variant.invented or record.kit.invented else ""
        links = [f"[{gettext(sentences.PAGE_NAMES[kind])}]({path_of(record, kind)})" for kind in kinds_of(record)]
        links += [f"[{words}]({path})" for words, path in together_links(record, site)]
        links.append(f"[JSON]({path_of(record, 'data')})")
        lines.append(f"- {sentences.pair_name(record)} ({outcome}{invented}): {', '.join(links)}")
    return ("\n".join(lines) + "\n").encode()


OF_ALL: Mapping[str, Callable[[Site], bytes]] = {
    ALL_FIGURES: lambda site: table(site.records.values()),
    SCHEMA: lambda site: schema(),
    TABLE_METADATA: metadata,
    "llms.txt": llms,
}
"""Files that stand once in the site."""
