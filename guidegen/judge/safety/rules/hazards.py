"""Hazard statements: complete, with the right word, before the action, about hazards and nothing else."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator

from guidegen.judge.safety.guide import Guide
from guidegen.judge.safety.hazard_kinds import KNOWN, avoidances, needed_by
from guidegen.judge.safety.model import Where
from guidegen.judge.safety.rules.base import Found, Rule, at_step, printed_steps
from guidegen.judge.safety.signal_words import VETTED_SIGNS
from guidegen.judge.safety.verbs import first_word, is_imperative

INJURY = re.compile(
    r"\b(injur\w*|burn(s|ed)?|scald\w*|shock\w*|electrocut\w*|cuts?|wound\w*|blind\w*|eyes?|skin|lungs?|death|"
    r"dead|kill\w*|fatal\w*|die[sd]?|pois\w+)\b",
    re.IGNORECASE,
)
DEATH = re.compile(r"\b(death|kill\w*|fatal\w*|electrocut\w*|die[sd]?)\b", re.IGNORECASE)
EMPTY_ADVICE = re.compile(r"\b(be careful|be cautious|take care|with care|use common sense|pay attention|beware)\b",
                          re.IGNORECASE)  # fmt: skip
MOST_DANGERS = 4
MOST_IN_STEP = 3
MOST_REPEATS = 3


def statement_place(guide: Guide, name: str) -> Where:
    """Return where a statement was written."""
    return Where(guide.hazards.places, ("hazards", name))


def complete(guide: Guide) -> Iterator[Found]:
    """HAZ01."""
    for name in guide.used_hazards:
        hazard, where = guide.hazard(name), statement_place(guide, name)
        if hazard is None:
            continue
        if not hazard.type_of_hazard:
            yield Found(where.place(), f"{name}: does not say what the hazard is (type_of_hazard)")
        if not avoidances(name, hazard):
            yield Found(where.place(), f"{name}: does not say how to avoid it")
        if not hazard.consequence and guide.word(name) != "NOTICE":
            yield Found(where.place(), f"{name}: does not say what happens if it is not avoided")
        if guide.word(name) == "DANGER" and not hazard.designed_out:
            yield Found(where.place(), f"{name}: a DANGER, and nothing says whether the kit could remove it",
                        fix="write designed_out: what was designed out, or why it cannot be")  # fmt: skip


def right_word(guide: Guide) -> Iterator[Found]:
    """HAZ02."""
    for name in guide.used_hazards:
        hazard, where = guide.hazard(name), statement_place(guide, name)
        if hazard is None:
            continue
        field = KNOWN[name].milder(hazard) if name in KNOWN else None
        if field is not None:
            least = getattr(KNOWN[name], field)
            yield Found(where.place(field), f"{name}: {field} is {getattr(hazard, field)}, for this hazard it is "
                                            f"{least if field == 'kind' else f'at least {least}'}")  # fmt: skip
        words = f"{hazard.type_of_hazard or ''} {hazard.consequence or ''}"
        if hazard.severity == "property" and (hit := INJURY.search(words)):
            yield Found(where.place("severity"), f"{name}: NOTICE is about property, but the text says "
                                                 f"`{hit.group()}`")  # fmt: skip
        elif hazard.severity in ("moderate", "minor") and (hit := DEATH.search(words)):
            yield Found(where.place("severity"), f"{name}: the text says `{hit.group()}`, the severity says "
                                                 f"{hazard.severity}")  # fmt: skip
    dangers = [name for name in guide.used_hazards if guide.word(name) == "DANGER"]
    if len(dangers) > MOST_DANGERS:
        yield Found(guide.resolved.where.place(), f"{len(dangers)} DANGERs in one guide: {', '.join(dangers)}",
                    fix="design a hazard out, or write a waiver", severity="warning")  # fmt: skip


def before_action(guide: Guide) -> Iterator[Found]:
    """HAZ03."""
    for step in printed_steps(guide):
        if step.step.hazards and not step.warns_first:
            yield at_step(step, "its hazards stand below its imperative", "hazards")


def no_procedure_inside(guide: Guide) -> Iterator[Found]:
    """HAZ05."""
    for name in guide.used_hazards:
        hazard, where = guide.hazard(name), statement_place(guide, name)
        if hazard is None:
            continue
        for part in ("type_of_hazard", "consequence"):
            text = getattr(hazard, part) or ""
            if first_word(text) and is_imperative(text) and " " in text and not INJURY.match(text):
                yield Found(where.place(part), f"{name}: {part} starts with an imperative")
        for index, text in enumerate(hazard.how_to_avoid):
            if re.search(r"\bthen\b|;|\bfirst\b.*\bnext\b|[.!?]\s+[A-Z]", text):
                yield Found(where.place("how_to_avoid", index), f"{name}: an avoidance holds a procedure: {text}")
    for step in printed_steps(guide):
        for index, note in enumerate(step.step.notes):
            if any(is_imperative(sentence) for sentence in re.split(r"(?<=[.!?])\s+", note)):
                yield at_step(step, "a note holds an action", "notes", index)


def avoidance_imperative(guide: Guide) -> Iterator[Found]:
    """HAZ06."""
    for name in guide.used_hazards:
        hazard, where = guide.hazard(name), statement_place(guide, name)
        for index, text in enumerate(hazard.how_to_avoid if hazard else ()):
            if EMPTY_ADVICE.search(text):
                yield Found(where.place("how_to_avoid", index), f"{name}: `{text}` does not name an action")
            elif not is_imperative(text):
                yield Found(where.place("how_to_avoid", index), f"{name}: `{text}` does not start with an imperative")


def covered(guide: Guide) -> Iterator[Found]:
    """HAZ07."""
    residual = {one.hazard for one in guide.resolved.source.residual}
    for step in printed_steps(guide):
        for name in step.step.hazards:
            if guide.hazard(name) is None:
                yield at_step(step, f"no statement `{name}` in content/hazards.yml", "hazards")
    for name in guide.used_hazards:
        if guide.hazard(name) is not None and name not in residual:
            yield Found(guide.resolved.where.place("residual"), f"a step warns of {name}, but no residual risk "
                        "says what remains of it")  # fmt: skip
    for index, one in enumerate(guide.resolved.source.residual):
        if guide.hazard(one.hazard) is None:
            yield Found(guide.resolved.where.place("residual", index), f"a residual risk names {one.hazard}, which is "
                        "no statement of content/hazards.yml")  # fmt: skip


def not_too_many(guide: Guide) -> Iterator[Found]:
    """HAZ08. What an act or its effect needs is not counted: it stands there because of what is done."""
    for course in guide.resolved.courses:
        for step in course.steps:
            if len(step.step.hazards) > MOST_IN_STEP:
                yield at_step(step, f"{len(step.step.hazards)} statements, at most {MOST_IN_STEP}", "hazards")
        chosen = ((step.step.hazards, {*needed_by(step.step)}) for step in course.steps if not step.acts)
        repeats = Counter(name for names, needed in chosen for name in names if name not in needed)
        for name, count in sorted(repeats.items()):
            if count > MOST_REPEATS:
                yield Found(guide.resolved.where.place(), f"{name} is repeated in {count} steps of the {course.name}, "
                            f"at most {MOST_REPEATS}")  # fmt: skip


def signs(guide: Guide) -> Iterator[Found]:
    """SYM01."""
    for name in guide.used_hazards:
        hazard, where = guide.hazard(name), statement_place(guide, name)
        sign = hazard.sign if hazard else None
        if sign is None:
            continue
        if sign.id not in VETTED_SIGNS:
            yield Found(where.place("sign"), f"{name}: sign {sign.id} is not one whose meaning was checked")
        if not sign.alt:
            yield Found(where.place("sign"), f"{name}: sign {sign.id} has no words for whoever cannot see it")


RULES = (
    Rule("HAZ01", "error", "A statement has its word, its type, its consequence and how to avoid it; NOTICE may omit "
         "the consequence, and a DANGER says whether the kit could remove it.",
         "add the missing part in content/hazards.yml", complete),
    Rule("HAZ02", "error", "The signal word follows severity and probability, which are never less than the program "
         "knows of a hazard; NOTICE is never about injury; more than four DANGERs in a guide need a waiver.",
         "correct the severity, or the text", right_word, waiver=True),
    Rule("HAZ03", "error", "A statement stands before the first imperative of its own step.",
         "move `hazards:` above `do:`", before_action),
    Rule("HAZ05", "error", "No procedure inside a statement, no action inside a note.",
         "make the action a step of its own", no_procedure_inside),
    Rule("HAZ06", "warning", "An avoidance starts with an imperative and says something that can be done.",
         "start with a verb that names what the hands do", avoidance_imperative, waiver=True),
    Rule("HAZ07", "error", "Every hazard of a step has its statement and says what remains of it; every residual risk "
         "has its statement.", "add the statement to content/hazards.yml, or the residual risk", covered),
    Rule("HAZ08", "warning", "At most three statements in a step, and none repeated in more than three steps "
         "that do not need it.",
         "keep the statement where the danger begins", not_too_many, editorial=True),
    Rule("SYM01", "error", "A safety sign is one whose meaning was checked, with words and a text alternative.",
         "use a checked sign with `alt`, or words alone", signs),
)  # fmt: skip
