"""Colours and how well they can be read: contrast by WCAG 2.2, and the nearest tone that can be read."""

from __future__ import annotations

import re
from collections.abc import Collection

NAMED = {
    "red": "#ef5552", "pink": "#e92063", "purple": "#ab47bd", "deep purple": "#7e56c2", "indigo": "#4051b5",
    "blue": "#2094f3", "light blue": "#02a6f2", "cyan": "#00bdd6", "teal": "#009485", "green": "#4cae4f",
    "light green": "#8bc34b", "lime": "#cbdc38", "yellow": "#ffec3d", "amber": "#ffc105", "orange": "#ffa724",
    "deep orange": "#ff6e42", "brown": "#795649", "grey": "#757575", "blue grey": "#546d78", "black": "#000000",
    "white": "#ffffff",
}  # fmt: skip
"""The colours that the theme has names for, as its own style sheet has them."""
BLACK, WHITE = "#000000", "#ffffff"
READABLE = 4.5
"""Least contrast of text, WCAG 2.2, success criterion 1.4.3, level AA."""
STEPS = 100
_HEX = re.compile(r"#(?:[0-9a-fA-F]{3}|[0-9a-fA-F]{6})")


def colour_of(text: str) -> str | None:
    """A colour as `#rrggbb`: one with a name, `#rgb` or `#rrggbb`; None for anything else.

    >>> colour_of("Deep Purple"), colour_of("#0B5"), colour_of("custom")
    ('#7e56c2', '#00bb55', None)
    """
    named = NAMED.get(text.strip().lower().replace("-", " "))
    if named or not _HEX.fullmatch(text.strip()):
        return named
    digits = text.strip()[1:].lower()
    return "#" + (digits if len(digits) == 6 else "".join(one * 2 for one in digits))


def contrast(one: str, other: str) -> float:
    """The contrast of two colours, `#rrggbb`, from 1 to 21 (WCAG 2.2, definition of contrast ratio).

    >>> round(contrast("#000000", "#ffffff"), 2), round(contrast("#777777", "#ffffff"), 2)
    (21.0, 4.48)
    """
    darker, lighter = sorted((_luminance(one), _luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def _luminance(colour: str) -> float:
    """Relative luminance, 0 to 1 (WCAG 2.2, definition of relative luminance)."""
    linear = []
    for value in bytes.fromhex(colour[1:]):
        share = value / 255
        linear.append(share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4)
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def worst(colour: str, papers: Collection[str]) -> float:
    """The contrast with that of several papers on which the colour is read worst."""
    return min(contrast(colour, paper) for paper in papers)


def readable(colour: str, papers: Collection[str]) -> str:
    """The colour itself, or the nearest mixture with black, on dark papers with white, that can be read on all.

    >>> readable("#9a4318", ["#fbfaf7"]), round(contrast(readable("#ffec3d", ["#ffffff"]), "#ffffff"), 1)
    ('#9a4318', 4.5)
    """
    end = BLACK if worst(BLACK, papers) > worst(WHITE, papers) else WHITE
    mixed = (_mixed(colour, end, i / STEPS) for i in range(STEPS + 1))
    return next((one for one in mixed if worst(one, papers) >= READABLE), end)


def on(colour: str) -> str:
    """White or black, whichever can be read better on a colour; one of them always can: 4.58 or more."""
    return max((WHITE, BLACK), key=lambda text: contrast(text, colour))


def _mixed(one: str, other: str, share: float) -> str:
    ends = zip(bytes.fromhex(one[1:]), bytes.fromhex(other[1:]), strict=True)
    return "#" + bytes(round(a + (b - a) * share) for a, b in ends).hex()
