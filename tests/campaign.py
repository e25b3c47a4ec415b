"""Make the demonstration's campaigns: logs of two invented machines, without a kit and with one.

    python -m tests.campaign           # writes machines/tamsin/runs/
    python -m tests.campaign --check   # says whether the files are what this makes

The first machine is one draw from what its variant is stated to be, so the computed ranges should hold it and do not
know it; the second one's control is set otherwise. Each is stepped by the tests' own statement of the equations under a
general solver, nothing of the package's kernels but the resting state that it begins from. Then a probe reads it: later
than stated, off by an offset and a slope within its class, drifting, with noise, in tenths of a degree once a second;
and no two drinks are quite alike. With a thermostat the six blocks begin at six equally spaced moments of its cycle, in
an order that chance gave.
"""

from __future__ import annotations

import hashlib
import sys
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from guidegen import load
from guidegen.assess import inputs
from guidegen.assess.asking import question, served
from guidegen.heat.logged import through_lag
from guidegen.heat.network import Network, Pid, Thermostat
from tests.reference.ours import in_their_terms, start_of
from tests.reference.solver import Leg, solve

Numbers = NDArray[np.float64]
ROOT = Path(__file__).parents[1]
FOLDER = ROOT / "machines" / "tamsin" / "runs"
DRINK, TRUTH, DRAWS = "double", 37, 2048


@dataclass(frozen=True)
class Campaign:
    """One invented machine: its variant, its name, its configurations, and what of it is not as stated.

    `gains` are how far its control follows what is stated; `again` whether each run has a second drink; `cold` is the
    configuration that is logged from cold as well.
    """

    variant: str
    machine: str
    configurations: dict[str, tuple[str, ...]]
    gains: float = 1.0
    again: bool = True
    cold: str = ""

    @property
    def name(self) -> str:
        """How its files begin."""
        return self.variant.rpartition("-")[2]


CAMPAIGNS = (
    Campaign("tamsin-mk1", "invented machine 0417",
             {"stock": (), "controller": ("loop-controller",), "coil": ("feed-preheater",)}, cold="controller"),
    # Somebody set its control softer than the family's data say, which the guide has to find.
    Campaign("tamsin-mk3", "invented machine 1162",
             {"stock": (), "coil": ("feed-preheater",)}, gains=0.25, again=False),
)  # fmt: skip
BLOCKS, REST, SECOND, FOLLOW, LONG = 6, 150.0, 300.0, 150.0, 380.0
COLD_MINUTES, COLD_FEED = (1.25, 1.75, 2.5, 4.0), 20.0
CELLS, SETTLING, ZERO = 48, 5400.0, 273.15
LAG, OFFSET, SLOPE, DRIFT, NOISE = 2.8, 0.5, 0.003, 0.05, 0.04
"""What the probe is really like: s, K, K/K, K an hour, K; its description says 2.5 s ± 0.5 s, type K, class 1."""


def networks(one: Campaign) -> dict[str, Network]:
    """The invented machine in each configuration."""
    known = load(ROOT)
    machine = known.machine(one.variant)
    found = {}
    for name, kits in one.configurations.items():
        kit = known.kit(kits[0] if kits else "feed-preheater")
        listed = [*inputs.of_machine(machine, known), *kit.inputs()]
        asked, _ = question(machine, kit, listed, served(known), DRAWS)
        whole = (asked.fitted if kits else asked.plain).row(TRUTH)
        found[name] = replace(whole, mixing=np.rint(whole.mixing), control=_set(whole.control, one.gains))
    return found


def _set(control: Pid | Thermostat, gains: float) -> Pid | Thermostat:
    """The same control with other gains."""
    if isinstance(control, Thermostat):
        return control
    return replace(control, proportional=gains * control.proportional, integral=gains * control.integral)


def at_rest(network: Network) -> tuple[Numbers, float]:
    """The machine after an hour and a half of rest, a thermostat having just switched on; and its period, s."""
    start = in_their_terms(start_of(network, 0, CELLS))
    whole = solve(network, 0, start, [Leg(SETTLING)], np.array([SETTLING]), CELLS, relative=1e-7)
    on = [time for time, is_on in whole.switched if is_on]
    if len(on) < 2:
        return whole.states[-1], 0.0
    there = solve(network, 0, start, [Leg(on[-1])], np.array([on[-1]]), CELLS, relative=1e-7)
    return there.states[-1], on[-1] - on[-2]


def logged(
    network: Network, start: Numbers, legs: list[Leg], skip: float, chance: np.random.Generator
) -> tuple[Numbers, Numbers]:
    """Time in whole seconds after `skip`, and what the probe reads, °C."""
    length = sum(leg.duration for leg in legs)
    looks = np.arange(0.0, length, 1.0)
    done = solve(network, 0, start, legs, looks[1:], CELLS, relative=1e-7)
    seen = through_lag(looks, np.concatenate((start[3:4], done.states[:, 3])), LAG) - ZERO
    time, seen = looks[looks >= skip] - skip, seen[looks >= skip]
    read = seen * (1.0 + SLOPE) + OFFSET - SLOPE * 100.0 + DRIFT * time / 3600.0
    return time, np.round(read + chance.normal(0.0, NOISE, len(read)), 1)


