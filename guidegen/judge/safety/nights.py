"""What is done again when a night lies before a step: whoever comes back does not know what happened meanwhile.

A night takes what :func:`guidegen.judge.safety.state.night` takes. Whatever of it the steps ahead ask for is made sure
of again by the latest steps behind that do so and that nothing done since speaks against: a look at the plug, the probe
on the boiler, or the whole wait. At a safe stop nothing need be added, because the next phase begins with them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from guidegen.judge.safety.flow import Run, passed
from guidegen.judge.safety.model import ResolvedStep
from guidegen.judge.safety.state import SUSPENDED, State, night

Again = tuple[str, ...]
"""Keys of steps in the order in which they are done again."""
TURNS = 8
"""More steps than this are never needed: each makes sure of one of three variables, or of what such a step asks for."""


def after_nights(runs: Sequence[Run]) -> Mapping[str, Again | None]:
    """Return, by step, what is done again if a night lies directly before it; None where no steps behind can say.

    Parameters: runs those of one course, one per case. A step of several cases has what any of them asks for.
    """
    found: dict[str, Again | None] = {}
    for run in runs:
        lacking = Lacking(run)
        for key, behind, ahead in _positions(run):
            made = _again(lacking, behind, ahead)
            known = found.get(key, ())
            found[key] = None if made is None or known is None else tuple(dict.fromkeys((*known, *made)))
    return found


def _positions(run: Run) -> Iterator[tuple[str, list[ResolvedStep], list[ResolvedStep]]]:
    """Yield each step with the steps behind it and those ahead of it; of a remedy, from where it is first come to."""
    graph = run.graph
    main = [graph.steps[key] for key in graph.main]
    for place, step in enumerate(main):
        yield step.key, main[:place], main[place:]
    for remedy in graph.course.remedies:
        own = [step for step in remedy.steps if step.key in run.before]
        if not own:
            continue
        first = own[0].key
        came = [edge.source for edge in graph.edges if edge.target == first and edge.source in graph.rank]
        after = graph.ways[own[-1].key][0].target
        behind = main[: 1 + min(graph.rank[one] for one in came)] if came else []
        ahead = main[graph.rank[after] :] if after is not None and after in graph.rank else []
        for place, step in enumerate(own):
            yield step.key, [*behind, *own[:place]], [*own[place:], *ahead]


def _again(lacks: Lacking, behind: list[ResolvedStep], ahead: list[ResolvedStep]) -> Again | None:
    run, chosen = lacks.run, list[int]()
    usual = run.before[ahead[0].key]
    first = ("mains", "off") if usual.holds("mains", "off") and not _cut_off_anyway(run, ahead) else None
    for _ in range(TURNS):
        lacking = (len(behind), *first) if first else lacks.first(behind, ahead, chosen)
        if lacking is None:
            return tuple(behind[place].key for place in chosen)
        if not usual.holds("mains", "off"):
            return None  # it was left under power: nothing behind is as it was
        before, variable, wanted = lacking
        provider = next(
            (place for place in range(before - 1, -1, -1)
             if place not in chosen and _provides(run, behind, place, ahead[0], variable, wanted)), None
        )  # fmt: skip
        if provider is None:
            return None
        chosen = [provider] if first else [chosen[0], *sorted((*chosen[1:], provider))] if chosen else [provider]
        first = None
    return None


def _cut_off_anyway(run: Run, ahead: Sequence[ResolvedStep]) -> bool:
    """Return whether the mains are looked at again before anything is asked for, moved, or within reach."""
    for step in ahead:
        if step.step.sets.get("mains") == "off":
            return True
        usual = run.before.get(step.key)
        if usual is not None and usual.enclosure == "open":
            return False
        if any(_asked(step)) or step.removes or step.refits or step.disturbs:
            return False
    return False


class Lacking:
    """What the steps of a run ask for that a night took.

    The states after different nights soon meet: from there on what is asked for is known.
    """

    def __init__(self, run: Run) -> None:
        self.run = run
        self._known: dict[tuple[str, State], tuple[str, str] | None] = {}

    def first(
        self, behind: Sequence[ResolvedStep], ahead: Sequence[ResolvedStep], chosen: Sequence[int]
    ) -> tuple[int, str, str] | None:
        """Return what a step asks for that nothing has made sure of since the night; None where all is well.

        First stands how many of the steps behind may make sure of it: those before the step that asks. `chosen` are
        those that are done again.
        """
        state = night(self.run.before[ahead[0].key])
        for place in chosen:
            for variable, wanted in _asked(behind[place]):
                if not state.holds(variable, wanted):
                    return place, variable, wanted
            state = passed(state, behind[place], self.run.path)
        found = self._of(state, ahead)
        return None if found is None else (len(behind), *found)

    def _of(self, state: State, ahead: Sequence[ResolvedStep]) -> tuple[str, str] | None:
        """The same of what follows; what lies ahead of a step of a run is always the same."""
        seen, found = [], None
        for step in ahead:
            if (step.key, state) in self._known:
                found = self._known[step.key, state]
                break
            seen.append((step.key, state))
            if found := self._of_step(state, step):
                break
            state = passed(state, step, self.run.path)
        self._known |= dict.fromkeys(seen, found)
        return found

    def _of_step(self, state: State, step: ResolvedStep) -> tuple[str, str] | None:
        usual = self.run.before.get(step.key)
        for variable, wanted in _asked(step) if usual is not None else ():
            if not state.holds(variable, wanted) and usual is not None and usual.holds(variable, wanted):
                return variable, wanted
        return None


def _asked(step: ResolvedStep) -> Iterator[tuple[str, str]]:
    yield from step.step.requires.items()
    if "boiler" in step.step.touches and step.step.cooling is None:
        yield "temperature", "cool"


def _provides(
    run: Run, behind: list[ResolvedStep], place: int, at: ResolvedStep, variable: str, wanted: str
) -> bool:  # fmt: skip
    """Return whether a step behind makes sure of it, and can be done now without undoing what was done since."""
    step, now = behind[place], run.before[at.key]
    if step.removes or step.refits or step.disturbs or step.step.cut:
        return False
    if step.step.cooling is not None and step.step.cooling.by == "measuring" and now.enclosure != "open":
        return False  # what is measured lies under the cover
    since = behind[place + 1 :]
    if {*step.step.order.puts} & {name for one in since for name in one.step.order.takes}:
        return False
    kept = passed(State(mains="off", pressure=SUSPENDED), step, run.path)
    return kept.holds(variable, wanted) if variable != "mains" else step.step.sets.get("mains") == wanted
