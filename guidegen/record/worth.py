"""What the record holds of whether a kit is worth it: the verdict on the main drink, and how sure the draws are."""

from __future__ import annotations

from typing import Literal

from guidegen.record.base import Record

WorthVerdict = Literal["clearly-better", "a-little-better", "nothing", "may-be-worse", "cannot-tell"]


class WorthLimits(Record):
    """The workshop's limits: changes of the drop, K, a ratio of drops, and shares of the draws."""

    felt_k: float
    clear_k: float
    clear_ratio: float
    worse_from: float
    clear_from: float
    likely_from: float


class Worth(Record):
    """The verdict, and in which share of the draws the expected sensor drop of the main drink with the kit is so.

    `worse`: larger by `felt_k` or more; `clear`: at most `clear_ratio` of the one without, and smaller by `clear_k` or
    more; `little`: smaller by `felt_k` or more; `unchanged`: different by less. Decided in this order: `may-be-worse`,
    `clearly-better`, `a-little-better`, `nothing`, else `cannot-tell`.
    """

    verdict: WorthVerdict
    worse: float
    clear: float
    little: float
    unchanged: float
    limits: WorthLimits

    @property
    def gains(self) -> bool:
        """Whether the kit may be said to gain something."""
        return self.verdict in ("clearly-better", "a-little-better")
