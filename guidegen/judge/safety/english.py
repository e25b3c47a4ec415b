"""Forms of English verbs: what a text can make of the verb of an act.

Regular verbs follow the rules of spelling; a table holds the others. Held against forms written by hand.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

IRREGULAR = {
    "bend": ("bent", "bent"), "bind": ("bound", "bound"), "blow": ("blew", "blown"), "break": ("broke", "broken"),
    "bring": ("brought", "brought"), "come": ("came", "come"), "cut": ("cut", "cut"), "draw": ("drew", "drawn"),
    "drive": ("drove", "driven"), "get": ("got", "got"), "give": ("gave", "given"), "go": ("went", "gone"),
    "grind": ("ground", "ground"), "hang": ("hung", "hung"), "hit": ("hit", "hit"), "hold": ("held", "held"),
    "lay": ("laid", "laid"), "leave": ("left", "left"), "make": ("made", "made"), "prove": ("proved", "proven"),
    "put": ("put", "put"), "read": ("read", "read"), "run": ("ran", "run"), "saw": ("sawed", "sawn"),
    "set": ("set", "set"), "shut": ("shut", "shut"), "slide": ("slid", "slid"), "slit": ("slit", "slit"),
    "split": ("split", "split"), "stick": ("stuck", "stuck"), "take": ("took", "taken"), "tear": ("tore", "torn"),
    "throw": ("threw", "thrown"), "tie": ("tied", "tied"), "undo": ("undid", "undone"), "wind": ("wound", "wound"),
    "write": ("wrote", "written"),
}  # fmt: skip
"""Past and participle of the verbs that do not make them with -ed."""
BOTH_SPELLINGS = {"label": ("labelled", "labelling"), "level": ("levelled", "levelling")}
PREFIXES = ("un", "re", "dis")
NO_REPETITION = frozenset({"return", "returns", "returned", "remark", "relay", "relays", "recover"})
"""Words that begin with `re` and are not something done again."""


def words_of(text: str) -> frozenset[str]:
    """The words of a list that is written as a text."""
    return frozenset(text.split())


@dataclass(frozen=True)
class VerbForms:
    """A verb: its base, third person, past and participle, and -ing."""

    base: str
    third: str
    past: frozenset[str]
    ing: frozenset[str]


@cache
def forms(verb: str) -> VerbForms:
    """The forms of a verb.

    >>> found = forms("undo")
    >>> found.third, sorted(found.past), sorted(found.ing)
    ('undoes', ['undid', 'undone'], ['undoing'])
    """
    for prefix in PREFIXES:
        rest = verb.removeprefix(prefix)
        if verb not in IRREGULAR and rest != verb and (rest in IRREGULAR or _doubles(rest)):
            inner = forms(rest)
            past, ing = ({prefix + one for one in many} for many in (inner.past, inner.ing))
            return VerbForms(verb, prefix + inner.third, frozenset(past), frozenset(ing))
    past = set(IRREGULAR.get(verb, (_ed(verb),)))
    ing = {_ing(verb)}
    if verb in BOTH_SPELLINGS:
        past.add(BOTH_SPELLINGS[verb][0])
        ing.add(BOTH_SPELLINGS[verb][1])
    return VerbForms(verb, _third(verb), frozenset(past), frozenset(ing))


def _doubles(verb: str) -> bool:
    """Whether the last consonant is written twice: one syllable, one vowel, one consonant."""
    return re.fullmatch(r"[^aeiou]*(?:qu)?[aeiou][bcdfgklmnprtvz]", verb) is not None


def _ends_in_y(verb: str) -> bool:
    return re.search(r"[^aeiou]y$", verb) is not None


def _third(verb: str) -> str:
    if _ends_in_y(verb):
        return verb[:-1] + "ies"
    return verb + "es" if re.search(r"(s|x|z|ch|sh|[^aeiou]o)$", verb) else verb + "s"


def _ed(verb: str) -> str:
    if _ends_in_y(verb):
        return verb[:-1] + "ied"
    if verb.endswith("e"):
        return verb + "d"
    return verb + (verb[-1] if _doubles(verb) else "") + "ed"


def _ing(verb: str) -> str:
    if verb.endswith("ie"):
        return verb[:-2] + "ying"
    if re.search(r"[^eoy]e$", verb):
        return verb[:-1] + "ing"
    return verb + (verb[-1] if _doubles(verb) else "") + "ing"


def singular(word: str) -> str:
    """The singular of a noun of the trade, or the word itself.

    >>> singular("leads"), singular("fuses"), singular("boss"), singular("switches"), singular("assemblies")
    ('lead', 'fuse', 'boss', 'switch', 'assembly')
    """
    if re.search(r"[^aeiou]ies$", word):
        return word[:-3] + "y"
    if re.search(r"(ss|x|ch|sh)es$", word):
        return word[:-2]
    plural = len(word) > 3 and word.endswith("s") and not word.endswith(("ss", "us", "is"))
    return word[:-1] if plural else word
