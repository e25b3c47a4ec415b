"""What is true of the machine between two steps, what a step does to it, and how two paths meet.

Each variable is a chain from its worst value to its best. Where two paths meet, the worse value holds, so a
guide is as safe as its worst path. `unknown` is the worst value of every variable that has it: what nobody
has made sure of is never safe.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from guidegen.judge.safety.volumes import Side

#: every variable with its values, worst first
CHAINS: dict[str, tuple[str, ...]] = {
    "mains": ("unknown", "live", "pump_only", "off", "proved_dead"),
    "temperature": ("unknown", "cool"),
    "pressure": ("unknown", "suspended", "released"),
    "water": ("unknown", "full", "drained"),
    "enclosure": ("open", "closed"),
    "earth": ("disturbed", "ok", "tested"),
    "leak": ("untested", "bench_ok", "cold_ok", "hot_ok"),
    "primed": ("no", "yes"),
}

#: what can be taken off and put back, as the names of a step's `removes` and `refits`
KINDS = ("devices", "joints", "leads")

#: values that a step needs exactly; of all others, a better one does as well
EXACT = {("mains", "live"), ("mains", "pump_only"), ("enclosure", "open"), ("water", "full")}

SUSPENDED = "suspended"
"""What was released before a night: it counts again once somebody has made sure that nobody was at the machine."""

Named = tuple[str, str]
"""Kind and name of something that can be taken off: ("joints", "coil-outlet")."""


@dataclass(frozen=True)
class State:
    """One value per variable, and what is surely out or perhaps out. The defaults are the machine as found.

    `gone` is what was taken off for good on some path: nobody misses it, but it connects nothing any more.
    `vented` are the sides of joints (see `guidegen.judge.safety.volumes`) on which nothing presses while the
    pressure is released.
    """

    mains: str = "unknown"
    temperature: str = "unknown"
    pressure: str = "unknown"
    water: str = "unknown"
    enclosure: str = "closed"
    earth: str = "ok"
    leak: str = "untested"
    primed: str = "no"
    out: frozenset[Named] = frozenset()
    unsure: frozenset[Named] = frozenset()
    gone: frozenset[Named] = frozenset()
    vented: frozenset[Side] = frozenset()

    def get(self, variable: str) -> str:
        """Return the value of a variable."""
        value: str = getattr(self, variable)
        return value

    def holds(self, variable: str, wanted: str) -> bool:
        """Return whether the value is the wanted one, or a better one where better serves as well.

        >>> State(mains="proved_dead").holds("mains", "off"), State().holds("mains", "off")
        (True, False)
        """
        have = self.get(variable)
        if (variable, wanted) in EXACT:
            return have == wanted
        chain = CHAINS[variable]
        return chain.index(have) >= chain.index(wanted)

    def is_in(self, name: Named) -> bool:
        """Return whether a device, joint or lead is in its place on every path."""
        return name not in self.out and name not in self.unsure

    @property
    def parted(self) -> tuple[str, ...]:
        """The joints that connect nothing, or may not: open, perhaps open, or gone."""
        return tuple(name for kind, name in self.out | self.unsure | self.gone if kind == "joints")

    def missing(self, kind: str) -> tuple[str, ...]:
        """Return the names of one kind that are out, or may be, in order."""
        return tuple(sorted(name for found, name in self.out | self.unsure if found == kind))


def join(first: State, second: State) -> State:
    """Return what is sure where two paths meet: per variable the worse value.

    What is out on one path and in on the other is neither surely in nor surely out.
    """
    if first == second:
        return first
    values = {name: min(first.get(name), second.get(name), key=chain.index) for name, chain in CHAINS.items()}
    unsure = first.unsure | second.unsure | (first.out ^ second.out)
    return State(
        **values,
        out=(first.out & second.out) - unsure,
        unsure=unsure,
        gone=first.gone | second.gone,
        vented=first.vented & second.vented,
    )


def at_most(state: State, variable: str, value: str) -> State:
    """Return the state with a variable no better than the given value."""
    chain = CHAINS[variable]
    if chain.index(state.get(variable)) <= chain.index(value):
        return state
    return replace(state, **{variable: value})  # type: ignore[arg-type]


def apply(
    state: State,
    sets: Mapping[str, str],
    removes: Iterable[Named] = (),
    refits: Iterable[Named] = (),
    permanent: bool = False,
    disturbs: Iterable[Named] = (),
) -> State:
    """Return the state after a step that is carried out as written and passed.

    What the step says it sets is set; then follows what the step brings about without saying so:
    heat and pump put the water under pressure, power may warm, an opened cover or a moved lead disturbs the
    earth, a joint that is opened or made undoes the priming, and every leak test but that of its parts on the bench.
    What is taken off for good (`permanent`) is no longer missed. What is disturbed counts as moved, and nobody knows
    whether it is in its place if it was out.
    """
    removed, refitted, disturbed = frozenset(removes), frozenset(refits), frozenset(disturbs)
    lost = state.out & disturbed
    state = replace(
        state,
        **dict(sets),  # type: ignore[arg-type]
        out=(state.out - removed if permanent else state.out | removed) - refitted - lost,
        unsure=(state.unsure | lost) - removed - refitted,
        gone=(state.gone | removed if permanent else state.gone) - refitted,
    )
    mains = sets.get("mains")
    if mains in ("live", "pump_only"):
        state = replace(state, pressure="unknown", water="full")
    if mains in ("live", "unknown"):
        state = replace(state, temperature="unknown")
    if sets.get("enclosure") == "open" or any(kind == "leads" for kind, _ in removed | disturbed):
        state = at_most(state, "earth", "disturbed")
    if any(kind == "joints" for kind, _ in removed | refitted | disturbed):
        state = replace(at_most(state, "leak", "bench_ok"), primed="no")
    if sets.get("water") == "drained":
        state = replace(state, primed="no")
    return state


def night(state: State) -> State:
    """Return what is still sure after a stop for the night: somebody may have plugged in and heated up."""
    return replace(at_most(state, "pressure", SUSPENDED), mains="unknown", temperature="unknown")
