"""`guidegen convert` on the demonstration's procedures as they were before there were acts.

`tests/fixtures/steps_in_words/` holds those four files, never changed again. What people made of them by hand stands
in `content/procedures/`: it is what the program's acts are compared with.
"""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import yaml

from guidegen import trade
from guidegen.assess.inventory import things_of
from guidegen.commands import main
from guidegen.judge.acts.compiled import compiled
from guidegen.problems import CatalogueError
from guidegen.workshop.acts import WrittenAct
from guidegen.workshop.nodes import to_data
from guidegen.workshop.reader import read_file
from guidegen.workshop.steps import Step

DEMONSTRATION = Path(__file__).parents[3]
IN_WORDS = DEMONSTRATION / "tests/fixtures/steps_in_words"
NAMES = ("banjo-feed", "feed-preheater", "loop-controller", "shared")
KINDS = {"safety_devices": "device", "boiler.bolts": "bolt", "boiler.protrusions": "protrusion"}
WORST_FIRST = {
    "mains": ("live", "pump_only", "off", "proved_dead"), "temperature": ("unknown", "cool"),
    "pressure": ("unknown", "released"), "water": ("full", "drained"), "enclosure": ("open", "closed"),
    "earth": ("disturbed", "ok", "tested"), "leak": ("untested", "bench_ok", "cold_ok", "hot_ok"), "primed": ("no", "yes"),
}  # fmt: skip
TO_DECIDE = {
    "banjo-feed": "serial picture hose-off fitting-off banjo-on hose-on hose-clear relief bench picture hose-off "
    "banjo-off fitting-on fitting-torque hose-on relief bench",
    "feed-preheater": "serial bolts-below gauge swarf fitting-over tape fitting-outlet-straight fitting-outlet-banjo "
    "fitting-inlet tails-in relief-upstream relief-downstream bench fittings-off relief bench",
    "loop-controller": "serial label sensor-on mount series leads-off sensor-off",
    "shared": "switch-off caps boiler-in earth-lead-on fill-tank blind tank-full tank-use count",
}
"""Steps that no act says in these words, or whose act moves things under other names; read one by one."""
OTHER_THINGS = {("feed-preheater", "coil-picture"), ("feed-preheater", "hose-on")}
"""By hand the photograph shows more, and the hose says where it goes."""
Entry = tuple[tuple[str, ...], dict[str, Any], str | None]


