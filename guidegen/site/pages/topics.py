"""What customers ask, by topic: the question, where the site says more, and the sentences with the numbers of a record.

A topic names the page and the place on it that say more, and what it is about in the kit's list of downsides.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from guidegen.language import gettext, marked
from guidegen.record import Assessment
from guidegen.record.claims import brings_coil
from guidegen.site.pages import cost_lines, dip, first_kits, gains, measured, sentences, unknown, worth
from guidegen.site.pages.place import MAIN_RATIO, gain_is
from guidegen.site.pages.quoted import Quoted

MINUTE_S = 60
FIT_PAGE = ("fit", "self-check-title")


@dataclass(frozen=True)
class Topic:
    """What customers ask."""

    question: str
    page: tuple[str, str]
    say: Callable[[Quoted], Iterator[str]] = lambda quoted: iter(())
    downsides: tuple[str, ...] = ()
    thermal: bool = True
    """Whether it is about temperatures or energy, which some kits leave as they are."""
    rests_on: tuple[str, ...] = ()
    """The figures that it claims; where one may not be claimed of the variant, the reply says what would settle it."""


def fit(quoted: Quoted) -> Iterator[str]:
    record = quoted.record
    if record.fit.outcome == "has-already":
        yield gettext("Not needed: it left the factory with what this kit brings, unless an owner changed it.")
        return
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


def nothing(quoted: Quoted) -> Iterator[str]:
    yield gettext("By itself it changes no temperature and no energy.")
    yield f"{quoted.record.kit.summary} {quoted.record.kit.reason}"


def _cost(quoted: Quoted) -> Iterator[str]:
    yield from cost_lines.lines(quoted)
    yield from first_kits.on_top(quoted.record)


def _gain(quoted: Quoted) -> Iterator[str]:
    record = quoted.record
    yield from filter(None, (sentences.compared_with(record),))
    yield from gains.lines(record)
    main = f"drinks.{record.main_drink}"
    quoted.numbers = True
    if words := worth.answer(record):
        yield gettext("Worth it? {answer}.").format(answer=sentences.sentence(words))
    yield dip.of_main(record)
    yield from measured.told(record)
    found = worth.judged(record)
    if found is not None:
        yield worth.because_text(found)
    for side, message in (
        ("without", marked("Without the kit it depends on when you pull: {range}.")),
        ("with", marked("With the kit it depends on when you pull: {range}.")),
    ):
        place = f"{main}.{side}.sensor_drop_phases_k"
        if place in quoted.known:
            yield gettext(message).format(range=quoted.n(place, ranged=True))
    yield gettext("This is the boiler's own sensor; nobody has measured the cup yet.")
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
        yield gettext("after {wait}: {with_kit} with the kit, {without} without").format(
            wait=f"{one.wait_s / 60:g} min" if one.wait_s >= MINUTE_S else f"{one.wait_s:g} s",
            with_kit=quoted.n(f"{place}with"),
            without=quoted.n(f"{place}without"),
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
    "more": marked("{amount} more at idle."),
    "less": marked("{amount} less at idle."),
    "either": marked("At idle it may be more or less: {amount}."),
}
IN_A_DAY = {
    "more": marked("{amount} more a day."),
    "less": marked("{amount} less a day."),
    "either": marked("Over a day it may be more or less: {amount}."),
}


def _energy(quoted: Quoted) -> Iterator[str]:
    for place, message in (("energy.idle_added_w", AT_IDLE), ("energy.day_added_wh", IN_A_DAY)):
        found = quoted.way(place)
        yield gettext(message[found]).format(amount=quoted.n(place, ranged=True, other_sign=found == "less"))
    yield quoted.sides(marked("A session takes {with_kit} instead of {without}."), "energy.{}.session_wh")
    yield gettext("This is for {usage}.").format(usage=quoted.record.energy.usage)


def _mass(quoted: Quoted) -> Iterator[str]:
    yield gettext("It adds {mass} to the boiler, water included.").format(mass=quoted.n("budget.added_kg", ranged=True))
    if quoted.record.coil is not None and brings_coil(quoted.record):
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
    basis, record = sentences.basis(quoted.record), quoted.record
    if gain_is(record) == "stated":
        yield sentences.sentence(f"{sentences.status(record)}. {basis}")
        yield from gains.lines(record)
        return
    words = gettext("All numbers are computed: {status}. {basis}")
    yield basis if sentences.measured_on(record) else words.format(status=sentences.status(record), basis=basis)
    yield from measured.told(record, on_what=False)
    for one in sentences.most_wanted(quoted.record)[:4]:
        yield gettext("Assumed: {name}, {value}. What would settle it: {how}.").format(
            name=one.name, value=one.text, how=one.settles or gettext("a measurement")
        )


OTHER_GAIN = marked("What does it gain?")
"""What is asked of a kit that leaves temperatures and energy as they are, in place of the dip."""
GAIN = (MAIN_RATIO, "drinks.*.without.sensor_drop_k", "drinks.*.with.sensor_drop_k")
ENERGY = ("energy.day_ratio", "energy.idle_added_w", "energy.with.session_wh", "energy.without.session_wh")
DOWNSIDES = ("overview", "downsides")
WARRANTY = ("warranty", "approval", "insurance", "resale")
WATER = ("water", "stagnation", "scale", "descaling", "metals")
TOPICS: Mapping[str, Topic] = MappingProxyType({
    "fit": Topic(marked("Does it fit my machine?"), FIT_PAGE, fit, thermal=False),
    "gain": Topic(marked("How much less does the temperature dip?"),
                  ("overview", "gain"), _gain, ("profile",), rests_on=GAIN),
    "second": Topic(marked("What about a second drink after a wait?"),
                    ("numbers", "waiting"), _second, rests_on=GAIN),
    "warm-up": Topic(marked("How much longer until the first good shot?"),
                     ("numbers", "warm-up"), _warm_up, ("warm-up",),
                     rests_on=("warm_up.added_s", "warm_up.with.boiler_ready_s", "warm_up.without.boiler_ready_s")),
    "setpoint": Topic(marked("What do I set for the same cup, and what will the display show?"),
                      ("numbers", "display"), _setpoint,
                      rests_on=("same_cup_degc", "display.before_degc", "display.lowest_degc")),
    "steam": Topic(marked("How long until it brews again after steam?"), ("numbers", "after-steam"), _steam,
                   rests_on=("after_steam.wait_s.with", "after_steam.wait_s.without")),
    "energy": Topic(marked("Does it use more electricity?"),
                    ("numbers", "energy"), _energy, ("energy",), rests_on=ENERGY),
    "cost": Topic(marked("What does it cost in all?"), ("overview", "cost"), _cost, thermal=False),
    "mass": Topic(marked("How much heavier does the boiler get?"),
                  ("numbers", "budget"), _mass, ("mass",), thermal=False),
    "noise": Topic(marked("Does it make a noise?"), DOWNSIDES, downsides=("noise",), thermal=False),
    "water": Topic(marked("What about copper, scale, descaling and taste?"),
                   DOWNSIDES, downsides=WATER, thermal=False),
    "leak": Topic(marked("Can it leak?"), DOWNSIDES, downsides=("leak", "frost"), thermal=False),
    "warranty": Topic(marked("What happens to warranty, approval marks, insurance and resale?"),
                      DOWNSIDES, downsides=WARRANTY, thermal=False),
    "time": Topic(marked("How long does fitting take, and what does it ask of me?"),
                  DOWNSIDES, _time, ("time", "skills", "service"),
                  thermal=False),
    "undo": Topic(marked("Can the original be restored?"),
                  ("overview", "undo"), _undo, ("irreversible",), thermal=False),
    "sure": Topic(marked("How sure are these numbers?"), ("overview", "sure"), _sure, thermal=False),
})  # fmt: skip
"""By the word that the maker types."""


def question(record: Assessment, name: str) -> str:
    """What is asked under a topic, of this pair."""
    other = name == "gain" and gain_is(record) == "stated"
    return gettext(OTHER_GAIN if other else TOPICS[name].question)
