"""Replies to what customers ask: words and numbers of one record, and a link.

The command prints one as plain text to paste into a letter, the guide's page of questions prints all. Where a kit does
not fit, no topic claims a gain or a cost.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from guidegen.language import gettext
from guidegen.record import Assessment
from guidegen.record.claims import claimed
from guidegen.site.pages import downsides, first_kits, gains, sentences, unknown
from guidegen.site.pages.place import changes_nothing, gain_is, path_of
from guidegen.site.pages.quoted import Quoted
from guidegen.site.pages.topics import FIT_PAGE, TOPICS, Topic, fit, nothing

GAIN = "gain"


@dataclass(frozen=True)
class Reply:
    """The text, and where the site explains it at length: a path from the edition's root with its fragment."""

    text: str
    path: str


@dataclass(frozen=True)
class Answered:
    """One topic of one record: the lines of the answer, whether they have computed numbers, and what says more."""

    lines: tuple[str, ...]
    numbers: bool
    path: str


def asked_about(record: Assessment) -> tuple[str, ...]:
    """The topics of which something can be said of a pair: of a kit that is not sold, why, and how sure that is.

    Of a kit that gains nothing of heat nobody asks about temperatures and energy, but for its gain.
    """
    if record.fit.refused:
        return "fit", "sure"
    stated = gain_is(record) == "stated"
    return tuple(name for name, topic in TOPICS.items() if name == GAIN or not (stated and topic.thermal))


def answered(record: Assessment, name: str) -> Answered:
    """What there is to say about one topic; `name` is a key of `TOPICS`."""
    topic, quoted = TOPICS[name], Quoted(record)
    refused = record.fit.refused
    kind, fragment = FIT_PAGE if refused and name != "sure" else topic.page
    lines: list[str] = []
    if refused and name not in asked_about(record):
        lines += fit(quoted)
        if record.fit.outcome != "has-already":
            lines.append(gettext("So no gains or costs are claimed."))
    else:
        if record.fit.outcome == "cannot-tell-yet" and name != "fit":
            lines.append(gettext("We cannot tell yet whether it fits. What follows holds if it does."))
        lines += _topic_lines(quoted, topic)
        lines += _downsides(record, topic)
    path = path_of(record, kind)
    whole = not fragment or (refused and name == "sure")
    return Answered(tuple(lines), quoted.numbers, path if whole else f"{path}#{fragment}")


def reply(record: Assessment, name: str) -> Reply:
    """The reply about one topic as a text of its own."""
    found = answered(record, name)
    pair = gettext("{pair}, revision {revision}")
    head = pair.format(pair=sentences.pair_name(record), revision=record.kit.revision)
    return Reply("\n".join((head, *found.lines, *honest(record, found.numbers))) + "\n", found.path)


def _topic_lines(quoted: Quoted, topic: Topic) -> Iterable[str]:
    if topic.thermal and changes_nothing(quoted.record):
        stated = topic is TOPICS[GAIN] and gain_is(quoted.record) == "stated"
        quoted.numbers = quoted.numbers or stated
        return gains.lines(quoted.record) if stated else nothing(quoted)
    if not claimed(quoted.record, *topic.rests_on):
        return unknown.figure_not_claimed(quoted.record, *topic.rests_on)
    return topic.say(quoted)


def honest(record: Assessment, numbers: bool) -> Iterator[str]:
    """What the numbers are, where there are any, and what they are not."""
    if numbers:
        basis = sentences.basis(record)
        words = gettext("These numbers are computed, not measured: {status}. {basis}")
        # Where something was measured, what the ranges are says so already; and nothing is computed of what is stated.
        said = sentences.measured_on(record) or gain_is(record) == "stated"
        yield basis if said else words.format(status=sentences.status(record), basis=basis)
    if record.variant.invented or record.kit.invented:
        yield gettext("Machine and kit are invented for a demonstration.")


def _downsides(record: Assessment, topic: Topic) -> Iterator[str]:
    """What the kit says about a topic: what it gains there beside heat, its downsides, and what stays as it is."""
    if topic.thermal and gain_is(record) == "stated":
        return
    yield from gains.lines(record, *topic.downsides) if topic.downsides else ()
    message = gettext("{what} How likely: {likely}. What you can do: {do}")
    for one in downsides.of_variant(record):
        if one.about in topic.downsides:
            yield message.format(what=one.what, likely=downsides.likely(record, one), do=one.do)
    yield from first_kits.lines(record, *topic.downsides)
    yield from (one.what for one in downsides.unchanged(record) if one.about in topic.downsides)
