"""Charts: one frame per kind drawn once by matplotlib, and the curves of each guide set into it.

`frame` makes the axes, `figure` sets curves, labels, text alternative and data table into them; one module per
kind of chart chooses what is shown. A chart reads the assessment record and nothing else, and prints numbers by
`quantity`, as pages do.
"""

from __future__ import annotations

from collections.abc import Callable

from markupsafe import Markup

from guidegen.record import Assessment
from guidegen.site.charts.bars import energy, influence
from guidegen.site.charts.budget import budget
from guidegen.site.charts.dips import dips
from guidegen.site.charts.drops import by_drink, second_drink
from guidegen.site.charts.first_drink import first_drink
from guidegen.site.charts.shot import same_cup_chart, shot_chart
from guidegen.site.charts.warming import warming

CHARTS: dict[str, Callable[[Assessment], Markup | None]] = {
    "dips": dips,
    "shot": shot_chart,
    "same-cup": same_cup_chart,
    "drinks": by_drink,
    "second": second_drink,
    "first": first_drink,
    "warming": warming,
    "energy": energy,
    "budget": budget,
    "influence": influence,
}
"""Every kind of chart by its id; a chart is None where the record has nothing to show of it."""

__all__ = ["CHARTS"]
