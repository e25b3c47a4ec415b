"""What publishing refuses, and what it makes of a day and a notice: with records in hand, without physics or engine."""

from __future__ import annotations

import argparse
import datetime
from collections.abc import Sequence
from pathlib import Path

import pytest

from guidegen.commands.given import day_of
from guidegen.editions import commands, days, kept, withdrawals
from guidegen.editions.edition import Edition
from guidegen.editions.publishing import Order, Published, publish
from guidegen.editions.snapshot import steps_of
from guidegen.problems import RefusedProblem
from guidegen.record import Assessment
from tests.fixtures.records import record
from tests.unit.editions.conftest import commit, git

pytestmark = pytest.mark.slow


def published(root: Path, edition: str, what: Assessment, **more: object) -> Published:
    """Publish one record, and keep it."""

    def render(records: Sequence[Assessment], facts: Edition) -> dict[str, bytes]:
        return {"index.html": f"{facts.edition} {records[0].torques}".encode()}

    done = publish(root, Order(edition, **more), lambda: [what], render)  # type: ignore[arg-type]
    commit(root, datetime.date(2025, 3, 1))
    return done


def lighter(what: Assessment) -> Assessment:
    """The same with a downside in other words, of which nobody has to be notified."""
    first, *others = what.downsides
    return what.model_copy(update={"downsides": (first.model_copy(update={"what": "Other words."}), *others)})


def test_a_notice_may_be_given_though_it_need_not(root: Path) -> None:
    """It concerns the guides that changed; where none did it concerns nobody."""
    what = record()
    published(root, "1", what)
    done = published(root, "2", lighter(what), note="Read the downsides again.")
    assert done.edition.notice is not None
    assert done.edition.notice.guides == (f"{what.variant.id}/{what.kit.id}",)
    with pytest.raises(RefusedProblem, match="a notice would concern nobody"):
        published(root, "3", lighter(what), note="Read them again.")


def by_another_program(what: Assessment) -> Assessment:
    """The same as another program makes it: a figure moved, and every sentence of every step in other words."""
    data = what.model_dump(mode="json", by_alias=True)
    data["origin"]["program"] = "another"
    data["energy"]["day_ratio"]["value"] += 0.5
    for each in steps_of(data):
        each["do"] = f"Now {each['do']}"
    return Assessment.model_validate(data)


def test_what_the_program_does_anew_needs_no_notice(root: Path) -> None:
    """Nobody has to be notified, a notice would concern nobody, and the reason says whose doing it is."""
    what = record()
    published(root, "1", what)
    with pytest.raises(RefusedProblem, match="no guide's data or words changed"):
        published(root, "2", by_another_program(what), note="Everything reads otherwise.")
    done = published(root, "2", by_another_program(what))
    assert done.edition.reason == "1 guide computed or worded anew by the program."
    assert done.edition.notice is None
    assert done.changes[0].by_program


def test_a_torque_is_listed_among_all_that_the_program_does_anew(root: Path) -> None:
    """It is the only change that the refusal names."""
    what = record()
    published(root, "1", what)
    new = by_another_program(what)
    first, *others = new.torques
    new = new.model_copy(update={"torques": (first.model_copy(update={"nominal_n_m": 1.25}), *others)})
    with pytest.raises(RefusedProblem, match="of which everybody who fitted by it must be notified") as refused:
        published(root, "2", new)
    rows = [line for line in str(refused.value).splitlines() if f": {what.kit.id} on {what.variant.id}" in line]
    assert len(rows) == 1
    assert "(a torque changed): " in rows[0]
    done = published(root, "2", new, note="Tighten again.")
    assert done.edition.notice is not None
    assert done.edition.reason == "1 guide changed."


def test_an_edition_is_not_older_than_the_one_that_it_supersedes(root: Path) -> None:
    """A day that was given is refused; that of a commit made before counts as the older edition's."""
    what = record()
    published(root, "1", what, date=datetime.date(2025, 5, 1))
    with pytest.raises(RefusedProblem, match="2025-04-30 is before 2025-05-01, the day of edition 1"):
        published(root, "2", what, date=datetime.date(2025, 4, 30))
    assert git(root, "log", "-1", "--format=%ad", "--date=format:%Y-%m-%d").strip() < "2025-05-01"
    assert published(root, "2", what).edition.date == datetime.date(2025, 5, 1)


