"""Every mistake that an author can make, and exactly what is said about it.

A case is one text file under `cases/`: a sentence, the changes to the small catalogue of the fixtures, and what
is said. Changes:

    edit PATH     lines to take out (`-`) and to put in (`+`); what is taken out stands there exactly once
    write PATH    the lines (`|`) of a new file
    bytes PATH    the bytes of a file, in Python's escapes
    fill PATH N   a file of N bytes
    link PATH TO  a symbolic link
    remove PATH

`at TEXT` says, for each problem in turn, what stands at the place that the message names. It is written by hand
and is the independent check of line and column. `said` is followed by the exact text of all problems.
"""

from __future__ import annotations

import ast
import shutil
from pathlib import Path

import pytest

from guidegen import trade
from guidegen.assess import guiding, sanity, verdict
from guidegen.assess.asking import served
from guidegen.assess.resting import rested
from guidegen.problems import CatalogueError, Code

HERE = Path(__file__).parent
FIXTURE = HERE.parent / "fixtures" / "catalogue_min"
CASES = sorted((HERE / "cases").glob("*.txt"))


class Case:
    """One case as written."""

    def __init__(self, text: str) -> None:
        """Split a case into its sentence, its changes, its places and what is said."""
        head, self.said = text.split("\nsaid\n")
        self.sentence, *lines = head.split("\n")
        self.at = [line.removeprefix("at ") for line in lines if line.startswith("at ")]
        self.changes: list[tuple[list[str], list[str]]] = []
        for line in lines:
            if line.split(" ")[0] in ("edit", "write", "bytes", "fill", "link", "remove"):
                self.changes.append((line.split(" "), []))
            elif line and not line.startswith("at "):
                self.changes[-1][1].append(line)

    def lay_down(self, root: Path) -> None:
        """Copy the small catalogue and make the changes."""
        shutil.copytree(FIXTURE, root)
        for (act, path, *more), lines in self.changes:
            file = root / path
            if act != "edit":
                file.parent.mkdir(parents=True, exist_ok=True)
            if act == "edit":
                self._edit(file, lines)
            elif act == "write":
                file.write_text("\n".join(line.removeprefix("|") for line in lines) + "\n", encoding="utf-8")
            elif act == "bytes":
                file.write_bytes(ast.literal_eval("b'" + " ".join(lines) + "'"))
            elif act == "fill":
                with file.open("wb") as opened:
                    opened.truncate(int(more[0]))
            elif act == "link":
                file.symlink_to(more[0])
            elif act == "remove":
                file.unlink()

    def _edit(self, file: Path, lines: list[str]) -> None:
        old = "".join(f"{line[1:]}\n" for line in lines if line.startswith("-"))
        new = "".join(f"{line[1:]}\n" for line in lines if line.startswith("+"))
        text = file.read_text(encoding="utf-8")
        if not old:
            file.write_text(text + new, encoding="utf-8")
            return
        assert ("\n" + text).count("\n" + old) == 1, f"what is taken out of {file.name} stands there not once"
        file.write_text(("\n" + text).replace("\n" + old, "\n" + new)[1:], encoding="utf-8")


def reported(root: Path) -> str:
    """Return all that is reported about a catalogue and about every kit on every variant, and nothing but problems."""
    try:
        known = trade.load(root)
    except CatalogueError as error:
        return str(error)
    found = list(known.warnings)
    missing, resting, asked = [], [], served(known)
    for machine in known.machines.values():
        for kit in known.kits.values():
            if not_computed := sanity.look(known, machine, kit, asked):
                found += not_computed
                continue
            try:
                pair = verdict.judged(known, machine, kit, "next")
            except CatalogueError as error:
                found += error.problems
            else:
                guided = guiding.guide(known, machine, kit, verdict.fit_part(pair.check), pair, {}, "next")
                missing.append((f"{machine.id} with {kit.id}", guided.missing))
                resting.append((machine, kit.id, verdict.fit_part(pair.check).rests_on))
    found += guiding.unknown(missing)
    found += rested(resting)
    return "\n".join(map(str, sorted(set(found))))


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_a_mistake_is_reported_exactly(path: Path, tmp_path: Path) -> None:
    """The whole text of all problems is as written in the case."""
    case = Case(path.read_text(encoding="utf-8"))
    case.lay_down(tmp_path / "workshop")
    assert reported(tmp_path / "workshop") + "\n" == case.said


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_a_message_names_the_place_of_the_mistake(path: Path, tmp_path: Path) -> None:
    """At the named line and column stands what the author of the case wrote beside `at`."""
    case = Case(path.read_text(encoding="utf-8"))
    case.lay_down(tmp_path / "workshop")
    heads = [line for line in case.said.splitlines() if not line.startswith("  fix: ")]
    assert len(case.at) == len(heads), "one `at` for each problem"
    for wanted, head in zip(case.at, heads, strict=True):
        named, line, column = head.split(" ")[0].removesuffix(":").rsplit(":", 2)
        if wanted == "the file":
            assert (line, column) == ("1", "1")
            continue
        text = (tmp_path / "workshop" / named).read_bytes().decode("utf-8-sig", "replace")
        found = text.replace("\r\n", "\n").split("\n")[int(line) - 1][int(column) - 1 :]
        assert found.startswith(wanted), f"{head}: there stands {found!r}"


def test_the_small_catalogue_itself_is_clean() -> None:
    """A case shows its own mistake only."""
    assert reported(FIXTURE) == ""


def test_every_code_is_shown_by_a_case() -> None:
    """No code is documented that nothing shows."""
    said = "".join(path.read_text(encoding="utf-8").partition("\nsaid\n")[2] for path in CASES)
    shown = {line.split(": ")[1].split(" ")[0] for line in said.splitlines() if not line.startswith("  fix: ")}
    assert {code.value for code in Code} - shown == {Code.NOT_EDITABLE.value}, "the editor's own tests show that one"


def test_there_are_many_cases() -> None:
    """The catalogue of mistakes is not thinned out unnoticed."""
    assert len(CASES) >= 60
