"""By how much a kit makes a dip smaller or larger, in words that hold for the whole range of the ratio."""

from __future__ import annotations

from collections.abc import Sequence

from guidegen.language import gettext, marked
from guidegen.record import Figure
from guidegen.record.places import HEADLINES, undecided, way

RATIO = HEADLINES[0].place
HARDLY = 0.05
"""A change of the dip by less than this share is none that anybody would name."""
CHANGE = {
    "less": marked("about {percent} % smaller"),
    "more": marked("about {percent} % larger"),
}


def change(ratio: Figure) -> str:
    """By how much the dip shrinks or grows, within a sentence, in words that hold for the whole range.

    >>> change(Figure(value=0.39, low=0.12, high=0.57)), change(Figure(value=1.06, low=1.02, high=1.08))
    ('about 61 % smaller', 'about 6 % larger')
    >>> change(Figure(value=0.9, low=0.4, high=2.5)), change(Figure(value=1.0, low=0.97, high=1.04))
    ('between 60 % smaller and 2.5 times as large', 'about the same')
    """
    ends = [one for one in ratio.ends if one is not None]
    if not ends:
        return ""
    if all(abs(one - 1) < HARDLY for one in ends):
        return gettext("about the same")
    if undecided(RATIO, ratio):
        low, high = _end(ratio.low), _end(ratio.high)
        return gettext("between {low} and {high}").format(low=low, high=high)
    words, value = CHANGE["more" if way(RATIO, ratio) == "more" else "less"], ends[0]
    return gettext(words).format(percent=_percent(value)) if value < TWICE else _end(value)


TWICE = 2.0
"""From here on a dip is said to be so many times as large."""


def _end(ratio: float | None) -> str:
    """One end of a range that holds smaller and larger."""
    if ratio is None:
        return gettext("nobody knows how much larger")
    if ratio >= TWICE:
        return gettext("{times} times as large").format(times=f"{ratio:.2g}")
    words = marked("{percent} % larger") if ratio > 1 else marked("{percent} % smaller")
    return gettext(words).format(percent=_percent(ratio))


def _percent(ratio: float) -> str:
    return f"{abs(1 - ratio) * 100:.0f}"


def span(ratio: Figure) -> str:
    """The range of that change in whole per cent; empty where there is none, and where the words name it already.

    >>> span(Figure(value=0.39, low=0.12, high=0.57)), span(Figure(value=0.9, low=0.4, high=2.5))
    ('43 to 88 %', '')
    """
    if not ratio.ranged or ratio.low is None or ratio.high is None or undecided(RATIO, ratio):
        return ""
    if all(abs(one - 1) < HARDLY for one in (ratio.low, ratio.high)):
        return ""
    low, high = sorted((abs(1 - ratio.low), abs(1 - ratio.high)))
    return gettext("{low} to {high} %").format(low=f"{low * 100:.0f}", high=f"{high * 100:.0f}")


def change_with_range(ratio: Figure) -> str:
    """Both in one line of text."""
    ends = span(ratio)
    return gettext("{change} ({range})").format(change=change(ratio), range=ends) if ends else change(ratio)


def over(ratios: Sequence[Figure]) -> str:
    """By how much the dips of several drinks change: from the least to the most, ranges included.

    >>> over([Figure(value=0.3, low=0.2, high=0.4), Figure(value=0.5, low=0.4, high=0.55)]), over([Figure(value=0.5)])
    ('45 to 80 % smaller', '50 % smaller')
    >>> over([Figure(value=0.9, low=0.8, high=1.1)]), over([Figure(value=1.2), Figure(value=1.5)])
    ('between 20 % smaller and 10 % larger', '20 to 50 % larger')
    """
    known = [end for one in ratios for end in (one.ends[1:] if one.ranged else one.ends[:1]) if end is not None]
    low, high = min(known), max(known)
    if low < 1 < high:
        return gettext("between {low} and {high}").format(low=_end(low), high=_end(high))
    least, most = sorted((_percent(low), _percent(high)), key=int)
    if least == most:
        return _end(low) if most != "0" else gettext("about the same")
    words = marked("{low} to {high} % larger") if low >= 1 else marked("{low} to {high} % smaller")
    return gettext(words).format(low=least, high=most)


def signed(ratio: Figure) -> str:
    """The change beside a bar, in per cent with its sign.

    >>> signed(Figure(value=0.39, low=0.12, high=0.57)), signed(Figure(value=1.06)), signed(Figure(value=0.996))
    ('−88 to −43 %', '+6 %', '0 %')
    """
    ends = [one for one in (ratio.ends[1:] if ratio.ranged else ratio.ends[:1]) if one is not None]
    shown = [f"{(one - 1) * 100:+.0f}".replace("-", "−").replace("−0", "0").replace("+0", "0") for one in ends]
    if len(set(shown)) == 1:
        return f"{shown[0]} %"
    return gettext("{low} to {high} %").format(low=shown[0], high=shown[1])
