"""The whole cost of a kit on a variant: what is paid for, electricity in a year, and all that no invoice shows.

Prices come after an edition, so they stand in no page: `assets/guidegen/offers.js` puts them where `Paid` says.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from guidegen.language import gettext, marked, ngettext, translated
from guidegen.record import Assessment, Figure
from guidegen.record.claims import brings_coil, claimed
from guidegen.record.places import undecided, way
from guidegen.site.charts.quantity import Shown, both, decimals
from guidegen.site.pages import effort, sentences
from guidegen.site.pages.numbers import ShownNumbers
from guidegen.site.pages.page import rel
from guidegen.site.pages.place import PRICES, changes_nothing, has_brief, kit_path, path_of
from guidegen.site.pages.site import Site
from guidegen.site.pages.unknown import cuts
from guidegen.units import NARROW_SPACE

DAYS_A_YEAR = 365
PER_KWH = 1000.0
KILOWATT_HOURS = Shown("energy", "Wh", "kWh", "kWh")
ADDED = "energy.day_added_wh"
MOST_DECIMALS = 2
"""Of money; a hundredth of it is the smallest coin of most."""


@dataclass(frozen=True)
class Paid:
    """A line of the price: words, and the ids of what is added up, a part of a kit as `kit/part`.

    The script leaves out a line `about` a part that has no price of its own: it is in the kit's price.
    """

    says: str
    ids: tuple[str, ...]
    about: str = ""


def open_remedies(record: Assessment) -> Iterator[tuple[str, ...]]:
    """For each requirement that is not met the ids of what helps, of which one is enough."""
    for reason in record.fit.reasons:
        if reason.met is False and reason.remedies:
            yield reason.remedies


def kits_first(record: Assessment) -> tuple[str, ...]:
    """The kits that have to go on before this one: each the only remedy of what is not met."""
    only = (one[0] for one in open_remedies(record) if len(one) == 1)
    return tuple(dict.fromkeys(name.removeprefix("kit:") for name in only if name.startswith("kit:")))


def parts_of(record: Assessment) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The parts that remedies take, by id: those that nothing else can stand in for, and those that one may choose."""
    asked = [tuple(one.removeprefix("part:") for one in many if one.startswith("part:")) for many in
             open_remedies(record)]  # fmt: skip
    alone = [len(many) == 1 for many in open_remedies(record)]
    needed = dict.fromkeys(part for parts, only in zip(asked, alone, strict=True) if only for part in parts)
    chosen = dict.fromkeys(part for parts in asked for part in parts if part not in needed)
    return tuple(needed), tuple(chosen)


def names_of(record: Assessment) -> dict[str, str]:
    """What may be bought to make it fit, by the remedy's id: a part or a kit by its name."""
    names = {one.id: one.name for one in record.self_check.remedies}
    return names | {f"part:{part}": name for part, name in record.kit.parts.items() if f"part:{part}" in names}


def paid(record: Assessment) -> list[Paid]:
    """What has to be bought: the kit, kits that go on first, and what remedies cost beside it."""
    kit, names = record.kit, names_of(record)
    first, (needed, chosen) = kits_first(record), parts_of(record)
    made = [Paid(kit.name, (kit.id,))]
    for one in first:
        made.append(Paid(gettext("{kit}, which goes on first").format(kit=names[f"kit:{one}"]), (one,)))
    for one in needed:
        made.append(Paid(sentences.sentence(names[f"part:{one}"]), (f"{kit.id}/{one}",), f"{kit.id}/{one}"))
    every = tuple(name for line in made for name in line.ids)
    if len(every) > 1:
        made.append(Paid(gettext("Together"), every))
    for one in chosen:
        words = gettext("With {part}, if you choose it").format(part=names[f"part:{one}"])
        made.append(Paid(words, (*every, f"{kit.id}/{one}"), f"{kit.id}/{one}"))
    return made


@dataclass(frozen=True)
class Year:
    """What the kit uses more in a year of the stated usage: Wh, and money at the stated price of a kWh."""

    energy: Figure
    cost: Figure
    per_kwh: float
    currency: str


