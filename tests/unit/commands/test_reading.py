"""`guidegen read`: what nobody has read stops the build; whoever confirms it confirms exactly those words."""

from __future__ import annotations

import hashlib
import re
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from guidegen.commands import main
from guidegen.commands.reading import PATH

pytestmark = pytest.mark.slow

DEMONSTRATION = Path(__file__).parents[3]
STOP = "A filed edge stays sharp until it is deburred."
OTHER = "A filed edge stays sharp until somebody deburrs it."
PROCEDURE = "content/procedures/feed-preheater.yml"
Run = Callable[..., int]


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """The demonstration's data, to write into."""
    for name in ("machines", "content"):
        shutil.copytree(DEMONSTRATION / name, tmp_path / name, ignore=shutil.ignore_patterns("editions"))
    return tmp_path


@pytest.fixture
def run(root: Path) -> Run:
    """Run `guidegen read` there and return the exit code."""
    return lambda *words: main(["--root", str(root), "read", *words])


def change(root: Path, old: str, new: str) -> str:
    """Write other words into the procedure; return where they stand."""
    path = root / PROCEDURE
    text = path.read_text(encoding="utf-8")
    assert text.count(old) == 1
    path.write_text(text.replace(old, new), encoding="utf-8")
    before = text[: text.index(old)]
    return f"{PROCEDURE}:{before.count(chr(10)) + 1}:{len(before) - before.rfind(chr(10))}"


def test_everything_of_the_demonstration_is_confirmed(run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    """And the file says that this is invented."""
    assert run() == 0
    assert capsys.readouterr().out == "every text is confirmed\n"
    assert "Invented" in (DEMONSTRATION / PATH).read_text(encoding="utf-8").splitlines()[1]


def test_an_entry_is_the_hash_of_the_words_with_role_and_day(root: Path) -> None:
    """As anyone can compute it."""
    found = hashlib.sha256(STOP.encode()).hexdigest()[:32]
    lines = (root / PATH).read_text(encoding="utf-8").splitlines()
    assert f"  - {{text: {found}, role: maker, date: 2026-11-29}}" in lines


def test_a_changed_word_is_unread_again(run: Run, root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """It is printed with its place, and nothing else is."""
    place = change(root, STOP, OTHER)
    assert run() == 0
    shown = capsys.readouterr().out.splitlines()
    assert shown[:2] == [place, f"  {OTHER}"]
    assert re.fullmatch(r"1 of \d+ texts are not confirmed", shown[2])


def test_an_unread_text_stops_the_check_at_its_place(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """TXT02, once, with the command that fixes it."""
    place = change(root, STOP, OTHER)
    assert main(["--root", str(root), "check", "-q"]) == 1
    shown = [line for line in capsys.readouterr().err.splitlines() if "TXT" in line or "guidegen read" in line]
    assert shown == [f"{place}: TXT02 nobody has confirmed this text: {OTHER}",
                     "  fix: read it and confirm: guidegen read"]  # fmt: skip


def test_a_text_with_an_act_stops_the_check_although_it_was_read(
    run: Run, root: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Confirming does not make a dangerous text harmless."""
    place = change(root, "Both leads stay under it.", "Both leads are pulled off first.")
    assert run("--confirm", "--all", "--role", "maker", "-q") == 0
    assert main(["--root", str(root), "check", "-q"]) == 1
    shown = [line for line in capsys.readouterr().err.splitlines() if line.startswith(PROCEDURE)]
    assert [line.split(" ")[1] for line in shown] == ["TXT01"]
    assert shown[0].startswith(place.rsplit(":", 1)[0])


def test_confirming_all_adds_the_new_words_and_drops_what_is_gone(
    run: Run, root: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """One line of the file goes, one comes, and every other stays; twice makes no difference."""
    change(root, STOP, OTHER)
    before = (root / PATH).read_text(encoding="utf-8")
    assert run("--confirm", "--all", "--role", "proof reader", "--date", "2026-12-01") == 0
    assert f"  {OTHER}\n" in capsys.readouterr().out
    after = (root / PATH).read_text(encoding="utf-8")
    old, new = (hashlib.sha256(text.encode()).hexdigest()[:32] for text in (STOP, OTHER))
    line = f"  - {{text: {new}, role: proof reader, date: 2026-12-01}}\n"
    assert after == before.replace(f"  - {{text: {old}, role: maker, date: 2026-11-29}}\n", line)
    assert run("--confirm", "--all", "--role", "somebody else") == 0
    assert (root / PATH).read_text(encoding="utf-8") == after


def test_each_text_is_asked_for_on_a_terminal(run: Run, root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Yes confirms that text, anything else leaves it, q ends."""
    change(root, STOP, OTHER)
    change(root, "Both leads stay under it.", "Both leads remain under it.")
    before = (root / PATH).read_text(encoding="utf-8")
    monkeypatch.setattr("sys.stdin.isatty", lambda: True)
    answers = iter(["n", "y"])
    monkeypatch.setattr("builtins.input", lambda question: next(answers))
    assert run("--confirm", "--role", "maker", "--date", "2026-12-01") == 0
    added = {*(root / PATH).read_text(encoding="utf-8").splitlines()} - {*before.splitlines()}
    assert [line.partition("date: ")[2] for line in added] == ["2026-12-01}"]
    monkeypatch.setattr("builtins.input", lambda question: "q")
    after = (root / PATH).read_bytes()
    assert run("--confirm", "--role", "maker") == 0
    assert (root / PATH).read_bytes() == after


@pytest.mark.parametrize("words", [
    ("--confirm",), ("--confirm", "--role", " "), ("--all",), ("--role", "maker"),
    ("--confirm", "--role", "maker", "--date", "yesterday"), ("--confirm", "--role", "maker"),
])  # fmt: skip
def test_nothing_is_confirmed_by_half_a_command(run: Run, root: Path, words: tuple[str, ...]) -> None:
    """Without a role, without --confirm, without a day that is one, without a terminal."""
    change(root, STOP, OTHER)
    before = (root / PATH).read_bytes()
    assert run(*words) == 2
    assert (root / PATH).read_bytes() == before


def test_a_workshop_without_the_file_gets_it(run: Run, root: Path) -> None:
    """The same bytes as the demonstration's, but for what it says of itself."""
    wanted = (root / PATH).read_text(encoding="utf-8").splitlines()
    (root / PATH).unlink()
    assert run("--confirm", "--all", "--role", "maker", "--date", "2026-11-29") == 0
    made = (root / PATH).read_text(encoding="utf-8").splitlines()
    assert made == [wanted[0], *wanted[2:]]


def test_an_entry_that_is_none_is_refused(run: Run, root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A hash is 32 hex digits, at its place."""
    (root / PATH).write_text("read:\n  - {text: all, role: maker, date: 2026-11-29}\n", encoding="utf-8")
    assert run() == 1
    assert f"{PATH}:2:12" in capsys.readouterr().err
