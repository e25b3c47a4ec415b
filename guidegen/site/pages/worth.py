"""Whether a kit is worth it, in words: the verdict of the record, and how sure it is."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from markupsafe import Markup

from guidegen.language import gettext, marked, translated
from guidegen.record import Assessment
from guidegen.record.worth import Worth
from guidegen.site.charts.quantity import two_systems
from guidegen.site.pages import gains as stated_gains
from guidegen.site.pages.place import changes_nothing, gain_is
from guidegen.site.pages.sentences import sentence
from guidegen.site.pages.unknown import not_yet
from guidegen.units import NARROW_SPACE

SELDOM = 0.01
"""A smaller share of the draws is not printed as a number."""
WORDS = {
    "clearly-better": marked("yes, clearly"),
    "a-little-better": marked("yes, a little"),
    "cannot-tell": marked("cannot tell until somebody measures"),
    "nothing": marked("no, nothing you could measure"),
    "may-be-worse": marked("no, it may get worse"),
}
"""What is answered to "Worth it?"; the best first."""
BECAUSE = {
    "clearly-better": marked(
        "In {clear} of the cases we computed, the dip shrinks by at least {shrinks} %, and by at least {clearly}."
    ),
    "a-little-better": marked("In {little} of the cases we computed, the dip shrinks by at least {felt}."),
    "nothing": marked("In {unchanged} of the cases we computed, the dip changes by less than {felt}."),
    "may-be-worse": marked("In {worse} of the cases we computed, the dip grows by at least {felt}."),
    "cannot-tell": marked(
        "In {little} of the cases we computed, the dip shrinks by at least {felt}; in {unchanged} it changes by less "
        "than that, and in {worse} it grows by at least as much."
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
    """The verdict as an answer within a sentence."""
    return gettext(WORDS[worth.verdict])


def answer(record: Assessment) -> str:
    """What is answered to "Worth it?" within a sentence, also where no draws decide it; empty where nobody asks.

    Nobody asks of a kit that does not fit or is there already, or that gains something else than heat; nor does an
    edition answer that kept no verdict.
    """
    if record.fit.refused:
        return ""
    if changes_nothing(record):
        return "" if record.gains else gettext("not by itself")
    if gain_is(record) == "not known":
        return not_yet()
    found = judged(record)
    return word(found) if found else ""


def shown(record: Assessment) -> Markup:
    """The answer in a cell of a table, in its colour, and what is gained beside heat."""
    stated = stated_gains.shown(record)
    if answer(record):
        return Markup("<br>").join(filter(None, (_verdict(record), stated)))
    return stated or Markup("–")


def _verdict(record: Assessment) -> Markup:
    words, found = answer(record), judged(record)
    if gain_is(record) == "not known":
        return Markup('<span class="gg-unknown">{}</span>').format(sentence(words))
    colour = f" gg-worth--{found.verdict}" if found else ""
    return Markup('<span class="gg-word{}">{}</span>').format(colour, sentence(words))


def lines(record: Assessment) -> Iterator[str]:
    """Answer and reason as a line for the maker; none where nobody asks."""
    words, found = answer(record), judged(record)
    if words:
        yield f"worth it? {words}" + (f": {because_text(found)}" if found else "")


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
    return {**shares, "shrinks": f"{(1 - limits.clear_ratio) * 100:.0f}", "felt": felt, "clearly": clearly}


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
