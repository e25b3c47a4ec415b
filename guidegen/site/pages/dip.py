"""How far the boiler's sensor dips in a drink, without and with the kit, as customers read it.

The share by which the dip shrinks is one minus the ratio of the record, which was formed draw by draw, of the same
machine on both sides; so its median and its ends are those of the draws. It is not the quotient of the two dips that
are printed beside it, which are medians of their own.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from markupsafe import Markup

from guidegen.language import gettext, marked, translated
from guidegen.record import Assessment, Figure
from guidegen.record.claims import claimed
from guidegen.record.drinks import Drink
from guidegen.record.places import ANY, undecided
from guidegen.site.charts.change import change, change_with_range, span
from guidegen.site.charts.quantity import both, in_unit, shown_as, two_systems
from guidegen.site.pages.numbers import ShownNumbers
from guidegen.site.pages.place import MAIN_RATIO
from guidegen.site.pages.terms import term
from guidegen.units import NARROW_SPACE

DIPS = ("drinks.*.without.sensor_drop_k", "drinks.*.with.sensor_drop_k")
ARROW = " → "


def change_shown(numbers: ShownNumbers, drink: str) -> Markup:
    """The change of a drink's dip, linked to its row on the numbers page, with its range."""
    place = f"drinks.{drink}.drop_ratio.sensor"
    ratio = numbers.known[place]
    if not claimed(numbers.record, place) or ratio.value is None:
        return numbers.show(place)
    shown = _linked(numbers, place, change(ratio))
    ends = span(ratio)
    return shown + Markup(' <span class="gg-range">({})</span>').format(ends) if ends else shown


def dips(drink: Drink, like: Sequence[Figure] = ()) -> Markup:
    """Both dips in both systems, `5.4 → 2.1 °C`: ranges where nobody can tell which is larger; empty without dips."""
    sides = (drink.without.sensor_drop_k, drink.with_.sensor_drop_k)
    if any(one.value is None for one in sides):
        return Markup("")
    how, alone = shown_as("k"), undecided(MAIN_RATIO, drink.drop_ratio.sensor)
    return two_systems(*(_arrow(sides, unit, alone, like or sides) for unit in (how.metric, how.imperial)))


def dips_text(drink: Drink) -> str:
    """The same for a letter, which no switch reaches: `5.4 → 2.1 °C (9.7 → 3.7 °F)`."""
    sides = (drink.without.sensor_drop_k, drink.with_.sensor_drop_k)
    how, alone = shown_as("k"), undecided(MAIN_RATIO, drink.drop_ratio.sensor)
    metric, imperial = (_arrow(sides, unit, alone, sides) for unit in (how.metric, how.imperial))
    return f"{metric} ({imperial})"


def _arrow(sides: Sequence[Figure], unit: str, alone: bool, like: Sequence[Figure]) -> str:
    how = shown_as("k")
    first, last = (in_unit(one, how, unit, only_range=alone and one.ranged, like=like) for one in sides)
    return f"{first.removesuffix(f'{NARROW_SPACE}{unit}')}{ARROW}{last}"


def dips_shown(numbers: ShownNumbers, drink: str, like: Sequence[Figure] = ()) -> Markup:
    """Both dips of a drink, linked to their row on the numbers page; what is not known says so."""
    places = [place.replace(ANY, drink) for place in DIPS]
    shown = dips(numbers.record.drinks[drink], like)
    if not shown or not claimed(numbers.record, *places):
        return numbers.show(places[-1])
    return _linked(numbers, places[-1], shown)


def _linked(numbers: ShownNumbers, place: str, shown: str) -> Markup:
    return Markup('<a class="n" href="{}" title="{}">{}</a>').format(numbers.at(place), term(place).name, shown)


def of_main(record: Assessment) -> str:
    """The main drink's dips and their change, as one sentence of a letter."""
    drink = record.main
    return gettext("With the kit the boiler sensor's dip in a {drink} is {change}: {dips}.").format(
        drink=drink.name, change=change_with_range(drink.drop_ratio.sensor), dips=dips_text(drink)
    )


# --- what one notices, and what nobody has measured ----------------------------------------------------

STIRRED = "mixing"
"""The input that a run with a probe at the outlet measures."""
ON_DISPLAY = marked("You can watch it on the display.")
ON_NEW_DISPLAY = marked("With the kit there is a display on which you can watch it.")
NO_DISPLAY = marked("No display shows it.")
NOT_THE_CUP = marked(
    "It is the boiler's own sensor; nobody has measured the cup yet. The bands in the chart below show what can be."
)


def noticed(record: Assessment) -> Iterator[Markup]:
    """What one may notice of the dip, and what nobody has measured."""
    drink = record.main
    # Only a thermostat has drops that depend on when you pull; where it rules, there is no display.
    before, after = (side.sensor_drop_phases_k is None for side in (drink.without, drink.with_))
    yield translated(NO_DISPLAY if not after else ON_DISPLAY if before else ON_NEW_DISPLAY)
    yield from phases(drink)
    if not any(one.id == STIRRED and one.evidence == "measured" for one in record.inputs):
        yield translated(NOT_THE_CUP)


def phases(drink: Drink) -> list[Markup]:
    """With a thermostat the drop depends on when you pull: between what and what, for each side that has one."""
    made = []
    ranges = [side.sensor_drop_phases_k for side in (drink.without, drink.with_)]
    printed = [both(one, shown_as("k"), only_range=True) for one in ranges if one is not None]
    if len(printed) == len(ranges):
        without, with_kit = printed
        words = marked("It depends on when you pull: {without} without the kit, {with_kit} with it.")
        return [translated(words, without=without, with_kit=with_kit)]
    for words, side in (
        (marked("Without the kit it depends on when you pull: {range}."), drink.without),
        (marked("With the kit it depends on when you pull: {range}."), drink.with_),
    ):
        ends = side.sensor_drop_phases_k
        if ends is not None:
            made.append(translated(words, range=both(ends, shown_as("k"), only_range=True)))
    return made
