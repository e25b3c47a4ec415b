"""`guidegen answer`: a reply to paste, from the newest edition that has the guide, so that its link says the same."""

from __future__ import annotations

import datetime
from pathlib import Path

from guidegen import pipeline
from guidegen.commands import priced
from guidegen.editions import kept, withdrawals
from guidegen.editions.edition import DRAFT
from guidegen.language import gettext
from guidegen.problems import RefusedProblem, UsageProblem
from guidegen.record import Assessment
from guidegen.site.engine.settings import read_settings
from guidegen.site.pages.replies import reply
from guidegen.trade import Catalogue


def answer(root: Path, known: Catalogue, variant: str, topic: str, kit: str, edition: str | None) -> tuple[str, str]:
    """The reply, and what the maker should know of it; both end where there is nothing more to say."""
    known.machine(variant), known.kit(kit)
    name = edition or newest(root, f"{variant}/{kit}")
    if name == DRAFT:
        record = pipeline.assess_kept(known, root, variant, kit)
    else:
        gone = withdrawals.of_edition(withdrawals.read(root), name).get(f"{variant}/{kit}")
        if gone is not None:
            message = f"edition {name} of {variant}/{kit} was withdrawn on {gone.date}: {gone.because}"
            raise RefusedProblem(f"{message}; --edition {DRAFT} answers from today's data")
        record = published(root, name, variant, kit)
    made = reply(record, topic)
    head, *lines = made.text.rstrip().split("\n")
    lapsed = priced.lapsed(known.offers, datetime.date.today()) if topic == "cost" else ""
    lines = [head, *(priced.lines(record, known.offers) if topic == "cost" and not lapsed else ()), *lines]
    site = str(read_settings(root / "mkdocs.yml").get("site_url") or "") if (root / "mkdocs.yml").is_file() else ""
    if name == DRAFT:
        return "\n".join(lines), _noted(lapsed, "from the draft of today, which has no public page: no link")
    if not site:
        return "\n".join(lines), _noted(lapsed, "mkdocs.yml has no site_url: the reply has no link")
    lines.append(gettext("More, with every number (edition {edition}):").format(edition=name))
    lines.append(f"{site.rstrip('/')}/{name}/{made.path}")
    return "\n".join(lines), lapsed


def _noted(*notes: str) -> str:
    return "; ".join(filter(None, notes))


def newest(root: Path, guide: str) -> str:
    """The newest edition that has the guide; else the draft."""
    names = [one.edition for one in kept.line(root) if guide in one.guides]
    return names[-1] if names else DRAFT


def published(root: Path, name: str, variant: str, kit: str) -> Assessment:
    """The record of a guide as an edition has it."""
    for one in kept.assessments(root, name, f"{variant}/{kit}"):
        return one
    raise UsageProblem(f"edition {name} has no guide {variant}/{kit}")
