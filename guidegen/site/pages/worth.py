"""Whether a kit is worth it, in words: the verdict of the record, how sure it is, and what the ratio means."""

from __future__ import annotations

from collections.abc import Callable

from markupsafe import Markup

from guidegen.language import gettext, marked, translated
from guidegen.record import Assessment
from guidegen.record.places import undecided
from guidegen.record.worth import Worth
from guidegen.site.charts.quantity import two_systems
from guidegen.site.pages.place import MAIN_RATIO, gain_is
from guidegen.site.pages.sentences import sentence
from guidegen.units import NARROW_SPACE

SELDOM = 0.01
"""A smaller share of the draws is not printed as a number."""
WORDS = {
    "clearly-better": marked("clearly better"),
    "a-little-better": marked("a little better"),
    "cannot-tell": marked("cannot tell before somebody measures"),
    "nothing": marked("nothing one could measure"),
    "may-be-worse": marked("may make it worse"),
}
"""The best first."""
BECAUSE = {
    "clearly-better": marked(
        "In {clear} of computed cases the sensor drops at most {ratio} times as far, and at least {clearly} less."
    ),
    "a-little-better": marked("In {little} of computed cases the sensor drops by at least {felt} less."),
    "nothing": marked("In {unchanged} of computed cases the drop changes by less than {felt}."),
    "may-be-worse": marked("In {worse} of computed cases the sensor drops by at least {felt} further."),
    "cannot-tell": marked(
        "In {little} of computed cases the sensor drops by at least {felt} less, in {unchanged} the drop "
        "changes by less than that, and in {worse} it drops further."
    ),
}


def judged(record: Assessment) -> Worth | None:
    """The verdict where a page may say it: where the gain may be claimed, and an edition kept one."""
    return record.worth if gain_is(record) == "claimed" else None


def gains(record: Assessment) -> bool:
    """Whether a page may show a gain as one: not where the verdict is another. Older editions have none."""
    found = judged(record)
    return found is None or found.gains


def rank(record: Assessment) -> tuple[int, float]:
    """Where a pair stands among others: by the verdict, then by the ratio; what claims nothing last."""
    found, ratio = judged(record), record.main.drop_ratio.sensor.value
    if gain_is(record) != "claimed" or ratio is None:
        return len(WORDS), 0.0
    return (list(WORDS).index(found.verdict) if found else 0), ratio


def word(worth: Worth) -> str:
    """The verdict within a sentence."""
    return gettext(WORDS[worth.verdict])


def shown(record: Assessment) -> Markup:
    """The verdict in a cell of a table, in its colour; empty where there is none."""
    found = judged(record)
    if found is None:
        return Markup("")
    words = sentence(word(found))
    return Markup('<span class="gg-word gg-worth--{}">{}</span>').format(found.verdict, words)


def because(worth: Worth) -> Markup:
    """How sure it is, on a page; the reader's switch chooses the units."""
    return translated(BECAUSE[worth.verdict], **_values(worth, two_systems))


def because_text(worth: Worth) -> str:
    """How sure it is, in a letter: both systems of units beside each other."""
    return gettext(BECAUSE[worth.verdict]).format(**_values(worth, "{} ({})".format))


def _values(worth: Worth, beside: Callable[[str, str], str]) -> dict[str, str]:
    limits = worth.limits
    shares = {name: share(getattr(worth, name)) for name in ("worse", "clear", "little", "unchanged")}
    felt, clearly = (beside(*_difference(kelvin)) for kelvin in (limits.felt_k, limits.clear_k))
    return {**shares, "ratio": f"{limits.clear_ratio:g}", "felt": felt, "clearly": clearly}


def _difference(kelvin: float) -> tuple[str, str]:
    """A difference of temperatures that was chosen, not computed: no digits of an uncertainty."""
    return f"{kelvin:g}{NARROW_SPACE}°C", f"{kelvin * 1.8:.3g}{NARROW_SPACE}°F"


def share(part: float) -> str:
    """A share of the draws; none of a finite number says never or always.

    >>> share(0.154), share(0.0), share(0.9993)
    ('15 %', 'less than 1 %', 'more than 99 %')
    """
    if part < SELDOM:
        return gettext("less than {percent} %").format(percent=1)
    if part > 1 - SELDOM:
        return gettext("more than {percent} %").format(percent=99)
    return f"{part * 100:.0f} %"


# --- the ratio in plain words --------------------------------------------------------------------------

STEPS = (
    (0.0, marked("hardly at all")), (0.05, marked("a twentieth as far")), (0.1, marked("a tenth as far")),
    (1 / 8, marked("an eighth as far")), (1 / 6, marked("a sixth as far")), (0.2, marked("a fifth as far")),
    (0.25, marked("a quarter as far")), (1 / 3, marked("a third as far")), (0.4, marked("two fifths as far")),
    (0.5, marked("half as far")), (0.6, marked("three fifths as far")), (2 / 3, marked("two thirds as far")),
    (0.75, marked("three quarters as far")), (0.8, marked("four fifths as far")), (0.9, marked("nine tenths as far")),
    (1.0, marked("as far as without")), (1.1, marked("a tenth further")), (1.25, marked("a quarter further")),
    (1.5, marked("half as far again")), (2.0, marked("twice as far")), (3.0, marked("three times as far")),
    (5.0, marked("five times as far")),
)  # fmt: skip
"""What a drop is called, by its ratio to the one without."""


def gain(record: Assessment) -> str:
    """The headline's ratio in plain words that hold for the whole of its range.

    Each end is rounded outwards to a step that has a name, so that nothing of the range lies beyond the words.
    """
    ratio = record.main.drop_ratio.sensor
    if ratio.value is None or gain_is(record) != "claimed":
        return ""
    low, high = (ratio.low, ratio.high) if ratio.ranged else (ratio.value, ratio.value)
    words = between(low, high)
    if ratio.ranged and undecided(MAIN_RATIO, ratio):
        return gettext("{between}: it may be less far than without, or further.").format(between=words)
    return f"{words}."


def between(low: float | None, high: float | None) -> str:
    """The two steps that a range lies between; an end that is not known is beyond all of them.

    >>> between(0.12, 0.57), between(0.97, 1.04)
    ('Between a tenth as far and three fifths as far', 'Between nine tenths as far and a tenth further')
    >>> between(0.3, 7.0), between(0.5, 0.5)
    ('Between a quarter as far and more than five times as far', 'Half as far')
    """
    below = next((name for step, name in reversed(STEPS) if low is not None and step <= low), STEPS[0][1])
    above = next((name for step, name in STEPS if high is not None and high <= step), None)
    if above == below:
        return sentence(gettext(below))
    if above is None:
        words = gettext("Between {low} and more than {high}")
        return words.format(low=gettext(below), high=gettext(STEPS[-1][1]))
    return gettext("Between {low} and {high}").format(low=gettext(below), high=gettext(above))