def drawn(chance: np.random.Generator) -> Leg:
    """A double as a hand draws it: 50 g in 28 s, more or less."""
    time = float(np.round(28.0 + chance.normal(0.0, 0.7)))
    return Leg(time, (0.050 + chance.normal(0.0, 0.0008)) / time)


def shot_runs(one: Campaign, name: str, network: Network) -> Iterator[tuple[str, str, str]]:
    """The shots of a configuration by block: stem, the file's text, its description."""
    state, period = at_rest(network)
    moments = np.random.default_rng(41).permutation(BLOCKS)
    feeds = np.random.default_rng(42).uniform(18.0, 21.5, BLOCKS)
    place = [*one.configurations].index(name)
    for block in range(1, BLOCKS + 1):
        chance = np.random.default_rng([43, block, place, len(one.configurations)])
        feed = float(np.round(feeds[block - 1] + chance.normal(0.0, 0.15), 1))
        wait = float(np.round(600.0 + (moments[block - 1] + 0.5) / BLOCKS * period))
        drinks = [drawn(chance) for _ in range(2 if one.again else 1)]
        after = [Leg(SECOND), drinks[1], Leg(FOLLOW)] if one.again else [Leg(LONG)]
        legs = [Leg(wait), drinks[0], *after]
        fed = replace(network, feed=np.array([feed + ZERO]))
        time, read = logged(fed, state, legs, wait - REST, chance)
        begins = (REST, REST + drinks[0].duration + SECOND)
        shots = [(begin, begin + leg.duration) for begin, leg in zip(begins, drinks, strict=False)]
        day = date(2026, 4, 6) + timedelta(days=7 * (block - 1) + 2 * place)
        yield described(one, name, f"{block}", "shot", time, read, shots, day, feed, block)


def cold_runs(one: Campaign, network: Network) -> Iterator[tuple[str, str, str]]:
    """Cold starts, each with one drink after so many minutes."""
    fed = replace(network, feed=np.array([COLD_FEED + ZERO]))
    for number, minutes in enumerate(COLD_MINUTES, 1):
        chance = np.random.default_rng([44, number])
        start, shot = in_their_terms(start_of(fed, 0, CELLS, from_cold=True)), drawn(chance)
        time, read = logged(fed, start, [Leg(60.0 * minutes), shot, Leg(90.0)], 0.0, chance)
        begin, day = 60.0 * minutes, date(2026, 6, 10) + timedelta(days=number)
        shots = [(begin, begin + shot.duration)]
        yield described(one, one.cold, f"cold-{number}", "cold-start", time, read, shots, day, COLD_FEED, None)


def described(
    one: Campaign, name: str, number: str, kind: str, time: Numbers, read: Numbers, shots: list[tuple[float, float]],
    day: date, feed: float, block: int | None,
) -> tuple[str, str, str]:  # fmt: skip
    """One run as its two files."""
    flows = [any(begin <= at < end for begin, end in shots) for at in time]
    rows = [f"{at:.0f},{value:.1f},{int(flow)}" for at, value, flow in zip(time, read, flows, strict=True)]
    text, stem = "\n".join(("t,sensor,pump", *rows)) + "\n", f"{one.name}-{name}-{number}"
    fitted = one.configurations[name]
    kits = f"kits: [{', '.join(fitted)}]\n" if fitted else ""
    setpoint = "setpoint: 102 °C ± 1 K\n" if name == "controller" else ""
    spans = "".join(f"  - {{begins: {begin:.0f} s, ends: {end:.0f} s}}\n" for begin, end in shots)
    words = (
        f"variant: {one.variant}\n{kits}date: {day.isoformat()}\nkind: {kind}\ninvented: true\nmachine: {one.machine}\n"
        f"{f'block: {block}' + chr(10) if block else ''}{setpoint}feed: {feed:.1f} °C ± 0.5 K\ndrink: {DRINK}\n"
        f"logger: invented by an integrator, one row a second\nfile: {stem}.csv\n"
        f"sha256: {hashlib.sha256(text.encode()).hexdigest()}\n"
        "written: {encoding: utf-8, separator: comma, decimal: point, names_in_line: 1, values_from_line: 2}\n"
        "time: {column: t, written: s}\n"
        "columns:\n"
        "  - {column: sensor, place: sensor, unit: °C, probe: {kind: type-k, class: '1', lag: 2.5 s ± 0.5 s}}\n"
        "  - {column: pump, quantity: pump, unit: ''}\n"
        f"shots_by: pump\nshots:\n{spans}"
    )
    return stem, text, words


def files() -> dict[str, bytes]:
    """Every file of the campaign by its name."""
    made = {}
    for one in CAMPAIGNS:
        for name, network in networks(one).items():
            runs = [*shot_runs(one, name, network), *(cold_runs(one, network) if name == one.cold else ())]
            for stem, text, words in runs:
                made[f"{stem}.csv"], made[f"{stem}.yml"] = text.encode(), words.encode()
    return made


def main() -> int:
    """Write the campaign, or hold it against what lies there."""
    made = files()
    if "--check" in sys.argv:
        other = [
            name for name, data in made.items() if not (FOLDER / name).is_file() or (FOLDER / name).read_bytes() != data
        ]
        print("\n".join(other) or "as made")
        return 1 if other else 0
    FOLDER.mkdir(exist_ok=True)
    for name, data in made.items():
        (FOLDER / name).write_bytes(data)
    print(f"{len(made)} files, {sum(map(len, made.values())) / 1000:.0f} kB")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
