"""Around the steps: how failing sides end, and what is done about a fault."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache

from guidegen.judge.acts.row import rows
from guidegen.judge.safety.flow import Run
from guidegen.judge.safety.guide import Guide
from guidegen.judge.safety.model import ResolvedAct, ResolvedStep
from guidegen.judge.safety.rules.base import Found, Rule, at_step


def ended(guide: Guide) -> Iterator[Found]:
    """ACT09."""
    for run in guide.runs:
        for step in run.steps:
            if asked := _asked_by().get(step.step.act or ""):
                yield from _ended_with(run, step, asked)
    for course in guide.resolved.courses:
        for remedy in course.remedies:
            yield from _in_order(remedy.ends, owed=True)


@cache
def _asked_by() -> dict[str, list[str]]:
    """By the act whose failing side leads to a remedy, the acts that the work then ends with."""
    found: dict[str, list[str]] = {}
    for name, row in rows().items():
        for act in row.ends:
            found.setdefault(act, []).append(name)
    return found


def _ended_with(run: Run, step: ResolvedStep, asked: Sequence[str]) -> Iterator[Found]:
    """Where the failing side of a step leads, followed to its end, the work stops with the acts that are asked for."""
    graph = run.graph
    todo = [edge.target for edge in graph.ways[step.key] if edge.failing]
    seen: set[str] = set()
    while todo:
        key = todo.pop()
        if key is None or key in seen:
            continue
        seen.add(key)
        todo += [edge.target for edge in graph.ways[key] if not edge.failing]
        if key in graph.rank:
            yield at_step(step, f"when it fails the work goes on at step {graph.steps[key].number}", "act",
                          fix=f"end the remedy: {_written(asked)}")  # fmt: skip
            return
    for remedy in graph.course.remedies:
        missing = [name for name in asked if name not in {one.act for one in remedy.ends}]
        if missing and not remedy.then.goto and seen & {each.key for each in remedy.steps}:
            words = f"step {step.number} (`{step.step.act}`) leads here when it fails, and the end lacks"
            yield Found(remedy.where.place("then"), f"{words} `{'`, `'.join(missing)}`", step.key,
                        fix=f"write {_written(asked)}")  # fmt: skip


def _written(asked: Sequence[str]) -> str:
    return f"stop: [{', '.join(dict.fromkeys(name for one in asked for name in (one, *rows()[one].owes)))}]"


def _in_order(acts: Sequence[ResolvedAct], owed: bool = False) -> Iterator[Found]:
    """In one list each act stands behind what its row puts before it, and with what it owes."""
    names = [one.act for one in acts]
    for index, one in enumerate(acts):
        row = rows().get(one.act)
        for before in row.after if row else ():
            if not {*before.split("|")} & {*names[:index]}:
                yield Found(one.where.place("act"), f"`{one.act}` stands without `{before.replace('|', '` or `')}` "
                                                    "before it")  # fmt: skip
        for other in row.owes if row and owed else ():
            if other not in names:
                yield Found(one.where.place("act"), f"`{one.act}` stands without `{other}` behind it")


def safe_to_look_for(guide: Guide) -> Iterator[Found]:
    """ACT10."""
    for fault in guide.resolved.fault_table:
        done = (*fault.check, *fault.do)
        yield from _in_order(done)
        if not fault.do:
            yield Found(fault.where.place(), f"nothing is said to do about `{fault.symptom.act}`")
        for one in done if fault.stops else ():
            if one.live:
                words = f"`{one.act}` uses the machine on, which nobody does at `{fault.symptom.act}`"
                yield Found(one.where.place("act"), words)


RULES = (
    Rule("ACT09", "error", "A failing side that leads to a remedy ends as the failed act asks: no power again, no pump "
         "again, nothing before the feeding circuit is found.", "end the remedy with the missing act", ended),
    Rule("ACT10", "error", "A fault says what to do; at a symptom that stops the use, nothing in the table of faults "
         "uses the machine on.", "write an act that leaves the machine off", safe_to_look_for),
)  # fmt: skip
