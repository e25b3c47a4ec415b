"""Whether a text holds an act, or a word that no instruction needs.

The words of a step come from the table of acts, with what the act needs and changes. An act that stands in a text
besides has none of that: so no text may hold one, beside a thing that safety depends on.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache

from guidegen.judge.acts.row import rows
from guidegen.judge.acts.things import Things
from guidegen.judge.safety.clauses import BEING, PARTICLES, Clause, Form, clauses, verb_at
from guidegen.judge.safety.english import forms, singular, words_of

SAFETY_KINDS = words_of("""
    bolt boiler casing cover device earth face gasket heater joint lead sensor tap terminals
""")
HEADS = words_of("""
    lead tab fuse thermostat cover lid plug socket mains terminal bolt valve joint nut tap earth boiler wire cap
    sensor device casing heater gasket cable breaker disconnector
""")
"""Nouns that mean a thing of a safety kind on any machine."""
TOO_GENERAL = frozenset({"end", "ends", "side", "sides", "side's"})
OTHER_VERBS = words_of("""
    attach bend break catch clean clip connect crack crimp cut detach disconnect discard dismantle drain drill
    ease energise expose file flush force free glue grind heat hit hook insulate isolate jam join knock link
    lower melt mount omit peel pinch prise pry rub pull reconnect release remount remove replace rig rotate sand
    separate shift skip slacken slide slip slit splice strip swap tape tear throw touch trim tug twist uncover
    unfasten unhook unplug unwind wedge weld wedge wind wire yank
""")
"""Verbs by which people say the same acts in other words."""
ALONE = words_of("""
    close empty fill fit hold lock move open run set switch turn
""")
"""What a thing does by itself as well: "the valve opens at 12 bar". It is an act where a thing follows."""
MOTION = frozenset({"come", "go", "bring", "get"})
"""With a particle these are acts: "the lead goes back onto its tab"."""
FLOWS = words_of("""
    water steam air heat drop drip stream current power smoke smell pressure nothing noise
""")
PRONOUNS = words_of("""
    it them they these those this one both each everything
""")
LOOKING = words_of("""
    ask check compare confirm copy count follow label leave listen look mark photograph read watch write
""")
"""Verbs of rows that take nothing apart."""
OPENING = words_of("""
    machine cover casing lid enclosure it housing
