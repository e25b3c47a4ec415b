"""Nothing that somebody wrote drives the maker's terminal, turns a line, or passes for a line of ours."""

from __future__ import annotations

import ast
import json
import re
import unicodedata
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from guidegen.commands import main
from guidegen.problems import Problem
from guidegen.visible import visible, visible_lines
from tests.unit.commands.cli.starter import KIT, REPOSITORY, VARIANT, Run

pytestmark = pytest.mark.slow

EVIL = "\x1b]0;owned\x07\x1b[2J\x9b31m\u202egnp.exe\u2066\r"
FORGED = "a\nmachines/b.yml:1:1: X99 all is well\n"
DANGEROUS = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069]")


def test_there_is_one_place_that_prints() -> None:
    """Whatever else printed would print what somebody wrote as it is."""
    printing = set()
    for path in (REPOSITORY / "guidegen").rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            match node:
                case ast.Name(id="print") | ast.Attribute(attr="write", value=ast.Attribute(attr="stdout" | "stderr")):
                    printing.add(path.relative_to(REPOSITORY).as_posix())
    assert printing == {"guidegen/commands/terminal.py", "guidegen/language/__main__.py"}


@given(st.text())
def test_what_is_visible_is_text_and_nothing_else(text: str) -> None:
    """Of every character that Unicode has: no control, no turning, no end of a line; and plain text stays."""
    shown = visible(text)
    assert not {unicodedata.category(one) for one in shown} & {"Cc", "Zl", "Zp", "Cs"}
    assert not DANGEROUS.search(shown)
    assert visible(shown) == shown
    assert visible_lines("a é 中 ½\tb\n") == "a é 中 ½\tb\n"


@given(st.text())
def test_json_stays_json(text: str) -> None:
    """Its own escapes are those of JSON, so a program reads the same back."""
    try:
        text.encode()
    except UnicodeEncodeError:
        return
    assert json.loads(visible_lines(json.dumps(text, ensure_ascii=False))) == text


def test_a_problem_has_two_lines_whatever_its_parts_hold() -> None:
    """The path, the message and the fix may each be somebody else's."""
    text = str(Problem(FORGED + ".yml", 1, 1, "X01", FORGED + EVIL, FORGED))
    assert len(text.splitlines()) == 2
    assert "\\u001b" in text


@pytest.mark.parametrize("name", [f"{EVIL}.md", f"{FORGED.replace('/', '-')}.md", f"{EVIL}.yml"])
def test_a_file_s_name_is_shown_and_not_obeyed(
    run: Run, root: Path, capsys: pytest.CaptureFixture[str], name: str
) -> None:
    """Among the pages and among the data."""
    (root / "content" / ("pages" if name.endswith(".md") else "kits") / name).write_text("name: a\n", encoding="utf-8")
    assert run("build", "--draws", "0") == 1
    printed = capsys.readouterr().err
    assert not DANGEROUS.search(printed)
    assert not [line for line in printed.splitlines() if line.startswith("machines")]


@pytest.mark.parametrize("text", [EVIL, FORGED, f"Order\n{EVIL}", "\ufeff" + EVIL * 50])
def test_an_order_that_somebody_sent_is_shown_and_not_obeyed(
    run: Run, root: Path, capsys: pytest.CaptureFixture[str], text: str
) -> None:
    """Whatever it holds, by any way of reading it."""
    order = root / "order.txt"
    order.write_text(text, encoding="utf-8")
    for words in (("fit", "--read", str(order)), ("new", "variant", "--family", "first-family", "--from", str(order))):
        assert run(*words) in (1, 2)
        assert not DANGEROUS.search("".join(capsys.readouterr()))


@pytest.mark.parametrize(
    "words",
    [
        ("show", EVIL),
        ("assess", VARIANT, EVIL),
        ("schema", EVIL),
        ("fit", VARIANT, KIT, "--answer", f"{EVIL}=1"),
        ("set", VARIANT, f"{EVIL}=1", "--yes"),
        ("withdraw", EVIL, "--because", "x"),
        ("unit", "label", EVIL),
        ("new", "kit", EVIL),
        ("deliver", "--branch", EVIL),
        ("build", "--draws", EVIL),
        (EVIL,),
    ],
)
def test_what_is_given_on_the_command_line_is_shown_and_not_obeyed(
    run: Run, capsys: pytest.CaptureFixture[str], words: tuple[str, ...]
) -> None:
    """It may have been pasted from a letter."""
    try:
        code: object = run(*words)
    except SystemExit as left:
        code = left.code
    assert code in (1, 2, 3, 4)
    assert not DANGEROUS.search("".join(capsys.readouterr()))


def test_a_stray_file_is_named_and_not_obeyed(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """By verify, which names every file that it finds."""
    (root / "site" / EVIL).write_text("a", encoding="utf-8")
    (root / "site" / FORGED.replace("/", "-")).write_text("a", encoding="utf-8")
    assert main(["--root", str(root), "verify"]) == 1
    printed = capsys.readouterr().out
    assert not DANGEROUS.search(printed)
    assert not [line for line in printed.splitlines() if line.startswith("machines")]
