"""`guidegen convert` on the demonstration's procedures as they were before there were acts."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest
import yaml

from guidegen import trade
from guidegen.commands import main
from guidegen.judge.acts.convert.document import readable
from guidegen.problems import CatalogueError
from guidegen.workshop.editor import EditedFile
from tests.fixtures.in_words import AROUND, IN_WORDS, NAMES, entries, procedure

pytestmark = pytest.mark.slow

TO_DECIDE = {
    "banjo-feed": "serial picture hose-off fitting-off banjo-on hose-on hose-clear relief bench picture hose-off "
    "banjo-off fitting-on fitting-torque hose-on relief bench",
    "feed-preheater": "serial bolts-below gauge swarf fitting-over tape fitting-outlet-straight fitting-outlet-banjo "
    "fitting-inlet bond bond-end check-valve-on relief-upstream relief-downstream bench fittings-off relief",
    "loop-controller": "serial label sensor-on mount supply-lead heater-lead series settle leads-off sensor-off "
    "thermostat-check ready",
    "shared": "switch-off caps boiler-in torque earth-lead-on device-check fill-tank blind tank-full watch watch "
    "hot-run tank-use count which-joint close-joint close-joint",
}
"""Steps that no act says in these words, or whose act moves things under other names; read one by one."""
AROUND_TO_DECIDE = {
    "banjo-feed": ["year", "drop: cause", "weak-flow: cause"],
    "feed-preheater": ["year", "water", "first-drinks", "drop: cause", "symptom", "weak-flow: cause"],
    "loop-controller": ["display", "seat", "runaway: cause", "stays-cold: cause"],
    "shared": [],
}
"""What stands around the steps and is said in words that no act has, or leaves a thing open."""


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
    assert (len(before), len(before) - left, left) == (212, 149, 63)
    assert len(before) - len(after) == 6, "cut-off, still-off, test-rcd, power-pump, power-heat, power-use"


def test_everything_around_the_steps_stays(in_words: Path, converted: Path) -> None:
    """Without its steps, and without what the acts say now, each file says what it said."""

    def around(node: Any) -> Any:
        if isinstance(node, dict):
            return {name: around(one) for name, one in node.items() if name not in ("brings", "out_at_start", *AROUND)}
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


def test_a_second_time_nothing_changes(converted: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What is left is listed again, with its place and sentence."""
    root = tmp_path / "workshop"
    shutil.copytree(converted, root)
    before = {name: procedure(root, name).read_bytes() for name in NAMES}
    assert main(["--root", str(root), "convert", "--yes"]) == 0
    assert {name: procedure(root, name).read_bytes() for name in NAMES} == before
    said = capsys.readouterr().out
    assert said.endswith("0 of 76 texts become acts, 76 are to be decided\nnothing changes\n")
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


def test_a_mistake_that_was_there_before_is_no_reason_to_refuse(root: Path) -> None:
    """`brings`, which no file has any more, keeps the program from seeing what else is wrong in the file."""
    path = procedure(root, "loop-controller")
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("is: 15 min, evidence: maker-document, source: kettleby-fitting-rules", "is: 15 min, "
                                 "evidence: maker-document, source: nobody"), encoding="utf-8")  # fmt: skip
    assert main(["--root", str(root), "-q", "convert", "--yes"]) == 0
    path.write_bytes(readable(EditedFile.of(path.name, path.read_bytes())).after)
    with pytest.raises(CatalogueError, match="X01"):
        trade.load(root)


def test_a_machine_that_cannot_be_read_stops_it(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Without its things no sentence can be understood."""
    path = root / "machines/tamsin/mk2.yml"
    path.write_text(path.read_text(encoding="utf-8") + "nonsense: 1\n", encoding="utf-8")
    assert main(["--root", str(root), "convert", "--yes"]) == 1
    error = capsys.readouterr().err
    assert "machines/tamsin/mk2.yml" in error
    assert "content/procedures" not in error


def test_a_workshop_in_words_is_refused_until_all_is_decided(converted: Path, tmp_path: Path) -> None:
    """First by what is left around the steps, then by the steps: each at its text, with the command that helps."""
    with pytest.raises(CatalogueError) as refused:
        trade.load(converted)
    assert {one.code for one in refused.value.problems} == {"S10"}
    assert {one.path.split("/")[-1] for one in refused.value.problems} == {f"{name}.yml" for name in NAMES}
    root = tmp_path / "workshop"
    shutil.copytree(converted, root)
    for name in NAMES:
        path = procedure(root, name)
        path.write_bytes(readable(EditedFile.of(path.name, path.read_bytes())).after)
    with pytest.raises(CatalogueError) as refused:
        trade.load(root)
    problems = refused.value.problems
    assert {one.code for one in problems} == {"S10"}
    assert len(problems) == 63
    assert {one.fix for one in problems} == {"write it as an act; `guidegen convert` does most of it"}
    for one in problems:
        line = (root / one.path).read_text(encoding="utf-8").splitlines()[one.line - 1]
        assert line[one.column - 1 :].startswith("do: ")


def test_what_stands_around_the_steps_becomes_acts_where_its_words_are_theirs(converted: Path) -> None:
    """Written down by hand: the ends, the after-care and the faults whose words are those of the table."""
    found = {name: yaml.load(procedure(converted, name).read_bytes(), yaml.BaseLoader) for name in NAMES}
    ends = {one["id"]: one["then"] for one in found["shared"]["remedies"] if "stop" in one["then"]}
    assert ends == {"still-live": {"stop": "find-feed"}, "no-water": {"stop": "no-pump"},
                    "make-safe": {"stop": ["no-power", "hang-sign"]}}  # fmt: skip
    banjo = found["banjo-feed"]
    assert banjo["aftercare"][0] == {"id": "week", "occasion": "after-a-week", "act": "look-beneath"}
    assert banjo["aftercare"][2] == {
        "id": "descaling", "occasion": "after-each-descaling", "act": "flush-away",
        "why": "Brass gives off more metal just after descaling.",
    }  # fmt: skip
    assert banjo["faults"][1] == {"symptom": "trip", "cause": ["wet-live-part", "damaged-lead"]}
    assert not any("stop_use" in one for one in found.values())


@pytest.mark.parametrize("name", NAMES)
def test_what_is_left_around_the_steps_is_just_this(
    converted: Path, name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """Each with its line and the nearest act."""
    main(["--root", str(converted), "convert"])
    left = [line for line in capsys.readouterr().out.splitlines() if f"procedures/{name}.yml:" in line]
    steps = TO_DECIDE[name].split()
    names = [line.split(": ", 1)[1].split(': "')[0] for line in left]
    assert [one for one in names if one not in steps] == AROUND_TO_DECIDE[name]
    assert all("; the nearest is `" in line for line in left if line.split(": ")[1] in AROUND_TO_DECIDE[name])