""")
BY_SKILLED = re.compile(
    r"electrically skilled person|\bthat person\b|\bthe workshop\b|fitting service|repair shop|electrician",
    re.IGNORECASE,
)
REFUSED = re.compile(
    r"\b(?:bridg(?:e|es|ed|ing)|by-?pass(?:es|ed|ing)?|jumper(?:s|ed|ing)?|overr(?:id(?:e|es|den|ing)|ode)|"
    r"defeat(?:s|ed|ing)?|disabl(?:e|es|ed|ing)|short(?:s|ed|ing)? out|shorted|shorting|short-circuit\w*|"
    r"shorts? (?:the|a|it|them|both|its|this|that|these|those|all|every|each|two)\b|link(?:s|ed|ing)? out|"
    r"loop(?:s|ed|ing)? out|wire[sd]? across|solder(?:s|ed|ing)?|compressed (?:air|gas)|"
    r"(?:stronger|bigger|larger|heavier|higher|next(?: \w+)?)[ -](?:\w+ )?(?:fuse|rating|value|breaker)s?|"
    r"up-?rat(?:e|es|ed|ing)|re-?rat(?:e|es|ed|ing)|tape[sd]? over|paper ?clip|foil)\b",
    re.IGNORECASE,
)
AND_ON = (
    re.compile(r"\breset(?:s|ting)?\b[^.!?]{0,40}\b(?:go(?:es)? on|carry on|carries on|keep|continue|try|start)", re.I),
    re.compile(r"\b(?:switch|turn|plug|power)(?:s|es|ed|ging|ing)?\b[^.!?]{0,40}\b(?:on|in)\b[^.!?]{0,20}"
               r"\b(?:again|once more|and see)\b", re.I),
)  # fmt: skip
"""What takes two words: "reset it and go on", "switch it on again and see"."""


@dataclass(frozen=True)
class Nouns:
    """The things of a guide as a text names them: single nouns of a safety kind, and whole names of any thing."""

    objects: frozenset[str]
    names: frozenset[tuple[str, ...]]


def nouns_of(things: Things) -> Nouns:
    """The nouns of the things that machine and kit have."""
    objects, names = set(HEADS), set()
    for thing in things.by_id.values():
        for text in (thing.say, thing.name):
            core = _core(text)
            if len(core) > 1:
                names.add(core)
            if core and thing.kind in SAFETY_KINDS and core[-1] not in TOO_GENERAL:
                objects.add(singular(core[-1]))
    return Nouns(frozenset(objects), frozenset(names))


def _core(text: str) -> tuple[str, ...]:
    """The noun of a name with what stands before it: `nut` of "the nut of the steam pipe"."""
    plain = re.split(r"\b(?:of|at|on|to|from|in|where|behind|beside|with|and|all round)\b|[,({]", text.lower())[0]
    words = re.findall(r"[a-z]+(?:-[a-z]+)*", plain)
    return tuple(word for word in words if word not in ("the", "a", "an", "both", "every", "all", "its", "their"))


@cache
def _table() -> Mapping[str, tuple[str, Form]]:
    """Every form of every verb of an act. A base form that is also a past stands as base."""
    steps = (row for row in rows().values() if row.place == "step")
    verbs = {(way.say or "").split()[0].lower() for row in steps for way in row.ways}
    made: dict[str, tuple[str, Form]] = {}
    for verb in sorted(verbs | OTHER_VERBS | MOTION | {"make", "remake"}):
        one = forms(verb)
        made |= dict.fromkeys(one.ing, (verb, "ing")) | dict.fromkeys(one.past, (verb, "past"))
        made |= {one.third: (verb, "third"), one.base: (verb, "base")}
    return made


@lru_cache(maxsize=20_000)
def refused_word(text: str) -> str | None:
    """The first word of a text that no instruction needs, and that no negation forbids.

    >>> refused_word("Bridge it and try again."), refused_word("Never use compressed air here.")
    ('Bridge', None)
    """
    for sentence in re.split(r"(?<=[.!?])\s+", text):
        for pattern in (REFUSED, *AND_ON):
            for hit in pattern.finditer(sentence):
                if not _forbidden(sentence, hit.start()):
                    return hit.group()
    return None


def _forbidden(sentence: str, at: int) -> bool:
    """Whether the word at an index is negated in its clause, or in a list that a negation began."""
    before = clauses(sentence[:at] + "X")
    last = before[-1]
    if last.negated(len(last.words) - 1):
        return True
    begun = len(last.words) == 1 and len(before) > 1 and re.search(r"\b(or|nor)\b", sentence[at:]) is not None
    return begun and _forbids(before[-2])


@lru_cache(maxsize=20_000)
def act_in(text: str, nouns: Nouns) -> str | None:
    """The first verb of a text that says an act beside a thing of a safety kind; None where there is none."""
    return next(_acts(text, nouns), None)


def _acts(text: str, nouns: Nouns) -> Iterator[str]:
    earlier = False
    carried = False
    for clause in clauses(text):
        earlier = earlier and not clause.first
        masked = _masked(clause, nouns.names)
        things = {at for at, word in enumerate(clause.words) if _noun(word) in nouns.objects}
        for at, verb, form in _verbs(clause, masked):
            negated = clause.negated(at) or (carried and clause.or_follows and all(map(_listed, clause.words[:at])))
            if not negated and _beside(clause, at, verb, form, things - {at}, earlier):
                yield clause.words[at]
        carried = _forbids(clause)
        earlier = earlier or bool(things)


def _listed(word: str) -> bool:
    return word in ("or", "nor") or word in _table() or REFUSED.fullmatch(word) is not None


def _forbids(clause: Clause) -> bool:
    """Whether a clause is the begin of a list of what is forbidden: "never bridge", with "bypass or open" behind."""
    last = clause.words[-1]
    return clause.negated(len(clause.words) - 1) and _listed(last)


def _noun(word: str) -> str:
    return singular(word.removesuffix("'s"))


def _masked(clause: Clause, names: Iterable[tuple[str, ...]]) -> set[int]:
    """Where whole names stand: their words are no verbs."""
    return {
        at + inside
        for name in names
        for at in range(len(clause.words) - len(name) + 1)
        if clause.words[at : at + len(name)] == name and at > 0
        for inside in range(len(name))
    }


def _verbs(clause: Clause, masked: set[int]) -> Iterator[tuple[int, str, Form]]:
    for at, word in enumerate(clause.words):
        if at not in masked and (verb := verb_at(clause, at, _table())):
            yield at, verb, _form(word)


def _form(word: str) -> Form:
    known = _table().get(word)
    return known[1] if known else "past" if word.endswith("ed") else "ing" if word.endswith("ing") else "base"


def _beside(clause: Clause, at: int, verb: str, form: Form, things: set[int], earlier: bool) -> bool:
    """Whether a verb has a thing to act on in its clause: before or behind it, or named earlier in the sentence."""
    words = clause.words
    behind = any(one > at for one in things) or bool(PRONOUNS & {*words[at + 1 :]})
    if verb in MOTION:
        moved = PARTICLES & {*words[at + 1 : at + 3]} and (at == 0 or _noun(words[at - 1]) not in FLOWS)
        return bool(moved) and (bool(things) or behind)
    if verb in ("make", "remake"):
        return any(_noun(words[one]) == "joint" for one in things)
    if verb in ALONE and form in ("base", "third"):
        return behind
    if things or behind or (form in ("past", "ing") and PRONOUNS & {*words[:at]}):
        return True
    return earlier and all(word in BEING or word in _AUXILIARY or word.endswith("ly") for word in words[:at])


_AUXILIARY = words_of("""
    then and now to must may can should will could might would be also or never not next
""")


@lru_cache(maxsize=20_000)
def unnamed_act(text: str, nouns: Nouns) -> str | None:
    """The first act on a lead, joint, device or inside of the machine in a sentence that does not name who does it.

    For texts outside of the steps, where no step says what must be true before.

    >>> nouns = nouns_of(Things())
    >>> unnamed_act("Pull the fuse out.", nouns), unnamed_act("The workshop pulls the fuse out.", nouns)
    ('pull', None)
    """
    own = Nouns(nouns.objects - _OUTSIDE, nouns.names)
    for sentence in re.split(r"(?<=[.!?])\s+", text):
        if not BY_SKILLED.search(sentence):
            for clause in clauses(sentence):
                if hit := _inside(clause, own):
                    return hit
    return None


_OUTSIDE = words_of("""
    boiler cap casing cover face lid mains plug socket tap disconnector breaker
""")
"""Nouns that anyone may handle from outside, or that only opening makes dangerous."""


def _inside(clause: Clause, nouns: Nouns) -> str | None:
    masked = _masked(clause, nouns.names)
    things = {at for at, word in enumerate(clause.words) if _noun(word) in nouns.objects}
    for at, verb, form in _verbs(clause, masked):
        if clause.negated(at) or verb in LOOKING:
            continue
        opens = verb in ("open", "undo", "unscrew", "lift", "remove", "uncover") and OPENING & {*clause.words}
        if opens or (_beside(clause, at, verb, form, things - {at}, earlier=False) and things - {at}):
            return clause.words[at]
    return None
