"""Replies to what customers ask, as plain text to paste into a letter: words and numbers of one record, and a link.

A topic names the page and the place on it that say more, what it is about in the kit's list of downsides, and the
sentences with the numbers. Where a kit does not fit, no topic claims a gain or a cost.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from guidegen.language import gettext, marked
from guidegen.record import Assessment
from guidegen.record.claims import claimed
from guidegen.record.stated import Downside
from guidegen.site.pages import sentences, unknown, worth
from guidegen.site.pages.place import MAIN_RATIO, changes_nothing, path_of
from guidegen.site.pages.quoted import Quoted

FIT_PAGE = ("fit", "self-check-title")


@dataclass(frozen=True)
class Topic:
    """What customers ask about."""

    about: str
    page: tuple[str, str]
    say: Callable[[Quoted], Iterator[str]] = lambda quoted: iter(())
    downsides: tuple[str, ...] = ()
    thermal: bool = True
    """Whether it is about temperatures or energy, which some kits leave as they are."""
    rests_on: tuple[str, ...] = ()
    """The figures that it claims; where one may not be claimed of the variant, the reply says what would settle it."""


@dataclass(frozen=True)
class Reply:
    """The text, and where the site explains it at length: a path from the edition's root with its fragment."""

    text: str
    path: str


def reply(record: Assessment, name: str) -> Reply:
    """The reply about one topic; `name` is a key of `TOPICS`."""
    topic, quoted = TOPICS[name], Quoted(record)
    fits = not record.fit.refused
    kind, fragment = topic.page if fits or name == "sure" else FIT_PAGE
    if not fits and name == "sure":
        fragment = ""
    lines = [
        gettext("{pair}, revision {revision}").format(pair=sentences.pair_name(record), revision=record.kit.revision)
    ]
    if not fits and name not in ("fit", "sure"):
        lines += [*_fit(quoted), gettext("So gains and costs are not claimed.")]
    else:
        if record.fit.outcome == "cannot-tell-yet" and name != "fit":
            lines.append(gettext("We cannot tell yet whether it fits. What follows holds if it does."))
        lines += _topic_lines(quoted, topic)
        lines += [_downside(record, one) for one in record.downsides if one.about in topic.downsides]
    lines += _honest(quoted)
    path = path_of(record, kind)
    return Reply("\n".join(lines) + "\n", f"{path}#{fragment}" if fragment else path)


def _topic_lines(quoted: Quoted, topic: Topic) -> Iterable[str]:
    if topic.thermal and changes_nothing(quoted.record):
        return _nothing(quoted)
    if not claimed(quoted.record, *topic.rests_on):
        return unknown.figure_not_claimed(quoted.record, *topic.rests_on)
    return topic.say(quoted)


def _honest(quoted: Quoted) -> Iterator[str]:
    """What the numbers are, and what they are not."""
    record = quoted.record
    if quoted.numbers:
        yield gettext("These numbers are computed, not measured: {status}. {basis}").format(
            status=sentences.status(record), basis=sentences.basis(record)
        )
    if record.variant.invented or record.kit.invented:
        yield gettext("Machine and kit are invented for a demonstration.")


def _downside(record: Assessment, one: Downside) -> str:
    message = gettext("{what} ({likely}) What you can do: {do}")
    return message.format(what=one.what, likely=sentences.likely(record, one), do=one.do)


# --- the text of each topic ---------------------------------------------------------------------------


def _fit(quoted: Quoted) -> Iterator[str]:
    record = quoted.record
    yield gettext("As it left the factory: {outcome}. An earlier owner may have changed it.").format(
        outcome=sentences.outcome(record.fit.outcome)
    )
    for one in record.fit.reasons:
        if one.met is not True:
            met, open_ = gettext("“{wanted}” Not met: {detail}."), gettext("“{wanted}” Not known: {detail}.")
            what = (met if one.met is False else open_).format(wanted=one.says, detail=one.detail)
            remedy = one.remedy or one.settles
            yield gettext("{what} What helps: {remedy}.").format(what=what, remedy=remedy) if remedy else what
    if not record.fit.refused:
        yield gettext("Please check your own machine before you order: it takes a few minutes, on the page below.")


def _nothing(quoted: Quoted) -> Iterator[str]:
    yield gettext("By itself it changes no temperature and no energy.")
    yield f"{quoted.record.kit.summary} {quoted.record.kit.reason}"


