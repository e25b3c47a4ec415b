"""What acts ask of each other: done before, done before power, nothing left in or open, and all taken off again."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from guidegen.judge.acts.compiled import UNSETTLED
from guidegen.judge.acts.row import rows
from guidegen.judge.safety.flow import Run, settled
from guidegen.judge.safety.guide import Guide
from guidegen.judge.safety.model import ResolvedStep
from guidegen.judge.safety.rules.base import Found, Rule, at_step, energises, moves_leads, never, opens


def in_order(guide: Guide) -> Iterator[Found]:
    """ACT05."""
    for run in guide.runs:
        done = _Done(run)
        for step in run.steps:
            for before in step.step.order.after:
                if not done.always(before, step)[step.key]:
                    yield at_step(step, f"a path reaches it without {_named(before)} before", "act")
            for name in step.step.order.amid:
                if not _in_place(run, name)[step.key]:
                    yield at_step(
                        step, f"a path reaches it while the {name.replace('-', ' ')} is not in its place", "act"
                    )


def _in_place(run: Run, name: str) -> Mapping[str, bool]:
    """Whether what is put in for a while is in before each step, on every path."""
    return settled(run, lambda one: name in one.step.order.puts, lambda one: name in one.step.order.takes)


def paid(guide: Guide) -> Iterator[Found]:
    """ACT06."""
    for run in guide.runs:
        power = [step for step in run.steps if energises(step)]
        for step in run.steps:
            for owed in step.step.order.owes:
                done = settled(
                    run,
                    lambda one, owed=owed, step=step: _is(one, owed, step),  # type: ignore[misc]
                    lambda one, step=step: one.key == step.key,  # type: ignore[misc]
                    start=True,
                )
                if any(not done[one.key] for one in power):
                    yield at_step(step, f"power comes on without {_named(owed)} after it", "act")


def nothing_left(guide: Guide) -> Iterator[Found]:
    """ACT07."""
    for run in guide.runs:
        for name in _begun(run):
            over = _over(run, name)
            for step in run.steps:
                if name in step.step.order.without and not over[step.key]:
                    yield at_step(step, f"a path reaches it before {_ends(name)}", "act")
            if any(name in step.step.order.puts for step in run.steps):
                for edge in run.ends():
                    if not over[f"{edge.source}>end"]:
                        yield _not_over(run, run.graph.steps[edge.source], name)


def _not_over(run: Run, last: ResolvedStep, name: str) -> Found:
    """What the end of the work comes before; of a seal that settles, which, and what else can be done about it."""
    words = f"the work ends before {_ends(name)}"
    if name != UNSETTLED:
        return at_step(last, words)
    joints = dict.fromkeys(one for step in run.steps if name in step.step.order.puts for one in step.step.names)
    fix = (f"put {_ends(name)} for each of its bolts below the first heat, for the way in which they are reached "
           f"(`bolts.way`); where only taking the coil off reaches them, take a seal that does not settle")  # fmt: skip
    return at_step(last, f"{words}, and the seal of {', '.join(joints)} settles in the first heat", fix=fix)


def taken_off_again(guide: Guide) -> Iterator[Found]:
    """ACT08."""
    resolved = guide.resolved
    if resolved.restoring is None:
        return
    yield from _off_in_every_case(guide)
    yield from _own_undone(guide)
    fitted = {name for run in guide.fitting_runs for step in run.steps for name in step.step.order.fits}
    made = {name for run in guide.fitting_runs for step in run.steps for name in step.refits} & resolved.brought
    for run in guide.runs:
        if run.graph.course is not resolved.restoring:
            continue
        for edge in run.ends():
            last = run.graph.steps[edge.source]
            for name in sorted(fitted):
                if not _gone(run, name)[f"{last.key}>end"]:
                    yield at_step(last, f"the original is not restored before {_ends(name)}")
            for kind, name in sorted(made):
                it = (kind, name)
                off = settled(run, lambda one, it=it: it in one.removes, lambda one, it=it: it in one.refits)  # type: ignore[misc]
                if not off[f"{last.key}>end"]:
                    yield at_step(last, f"the original is not restored while `{name}` is on")


def _gone(run: Run, name: str) -> Mapping[str, bool]:
    """Whether what a fitting puts on is off before each step of the way back, and stays off."""
    return settled(run, lambda one: name in one.step.order.takes, lambda one: name in one.step.order.fits)


def _own_undone(guide: Guide) -> Iterator[Found]:
    """What an act of the workshop's own does with a thing of the kit is undone by one that names the thing, too."""
    resolved = guide.resolved
    own = resolved.acts.own.acts if resolved.acts.own else {}
    back = {name for step in (resolved.restoring.steps if resolved.restoring else ()) for name in step.step.names}
    for step in resolved.fitting.steps:
        for name in step.step.names if step.step.act in own else ():
            thing = resolved.things.get(name)
            if thing is not None and (thing.brought or thing.listed == "parts") and name not in back:
                yield at_step(step, f"the way back does nothing with `{name}`, which the kit brought")


def done_anew(guide: Guide) -> Iterator[Found]:
    """ACT11."""
    for run in guide.runs:
        for step in run.steps:
            for wanted in step.step.order.fresh:
                done = settled(run, lambda one, wanted=wanted: one.step.act == wanted, _changes)  # type: ignore[misc]
                if not done[step.key]:
                    words = f"a path reaches it without {_named(wanted)} since the machine was opened or anything moved"
                    yield at_step(step, words, "act")


