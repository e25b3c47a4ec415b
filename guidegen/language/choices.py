"""The closed words of the YAML that pages print: codes to the program, and words to the reader."""

from __future__ import annotations

from guidegen.language import gettext, marked

CHOICES = {
    "annealed": marked("annealed"),
    "half-hard": marked("half-hard"),
    "hard": marked("hard"),
    "brass": marked("brass"),
    "aluminium": marked("aluminium"),
    "copper": marked("copper"),
    "stainless": marked("stainless"),
    "corded": marked("corded"),
    "hard-wired": marked("hard-wired"),
    "straight": marked("straight"),
    "banjo": marked("banjo"),
    "pid": marked("electronic"),
    "thermostat": marked("thermostat"),
    "cast-in": marked("cast in"),
    "sheath": marked("sheathed element in the water"),
    "band": marked("band round the wall"),
    "ntc": marked("NTC"),
    "thermocouple": marked("thermocouple"),
    "pt100": marked("Pt100"),
    "upstream": marked("before the coil"),
    "downstream": marked("behind the coil"),
    "none": marked("none"),
    "before-relief": marked("between pump and relief branch"),
    "after-relief": marked("behind the relief branch"),
    "above": marked("above"),
    "below": marked("below"),
    "clamped": marked("clamped"),
    "pasted": marked("bedded in paste"),
    "from-above": marked("from above"),
    "from-below": marked("from below"),
    "in-place": marked("bent on in place"),
    "lower-end": marked("lower end"),
    "upper-end": marked("upper end"),
    "certain": marked("certain"),
    "likely": marked("likely"),
    "possible": marked("possible"),
    "rare": marked("rare"),
    "standard": marked("standard"),
    "handbook": marked("handbook"),
    "paper": marked("paper"),
    "manual": marked("manual"),
    "bench": marked("bench"),
    "measured": marked("measured"),
    "maker-document": marked("maker's document"),
    "calculated": marked("calculated"),
    "assumed": marked("assumed"),
    "common-practice": marked("common practice, no source"),
}


def choice(word: str) -> str:
    """What a page prints for a word of a closed list; any other word is the maker's own and stays.

    >>> choice("maker-document"), choice("Tamsin")
    ("maker's document", 'Tamsin')
    """
    return gettext(CHOICES.get(word, "")) or word


def remedy_words(kind: str, unsure: bool = False) -> str:
    """How a remedy of a kind is worded, with its {name}: a kit has a name, every other name says what to do.

    `unsure`: nobody knows yet whether it can be carried out.

    >>> remedy_words("kit"), remedy_words("fabrication")
    ('Fit the kit {name}', '{name}')
    """
    if unsure:
        by_kit = marked("Fit the kit {name} (not known yet whether that can be done)")
        return gettext(by_kit if kind == "kit" else marked("{name} (not known yet whether that can be done)"))
    return gettext("Fit the kit {name}") if kind == "kit" else "{name}"
