"""Texts beside the steps: none holds an act, and somebody has read each."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from guidegen.judge.acts.row import rows
from guidegen.judge.safety.guide import Guide
from guidegen.judge.safety.model import FilledText
from guidegen.judge.safety.rules.base import Found, Rule
from guidegen.judge.safety.texts import Nouns, act_in, nouns_of, refused_word, unnamed_act

BESIDE = "make the act an entry of its own, or say how things are in words that name no act"


def harmless(guide: Guide) -> Iterator[Found]:
    """TXT01."""
    nouns = nouns_of(guide.resolved.things)
    for one in _texts(guide):
        if one.written.words not in vetted() and (found := _found(one, nouns)):
            yield found
    for one in _own_words(guide):
        if word := refused_word(one.filled):
            yield Found(one.place, f"an act of the workshop speaks of `{word}`, which no instruction needs")


@cache
def vetted() -> frozenset[str | None]:
    """The texts of the table of acts, which stand beside the act that they are about."""
    ways = [way for row in rows().values() for way in row.ways]
    return frozenset(
        (*(text for way in ways for text in (way.why, way.note)), *(way.hold.stop for way in ways if way.hold))
    )


def _found(one: FilledText, nouns: Nouns) -> Found | None:
    text = one.filled
    if word := refused_word(text):
        return Found(one.place, f"the text speaks of `{word}`, which no instruction needs: {text}",
                     fix="leave it out, or say that nobody does it")  # fmt: skip
    if one.written.kind in ("act", "number") and (verb := act_in(text, nouns)):
        return Found(one.place, f"the text holds an act (`{verb}`), with nothing of what that act needs: {text}")
    if one.written.kind == "around" and (verb := unnamed_act(text, nouns)):
        return Found(one.place, f"`{verb}` is work inside the machine, and the text does not say who does it: {text}",
                     fix="name who does it in the same sentence: an electrically skilled person, the workshop's "
                         "fitting service, a repair shop")  # fmt: skip
    return None


def everything_read(guide: Guide) -> Iterator[Found]:
    """TXT02."""
    if guide.read is None:
        return
    unread: dict[str, list[FilledText]] = {}
    for one in (*_texts(guide), *_own_words(guide)):
        if one.written.kind != "number" and one.written.hash not in guide.read:
            unread.setdefault(one.place.path, []).append(one)
    for texts in unread.values():
        first = min(texts, key=lambda one: (one.place.line, one.place.column))
        count = len(dict.fromkeys(one.written.hash for one in texts))
        words = "nobody has confirmed this text" if count == 1 else f"nobody has confirmed {count} texts, first this"
        yield Found(first.place, f"{words}: {first.written.words}")


def _own_words(guide: Guide) -> Iterator[FilledText]:
    """The words of the workshop's own acts, which are acts themselves and earn nothing."""
    acts = guide.resolved.acts
    for one in acts.own.texts if acts.own is not None else ():
        yield FilledText(one, one.words, acts.places[one.loc])


def _texts(guide: Guide) -> Iterator[FilledText]:
    yield from guide.resolved.texts
    for one in guide.hazards.texts:
        yield FilledText(one, one.words, guide.hazards.places[one.loc])


RULES = (
    Rule("TXT01", "error", "No text beside the steps holds an act on a thing that safety depends on, or speaks of "
         "what no instruction needs; outside of the steps such work names who does it.", BESIDE, harmless),
    Rule("TXT02", "error", "Somebody has read every text and confirmed exactly its words, by role and date.",
         "read it and confirm: guidegen read", everything_read, whatever_is_missing=True),
)  # fmt: skip