def test_an_edition_whose_pages_are_not_here_is_not_published_again(root: Path) -> None:
    """Its bytes exist elsewhere."""
    what = record()
    published(root, "1", what)
    (root / "site" / "versions.json").write_bytes(b"[]\n")
    with pytest.raises(RefusedProblem, match="bring them back with `guidegen recover`"):
        published(root, "1", what)


def test_what_publishing_would_change_is_shown_before(root: Path) -> None:
    """The newest edition, named or by default, against what the workshop says today, under the draft's name."""
    what = record()
    with pytest.raises(Exception, match="there is no edition to compare with yet"):
        list(commands.changes(root, None, None, list))
    published(root, "1", what)

    def today() -> list[dict[str, object]]:
        return [lighter(what).model_dump(mode="json", by_alias=True)]

    for older, newer in (("1", "next"), ("1", None), (None, None)):
        printed = list(commands.changes(root, older, newer, today))
        assert printed[0] == "from 1 to what the workshop says today"
        assert any("Other words." in text for text in printed)
    published(root, "2", lighter(what))
    assert next(iter(commands.changes(root, None, None, today))) == "from 1 to 2"
    assert list(commands.changes(root, "2", None, today))[-1] == "1 of 1 guides did not change"
    for older, newer in (("next", "2"), ("2", "2")):
        with pytest.raises(Exception, match="the older one comes first"):
            list(commands.changes(root, older, newer, today))
    assert len(kept.line(root)) == 2


def test_a_day_that_has_not_come_is_refused(root: Path) -> None:
    """Nothing could follow such an edition; tomorrow may have begun elsewhere on earth."""
    what, today = record(), datetime.date.today()
    for day in (datetime.date(9999, 12, 31), today + datetime.timedelta(days=2)):
        with pytest.raises(RefusedProblem, match=f"{day}, the day of the new edition, is later than tomorrow"):
            published(root, "1", what, date=day)
    assert published(root, "1", what, date=today + datetime.timedelta(days=1)).is_new
    with pytest.raises(RefusedProblem, match="the day of the withdrawal, is later than tomorrow"):
        commands.withdraw(root, "1", None, "Because.", datetime.date(9999, 12, 31))


def test_a_commit_of_a_day_that_has_not_come_dates_no_edition(root: Path) -> None:
    """A clock was wrong somewhere; a day can still be given, and a withdrawal takes today."""
    commit(root, datetime.date(2099, 1, 1))
    with pytest.raises(RefusedProblem, match="give the day with --date"):
        published(root, "1", record())
    assert published(root, "1", record(), date=datetime.date(2025, 3, 2)).is_new
    commit(root, datetime.date(2099, 1, 1))
    commands.withdraw(root, "1", None, "Because.", None)
    assert {one.date for one in withdrawals.read(root)} == {datetime.date.today()}


def test_an_edition_under_a_wrong_day_is_followed_by_one_under_its_own(
    root: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An older program let such a day pass: the edition stays as it is, and the line goes on."""
    published(root, "1", record(), date=datetime.date(2025, 3, 1))
    with monkeypatch.context() as patched:
        patched.setattr(days, "latest", lambda: datetime.date.max)
        published(root, "2", lighter(record()), date=datetime.date(9999, 12, 31))
    with pytest.raises(RefusedProblem, match="is before 2025-03-01, the day of edition 1"):
        published(root, "3", record(), date=datetime.date(2024, 1, 1))
    assert published(root, "3", record(), date=datetime.date(2025, 4, 1)).edition.supersedes == "2"
    assert published(root, "4", lighter(record())).edition.date == datetime.date(2025, 4, 1)


@pytest.mark.parametrize("text", ["20250301", "2025-W09-6", "2025-3-1", "2025-02-30", "٢٠٢٥-٠٣-٠١", "tomorrow", ""])
def test_a_day_has_one_form(text: str) -> None:
    """Of the calendar, in figures."""
    with pytest.raises(argparse.ArgumentTypeError, match="a day is written as 2026-03-31"):
        day_of(text)
