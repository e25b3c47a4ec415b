"""The days that are printed: a maker's, or the last commit's, never the clock's; the clock only says what cannot be."""

from __future__ import annotations

import datetime
from collections.abc import Sequence

from guidegen.editions.edition import Edition
from guidegen.problems import RefusedProblem


def latest() -> datetime.date:
    """The last day that anywhere on earth may have begun: tomorrow."""
    return datetime.date.today() + datetime.timedelta(days=1)


def refuse_future(day: datetime.date, whose: str) -> datetime.date:
    """The day, or a refusal where it has not come yet: what is published under it could be followed by nothing."""
    if day > latest():
        raise RefusedProblem(
            f"{day}, {whose}, is later than tomorrow by this machine's clock ({datetime.date.today()}); give the day "
            "with --date, or set the clock"
        )
    return day


def not_before(older: Sequence[Edition]) -> Edition | None:
    """The edition before whose day no new one may be dated: the last one whose own day has come.

    An edition that was published under a day to come is frozen with it; the line goes on as if it had no day.
    """
    return next((one for one in reversed(older) if one.date <= latest()), None)
