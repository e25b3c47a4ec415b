"""Whether a kit is worth it: decided from the drops of the main drink without and with it, draw by draw.

A kit that goes on may change nothing. The median cannot tell: a ratio of 1.0 may be that of a kit that does nothing, or
of one that may do anything. So it is counted over the draws, in which both sides see the same machine.
"""

from __future__ import annotations

import numpy as np

from guidegen.heat.network import Rows
from guidegen.record.base import rounded
from guidegen.record.worth import Worth, WorthLimits, WorthVerdict

Mask = np.ndarray[tuple[int], np.dtype[np.bool_]]


def worth(without: Rows, with_: Rows, limits: WorthLimits) -> Worth | None:
    """The verdict on drops of shape (n,), K, row 0 as stated; None without draws.

    A draw in which there is no drop counts for none of them.
    """
    before, after = without[1:], with_[1:]
    if len(before) < 2:
        return None
    less = before - after
    found = {
        "worse": _share(less <= -limits.felt_k),
        "clear": _share((after <= limits.clear_ratio * before) & (less >= limits.clear_k)),
        "little": _share(less >= limits.felt_k),
        "unchanged": _share(np.abs(less) < limits.felt_k),
    }
    return Worth(verdict=_verdict(found, limits), limits=limits, **found)


def _share(where: Mask) -> float:
    return rounded(float(np.mean(where)))


def _verdict(found: dict[str, float], limits: WorthLimits) -> WorthVerdict:
    if found["worse"] >= limits.worse_from:
        return "may-be-worse"
    if found["clear"] >= limits.clear_from:
        return "clearly-better"
    if found["little"] >= limits.likely_from:
        return "a-little-better"
    return "nothing" if found["unchanged"] >= limits.likely_from else "cannot-tell"
