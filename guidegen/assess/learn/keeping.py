"""A lesson as it is kept beside the runs that taught it."""

from __future__ import annotations

from guidegen.assess import learned as kept
from guidegen.assess.learn.lesson import LEADS, TIED, UNSEEN, WIDE, Lesson, LessonOfParameter
from guidegen.assess.learn.reading import ReadCampaign
from guidegen.assess.learn.telling import BARELY
from guidegen.assess.learn.written import yaml_text
from guidegen.record.base import rounded
from guidegen.record.learned import KeptLesson, LearnedInput, OpenInput, StrayingPlace, WhyOpen
from guidegen.runs.document import LoggedRun
from guidegen.trade import Catalogue


def lesson_kept(
    known: Catalogue, variant: str, runs: dict[str, LoggedRun], read: ReadCampaign, lesson: Lesson
) -> KeptLesson:
    """What pages print of a lesson, with the sums of the runs that it came from."""
    return KeptLesson(
        variant=variant,
        machine=read.machine,
        invented=any(run.invented for run in read.campaign.runs),
        made_from=kept.sums(known, runs),
        set_aside=tuple(one.name for one in lesson.set_aside),
        learned=tuple(_learned(one) for one in lesson.learned),
        open=tuple(_open(one) for one in lesson.parameters if not one.learned and one.width < BARELY),
        straying=tuple(StrayingPlace(place=one.place, off_k=rounded(one.deviation)) for one in lesson.strays),
    )


def _learned(one: LessonOfParameter) -> LearnedInput:
    before, after = (yaml_text(one.of.input, *ends) for ends in (one.before, one.after))
    return LearnedInput(id=one.of.input.id, kit=one.of.kit, name=one.of.input.name, before=before, after=after)


def _open(one: LessonOfParameter) -> OpenInput:
    why: WhyOpen = {UNSEEN: "unseen", WIDE: "wide", LEADS: "leads"}.get(one.because, "lost")  # type: ignore[assignment]
    tied = one.because.removeprefix(TIED) if one.because.startswith(TIED) else ""
    return OpenInput(
        id=one.of.input.id, kit=one.of.kit, name=one.of.input.name, left_open="tied" if tied else why, tied=tied,
        settled_by=one.settled_by,
    )  # fmt: skip
