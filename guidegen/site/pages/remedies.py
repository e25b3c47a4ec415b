"""The remedy of an unmet requirement in words: a kit that helps is a link to its guide for the same variant."""

from __future__ import annotations

from markupsafe import Markup

from guidegen.language import gettext
from guidegen.language.choices import remedy_words
from guidegen.record import Assessment
from guidegen.record.self_check import OfferedRemedy
from guidegen.site.pages.page import rel
from guidegen.site.pages.place import pair_path


def guides(record: Assessment, path: str) -> dict[str, str]:
    """The guides, for this variant, of the kits that may serve as remedies: addresses as seen from `path`, by id."""
    kits = [one.id for one in record.self_check.remedies if one.kind == "kit"]
    return {one: rel(path, pair_path(record.variant.id, one.removeprefix("kit:"))) for one in kits}


def remedied(record: Assessment, path: str) -> dict[str, Markup]:
    """The remedy of each requirement that is known not to be met and has one, by its id."""
    known = {one.id: one for one in record.self_check.remedies}
    ways = {one.id: tuple(way.id for way in one.remedies) for one in record.self_check.rules.conditions}
    links = guides(record, path)
    return {
        reason.id: Markup(gettext("; or: ")).join(
            _way(known[one], links.get(one), one in reason.unsure_remedies) for one in open_ways
        )
        for reason in record.fit.reasons
        if reason.met is False
        for open_ways in [ways.get(reason.id, ()) if reason.remedies is None else reason.remedies]
        if open_ways
    }


def _way(remedy: OfferedRemedy, href: str | None, unsure: bool) -> Markup:
    name = Markup('<a href="{}">{}</a>').format(href, remedy.name) if href else remedy.name
    return Markup(remedy_words(remedy.kind, unsure)).format(name=name)
