"""What may touch the water beside what: families of materials, pairs of metals, lead, and what joins are filled with.

A material is written in words that begin with its family: `brass with at most 0.25 % lead`. The table is small on
purpose: what is not in it is refused, and is added here with its source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

LEADED = ("brass", "bronze")
"""Alloys that are commonly made with lead, so that a part of one states how much (common practice, no source)."""
METALS = ("aluminium", "copper", "stainless", *LEADED)
NO_METALS = ("ceramic", "EPDM", "FKM", "glass", "PE-X", "PEEK", "PP", "PTFE", "silicone")
"""What conducts no current and gives no metal to the water."""
LEAD_MOST = 0.25
"""Per cent of lead in what water touches. SDWA 1417 (United States) says 0.25 % as the weighted average of all wetted
surfaces and 0.2 % in solder and flux; where each part keeps the first, so does every average."""
PITTED_BY: dict[str, tuple[str, ...]] = {"aluminium": ("copper",)}
"""Metals, and what must not stand upstream of each. Water that has passed copper carries its salts; they plate out on
aluminium, the far less noble metal in the galvanic series of MIL-STD-889B, and pit it. Brass, copper and stainless
steel stand near each other there. Brass on aluminium is apart as well, but gives little copper to the water, and a
fitting of brass takes the place of one of brass (common practice, no source)."""
_SHARE = re.compile(r"([0-9]+(?:\.[0-9]+)?) ?% lead\b", re.IGNORECASE)
_FREE = re.compile(r"\b(?:lead|cadmium)[ -]free\b|\b(?:no|without) (?:lead|cadmium)(?: (?:or|and) (?:lead|cadmium))?\b",
                   re.IGNORECASE)  # fmt: skip
_POISON = re.compile(r"\b(?:lead|cadmium|\w*Pb\w*)\b", re.IGNORECASE)
_NONE = "none"


def family(material: str) -> str | None:
    """The family of a material; None where it is none of those that the program knows.

    >>> family("brass with at most 0.25 % lead"), family("stainless steel"), family("zamak")
    ('brass', 'stainless', None)
    """
    words = re.findall(r"[\w-]+", material)
    return next((name for name in (*METALS, *NO_METALS) if words and words[0].lower() == name.lower()), None)


def is_metal(material: str) -> bool:
    """Whether it conducts: what is of no known family may."""
    return family(material) not in NO_METALS


def pits(upstream: str, downstream: str) -> bool:
    """Whether a metal must not stand upstream of another in one water.

    >>> pits("copper", "aluminium"), pits("copper", "brass"), pits("stainless steel", "aluminium")
    (True, False, False)
    """
    return family(upstream) in PITTED_BY.get(family(downstream) or "", ())


def material_faults(material: str) -> Iterator[tuple[str, str]]:
    """What is wrong with a material that drinking water touches, each with its fix."""
    known = family(material)
    if known is None:
        words = f"`{material}` begins with no material that is known to be fit for drinking water"
        yield words, f"begin with one of {', '.join((*METALS, *NO_METALS))}"
        return
    shares = [float(one) for one in _SHARE.findall(material)]
    if not shares and (known in LEADED or _POISON.search(_FREE.sub("", material))):
        yield f"`{material}` does not say how much lead is in it", f"write `{known} with at most {LEAD_MOST} % lead`"
    elif shares and max(shares) > LEAD_MOST:
        words = f"{max(shares):g} % lead, where {LEAD_MOST} % is the most for what drinking water touches"
        yield words, "use an alloy for drinking water"


def filler_faults(filler: str, flux: str) -> Iterator[tuple[str, str]]:
    """What is wrong with the filler and the flux of a part's joints, each with its fix.

    Only brazing holds at the temperature and the pressure of a boiler (common practice, no source).

    >>> [words for words, _ in filler_faults("tin-lead solder", "none")]
    ['filler `tin-lead solder`: nothing but brazing holds at a boiler']
    >>> list(filler_faults("silver brazing alloy without lead or cadmium", "brazing flux"))
    []
    """
    if filler.lower() != _NONE and "brazing" not in filler.lower():
        yield f"filler `{filler}`: nothing but brazing holds at a boiler", "braze it, or write `none`"
    elif _POISON.search(_FREE.sub("", filler)):
        yield f"filler `{filler}` holds lead or cadmium", "use a brazing alloy without both"
    if flux.lower() != _NONE and "brazing flux" not in flux.lower():
        yield f"flux `{flux}` is none for brazing", "write `brazing flux`, or `none`"
