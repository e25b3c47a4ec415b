"""The guide as a document: identity, applicability, evidence, downsides, the way back, food contact, waivers."""

from __future__ import annotations

from collections.abc import Iterator

from guidegen.judge.safety.fill import texts_in
from guidegen.judge.safety.flow import settled
from guidegen.judge.safety.guide import Guide, Wetted
from guidegen.judge.safety.measure import IN_TEXT
from guidegen.judge.safety.model import Number, ResolvedStep, Where
from guidegen.judge.safety.rules.base import (
    Found,
    Rule,
    acceptance_of,
    at_step,
    at_value,
    ends_without,
    never,
    printed_steps,
)
from guidegen.workshop.downsides import EVERY_KIT, WATER_JOINTS
from guidegen.workshop.steps import Accept, WrittenTorque

AFTER_DESCALING = ("flush-away", "after-each-descaling")
#: a stated number that somebody claims to know better than by assuming names where it comes from
SOURCED = frozenset({"measured", "maker-document", "standard"})


def identified(guide: Guide) -> Iterator[Found]:
    """DOC01."""
    source, where = guide.resolved.source, guide.resolved.where
    for name in ("title", "version", "target_group", "place", "effectivity"):
        if not getattr(source, name):
            yield Found(where.place(), f"the guide has no {name.replace('_', ' ')}", fix=f"write {name}:")
    for name in ("edition", "contact", "language"):
        if not getattr(guide.paper, name):
            yield Found(where.place(), f"the guide has no {name}", fix="write it in content/workshop.yml")


def decided(guide: Guide) -> Iterator[Found]:
    """DOC02."""
    for course in guide.resolved.courses:
        for one in course.undecided:
            why = f"{', '.join(one.facts)} is not known" if one.facts else "it does not exist"
            yield Found(one.where.place(), f"{one.what}: nobody can say whether it applies, {why}", asks=one.facts)
    for step in printed_steps(guide):
        if len(step.scenarios) < guide.resolved.scenarios and not step.only_if:
            yield at_step(step, "applies to some units only, and does not say to which",
                          fix="write only_if: in words that the reader can check")  # fmt: skip


def evidenced(guide: Guide) -> Iterator[Found]:
    """DOC03."""
    resolved = guide.resolved
    for step in printed_steps(guide):
        yield from _evidenced_step(guide, step)
    for bare in resolved.unstated:
        yield Found(resolved.where.place(), f"the text around the steps prints `{bare}` without evidence",
                    fix="state it under values: with evidence, and its name in braces")  # fmt: skip
    for name in guide.used_hazards:
        hazard = guide.hazard(name)
        if hit := next((hit for text in texts_in(hazard) if (hit := IN_TEXT.search(text))), None):
            yield Found(Where(guide.hazards.places, ("hazards", name)).place(),
                        f"{name}: prints `{hit.group()}` without evidence", fix="say it without a number")  # fmt: skip
    for name in resolved.missing:
        words = f"the text around the steps prints {{{name}}}, which is not known"
        yield Found(resolved.where.place(), words, asks=(name,))
    if guide.paper.builds == 0 and not guide.paper.notice:
        yield Found(resolved.where.place(), "no build on this variant is recorded, and page one does not say so")


def _evidenced_step(guide: Guide, step: ResolvedStep) -> Iterator[Found]:
    for name in dict.fromkeys(step.missing):
        yield at_step(step, f"prints {{{name}}}, which is not known", asks=(name,))
    for text in _raw_texts(guide, step):
        if hit := IN_TEXT.search(text):
            yield at_step(step, f"prints `{hit.group()}` without evidence",
                          fix="state it under values: with evidence, and its name in braces")  # fmt: skip
    for number in step.numbers:
        if _without_source(number):
            words = f"{number.name} ({number.text}) has no evidence, or no source for it"
            yield at_value(step, number.text, words, fix="add source: with a key of content/sources.yml")
    for name, one in (("torque", step.step.torque), ("hold", acceptance_of(step))):
        if one is not None and _without_source(one):
            yield at_step(step, f"the number of its {name} has no evidence, or no source for it", name)


def _without_source(one: Number | WrittenTorque | Accept) -> bool:
    return one.evidence is None or (one.evidence in SOURCED and not one.source)


