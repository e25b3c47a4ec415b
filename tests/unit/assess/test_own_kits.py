"""Four foreign kits that need acts of a workshop's own: a gauge on a tee, a shot timer, a jacket, a pump mount."""

from __future__ import annotations

import re
import shutil
from functools import cache
from pathlib import Path

import pytest

from guidegen.assess import after_use, guiding, inputs, verdict
from guidegen.assess.asking import slowest
from guidegen.judge.safety.flow import Run
from guidegen.judge.safety.guide import Guide
from guidegen.judge.safety.lint import Finding, lint
from guidegen.judge.safety.state import State
from guidegen.trade.load import load
from tests.mutants.draft import COMPUTED, ROOT

pytestmark = pytest.mark.slow

KITS = ("gauge", "timer", "jacket", "pump-mount")
FIXTURE = ROOT / "tests" / "fixtures" / "own_acts"
HAZARD = """
  sharp-edge:
    kind: cutting
    severity: minor
    probability: could
    type_of_hazard: The edge of a punched hole
    consequence: It cuts.
    how_to_avoid: [Wear gloves.]
"""
#: what these short files leave out: downsides, restoring, residual risks, safe stops, after-care, a reader
PAPER = {"DSC01", "DSC02", "HAZ07", "HLD02", "FOD01", "TXT02"}
JACKET_BENCH = "      - {id: bench, act: look-original}\n"
MOUNT_BENCH = "      - {id: bench, act: look-original}\n"
LACE = "      - {id: lace, act: lace, of: jacket, at: boiler}\n"
CUT = "      - {id: cut, act: cut-felt, of: jacket, for_good: true}\n"
ROUTE = "      - {id: route, act: route-lead, of: timer-lead, at: casing}\n"
FRONT = "      - {id: front, act: turn-gauge, of: pressure-gauge, at: gauge-joint}\n"
FACE = "      - {id: face, act: look-face, of: pressure-gauge, back_to: front}\n"
ASIDE = "      - {id: aside, act: lift-aside, of: pump, to: pump-leads}\n"
SET = "      - {id: set, act: set-on-mount, of: pump, at: mount}\n"
SWING = "      - {id: swing, act: free-travel, of: pump, back_to: set}\n"
LOOK = "      - {id: lace-look, act: pull-lace, of: jacket}\n"
INSULATION = "      - include: insulation\n"
CONNECT = "      - include: connect-heater\n"
EARTH = "      - include: earth-inside\n"
CASING = "      - include: earth-casing\n"


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """Return the demonstration with the four kits in it."""
    for name in ("content", "machines"):
        shutil.copytree(ROOT / name, tmp_path / name)
    shutil.copytree(FIXTURE, tmp_path, dirs_exist_ok=True)
    hazards = tmp_path / "content" / "hazards.yml"
    hazards.write_text(hazards.read_text(encoding="utf-8") + HAZARD, encoding="utf-8")
    return tmp_path


def edit(root: Path, kit: str, *changes: tuple[str, str]) -> None:
    """Change lines of a procedure, each of which stands there exactly once."""
    path = root / "content" / "procedures" / f"{kit}.yml"
    text = path.read_text(encoding="utf-8")
    for old, new in changes:
        assert text.count(old) == 1
        text = text.replace(old, new)
    path.write_text(text, encoding="utf-8")


def made(root: Path, kit: str) -> Guide:
    """Return the guide of a kit on the machine on the bench."""
    known = load(root)
    machine, one = known.machines["tamsin-bench"], known.kits[kit]
    pair = verdict.judged(known, machine, one, "next")
    guide = guiding.made_guide(known, machine, one, verdict.fit_part(pair.check), pair, COMPUTED, "next")
    assert guide is not None
    return guide


def findings(root: Path, kit: str) -> list[Finding]:
    """Return what the lint finds beside what these files leave out."""
    return [one for one in lint(made(root, kit)) if one.rule not in PAPER]


@pytest.mark.parametrize("kit", KITS)
def test_the_kit_is_written_without_a_finding(root: Path, kit: str) -> None:
    """Every act is known, and everything that it may have disturbed is tested again."""
    guide = made(root, kit)
    own = {step.step.looks for step in guide.resolved.fitting.steps if step.step.looks}
    assert own
    assert [str(one.problem()) for one in lint(guide) if one.rule not in PAPER] == []


@pytest.mark.parametrize(
    ("kit", "change", "rule"),
    [
        ("jacket", (JACKET_BENCH, ""), "ACT05"),
        ("pump-mount", (MOUNT_BENCH, ""), "ACT05"),
        ("jacket", (EARTH, ""), "EAR01"),
        ("pump-mount", (CASING, ""), "EAR01"),
        ("timer", (INSULATION, ""), "EAR02"),
        ("timer", (CASING, ""), "EAR01"),
        ("gauge", ("      - include: cold-test\n", ""), "PRS02"),
        ("gauge", (EARTH, ""), "EAR01"),
    ],
)
def test_a_test_that_is_left_out_is_missed(root: Path, kit: str, change: tuple[str, str], rule: str) -> None:
    """The first leak test, the earth test, the insulation test."""
    edit(root, kit, change)
    assert rule in {one.rule for one in findings(root, kit)}


