"""Clauses of a text, what is negated in them, and where a word stands: as a verb or as a noun.

No grammar of English: enough of it to tell "the screw of the cover" from "screw the cover on". Where it cannot tell,
it says verb; the author then writes the sentence in other words.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from guidegen.judge.safety.english import NO_REPETITION, PREFIXES, singular, words_of

Form = Literal["base", "third", "past", "ing"]

_SENTENCE = re.compile(r"(?<=[.!?])\s+")
_BREAK = re.compile(
    r"\s*[,;:()—–]\s*|\s+-\s+|"
    r"\b(?:while|when|whenever|because|before|after|until|till|unless|so|if|once|although|though|but|since|whereas|"
    r"which|who|where|wherever|whether|than)\b",
    re.IGNORECASE,
)
_WORD = re.compile(r"[a-z]+(?:-[a-z]+)*(?:'[a-z]+)?|[0-9]+", re.IGNORECASE)

NEGATORS = words_of("""
    never not no nobody none neither nor cannot without nothing no-one
""")
SPOILERS = words_of("""
    hesitate forget fail mind minds matter matters needs cares objects need only just why worry wait stop harm
    problem reason afraid avoid miss neglect refuse and
""")
"""Words after which a negation no longer forbids what follows: "do not hesitate to", "not only"."""
REACH = 4
"""So many words stand between a negation and the verb at most."""
DETERMINERS = words_of("""
    a an the this that these those its their your his her our my each every both either any some no one two
    three four another all such what which own other new old same first second third last next upper lower left
    right half quarter full whole single few more few short long small large good bad clean dry
""")
ADVERBS = words_of("""
    then now first next please simply just always also only again instead rather better perhaps maybe already
    once never not ever still here there well finally best too later
""")
MODALS = words_of("""
    can could may might must shall should will would do does did don't to let make help need cannot needn't
    can't let's why
""")
PLURAL_SUBJECTS = words_of("""
    you they we i people both all hands and or
""")
SUBJECTS = words_of("""
    he she it who that which somebody someone anybody anyone nobody everybody everyone one person whoever this
    helper owner electrician maker partner
""")
BEING = words_of("""
    be been being is are was were am has have had having get gets got getting become becomes 's isn't aren't
    when if as
""")
STAYING = words_of("""
    stay stays stayed remain remains stand stands lie lies still
""")
STATES = words_of("""
    off on in out back cool dry tight still closed drained
""")
PARTICLES = words_of("""
    off out on onto in into back over up down away under through apart together loose free open
""")
PREPOSITIONS = words_of("""
    of at by for from with without in on onto into to under over beside between beneath behind above below
    across through round along against as like per near
""")
OFTEN_NOUNS = words_of("""
    fitting wiring setting reading bearing casing washing opening mounting
""")
INVARIANT = words_of("""
    cut put shut set hit split slit
""")


@dataclass(frozen=True)
class Clause:
    """The words of a clause in small letters; whether it begins a sentence; whether "or" still follows in it."""

    words: tuple[str, ...]
    first: bool
    or_follows: bool = False

    def negated(self, index: int) -> bool:
        """Whether a negation stands shortly before a word, and forbids it.

        >>> clauses("Never use air.")[0].negated(1), clauses("Do not hesitate to pull it.")[0].negated(4)
        (True, False)
        """
        before = self.words[:index]
        marks = [at for at, word in enumerate(before) if word in NEGATORS or word.endswith("n't")]
        # "without" forbids only the word behind it
        marks = [at for at in marks if before[at] != "without" or not {*before[at + 1 :]} - ADVERBS]
        if len(marks) != 1 or index - marks[0] - 1 > REACH:
            return False
        between, word_before = {*before[marks[0] + 1 :]}, {*before[max(0, marks[0] - 1) : marks[0]]}
        return not SPOILERS & (between | (word_before - {"and"}))


def clauses(text: str) -> list[Clause]:
    """Every clause of a text, in its order."""
    found = []
    for sentence in _SENTENCE.split(text):
        parts = [tuple(_WORD.findall(part.lower())) for part in _BREAK.split(sentence)]
        kept = [part for part in parts if part]
        for number, words in enumerate(kept):
            follows = any({"or", "nor"} & {*one} for one in kept[number:])
            found.append(Clause(words, number == 0, follows))
    return found


def verb_at(clause: Clause, index: int, table: Mapping[str, tuple[str, Form]]) -> str | None:
    """The verb whose form stands there as a verb; None where the word is no such form, or a noun or adjective."""
    word = clause.words[index]
    known = table.get(word) or _with_prefix(word, table)
    if known is None:
        return None
    verb, form = known
    stands = {"base": _is_base, "third": _is_third, "past": _is_past, "ing": _is_ing}[form]
    return verb if stands(clause.words, index) else None


def _with_prefix(word: str, table: Mapping[str, tuple[str, Form]]) -> tuple[str, Form] | None:
    if word in NO_REPETITION:
        return None
    for prefix in PREFIXES:
        rest = word.removeprefix(prefix).lstrip("-")
        if rest != word and rest in table:
            return table[rest]
    return None


def _before(words: Sequence[str], index: int) -> str:
    """The word before one, adverbs skipped; empty at the start."""
    for word in reversed(words[:index]):
        if word not in ADVERBS and not word.endswith("ly"):
            return word
    return ""


def _is_base(words: Sequence[str], index: int) -> bool:
    word, before = words[index], _before(words, index)
    follows = words[index + 1] if index + 1 < len(words) else ""
    if word == "close" and (follows in ("to", "by") or words[index - 1 : index] in (["too"], ("too",))):
        return False
    if word in INVARIANT and _is_past(words, index):
        return True
    if before == "" or before in MODALS or before in PLURAL_SUBJECTS or before.endswith("n't"):
        return True
    if {"let", "make", "have", "help"} & {*words[:index]}:
        return before not in DETERMINERS
    return before not in DETERMINERS and before not in PREPOSITIONS and singular(before) != before


def _is_third(words: Sequence[str], index: int) -> bool:
    before = _before(words, index)
    if before in SUBJECTS or before in ("", "and", "or") or before in NEGATORS:
        return True
    if before in DETERMINERS or before in PREPOSITIONS or singular(before) != before:
        return False
    follows = words[index + 1] if index + 1 < len(words) else ""
    return follows in PARTICLES or follows in DETERMINERS or follows in ("it", "them")


def _is_past(words: Sequence[str], index: int) -> bool:
    before = _before(words, index)
    plain = words[index - 1] if index else ""
    if plain in STAYING or before in STAYING:
        return False
    if plain == "and" and words[max(0, index - 2)] in STATES:
        return False
    if words[index] in INVARIANT or words[index] in ("run", "read"):
        return before in BEING or (before not in DETERMINERS and before not in PREPOSITIONS and before not in MODALS)
    return before not in DETERMINERS and not before.endswith("'s") and before not in PREPOSITIONS - {"with", "as"}


def _is_ing(words: Sequence[str], index: int) -> bool:
    follows = words[index + 1] if index + 1 < len(words) else ""
    if words[index] in OFTEN_NOUNS:
        return follows in DETERMINERS
    return words[max(0, index - 1)] not in DETERMINERS or index == 0 or follows == "of"
