"""What a kit gains beside heat, as its author states it: on pages, in cells of tables, in letters."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from markupsafe import Markup

from guidegen.language import gettext, marked
from guidegen.language.choices import choice
from guidegen.record import Assessment
from guidegen.record.gains import Gain, GainSide
from guidegen.site.charts.quantity import Shown, converted, two_systems
from guidegen.site.pages.place import gain_is
from guidegen.site.pages.self_check import IMPERIAL
from guidegen.site.pages.sentences import sentence
from guidegen.site.pages.site import Site
from guidegen.units import NARROW_SPACE, UNITS, unit_for

ARROW = " → "
DIGITS = 6
DIGITS_ELSEWHERE = 3
"""Significant digits in the unit that it was written in, and in that of the other system."""
OVERLAP = marked("The two ranges overlap, so there may be no difference.")


def of(record: Assessment) -> tuple[Gain, ...]:
    """The gains that a page may show: none of a kit that nobody should order for this variant."""
    return () if record.fit.refused else record.gains


def change(one: Gain) -> Markup:
    """Before and after in both systems of units: `62 → 55 dB(A)`."""
    return two_systems(*_changes(one))


def change_text(one: Gain) -> str:
    """The same for a letter, which no switch reaches: `9 → 6 bar (131 → 87 psi)`."""
    metric, imperial = _changes(one)
    return metric if metric == imperial else f"{metric} ({imperial})"


def _changes(one: Gain) -> tuple[str, str]:
    how, values = _how(one), (one.without.value, one.with_.value)
    metric, imperial = (
        ARROW.join(_number(value, how, unit) for value in values) + _tail(unit) for unit in (how.metric, how.imperial)
    )
    return metric, imperial


def _how(one: Gain) -> Shown:
    """In the unit that it was written in, and the other system's."""
    size = one.without.value * UNITS[one.dimension][one.unit][0]
    metric, imperial = (unit_for(size, one.dimension, imperial=other) for other in (False, True))
    if one.unit in IMPERIAL:
        return Shown(one.dimension, one.unit, metric, one.unit)
    return Shown(one.dimension, one.unit, one.unit, imperial if imperial in IMPERIAL else one.unit)


def _number(value: float, how: Shown, unit: str) -> str:
    """As it was written; in another unit to three digits."""
    digits = DIGITS if unit == how.kept else DIGITS_ELSEWHERE
    return f"{converted(value, how, unit):.{digits}g}".replace("-", "−")


def _tail(unit: str) -> str:
    return f"{NARROW_SPACE}{unit}" if unit else ""


def shown(record: Assessment) -> Markup:
    """All of them in a cell of a table; empty where there are none."""
    message = gettext("{what}: {change}")
    lines = (Markup(message).format(what=sentence(one.title), change=change(one)) for one in of(record))
    return Markup("<br>").join(lines)


def values(record: Assessment, site: Site, path: str) -> dict[str, Any]:
    """What a page of a pair needs of them, and whether the kit gains nothing else."""
    return {"stated": rows(record, site, path), "beside_heat": gain_is(record) == "stated"}


def rows(record: Assessment, site: Site, path: str) -> list[dict[str, Any]]:
    """All of them as rows of a table, with what each side rests on, as seen from a page."""
    return [
        {
            "id": one.id,
            "title": sentence(one.title),
            "change": change(one),
            "sides": [_side(side, _how(one), site, path) for side in (one.without, one.with_)],
            "how": one.how,
            "overlap": "" if one.certain else gettext(OVERLAP),
        }
        for one in of(record)
    ]


def _side(side: GainSide, how: Shown, site: Site, path: str) -> dict[str, Any]:
    half = (side.high - side.low) / 2
    metric, imperial = (
        f"{_number(side.value, how, unit)}{_half(half, how, unit)}{_tail(unit)}" for unit in (how.metric, how.imperial)
    )
    return {"value": two_systems(metric, imperial), "evidence": site.evidence(side.evidence, side.source, path)}


def _half(half: float, how: Shown, unit: str) -> str:
    return f" ± {_number(half, how, unit)}" if half else ""


def lines(record: Assessment, *about: str) -> Iterator[str]:
    """Each as sentences of a letter; with `about`, those alone that belong to it."""
    message = gettext("{what}: {change}. Without the kit: {before}; with it: {after}. {how}")
    for one in of(record):
        if not about or one.about in about:
            before, after = (f"{side.text}, {choice(side.evidence)}" for side in (one.without, one.with_))
            words = message.format(
                what=sentence(one.title), change=change_text(one), before=before, after=after, how=one.how
            )
            yield words if one.certain else f"{words} {gettext(OVERLAP)}"