def year(record: Assessment) -> Year | None:
    """The energy that a year adds, and what it costs; None where the record has none.

    Both are the day's added energy by 365 days. The price of a kilowatt hour is that which the record's session was
    computed with: what it costs over what it takes.
    """
    added, side = record.energy.day_added_wh, record.energy.without
    if added.value is None or not side.session_wh.value or side.session_cost.value is None:
        return None
    per_kwh = round(side.session_cost.value / side.session_wh.value * PER_KWH, 4)
    return Year(
        scaled(added, DAYS_A_YEAR), scaled(added, DAYS_A_YEAR * per_kwh / PER_KWH), per_kwh, record.energy.currency
    )


def scaled(figure: Figure, factor: float) -> Figure:
    """A figure times a positive number that is known exactly: the draws' median and ends move alike."""
    value, low, high = (None if one is None else one * factor for one in figure.ends)
    return Figure(value=value, low=low, high=high, reason=figure.reason)


def money(figure: Figure, currency: str, only_range: bool = False) -> str:
    """A computed sum of money, rounded as any figure is and at most to the hundredth: `1.8 EUR`."""
    value, low, high = figure.ends
    shown = [one for one in (value, low, high) if one is not None]
    if not shown:
        return gettext("no value")
    places = min(decimals(value if value is not None else shown[0], low, high), MOST_DECIMALS)
    tail = f"{NARROW_SPACE}{currency}"
    if (only_range or value is None) and low is not None and high is not None:
        return gettext("{low} to {high}").format(low=_coins(low, places), high=_coins(high, places)) + tail
    return _coins(shown[0], places) + tail


def _coins(amount: float, places: int) -> str:
    """An amount with so many decimals, and a minus as pages print it."""
    return f"{amount:.{places}f}".replace("-", "−")


YEAR = {
    "more": marked("{energy} more a year: {cost}"),
    "less": marked("{energy} less a year: {cost}"),
    "either": marked("Nobody knows whether it is more or less: {energy} a year, {cost}"),
}


def year_words(record: Assessment) -> Markup | None:
    """The electricity of a year, in a sentence; None for a kit that leaves it as it is."""
    found = None if changes_nothing(record) else year(record)
    if found is None:
        return None
    if not claimed(record, ADDED):
        return Markup("{}").format(gettext("not known yet"))
    direction = way(ADDED, record.energy.day_added_wh)
    sign = -1.0 if direction == "less" else 1.0
    energy, cost = (_turned(one) if sign < 0 else one for one in (found.energy, found.cost))
    alone = undecided(ADDED, record.energy.day_added_wh)
    said = translated(YEAR[direction], energy=both(energy, KILOWATT_HOURS, only_range=alone and energy.ranged),
                      cost=money(cost, found.currency, alone))  # fmt: skip
    if energy.ranged and not alone:
        said += Markup(' <span class="gg-range">({})</span>').format(money(cost, found.currency, only_range=True))
    return said


def _turned(figure: Figure) -> Figure:
    value, low, high = (None if one is None else -one for one in figure.ends)
    return Figure(value=value, low=high, high=low)


def usage_words(record: Assessment) -> str:
    """For whom a year is reckoned."""
    found = year(record)
    if found is None:
        return ""
    coins = f"{found.per_kwh:.2f}" if round(found.per_kwh, 2) == found.per_kwh else f"{found.per_kwh:g}"
    words = gettext("All year round: {usage}. A kilowatt hour costs {price}.")
    return words.format(usage=record.energy.usage, price=f"{coins}{NARROW_SPACE}{found.currency}")


def days_words(record: Assessment) -> str:
    """How many days it takes until the machine can be used again; empty without an instruction."""
    found = effort.days(record)
    return days_between(found.fewest, found.most) if found is not None else ""


def days_between(fewest: int, most: int) -> str:
    """So many days."""
    if fewest == most:
        return ngettext("{n} day without the machine", "{n} days without the machine", most).format(n=most)
    return gettext("{fewest} to {most} days without the machine").format(fewest=fewest, most=most)


