"""What was measured, in words and in tables: before and after, beside the computation, and the logs themselves."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from guidegen.language import gettext, marked, ngettext, translated
from guidegen.record import Assessment, Figure
from guidegen.record.claims import claimed
from guidegen.record.measured import BeforeAfter, LoggedFile, Measured, MeasuredFigure, MeasuredInterval
from guidegen.record.places import known_figures
from guidegen.site.charts.change import change_with_range
from guidegen.site.charts.layers import Side
from guidegen.site.charts.measured import measured_chart, says_inside
from guidegen.site.charts.quantity import both, in_unit, shown_as, shown_at
from guidegen.site.pages.learned import learned_values
from guidegen.site.pages.numbers import anchor
from guidegen.site.pages.page import rel
from guidegen.site.pages.place import MAIN_RATIO, kinds_of, log_path, path_of
from guidegen.site.pages.sentences import measured_on, sentence
from guidegen.site.pages.site import Site
from guidegen.site.pages.terms import term

RATIO = "ratio"
SIDES: tuple[Side, ...] = ("without", "with")
REFUSED = {
    "unpaired": marked("not every shot has its partner: one without and one with the kit in the same block"),
    "few-pairs": marked("there are fewer than five blocks, and so few can be chance"),
    "other-machine": marked("the shots were not all made on one machine"),
    "other-feed": marked("the water was not as warm before as after, or nobody wrote down how warm it was"),
    "other-probe": marked("another kind of probe read the shots before than after"),
    "other-setpoint": marked("the machine was not held at one setpoint before and after"),
    "invented-and-real": marked("some of the shots are invented, and others are not"),
}
KINDS = {
    "cold-start": marked("from cold"),
    "idle": marked("at idle"),
    "shot": marked("shots"),
    "long-draw": marked("long draw"),
    "cooling": marked("cooling"),
    "outlet": marked("outlet"),
}
PROBES = {
    "type-e": marked("type E thermocouple"),
    "type-j": marked("type J thermocouple"),
    "type-k": marked("type K thermocouple"),
    "type-n": marked("type N thermocouple"),
    "type-t": marked("type T thermocouple"),
    "platinum": marked("platinum thermometer"),
    "other": marked("other probe"),
}
CHANGED = {
    "less": marked("With the kit the dip was {less} smaller on this machine ({range}): {change}."),
    "more": marked("With the kit the dip was {less} larger on this machine ({range}): {change}."),
    "either": marked("These shots do not show what the kit does to the dip; on this machine it may be {change}."),
}
INVENTED = {
    True: marked("These logs are invented for the demonstration: an integrator made them, nobody measured anything."),
    False: marked("Some of these logs are invented: nobody measured what stands in them."),
}
BY_CHANCE = marked("By chance alone so large a difference would come in {percent} of 100 cases.")


def measured_values(record: Assessment, kind: str, path: str, site: Site) -> dict[str, Any] | None:
    """What the templates print of what was measured; None where nobody logged the machine with the kit.

    The logs are listed with the charts, or with the numbers where there are no charts.
    """
    found = record.measured
    if found is None or record.fit.refused:
        return None
    rows = [*_rows(record, rel(path, path_of(record, "numbers")))]
    # Of a variant that nobody knows enough of, the computation is another machine's, and so is its disagreement.
    is_claimed, listed = claimed(record, MAIN_RATIO), "charts" if "charts" in kinds_of(record) else "numbers"
    return {
        "lead": lead(record, found),
        "says": [*_says(found, plain=False)],
        "refused": [gettext(REFUSED[one]) for one in found.refused],
        "disagree": [*_disagree(record, found)] if is_claimed else [],
        "rows": rows,
        "learned": learned_values(record),
        "inside": [*_inside(found)] if is_claimed else [],
        "invented": gettext(INVENTED[found.all_invented]) if any(one.invented for one in found.runs) else "",
        "charts": [one for side in SIDES if (one := measured_chart(record, side)) is not None] if is_claimed else [],
        "more": rel(path, path_of(record, listed)),
        "files": [_file(record, one, path, site) for one in found.runs] if kind == listed else [],
    }


def lead(record: Assessment, found: Measured) -> str:
    """On what it was measured, or that before and after are not compared yet."""
    if words := measured_on(record):
        return gettext("{measured}.").format(measured=sentence(words))
    return gettext("There are logs of this machine, but before and after are not compared:")


def told(record: Assessment, on_what: bool = True) -> Iterator[str]:
    """The same as lines of a letter: what was measured, and what disagrees with the computation.

    `on_what`: begin with on how many machines and shots, where the letter does not say so anyway.
    """
    found = record.measured
    if found is None or found.before_after is None or record.fit.refused:
        return
    yield " ".join((*([lead(record, found)] if on_what else []), *_says(found, plain=True)))
    if claimed(record, MAIN_RATIO):
        yield from _disagree(record, found)


def _says(found: Measured, plain: bool) -> Iterator[Any]:
    """Before and after in words that hold for the whole interval."""
    one = found.before_after
    if one is None:
        return
    way = _way(one)
    less = _turned(one.less_k) if way == "more" else one.less_k
    degrees, words = shown_as("k"), _change(one.ratio)
    if plain:
        amount, span = (in_unit(_figure(less), degrees, "°C", only_range=only) for only in (False, True))
        yield gettext(CHANGED[way]).format(less=amount, range=span, change=words)
    else:
        amount, span = (both(_figure(less), degrees, only_range=only) for only in (False, True))
        yield translated(CHANGED[way], less=amount, range=span, change=words)
    if one.by_chance is not None:
        yield gettext(BY_CHANCE).format(percent=_percent(one.by_chance))


def _percent(chance: float) -> str:
    """Of 100 cases, to a tenth where there are few."""
    if chance < 0.0005:
        return gettext("fewer than 0.1")
    return f"{100 * chance:.0f}" if chance >= 0.095 else f"{100 * chance:.1f}"


def _way(one: BeforeAfter) -> str:
    """Which way the whole interval of the difference points."""
    low, high = one.less_k.low, one.less_k.high
    return "less" if low is not None and low > 0 else "more" if high is not None and high < 0 else "either"


def _turned(one: MeasuredInterval) -> MeasuredInterval:
    ends = (None if end is None else -end for end in (one.high, one.low))
    return MeasuredInterval(value=-one.value, **dict(zip(("low", "high"), ends, strict=True)))


def _figure(one: MeasuredInterval | MeasuredFigure) -> Figure:
    """As the computed ones are printed; no time is below nothing, whatever its interval leaves open."""
    low = one.low
    if isinstance(one, MeasuredFigure) and one.place.endswith("_s") and low is not None:
        low = max(0.0, low)
    return Figure(value=one.value, low=low, high=one.high)


def _change(ratio: MeasuredInterval) -> str:
    """By how much the dip changes, in the words of the computed one; an interval without ends says nothing."""
    if ratio.low is None or ratio.high is None:
        return gettext("anything")
    return change_with_range(_figure(ratio))


def _rows(record: Assessment, numbers: str) -> Iterator[dict[str, Any]]:
    """Each measured figure beside the computed one."""
    found, known = record.measured, known_figures(record)
    assert found is not None
    if found.before_after is not None:
        one, place = found.before_after, f"drinks.{record.main_drink}.drop_ratio.sensor"
        pairs = ngettext("one pair", "{count} pairs", one.pairs).format(count=one.pairs)
        yield _row(place, known[place], numbers, _figure(one.ratio), pairs, one.normalised_error, "")
    for each in found.figures:
        shots = ngettext("one shot", "{count} shots", each.shots).format(count=each.shots)
        yield _row(each.place, known[each.place], numbers, _figure(each), shots, each.normalised_error, each.reason)


def _row(
    place: str, computed: Figure, numbers: str, own: Figure, count: str, error: float | None, reason: str | None
) -> dict[str, Any]:
    how, like = shown_at(place), [one for one in (own, computed) if one.value is not None]
    return {
        "name": _name(place),
        "measured": both(own, how, like=like) if own.value is not None else reason,
        "range": both(own, how, only_range=True, like=like),
        "count": count,
        "computed": both(computed, how, like=like) if computed.value is not None else computed.reason or "—",
        "computed_range": both(computed, how, only_range=True, like=like),
        "link": f"{numbers}#{anchor(place)}",
        "error": "—" if error is None else f"{error:+.1f}".replace("-", "−"),
        "disagrees": error is not None and abs(error) > 1.0,
    }


def _name(place: str) -> str:
    """The figure with its side, and of a second drink with its wait."""
    parts, name = place.split("."), term(place).name
    if parts[0] == "waiting":
        name = gettext("{quantity}, {minutes} min later").format(quantity=name, minutes=f"{float(parts[1]) / 60:g}")
    if "with" in parts:
        return gettext("{quantity}, with the kit").format(quantity=name)
    return gettext("{quantity}, without").format(quantity=name) if "without" in parts else name


def _disagree(record: Assessment, found: Measured) -> Iterator[str]:
    """What measured and computed values disagree in; that nothing does is said as well."""
    places = [f"drinks.{record.main_drink}.drop_ratio.sensor" if one == RATIO else one for one in found.disagreeing]
    if places:
        names = "; ".join(_name(place) for place in places)
        yield gettext("Measured and computed disagree in: {names}.").format(names=names)
    elif any(one.normalised_error is not None for one in found.figures):
        yield gettext("No measured value disagrees with the computed one.")


def _inside(found: Measured) -> Iterator[str]:
    """How much of the curves lies in the computed range."""
    for side, curve in zip(SIDES, (found.without, found.with_), strict=True):
        if curve is not None and (words := says_inside(curve, side)):
            yield words


def _file(record: Assessment, one: LoggedFile, path: str, site: Site) -> dict[str, Any]:
    here = site.reference.logs(one.sha256) is not None
    kits = ", ".join(site.reference.kits.get(kit, kit) for kit in one.kits)
    return {
        **one.model_dump(include={"file", "date", "block", "shots", "rows", "left_out", "sha256", "note"}),
        "with": kits or gettext("no kit"),
        "kind": gettext(KINDS[one.kind]),
        "invented": one.invented,
        "link": rel(path, log_path(record.variant.id, one.id)) if here else "",
        "of": _probe(one),
    }


def _probe(one: LoggedFile) -> str:
    name = gettext(PROBES[one.probe]) if one.probe else gettext("not stated")
    return gettext("{probe}, class {grade}").format(probe=name, grade=one.grade) if one.grade else name