def _gain(quoted: Quoted) -> Iterator[str]:
    record = quoted.record
    drink, main = record.main, f"drinks.{record.main_drink}"
    ratio = quoted.n(f"{main}.drop_ratio.sensor", ranged=True)
    message = gettext("In a {drink} the sensor's drop with the kit, over that without it, is {ratio}.")
    yield message.format(drink=drink.name, ratio=ratio)
    yield worth.gain(record)
    found = worth.judged(record)
    if found is not None:
        yield gettext("{verdict}. {because}").format(
            verdict=sentences.sentence(worth.word(found)), because=worth.because_text(found)
        )
    message = marked("In degrees: by {with_kit} with the kit instead of {without} without.")
    yield quoted.sides(message, f"{main}.{{}}.sensor_drop_k")
    for side, message in (
        ("without", marked("Without the kit it depends on when you pull: {range}.")),
        ("with", marked("With it it depends on when you pull: {range}.")),
    ):
        place = f"{main}.{side}.sensor_drop_phases_k"
        if place in quoted.known:
            yield gettext(message).format(range=quoted.n(place, ranged=True))
    yield gettext("The sensor is not the cup.")
    outlet = f"{main}.drop_ratio.outlet"
    if record.main.drop_ratio.outlet.value is not None and quoted.way(outlet) != "either":
        ends = (quoted.n(f"{main}.{side}.stability_band_k", alone=True) for side in ("with", "without"))
        message = gettext(
            "What leaves the group varies by {with_kit} instead of {without}; only a run with a probe there settles it."
        )
        yield message.format(**dict(zip(("with_kit", "without"), ends, strict=True)))


def _second(quoted: Quoted) -> Iterator[str]:
    yield gettext("The same drink again, the machine left alone in between; how far the sensor drops:")
    for one in quoted.record.waiting:
        place = f"waiting.{one.wait_s:g}.sensor_drop_k."
        yield gettext("after {minutes} min: {with_kit} with the kit, {without} without").format(
            minutes=f"{one.wait_s / 60:g}", with_kit=quoted.n(f"{place}with"), without=quoted.n(f"{place}without")
        )


FIRST_SHOT = {
    "more": marked("The first shot that is as steady as the later ones comes {time} later."),
    "less": marked("The first shot that is as steady as the later ones comes {time} earlier."),
    "either": marked("The first shot that is as steady as the later ones may come later or earlier: {time}."),
}


def _warm_up(quoted: Quoted) -> Iterator[str]:
    found = quoted.way("warm_up.added_s")
    added = quoted.n("warm_up.added_s", ranged=True, other_sign=found == "less")
    yield gettext(FIRST_SHOT[found]).format(time=added)
    message = marked("From a cold start that is {with_kit} with the kit, {without} without.")
    yield quoted.sides(message, "warm_up.{}.shot_ready_s")
    yield quoted.sides(
        marked("The boiler is ready after {with_kit} instead of {without}."), "warm_up.{}.boiler_ready_s"
    )


def _setpoint(quoted: Quoted) -> Iterator[str]:
    if quoted.known["same_cup_degc"].value is None:
        reason = quoted.known["same_cup_degc"].reason or gettext("no value")
        yield gettext("There is nothing to set: {reason}.").format(reason=reason)
    else:
        value = quoted.n("same_cup_degc", alone=True)
        message = gettext(
            "For the same cup as before set {temperature}; only a run with a probe at the outlet settles it."
        )
        yield message.format(temperature=value)
    yield gettext("Is mine right? Before a test shot the display shows {before}, at its lowest {lowest}.").format(
        before=quoted.n("display.before_degc"), lowest=quoted.n("display.lowest_degc")
    )


def _steam(quoted: Quoted) -> Iterator[str]:
    message = marked("From steam back to brewing: wait {with_kit} with the kit, {without} without.")
    yield quoted.sides(message, "after_steam.wait_s.{}")
    yield quoted.sides(marked("Or flush {with_kit} instead of {without}."), "after_steam.flush_ml.{}")


AT_IDLE = {
    "more": marked("At idle {amount} more."),
    "less": marked("At idle {amount} less."),
    "either": marked("At idle more or less, that cannot be told: {amount}."),
}
IN_A_DAY = {
    "more": marked("In a day {amount} more."),
    "less": marked("In a day {amount} less."),
    "either": marked("In a day more or less, that cannot be told: {amount}."),
}


def _energy(quoted: Quoted) -> Iterator[str]:
    for place, message in (("energy.idle_added_w", AT_IDLE), ("energy.day_added_wh", IN_A_DAY)):
        found = quoted.way(place)
        yield gettext(message[found]).format(amount=quoted.n(place, ranged=True, other_sign=found == "less"))
    yield quoted.sides(marked("A session takes {with_kit} instead of {without}."), "energy.{}.session_wh")
    yield gettext("This is for {usage}.").format(usage=quoted.record.energy.usage)


