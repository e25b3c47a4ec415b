"""What an instruction says of builds: only of those that owners let be published and the maker accepted."""

from __future__ import annotations

import datetime
import re
from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, cast

from guidegen.assess import builds
from guidegen.record import Assessment
from guidegen.site.pages.pair import pair_page
from guidegen.site.pages.sentences import status
from guidegen.trade import Catalogue
from guidegen.trade.builds import Builds, RecordedFailure
from tests.fixtures.records import record, site
from tests.mutants.draft import catalogue

KNOWN = catalogue()
MACHINE, KIT = KNOWN.machine("tamsin-mk1"), KNOWN.kit("feed-preheater")


def with_builds(**changes: Any) -> Assessment:
    """A record with the demonstration's builds, each changed alike, and no logs."""
    written = KNOWN.builds["tamsin"]
    made = written.model_copy(update={"builds": tuple(one.model_copy(update=changes) for one in written.builds)})
    known = cast(Catalogue, Changed(MappingProxyType({"tamsin": made})))
    return record().model_copy(update={"builds": builds.builds(known, MACHINE, KIT), "measured": None})


class Changed:
    """A catalogue of which nothing is asked but its builds."""

    def __init__(self, made: Mapping[str, Builds]) -> None:
        self.builds = made


def page(one: Assessment) -> str:
    """The instruction as words, without markup."""
    return " ".join(re.sub(r"<[^>]+>", " ", pair_page(one, "install", site(one)).body).split())


def test_what_owners_reported_stands_on_the_instruction() -> None:
    """Counted by hand in machines/tamsin/builds.yml: three whole, one that was left, one that stays private."""
    words = page(with_builds())
    assert "Carried out on 3 machines of this variant: every hold point passed and was signed for." in words
    assert "One more report is of work that was not finished, or not signed for." in words
    assert "failed on 2 of 4 machines" in words
    assert (
        "Reading: 2 (limit: at most 0 damp tissues). What helped: a new seal at the filter, the old one lay askew"
        in words
    )
    assert "26 mm ± 1 mm, 22 mm ± 1 mm (outside what is stated: measure yours before you order)" in words
    assert "2026-03-07" not in words
    assert status(with_builds()) == "carried out 3 times on this variant"


def test_without_consent_or_acceptance_nothing_is_said() -> None:
    """Either is missing of all of them."""
    for changes in ({"publish": False}, {"accepted": None}):
        one = with_builds(**changes)
        assert one.builds == ()
        assert "Carried out by owners" not in page(one)
        assert status(one) == "calculated, not yet carried out on this variant"


def test_an_open_hold_point_or_no_signature_is_not_carried_out() -> None:
    """The report is told of all the same."""
    accepted = datetime.date(2026, 3, 1)
    for changes in ({"signed": "nobody"}, {"holds": (KNOWN.builds["tamsin"].builds[3].holds)}):
        one = with_builds(publish=True, accepted=accepted, **changes)
        assert len(one.builds) == 5
        assert status(one) == "calculated, not yet carried out on this variant"
        assert "5 more reports are of work that was not finished" in page(one)


def test_the_pages_count_what_the_lint_counts() -> None:
    """Page one says “not yet carried out” exactly where no build counts."""
    assert builds.carried_out(KNOWN, MACHINE, KIT) == 3
    assert builds.carried_out(KNOWN, KNOWN.machine("tamsin-mk2"), KIT) == 0


def test_a_step_that_is_gone_is_named_by_its_number_then() -> None:
    """With the edition that was worked by; of one that is there the number of today, as a link."""
    gone = (RecordedFailure(step="old/gone", number="9.9", helped="nothing yet"),)
    assert "Step 9.9 of edition 2025.3, failed on 4 of 4 machines" in page(with_builds(failed=gone))
    assert " of edition 2025.3, failed" not in page(with_builds())
