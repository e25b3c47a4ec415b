"""`guidegen check --acts [NAME]`: the table of acts, those that a word picks, or one act in full with an example."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from guidegen.assess.acts import acts
from guidegen.problems import UsageProblem, nearest
from guidegen.record.acts import ActPart, ActSection, ActWay

WIDTH, NAME, LABEL = 100, 20, 7
"""Columns of a line, and of the name and the label before a text."""
HEAD = (
    "Every step of an instruction is one of these acts, and so is how a failing side ends, the after-care, and the "
    "table of faults. The program writes the sentence, and checks the order, the limits and who does it. A person has "
    "to read `how:` and `why:`; no program understands them.",
    "`of:`, `at:` and `to:` take ids of things of the machine or the kit, one or a list. `with:` takes other tools "
    "than those listed. `how:`, `why:`, `when:`, `minutes:`, `role:` and `figure:` may be added to every act.",
    "wiring: hand tools on a corded machine, an electrically skilled person on a hard-wired one and in mains work. In "
    "mains work a conductor is touched only where it is proved dead.",
    "`guidegen check --acts NAME` prints one act with an example.",
)


def table(word: str = "") -> str:
    """Every act; with a word one act in full, or those that have the word in their name, sentence or kinds."""
    sections = acts()
    every = {act.name: act for section in sections for act in section.acts}
    if word in every:
        return "\n".join((*_block(every[word]), *_example(every[word])))
    found = [part for section in sections if (part := _picked(section, word)).acts]
    if not found:
        near = nearest(word, every)
        raise UsageProblem(f'no act has "{word[:40]}" in it' + (f"; did you mean {near}?" if near else ""))
    lines = [] if word else [line for text in HEAD for line in (*textwrap.wrap(text, WIDTH), "")]
    for section in found:
        lines += [section.title, ""]
        for act in section.acts:
            lines += [*_block(act), ""]
    return "\n".join(lines).rstrip()


def _picked(section: ActSection, word: str) -> ActSection:
    asked = word.casefold()
    return section.model_copy(update={"acts": tuple(act for act in section.acts if asked in _searched(act))})


def _searched(act: ActPart) -> str:
    kinds = (kind for slot in act.slots for kind in slot.kinds)
    return " ".join((act.name, *(way.sentence for way in act.ways), *kinds)).casefold()


def _block(act: ActPart) -> Iterator[str]:
    """One act: its name beside its first sentence, then a line for whatever it has."""
    name = act.name
    for way in act.ways:
        case = f" ({way.when})" if way.when else ""
        yield from _wrapped(f"{name:<{NAME}} ", way.sentence + case)
        name = ""
        if len(act.ways) > 1:
            yield from _way(way)
    yield from _labelled("takes", "; ".join(f"{key}: {what}" for key, what in act.takes))
    if len(act.ways) == 1:
        yield from _way(act.ways[0])
    if act.hold:
        yield from _labelled("hold", act.hold.criterion)
        number = act.hold.number
        fixed = f"{number.sense.replace('_', ' ')} {number.fixed}" if number and number.fixed else ""
        yield from _labelled("limit", act.hold.counts or fixed)
        yield from _labelled("fails", act.hold.fails)


def _way(way: ActWay) -> Iterator[str]:
    yield from _labelled("needs", ", ".join(way.needs))
    yield from _labelled("sets", ", ".join(way.sets))
    minutes = f", {way.minutes:g} min" if way.minutes else ""
    yield from _labelled("who", f"{way.who.replace('-', ' ')}{minutes}")
    yield from _labelled("tools", ", ".join((*way.tools, *way.consumables)))
    yield from _labelled("hazard", ", ".join(way.hazards))
    if way.irreversible:
        yield from _labelled("note", "cannot be undone")


def _example(act: ActPart) -> Iterator[str]:
    yield ""
    for follows in dict.fromkeys(way.follows for way in act.ways):
        yield from _wrapped("What follows: ", follows)
    yield from ("", "In a procedure:", "", *(f"  {line}" for line in act.written.splitlines()), "")
    for way in act.ways:
        yield from _wrapped(f"{way.when}: " if way.when else "Printed: ", way.example)


def _labelled(label: str, text: str) -> Iterator[str]:
    if text:
        yield from _wrapped(f"{'':<{NAME}} {label:<{LABEL}}", text)


def _wrapped(before: str, text: str) -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent=before, subsequent_indent=" " * len(before),
                         break_long_words=False, break_on_hyphens=False)  # fmt: skip
