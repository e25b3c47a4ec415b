"""Where every page and file lies in the site, as paths from its root."""

from __future__ import annotations

from typing import Literal
from urllib.parse import urljoin

from guidegen.record import Assessment
from guidegen.record.claims import claimed
from guidegen.record.places import HEADLINES

COMPARE = "compare.html"
WHICH = "which-variant.html"
GLOSSARY = "glossary.html"
SOURCES = "sources.html"
RULES = "safety-rules.html"
ACTS = "acts.html"
FIELDS = "fields.html"
CODES = "problem-codes.html"
FORMULAS = "formulas.html"
CHECKS = "checks.html"
PRICES = "../prices.html"
"""The price list, above every edition: it changes between two of them."""
ONE_FILE = "one-file.html"
"""Beside an instruction: all of it in one file."""
ALONG = "along.json"
"""Beside an instruction: which files of the site its guide needs without a network."""
SCHEMA = "data/schema.json"
ALL_FIGURES = "data/all.csv"
TABLE_METADATA = "data/csv-metadata.json"
MAIN_RATIO = HEADLINES[0].place
"""The figure that a guide is judged by before all others, of the main drink."""


def path_of(record: Assessment, kind: str) -> str:
    """Where a page or file of a pair lies."""
    variant, kit = record.variant.id, record.kit.id
    match kind:
        case "variant":
            return variant_path(variant)
        case "data":
            return f"data/{variant}/{kit}.json"
        case "table":
            return f"data/{variant}/{kit}.csv"
        case "overview":
            return pair_path(variant, kit)
        case _:
            return pair_path(variant, kit, kind)


def variant_path(variant: str) -> str:
    """Where a variant's page lies."""
    return f"guides/{variant}/index.html"


def pair_path(variant: str, kit: str, kind: str = "index") -> str:
    """Where the overview of a variant with a kit lies, or another of their pages."""
    return f"guides/{variant}/{kit}/{kind}.html"


def family_path(page: str, family: str) -> str:
    """Where the part of a page lies that is about one family, if it has one.

    >>> family_path("compare.html", "tamsin")
    'compare/tamsin.html'
    """
    return f"{page.removesuffix('.html')}/{family}.html"


def log_path(variant: str, run: str) -> str:
    """Where the logged file of a run of a variant lies."""
    return f"data/{variant}/runs/{run}.csv"


def family_figures(family: str) -> str:
    """Where the figures of a family lie, if they lie apart.

    >>> family_figures("tamsin")
    'data/family-tamsin.csv'
    """
    return f"{ALL_FIGURES.rpartition('/')[0]}/family-{family}.csv"


def kit_path(kit: str) -> str:
    """Where the page of a kit lies."""
    return f"kits/{kit}/index.html"


def together_path(variant: str, kit: str, other: str) -> str:
    """Where the page about two kits on one variant lies: with the one whose id comes first."""
    first, last = sorted((kit, other))
    return pair_path(variant, first, f"with-{last}")


def short_address(kit: str, revision: str, variant: str) -> str:
    """The address that stays the same whatever is published later.

    >>> short_address("feed-preheater", "B", "tamsin-mk2")
    'k/feed-preheater-B/tamsin-mk2/'
    """
    return f"k/{kit}-{revision}/{variant}/"


def whole_short_address(kit: str, revision: str, variant: str, root: str) -> str:
    """That address in full; empty where the site has none.

    >>> whole_short_address("feed-preheater", "B", "tamsin-mk2", "https://example.org/")
    'https://example.org/k/feed-preheater-B/tamsin-mk2/'
    """
    return urljoin(root, short_address(kit, revision, variant)) if root else ""


def corrections_page(edition: str) -> str:
    """Where notices for an edition stand, from the site's root; an instruction on paper prints it in full."""
    return f"corrections/{edition}.html"


def kinds_of(record: Assessment) -> list[str]:
    """Which pages a pair has.

    What does not fit has no charts to be glad of and no instruction; what changes no temperature has nothing to draw;
    and of a variant that nobody has measured the curves would be those of another machine.
    """
    kinds = ["overview", "fit", "questions"]
    if gain_is(record) == "claimed":
        kinds.append("charts")
    if has_install(record):
        kinds.append("install")
        if has_brief(record):
            kinds.append("brief")
        if has_restore(record):
            kinds.append("restore")
    return [*kinds, "numbers"]


def changes_nothing(record: Assessment) -> bool:
    """Whether the kit leaves every temperature and the energy as they are: it serves another kit.

    A record that has none of these ratios claims nothing.
    """
    ratios = [one.drop_ratio.sensor.value for one in record.drinks.values()]
    known = [ratio for ratio in (*ratios, record.energy.day_ratio.value) if ratio is not None]
    return bool(known) and all(ratio == 1.0 for ratio in known)


def gain_is(record: Assessment) -> Literal["claimed", "not known", "stated", "none"]:
    """Whether the guide may say what the kit gains: the one place that decides about every headline.

    None where the kit does not fit or the machine has one already, or it changes no temperature and serves another kit;
    stated where it changes no temperature and gains something of another kind, so that nothing is said of heat.
    """
    if record.fit.refused:
        return "none"
    if changes_nothing(record):
        return "stated" if record.gains else "none"
    return "claimed" if claimed(record, MAIN_RATIO) else "not known"


def has_install(record: Assessment) -> bool:
    """Whether the pair may have an install page and a bench sheet."""
    return record.procedure is not None and not record.fit.refused


def has_brief(record: Assessment) -> bool:
    """Whether there is something to send to a skilled person: editions of before did not keep when he comes."""
    return has_install(record) and record.procedure is not None and bool(record.procedure.visits)


def has_restore(record: Assessment) -> bool:
    """Whether the way back is an instruction of its own."""
    return has_install(record) and record.procedure is not None and record.procedure.restoring is not None