@pytest.fixture(scope="module")
def in_words(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demonstration with its procedures in words."""
    root = tmp_path_factory.mktemp("in-words")
    for name in ("machines", "content"):
        shutil.copytree(DEMONSTRATION / name, root / name, ignore=shutil.ignore_patterns("editions"))
    for name in NAMES:
        shutil.copy(IN_WORDS / f"{name}.yml", root / "content/procedures")
    return root


@pytest.fixture(scope="module")
def converted(in_words: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The same after the command."""
    root = tmp_path_factory.mktemp("converted") / "workshop"
    shutil.copytree(in_words, root)
    assert main(["--root", str(root), "-q", "convert", "--yes"]) == 0
    return root


def entries(path: Path) -> list[Entry]:
    """Every step of a file with the ids of what it stands in, and what it is repeated over."""

    def within(node: Any, above: tuple[str, ...], kind: str | None) -> Iterator[Entry]:
        if isinstance(node, tuple):
            for one in node:
                yield from within(one, above, kind)
        elif isinstance(node, dict):
            if "id" in node and ("do" in node or "act" in node):
                yield above, node, kind
            for name, one in node.items():
                here = (*above, name, *([node["id"]] if isinstance(node.get("id"), str) else []))
                yield from within(one, here, KINDS.get(node.get("each", ""), kind))

    return list(within(to_data(read_file(path, path.name))[0], (), None))


def procedure(root: Path, name: str) -> Path:
    """A procedure's file."""
    return root / f"content/procedures/{name}.yml"


@pytest.mark.parametrize("name", NAMES)
def test_what_is_left_to_the_author_is_just_this(converted: Path, name: str) -> None:
    """Everything else became an act."""
    left = [step["id"] for _, step, _ in entries(procedure(converted, name)) if "do" in step]
    assert left == TO_DECIDE[name].split()


def test_three_quarters_of_the_steps_become_acts(in_words: Path, converted: Path) -> None:
    """212 steps in words; those that are the ways of one act for two kinds of machine are one act now."""
    before = [step for name in NAMES for _, step, _ in entries(procedure(in_words, name))]
    after = [step for name in NAMES for _, step, _ in entries(procedure(converted, name))]
    left = sum("do" in step for step in after)
    assert (len(before), len(before) - left, left) == (212, 163, 49)
    assert len(before) - len(after) == 6, "cut-off, still-off, test-rcd, power-pump, power-heat, power-use"


@pytest.mark.parametrize("name", NAMES)
def test_an_act_is_the_one_that_a_person_chose(converted: Path, name: str) -> None:
    """The same act of the same things as in the procedures that were written anew by hand."""
    by_hand: dict[tuple[str, ...], list[dict[str, Any]]] = {}
    for above, step, _ in entries(procedure(DEMONSTRATION, name)):
        by_hand.setdefault((*above, step["id"]), []).append(step)
    compared = 0
    for above, step, _ in entries(procedure(converted, name)):
        hands = by_hand.get((*above, step["id"]))
        if "do" in step or hands is None:
            continue
        assert step["act"] in [one["act"] for one in hands], step["id"]
        compared += 1
        if (name, step["id"]) not in OTHER_THINGS:
            assert things(step) in map(things, hands), step["id"]
    assert compared > 5


def things(step: dict[str, Any]) -> list[set[str]]:
    """The things of an act, slot by slot."""
    slots = (step.get(slot, ()) for slot in ("of", "at", "to"))
    return [{one} if isinstance(one, str) else set(one) for one in slots]


@pytest.mark.parametrize("name", NAMES)
def test_no_act_is_less_strict_than_its_step(in_words: Path, converted: Path, name: str) -> None:
    """On every machine that has its things: judged here by rules of its own, not by those of the command."""
    known = trade.load(DEMONSTRATION)
    kits = known.kits.values() if name == "shared" else [known.kits[name]]
    pairs = [things_of(machine, kit)[0] for kit in kits for machine in known.machines.values()]
    after: dict[tuple[str, ...], list[dict[str, Any]]] = {}
    for above, step, _ in entries(procedure(converted, name)):
        after.setdefault((*above, step["id"]), []).append(step)
    dead = "proved_dead" if name == "loop-controller" else "off"
    for above, written, kind in entries(procedure(in_words, name)):
        acts = [one for one in after[(*above, written["id"])] if "act" in one]
        old, tried = Step.model_validate(written), 0
        for one in pairs if acts else ():
            made = [compiled(WrittenAct.model_validate(act), one, kind, dead) for act in acts]
            steps = [step for each in made for step in each.steps]
            if not any(each.faults for each in made) and all("{thing." not in step.do for step in steps):
                thermostat = one.get("control-thermostat")
                names = {"{control_thermostat.id}": thermostat.members[0] if thermostat else ""}
                assert any(at_least(old, step, names) for step in steps), (above, written["id"])
                tried += 1
        assert tried or not acts, written["id"]


def at_least(old: Step, new: Step, names: dict[str, str]) -> bool:
    """Whether a step asks and does what another one does, or more strictly."""

    def moved(step: Step, field: str) -> set[str]:
        part = getattr(step, field)
        found = () if part is None else (*part.devices, *part.joints, *part.leads, *([True] if part.permanent else []))
        return {names.get(one, one) for one in found}

    asked = all(
        key in new.requires and WORST_FIRST[key].index(new.requires[key]) >= WORST_FIRST[key].index(value)
        for key, value in old.requires.items()
    )
    same = old.sets == new.sets and all(moved(old, field) == moved(new, field) for field in ("removes", "refits"))
    told = all(
        {names.get(one, one) for one in getattr(old, field)} <= set(getattr(new, field))
        for field in ("records", "verifies", "earth_points", "insulation_of", "acts")
    )
    parts = all(
        (getattr(old, field) is None) == (getattr(new, field) is None)
        for field in ("isolate", "prove", "supply", "cooling", "release", "leak", "relief", "clearance", "cut", "seat")
    )
    turned = (old.torque and old.torque.is_) == (new.torque and new.torque.is_)
    return asked and same and told and parts and turned and old.reversible == new.reversible and held(old, new)


def held(old: Step, new: Step) -> bool:
    """Whether a hold point is as strict: the same number, the same way out."""
    if old.hold is None or old.hold.accept is None or old.hold.on_fail is None:
        return True
    if new.hold is None or new.hold.accept is None or new.hold.on_fail is None:
        return False
    limits = [(one.at_most, one.at_least, one.within) for one in (old.hold.accept, new.hold.accept)]
    before, after = ([re.sub(r"^0 .*", "0", text or "") for text in limit] for limit in limits)
    return before == after and old.hold.on_fail.goto == new.hold.on_fail.goto


def test_everything_around_the_steps_stays(in_words: Path, converted: Path) -> None:
    """Without its steps, and without what the acts say now, each file says what it said."""

    def around(node: Any) -> Any:
        if isinstance(node, dict):
            return {name: around(one) for name, one in node.items() if name not in ("brings", "out_at_start")}
        if isinstance(node, list):
            return [
                around(one) for one in node if not (isinstance(one, dict) and {"do", "act"} & {*one} and "id" in one)
            ]
        return node

    for name in NAMES:
        before, after = (
            yaml.load(procedure(root, name).read_bytes(), yaml.BaseLoader) for root in (in_words, converted)
        )
        assert around(before) == around(after)


@pytest.fixture
def root(in_words: Path, tmp_path: Path) -> Path:
    """The workshop in words, to write into."""
    shutil.copytree(in_words, tmp_path / "workshop")
    return tmp_path / "workshop"


def test_a_second_time_nothing_changes(converted: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What is left is listed again, with its place and sentence."""
    root = tmp_path / "workshop"
    shutil.copytree(converted, root)
    before = {name: procedure(root, name).read_bytes() for name in NAMES}
    assert main(["--root", str(root), "convert", "--yes"]) == 0
    assert {name: procedure(root, name).read_bytes() for name in NAMES} == before
    said = capsys.readouterr().out
    assert said.endswith("0 of 49 steps in words become acts, 49 are to be decided\nnothing changes\n")
    line = next(
        n for n, text in enumerate(before["shared"].decode().splitlines(), 1) if "do: Switch the machine" in text
    )
    assert (
        f'  content/procedures/shared.yml:{line}:9: switch-off: "Switch the machine off at its own switch." no act'
        in said
    )


def test_comments_stay_and_a_file_may_be_half_done(root: Path) -> None:
    """A comment inside a step stands above its act; an act that is there already stays byte for byte."""
    path = procedure(root, "shared")
    text = path.read_text(encoding="utf-8")
    there = "      - {id: wipe,   act: wipe-wall, of: wall}   # by hand"
    text = text.replace(
        "      - id: close-cover\n", f"{there}\n      # above\n      - id: close-cover  # beside\n        # inside\n"
    )
    path.write_text(text, encoding="utf-8")
    assert main(["--root", str(root), "-q", "convert", "--yes"]) == 0
    act = "      # above\n      # beside\n      # inside\n      - {id: close-cover, act: close-cover, of: top-cover}\n"
    assert f"{there}\n{act}" in path.read_text(encoding="utf-8")


def test_nothing_is_written_unasked(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Without --yes and without a terminal it shows what would change, and that is all."""
    before = {path: path.read_bytes() for path in root.rglob("*.yml")}
    assert main(["--root", str(root), "convert"]) == 2
    shown = capsys.readouterr()
    assert "\n+      - {id: cut-off, act: cut-mains}\n" in shown.out
    assert "--yes writes without asking" in shown.err
    assert {path: path.read_bytes() for path in root.rglob("*.yml")} == before


def test_what_is_said_no_more_is_listed_with_its_line(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The line is that of the step as it stands now; a word that stays is not listed."""
    main(["--root", str(root), "convert", "--yes"])
    said = capsys.readouterr().out.partition("what the old text said and the new does not:\n")[2]
    text = (IN_WORDS / "shared.yml").read_text(encoding="utf-8").splitlines()
    line = next(n for n, one in enumerate(text, 1) if one.strip() == "do: Close both clamp bands round the coil.")
    assert (
        f"  content/procedures/shared.yml:{line}:9: clamp: criterion: The coil cannot be turned or shifted by hand.\n"
        in said
    )
    assert "Nobody touches the machine meanwhile" not in said


def test_a_mistake_stops_it_with_its_place(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A step that cannot be read: file, line, column; no file is written."""
    path = procedure(root, "loop-controller")
    text = path.read_text(encoding="utf-8")
    wrong = text.replace("        minutes: 10\n", "        minutes: ten\n", 1)
    path.write_text(wrong, encoding="utf-8")
    line = wrong.splitlines().index("        minutes: ten") + 1
    assert main(["--root", str(root), "convert", "--yes"]) == 1
    assert f'content/procedures/loop-controller.yml:{line}:18: S05 minutes: got "ten"' in capsys.readouterr().err
    assert procedure(root, "shared").read_bytes() == (IN_WORDS / "shared.yml").read_bytes()


def test_a_machine_that_cannot_be_read_stops_it(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Without its things no sentence can be understood."""
    path = root / "machines/tamsin/mk2.yml"
    path.write_text(path.read_text(encoding="utf-8") + "nonsense: 1\n", encoding="utf-8")
    assert main(["--root", str(root), "convert", "--yes"]) == 1
    error = capsys.readouterr().err
    assert "machines/tamsin/mk2.yml" in error
    assert "content/procedures" not in error


def test_a_workshop_in_words_is_refused_until_all_is_decided(converted: Path) -> None:
    """Only the steps that are left are in the way: each at its `do:`, with the command that helps."""
    with pytest.raises(CatalogueError) as refused:
        trade.load(converted)
    problems = refused.value.problems
    assert {one.code for one in problems} == {"S10"}
    assert len(problems) == 49
    assert {one.fix for one in problems} == {"write it as an act; `guidegen convert` does most of it"}
    for one in problems:
        line = (converted / one.path).read_text(encoding="utf-8").splitlines()[one.line - 1]
        assert line[one.column - 1 :].startswith("do: ")
