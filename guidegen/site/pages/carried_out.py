"""What owners reported of their builds, as the instruction and the overview print it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from guidegen.language import gettext, ngettext
from guidegen.record import Assessment, carried_out
from guidegen.record.carried_out import MinutesTaken
from guidegen.record.stated import Build
from guidegen.record.step import InstructionStep
from guidegen.site.pages import step_words
from guidegen.site.pages.sentences import minutes


def carried_values(record: Assessment) -> dict[str, Any] | None:
    """What the templates print of the builds of a guide; None where nothing may be said of any."""
    if not record.builds:
        return None
    done = carried_out.complete(record.builds)
    whole = carried_out.spread(one.minutes for one in done if one.minutes is not None)
    return {
        "lead": lead(record.builds),
        "whole": whole and _shown(whole),
        "phases": list(_phases(record)),
        "failures": list(_failures(record)),
        "facts": list(_facts(record.builds)),
        "builds": record.builds,
    }


def lead(builds: tuple[Build, ...]) -> str:
    """How many machines it was carried out on, and how many reports tell of less."""
    done = len(carried_out.complete(builds))
    said = []
    if done:
        words = ngettext(
            "Carried out on one machine of this variant: every hold point passed and was signed for.",
            "Carried out on {count} machines of this variant: every hold point passed and was signed for.",
            done,
        )
        said.append(words.format(count=done))
    if rest := len(builds) - done:
        words = ngettext(
            "One more report is of work that was not finished, or not signed for.",
            "{count} more reports are of work that was not finished, or not signed for.",
            rest,
        )
        said.append(words.format(count=rest))
    return " ".join(said)


def _shown(spread: MinutesTaken) -> dict[str, str]:
    least, most = minutes(spread.least), minutes(spread.most)
    between = gettext("{least} to {most}").format(least=least, most=most)
    return {"range": least if least == most else between, "median": minutes(spread.median)}


def _phases(record: Assessment) -> Iterator[dict[str, Any]]:
    """The phases that somebody timed, in the order of the instruction, with the stated minutes."""
    found, every = carried_out.phase_spreads(record.builds), len(carried_out.complete(record.builds))
    for phase in record.procedure.fitting.phases if record.procedure else ():
        if phase.id in found:
            count = found[phase.id].count
            yield {
                **phase.model_dump(include={"id", "number", "name"}),
                **_shown(found[phase.id]),
                "stated": minutes(phase.minutes),
                "machines": ""
                if count == every
                else ngettext("one machine", "{count} machines", count).format(count=count),
            }


def _failures(record: Assessment) -> Iterator[dict[str, Any]]:
    """Which hold points failed, on how many machines, what was read there, and what helped.

    A step that today's instruction has not any more is named by its number in the edition that was worked by.
    """
    steps = {step.key: step for step in record.procedure.fitting.steps} if record.procedure else {}
    for key, many in carried_out.failures(record.builds).items():
        step, (build, failure) = steps.get(key), many[0]
        yield {
            "number": step.number if step else failure.number,
            "anchor": step.anchor if step else None,
            "edition": None if step else build.edition,
            "criterion": step.hold.criterion if step and step.hold else "",
            "machines": len({one.number for one, _ in many}),
            "of": len(record.builds),
            "helped": [{"reading": _reading(one.reading, step), "says": one.helped} for _, one in many],
        }


def _reading(reading: str | None, step: InstructionStep | None) -> str | None:
    """A reading with the limit that it missed; a bare number says what it counts only by that."""
    accept = step.hold.accept if step and step.hold else None
    if not reading or accept is None:
        return reading
    limit = " ".join((gettext(step_words.SENSES[accept.sense]), accept.limit))
    return gettext("Reading: {reading} (limit: {limit})").format(reading=reading, limit=limit)


def _facts(builds: tuple[Build, ...]) -> Iterator[dict[str, Any]]:
    for many in carried_out.measured(builds).values():
        first = many[0][1]
        yield {
            "title": first.title,
            "stated": first.stated or gettext("not known"),
            "measured": [{"is": one.is_, "outside": one.outside} for _, one in many],
        }