def _changes(step: ResolvedStep) -> bool:
    return opens(step) or moves_leads(step) or any(kind == "joints" for kind, _ in (*step.removes, *step.refits))


def looked_first(guide: Guide) -> Iterator[Found]:
    """ACT12."""
    for run in guide.runs:
        lasting = [step for step in run.steps if not step.step.reversible]
        for act in dict.fromkeys(step.step.act for step in run.steps if step.step.order.early):
            looked = settled(run, lambda one, act=act: one.step.act == act, never)  # type: ignore[misc]
            for step in lasting:
                if not looked[step.key]:
                    yield at_step(step, f"cannot be undone, and comes before {_named(str(act))}", "act")
                    break


def mended(guide: Guide) -> Iterator[Found]:
    """ACT13."""
    for run in guide.runs:
        for step in run.steps:
            for wanted in step.step.order.again:
                if _comes_back(run, step, wanted):
                    words = f"when it fails, a path leads back to it without {_named(wanted)}"
                    fix = f"let its failing side lead to {_named(wanted)}, or to a remedy that does it"
                    yield at_step(step, words, "act", fix=fix)


def _comes_back(run: Run, step: ResolvedStep, wanted: str) -> bool:
    """Whether the failing side of a step reaches it again on a path on which none of these acts is done."""
    graph = run.graph
    todo = [edge.target for edge in graph.ways[step.key] if edge.failing]
    seen: set[str] = set()
    while todo:
        key = todo.pop()
        if key == step.key:
            return True
        if key is not None and key not in seen and not _is(graph.steps[key], wanted, step):
            seen.add(key)
            todo += [edge.target for edge in graph.ways[key]]
    return False


def _off_in_every_case(guide: Guide) -> Iterator[Found]:
    """The way back is one for all cases of the fitting, so each of them takes the same off for good."""
    gone = [{name: step for step in run.steps if step.step.removes and step.step.removes.permanent
             for name in step.removes} for run in guide.fitting_runs]  # fmt: skip
    for case in gone:
        for (_, name), step in case.items():
            if not all(name in {one for _, one in other} for other in gone):
                yield at_step(
                    step, f"takes `{name}` off for good in some cases only; the way back is one for all", "act"
                )


def _begun(run: Run) -> tuple[str, ...]:
    """What is put in, left or opened in a run."""
    orders = (step.step.order for step in run.steps)
    return tuple(dict.fromkeys(name for one in orders for name in (*one.puts, *one.leaves)))


def _over(run: Run, name: str) -> Mapping[str, bool]:
    """Whether it is over before each step, on every path."""

    def begins(step: ResolvedStep) -> bool:
        return name in (*step.step.order.puts, *step.step.order.leaves)

    things = {one for step in run.steps if begins(step) for one in step.step.names}

    def ends(step: ResolvedStep) -> bool:
        takes = step.step.order.takes
        return name in takes or (f"={name}" in takes and not things.isdisjoint(step.step.names))

    return settled(run, ends, begins, start=True)


def _ends(name: str) -> str:
    return _named("|".join(act for act, row in rows().items() if {name, f"={name}"} & {*row.takes}))


def _named(acts: str) -> str:
    return " or ".join(f"`{act.removeprefix('=')}`" for act in acts.split("|"))


def _is(step: ResolvedStep, acts: str, other: ResolvedStep) -> bool:
    """Whether a step is one of these acts, done to the same thing where both are repeated or the name says so."""
    same = step.item is None or other.item is None or step.item == other.item
    for act in acts.split("|"):
        if step.step.act == act.removeprefix("=") and same:
            return not act.startswith("=") or bool({*step.step.names} & {*other.step.names})
    return False


class _Done:
    """Which acts were done on every path before each step of a run; each asked once."""

    def __init__(self, run: Run) -> None:
        self._run = run
        self._found: dict[tuple[str, str | None, tuple[str, ...]], Mapping[str, bool]] = {}

    def always(self, acts: str, other: ResolvedStep) -> Mapping[str, bool]:
        """Return, by step, whether one of these acts was done before on every path."""
        key = (acts, other.item, other.step.names if "=" in acts else ())
        if key not in self._found:
            self._found[key] = settled(self._run, lambda step: _is(step, acts, other), never)
        return self._found[key]


RULES = (
    Rule("ACT05", "error", "What an act needs to have been done was done before, on every path.",
         "put the missing act above this step", in_order),
    Rule("ACT06", "error", "What is taken apart or put on is looked at and tried again before any power.",
         "put the missing act below this step, and above the power", paid),
    Rule("ACT07", "error", "What is opened or put in for a while is closed or out again before what it would spoil, "
         "and at the end.", "put the missing act above this step", nothing_left),
    Rule("ACT08", "error", "The way back takes off everything that the kit brought.",
         "put the missing act into the restoring", taken_off_again),
    Rule("ACT11", "error", "A signature, and an earth test before the insulation is tested, count until the machine "
         "is opened, or a lead or joint moved.",
         "put the missing act above this step, behind the last opening", done_anew),
    Rule("ACT12", "error", "What can be looked at before the first act that cannot be undone is looked at before it.",
         "put the look above this step", looked_first),
    Rule("ACT13", "error", "What failed is done again before the act that found it is.",
         "let the failing side lead to the act that is done again", mended),
)  # fmt: skip