def left(run: Run) -> State:
    """The state behind the last step of the fitting's own phase."""
    return run.after[[key for key in run.after if key.startswith("fit/")][-1]]


@pytest.mark.parametrize(
    ("kit", "own"),
    [("jacket", (LACE, LOOK)), ("pump-mount", (ASIDE, SET, SWING))],
)
def test_it_is_the_own_act_that_asks_for_the_test(root: Path, kit: str, own: tuple[str, ...]) -> None:
    """No other step of the fitting opens a joint: without the acts the machine is as tight as it was found."""
    (run,) = made(root, kit).runs
    assert left(run).leak == "bench_ok"
    edit(root, kit, *((one, "") for one in own))
    (run,) = made(root, kit).runs
    assert left(run).leak == "hot_ok"


@pytest.mark.parametrize(
    ("kit", "moved", "after", "rules"),
    [
        ("timer", ROUTE, INSULATION, {"EAR02"}),
        ("timer", ROUTE, CASING, {"EAR01", "EAR02", "MNS04"}),
        ("gauge", FRONT + FACE, CONNECT, {"PRS01", "PRS02", "MNS04"}),
        ("jacket", CUT + LACE + LOOK, CONNECT, {"PRS01", "PRS02", "MNS04"}),
        ("pump-mount", ASIDE + SET + SWING, CONNECT, {"PRS01", "PRS02", "MNS04"}),
    ],
)
def test_an_own_act_behind_the_test_is_refused(root: Path, kit: str, moved: str, after: str, rules: set[str]) -> None:
    """Whatever it touched was tested before it was touched."""
    edit(root, kit, (moved, ""), (after, after + moved))
    assert rules <= {one.rule for one in findings(root, kit)}


@pytest.mark.parametrize(
    ("kit", "gone", "look"),
    [
        ("jacket", CUT, "cut-to-size"),
        ("jacket", LACE, "laced"),
        ("pump-mount", SET, "on-its-mount"),
        ("gauge", FRONT, "faces-front"),
    ],
)
def test_a_look_that_nobody_took_is_missed(root: Path, kit: str, gone: str, look: str) -> None:
    """What an own act asks was looked at before."""
    edit(root, kit, (gone, ""))
    found = [one for one in findings(root, kit) if one.rule == "ACT03"]
    assert found
    assert all(f"`{look}`" in one.message for one in found)


def test_a_look_is_undone_by_whatever_names_the_same_thing(root: Path) -> None:
    """Laced, unrolled again, and pulled at: the lace is not what was looked at."""
    edit(root, "jacket", (LOOK, "      - {id: again, act: keep, of: jacket}\n" + LOOK))
    assert "ACT03" in {one.rule for one in findings(root, "jacket")}


def test_cutting_felt_asks_for_no_mask(root: Path) -> None:
    """It is no cut of metal: no dust, no chips, and gone for good all the same."""
    (step,) = (one.step for one in made(root, "jacket").resolved.fitting.steps if one.step.id == "cut")
    assert (step.cut, step.hazards, step.reversible) == (None, (), False)
    assert step.uses.tools == ("scissors",)


def test_a_jacket_makes_the_wait_longer(root: Path) -> None:
    """Kept warm by the felt, the boiler takes longer until it can be touched; a mount changes nothing of it."""
    known = load(root)
    machine = known.machines["tamsin-bench"]

    def waits(kit: str) -> tuple[float | None, float | None]:
        listed = [*inputs.of_machine(machine, known), *known.kits[kit].inputs()]
        made = after_use.cool_down_part(slowest(machine, known.kits[kit], listed))
        return made.without.touch_s.value, made.with_.touch_s.value

    without, with_jacket = waits("jacket")
    assert without is not None
    assert with_jacket is not None
    assert with_jacket > without
    assert waits("pump-mount") == (without, without)


@cache
def _text(name: str) -> str:
    return (FIXTURE / "content" / name).read_text(encoding="utf-8")


def test_the_words_of_an_own_act_are_read_like_any_text(root: Path) -> None:
    """Nobody has confirmed them yet; and a word that no instruction needs is refused in them too."""
    (unread,) = (one.message for one in lint(made(root, "jacket")) if one.place.path == "content/acts.yml")
    assert re.match(r"nobody has confirmed \d+ texts, first this: ", unread)
    path = root / "content" / "acts.yml"
    path.write_text(_text("acts.yml").replace("Lace {of} together", "Bridge {of} over"), encoding="utf-8")
    (found,) = [one for one in findings(root, "jacket") if one.rule == "TXT01"]
    assert found.place.path == "content/acts.yml"


def test_a_name_of_the_program_is_refused_in_the_workshop(root: Path) -> None:
    """Nobody writes `lift-cover` anew as a harmless look: each guide names the line."""
    path = root / "content" / "acts.yml"
    more = "  lift-cover:\n    of: cover\n    say: Look at {of}.\n    minutes: 1\n"
    path.write_text(_text("acts.yml") + more, encoding="utf-8")
    line = _text("acts.yml").count("\n") + 1
    (found,) = [one for one in findings(root, "jacket") if one.rule == "ACT01"]
    assert str(found.place) == f"content/acts.yml:{line}:3"
