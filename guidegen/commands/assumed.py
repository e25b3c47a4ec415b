"""`guidegen assumed`: which assumed numbers matter, and the measurement that settles each.

A number that stands in a family's file is one number, however many guides rest on it. How much it moves is the
square of its rank correlation with a published figure, added over all figures of all guides: about the number of
figures whose whole spread would come from it, because the squares of one figure's inputs add to about one where
nothing couples them. That is a guide to what to measure first, not a law.

What owners measured on machines of the variants that rest on a number, as their build reports say, is counted beside
it: enough of them settle it without a machine on the bench.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from guidegen.record import Assessment
from guidegen.record.places import headlines
from guidegen.record.stated import Input
from guidegen.site.pages.terms import term
from guidegen.trade.builds import RecordedBuild
from guidegen.trade.listing import table as aligned

READ = 3
"""So many readings of owners are printed beside a number; the rest is counted."""
LITTLE = 0.02
"""Below this share of one figure's spread, at most, a number is left out unless all are asked for."""


@dataclass
class AssumedNumber:
    """One assumed number: how much it moves in all, what it moves most, and the guides that rest on it."""

    input: Input
    moves: float = 0.0
    most: float = 0.0
    figure: str = ""
    guides: set[tuple[str, str]] = field(default_factory=set)


def ranking(records: Iterable[Assessment]) -> list[AssumedNumber]:
    """The assumed numbers of all records, the most moving first."""
    found: dict[tuple[str, str, str], AssumedNumber] = {}
    for record in records:
        for one in record.inputs:
            if one.evidence != "assumed" or one.high <= one.low:
                continue
            standing = found.setdefault((one.place, one.id, one.text), AssumedNumber(one))
            standing.guides.add((record.variant.id, record.kit.id))
            for figure in headlines(record.main_drink):
                ranks = record.influence.get(figure, {})
                share = ranks.get(one.id, 0.0) ** 2
                standing.moves += share
                if share > standing.most:
                    standing.most, standing.figure = share, figure
    return sorted(found.values(), key=lambda one: (-one.moves, one.input.place, one.input.id))


def by_owners(one: AssumedNumber, builds: Iterable[RecordedBuild]) -> str:
    """What owners measured of a number on machines of its variants: how many, and what they read.

    Reports count whether or not they may be published: only the maker sees this.
    """
    variants = {variant for variant, _ in one.guides}
    found = [fact.is_ for build in builds if build.variant in variants for fact in build.facts
             if fact.fact == one.input.id]  # fmt: skip
    more = f", and {len(found) - READ} more" if len(found) > READ else ""
    return f"{len(found)}: {', '.join(found[:READ])}{more}" if found else "0"


def table(records: Iterable[Assessment], everything: bool = False, builds: Sequence[RecordedBuild] = ()) -> str:
    """The ranking as aligned lines for the terminal, with what owners measured where there are `builds`."""
    ranked = ranking(records)
    shown = [one for one in ranked if everything or one.most >= LITTLE]
    if not ranked:
        return "nothing is assumed"
    head = ("moves", "assumed number", "is", "most of all", "guides", "what settles it", "by owners", "written at")
    rows = [
        (
            f"{one.moves:.2f}",
            one.input.id,
            one.input.text,
            f"{term(one.figure).name} ({one.most:.0%})" if one.figure else "",
            str(len(one.guides)),
            one.input.settles or "",
            by_owners(one, builds),
            one.input.place,
        )
        for one in shown
    ]
    lines = aligned(head, rows)
    if len(shown) < len(ranked):
        lines += ["", f"{len(ranked) - len(shown)} more move next to nothing; --all lists them"]
    return "\n".join(lines)