def _cost(quoted: Quoted) -> Iterator[str]:
    unit = f" {quoted.record.energy.currency}"
    yield gettext("Electricity for a session: {with_kit} with the kit, {without} without.").format(
        with_kit=quoted.n("energy.with.session_cost", unit=unit),
        without=quoted.n("energy.without.session_cost", unit=unit),
    )
    yield gettext("This is for {usage}.").format(usage=quoted.record.energy.usage)


def _mass(quoted: Quoted) -> Iterator[str]:
    yield gettext("It adds {mass} to the boiler, water included.").format(mass=quoted.n("budget.added_kg", ranged=True))
    if quoted.record.coil is not None:
        yield gettext("The coil weighs {dry} empty and {filled} full.").format(
            dry=quoted.n("coil.dry_kg"), filled=quoted.n("coil.filled_kg")
        )


def _time(quoted: Quoted) -> Iterator[str]:
    record = quoted.record
    if record.procedure is None:
        yield " ".join((gettext("There is no fitting instruction yet."), *unknown.withheld(record)))
        return
    time = sentences.minutes(record.procedure.minutes)
    yield gettext("The work takes {time}, waiting not counted.").format(time=time)


def _undo(quoted: Quoted) -> Iterator[str]:
    restore = quoted.record.restore
    yield unknown.undone(quoted.record)
    yield restore.how
    for one in quoted.record.protrusions:
        if one.action == "trim":
            yield gettext("Cut off, which cannot be undone: {what}.").format(what=one.name)
    for one in unknown.cuts(quoted.record).undecided:
        yield gettext("Not known yet whether it has to be cut off, which cannot be undone: {what}.").format(
            what=one.name
        )


def _sure(quoted: Quoted) -> Iterator[str]:
    yield gettext("All numbers are computed: {status}. {basis}").format(
        status=sentences.status(quoted.record), basis=sentences.basis(quoted.record)
    )
    for one in sentences.most_wanted(quoted.record)[:4]:
        yield gettext("Assumed: {name}, {value}. What would settle it: {how}.").format(
            name=one.name, value=one.text, how=one.settles or gettext("a measurement")
        )


GAIN = (MAIN_RATIO, "drinks.*.without.sensor_drop_k", "drinks.*.with.sensor_drop_k")
ENERGY = ("energy.day_ratio", "energy.idle_added_w", "energy.with.session_wh", "energy.without.session_wh")
DOWNSIDES = ("overview", "downsides")
WARRANTY = ("warranty", "approval", "insurance", "resale")
WATER = ("water", "stagnation", "scale", "descaling", "metals")
TOPICS: Mapping[str, Topic] = MappingProxyType({
    "fit": Topic("does it go on this machine, and what stands in the way", FIT_PAGE, _fit, thermal=False),
    "gain": Topic("how much less the temperature drops", ("overview", "gain"), _gain, ("profile",), rests_on=GAIN),
    "second": Topic("the second drink after a wait", ("numbers", "waiting"), _second, rests_on=GAIN),
    "warm-up": Topic("how much longer until the first good shot", ("numbers", "warm-up"), _warm_up, ("warm-up",),
                     rests_on=("warm_up.added_s", "warm_up.with.boiler_ready_s", "warm_up.without.boiler_ready_s")),
    "setpoint": Topic("what to set for the same cup, what the display shows", ("numbers", "display"), _setpoint,
                      rests_on=("same_cup_degc", "display.before_degc", "display.lowest_degc")),
    "steam": Topic("the way back from steam", ("numbers", "after-steam"), _steam,
                   rests_on=("after_steam.wait_s.with", "after_steam.wait_s.without")),
    "energy": Topic("what it uses more", ("numbers", "energy"), _energy, ("energy",), rests_on=ENERGY),
    "cost": Topic("what a session costs in electricity, and the price on offer", ("overview", "cost"), _cost,
                  rests_on=ENERGY),
    "mass": Topic("how much heavier it gets", ("numbers", "budget"), _mass, ("mass",), thermal=False),
    "noise": Topic("does it make a noise", DOWNSIDES, downsides=("noise",), thermal=False),
    "water": Topic("copper, scale and taste", DOWNSIDES, downsides=WATER, thermal=False),
    "leak": Topic("can it leak", DOWNSIDES, downsides=("leak", "frost"), thermal=False),
    "warranty": Topic("warranty, approval marks, insurance and resale", DOWNSIDES, downsides=WARRANTY, thermal=False),
    "time": Topic("how long fitting takes, and what it asks of you", DOWNSIDES, _time, ("time", "skills", "service"),
                  thermal=False),
    "undo": Topic("can the original be restored", ("overview", "undo"), _undo, ("irreversible",), thermal=False),
    "sure": Topic("how sure the numbers are", ("overview", "sure"), _sure, thermal=False),
})  # fmt: skip
"""By the word that the maker types."""