def _raw_texts(guide: Guide, step: ResolvedStep) -> Iterator[str]:
    """Yield the step's sentences with the numbers that braces filled taken out again."""
    hold = step.step.hold
    texts = [step.step.do, step.step.why, *step.step.notes]
    if hold is not None:
        texts += [hold.criterion, hold.method, hold.record]
    for text in texts:
        raw = text or ""
        for number in sorted(step.numbers, key=lambda one: -len(one.text)):
            raw = raw.replace(number.text, "")
        yield raw


def downsides(guide: Guide) -> Iterator[Found]:
    """DSC01."""
    stated = {one.about for one in guide.kit.downsides}
    for about in (*EVERY_KIT, *(WATER_JOINTS if guide.is_wet else ()), *guide.kit.speaks_of):
        if about not in stated:
            yield Found(guide.kit.place, f"the kit says nothing about {about}", fix=f"add a downside about: {about}")
    for one in guide.kit.downsides:
        if not (one.what and one.likely and (one.do or one.likely == "none")):
            yield Found(guide.kit.place, f"the downside about {one.about} lacks what, how likely, or what to do")


def way_back(guide: Guide) -> Iterator[Found]:
    """DSC02."""
    kit, restore = guide.kit, guide.resolved.source.restore
    place = guide.resolved.where.place("restore") if restore else guide.resolved.where.place()
    if kit.restore_possible is None or not kit.restore_text:
        yield Found(kit.place, "the kit does not say whether, and how or why not, the original can be restored")
    elif kit.restore_possible and (restore is None or not restore.phases):
        yield Found(place, "the original can be restored, but the procedure does not say how")
    irreversible = [step for step in guide.resolved.fitting.steps if not step.step.reversible]
    if irreversible and (restore is None or not restore.lasting):
        yield Found(place, f"step {irreversible[0].number} cannot be undone, and restoring does not say what stays")


def food(guide: Guide) -> Iterator[Found]:
    """FOD01."""
    if not guide.is_wet:
        return
    if not guide.kit.wetted and guide.is_wet_as_planned:
        yield Found(guide.kit.place, "the kit opens the water path and declares no wetted part")
    for one in guide.kit.wetted:
        yield from _declared(guide, one)
    for run in guide.runs:
        for act in ("flush", "discard"):
            done = settled(run, lambda step, act=act: act in step.step.acts, never)  # type: ignore[misc]
            yield from ends_without(run, done, f"the work ends without `{act}` before the first drink")
    if not any((one.act.act, one.occasion) == AFTER_DESCALING for one in guide.resolved.care):
        words = "after-care does not say that the path is flushed after each descaling"
        yield Found(guide.resolved.where.place("aftercare"), words,
                    fix="write {id: descaling, occasion: after-each-descaling, act: flush-away}")  # fmt: skip


def _declared(guide: Guide, one: Wetted) -> Iterator[Found]:
    if not one.material:
        yield Found(guide.kit.place, f"the wetted part {one.part} has no material")
    if not one.filler or not one.flux:
        yield Found(guide.kit.place, f"the wetted part {one.part} does not name filler and flux of its joints",
                    fix="write filler and flux; `none` where nothing is soldered or brazed")  # fmt: skip


RULES = (
    Rule("DOC01", "error", "Identity, version, effectivity, contact, target group, place of work.",
         "write it at the top of the procedure", identified, whatever_is_missing=True),
    Rule("DOC02", "error", "What is unknown never counts as applying.",
         "find the fact out, or write it as a factory spread with only_if", decided),
    Rule("DOC03", "error", "Every number has evidence; page one says that the guide was not yet carried out on this "
         "variant until a build is recorded.", "state evidence and source", evidenced),
    Rule("DSC01", "error", f"Downsides are complete and before ordering: {', '.join(EVERY_KIT)}; with joints of the "
         f"water path also {', '.join(WATER_JOINTS)}; and whatever the kit's effects ask for.",
         "complete the kit's downsides", downsides, whatever_is_missing=True),
    Rule("DSC02", "error", "Restoring the original is described, or the guide states why it is impossible.",
         "write restore: in kit and procedure", way_back),
    Rule("FOD01", "error", "Wetted parts with their joints' filler and flux; flush and discard before the first "
         "drink; descaling advice.", "complete wetted:, the flushing steps, or aftercare:", food),
)  # fmt: skip
