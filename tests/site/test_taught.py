"""One campaign from plan to page: planned, logged, learned from, accepted, published, and told in the next edition."""

from __future__ import annotations

import json
import re
from pathlib import Path

import numpy as np
import pytest

from guidegen import trade
from guidegen.assess.learn.machine import Bench
from guidegen.assess.learn.parameters import learnable
from guidegen.heat.predicted import Draw, Prepared, Script, shown
from tests.editions_workshop import FAMILY, commit, guidegen, lay_down, publish

pytestmark = pytest.mark.slow

VARIANT, KIT, INPUT = "plain-one", "collar", "group.to_boiler"
TRUTH = 1.4
"""The invented machine's group takes so many standard deviations more from its boiler than is assumed."""
PLACES = ("sensor", "group")
SAID = ("--variant", VARIANT, "--invented", "--logger", "invented", "--machine", "1", "--feed", "20 °C ± 0.5 K",
        "--column", "t=time s", "--column", "sensor=sensor °C", "--column", "group=group °C",
        "--probe", "sensor=platinum A", "--probe", "group=platinum A", "--lag", "sensor=0.5 s ± 0.1 s",
        "--lag", "group=0.5 s ± 0.1 s", "--date", "2025-03-02", "--yes")  # fmt: skip
RUNS = {
    "cold": (Script("cold", 1500.0), ("--kind", "cold-start")),
    "shot": (Script("idle", 700.0, (Draw(120.0, 28.0, 0.050),)), ("--kind", "shot", "--drink", "double")),
}


def logged(root: Path, script: Script) -> str:
    """What two probes read of the invented machine once a second, to a hundredth, with a scatter of 0.02 K."""
    known = trade.load(root)
    machine = known.machine(VARIANT)
    bench = Bench(known, machine, (), tuple(learnable(known, machine, ())))
    steps = np.zeros((1, len(bench.parameters)))
    steps[0, [one.key for one in bench.parameters].index(INPUT)] = TRUTH
    made, times = Prepared(bench.network((), steps, {}).parameters()), np.arange(0.0, script.lasts, 1.0)
    trace = made.trace(0, script)
    chance = np.random.default_rng(19)
    seen = [shown(trace, made.fleet.p[0], place, script, 0.5, times) for place in PLACES]
    columns = [one - 273.15 + chance.normal(0.0, 0.02, len(times)) for one in seen]
    drawn = [int(any(draw.begins <= t < draw.begins + draw.duration for draw in script.draws)) for t in times]
    rows = (f"{t:.0f},{a:.2f},{b:.2f},{p}" for t, a, b, p in zip(times, *columns, drawn, strict=True))
    return "\n".join((",".join(("t", *PLACES, "pump")), *rows, ""))


def test_from_a_plan_to_the_change_that_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What the runs teach is written as measured; the next edition says that it changed and by what."""
    root = lay_down(tmp_path / "workshop")
    family = root / FAMILY
    # Whoever weighed the group knows what it takes from the boiler apart from what it holds.
    weighed = family.read_text("utf-8").replace("mass: 1.20 kg", "mass: 1.200 kg ± 0.002 kg")
    family.write_text(weighed, encoding="utf-8")
    commit(root)
    assert publish(root, "2025.1", "--date", "2025-03-01") == 0
    assert guidegen(root, "plan", VARIANT, KIT, "--draws", "64", "--probe", "group") == 0
    assert "group" in capsys.readouterr().out
    for name, (script, words) in RUNS.items():
        (root / f"{name}.csv").write_text(logged(root, script), encoding="utf-8")
        assert guidegen(root, "run", "add", str(root / f"{name}.csv"), *words, *SAID) == 0
    assert guidegen(root, "run", "learn", VARIANT) == 0
    said = capsys.readouterr().out
    assert f"{INPUT} " in said.partition("not learned")[0]
    kept = json.loads((root / "machines/plain/runs/one.learned.json").read_text("utf-8"))
    (found,) = (one for one in kept["learned"] if one["id"] == INPUT)
    before = trade.load(root).machine(VARIANT).fact(INPUT).value  # type: ignore[union-attr]
    assert guidegen(root, "run", "accept", VARIANT, "--only", INPUT, "--yes") == 0
    fact = trade.load(root).machine(VARIANT).fact(INPUT)
    assert (fact.evidence, fact.value > before) == ("measured", True)  # type: ignore[union-attr]
    assert found["after"].partition(" ±")[0] in fact.text  # type: ignore[union-attr]
    commit(root)
    capsys.readouterr()
    assert publish(root, "2025.2", "--date", "2025-03-04", "--note", "Nothing to do.") == 0
    assert guidegen(root, "changes", "2025.1", "2025.2") == 0
    told = capsys.readouterr().out
    line = r"Boiler to group: 2\.4 W/K, .*\(assumed\) → (\S+) W/K ± .*\(measured, runs-plain-one-1\).*the data changed"
    change = re.search(line, told)
    assert change is not None, told
    assert float(change[1]) == pytest.approx(fact.value, rel=1e-3)  # type: ignore[union-attr]