def days_span(record: Assessment) -> str:
    """The same in a cell of a table: `2 to 4`."""
    found = effort.days(record)
    if found is None:
        return ""
    ends = gettext("{low} to {high}").format(low=found.fewest, high=found.most)
    return str(found.most) if found.fewest == found.most else ends


def days_because(record: Assessment) -> str:
    """What makes it so many: work, waits, and how long one stands at the bench."""
    found = effort.days(record)
    if found is None or record.procedure is None:
        return ""
    work = sentences.minutes(record.procedure.minutes)
    said = [gettext("{work} of work.").format(work=work)]
    if found.waits:
        waits = waits_words(found.waits)
        said = [gettext("{work} of work, and {waits} until the machine is cold.").format(work=work, waits=waits)]
    if found.fewest != found.most:
        words = gettext("Fewer with whole days of {whole} h at the bench, more with evenings of {evening} h.")
        said.append(words.format(whole=effort.WHOLE_DAY_H, evening=effort.EVENING_H))
    return " ".join(said)


def waits_words(minutes: tuple[float, ...]) -> str:
    """Waits that are alike as one."""
    if len(set(minutes)) == 1:
        wait = sentences.minutes(minutes[0])
        return ngettext("{n} wait of {wait}", "{n} waits of {wait}", len(minutes)).format(n=len(minutes), wait=wait)
    waits = ", ".join(map(sentences.minutes, minutes))
    return gettext("waits of {waits}").format(waits=waits)


def visits_words(record: Assessment) -> str:
    """How often a skilled person comes and how long his own work takes; empty where nobody kept it."""
    found = effort.visits(record)
    if not found:
        return ""
    time = sentences.minutes(sum(one.minutes for one in found))
    words = ngettext("{n} visit, {time} of measuring", "{n} visits, {time} of measuring in all", len(found))
    return words.format(n=len(found), time=time)


def lasting(record: Assessment) -> Iterator[str]:
    """What stays for good."""
    found = cuts(record)
    if found.undecided:
        yield gettext("whether something has to be cut is not known yet")
    elif found.count:
        yield ngettext("{count} permanent cut", "{count} permanent cuts", found.count).format(count=found.count)
    else:
        yield gettext("nothing is cut") if record.restore.possible else gettext("it cannot be undone")


READY = {
    "more": marked("Ready {time} later"),
    "less": marked("Ready {time} earlier"),
    "either": marked("Ready earlier or later, nobody knows which: {time}"),
}


def ready(record: Assessment, numbers: ShownNumbers) -> Markup | None:
    """How much later it is ready, or earlier, or that it may be either; None for a kit that leaves it as it is."""
    place = "warm_up.added_s"
    if changes_nothing(record):
        return None
    if not claimed(record, place):
        return numbers.show(place)
    found = way(place, record.warm_up.added_s)
    return translated(READY[found], time=numbers.show(place, ranged=True, other_sign=found == "less"))


def whole(record: Assessment, path: str, numbers: ShownNumbers, site: Site) -> dict[str, Any]:
    """What the template `cost.html` needs, on any page of a pair."""
    return {
        "paid": paid(record),
        "prices": rel(path, PRICES) if site.reference.publisher.price_list else "",
        "kit_page": rel(path, kit_path(record.kit.id)),
        "has_terms": site.reference.publisher.terms is not None,
        "days": days_words(record),
        "days_because": days_because(record),
        "visits": visits_words(record),
        "brief": rel(path, path_of(record, "brief")) if has_brief(record) else "",
        "tools": effort.own_tools(record),
        "lay_out": f"{rel(path, path_of(record, 'install'))}#lay-out" if record.procedure else "",
        "year": year_words(record),
        "usage": usage_words(record),
        "ready": ready(record, numbers),
        "mass": numbers.show("budget.added_kg", ranged=True) if brings_coil(record) else None,
        "lasting": list(lasting(record)),
        "withheld": record.withheld,
    }
