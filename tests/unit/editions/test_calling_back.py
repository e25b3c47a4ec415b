"""A guide is called back whatever else is broken: noted, stopped, and every owner who fitted by it is found."""

from __future__ import annotations

import json
import shutil
import stat
from collections.abc import Callable
from pathlib import Path

import pytest

from guidegen.commands import main
from guidegen.editions import around, commands, verify, withdrawals
from tests.unit.editions.conftest import Publish
from tests.unit.editions.test_units_sold import unit

pytestmark = pytest.mark.slow

GUIDE = "plain-one/collar"
PAGE = f"site/1/guides/{GUIDE}/install.html"
BECAUSE = "The bolts may shear."


@pytest.fixture
def sold(root: Path, publish: Publish) -> Path:
    """Three editions with the same guide, and a unit sold with each."""
    publish("1")
    publish("2", "1")
    publish("3", "2")
    for edition in ("1", "2", "3"):
        commands.add_unit(root, unit(f"K-{edition}", edition))
    commands.add_unit(root, unit("K-other", "1", "plain-two"))
    return root


def written(path: str, data: bytes) -> Callable[[Path], None]:
    """A file that holds something else."""

    def write(root: Path) -> None:
        (root / path).write_bytes(data)

    return write


def without_git(root: Path) -> None:
    """No history."""
    shutil.rmtree(root / ".git")


BROKEN: dict[str, tuple[Callable[[Path], None], int]] = {
    "an empty workshop.yml": (written("content/workshop.yml", b""), 0),
    "a workshop.yml that is no YAML": (written("content/workshop.yml", b"contact: [\n\x00"), 0),
    "a workshop.yml of other bytes": (written("content/workshop.yml", b"\xff\xfe\xfd"), 0),
    "no workshop.yml": (lambda root: (root / "content/workshop.yml").unlink(), 0),
    "no mkdocs.yml": (lambda root: (root / "mkdocs.yml").unlink(), 1),
    "a mkdocs.yml that is no YAML": (written("mkdocs.yml", b"["), 1),
    "broken offers": (written("content/offers.yml", b"{"), 1),
    "another edition's facts": (written("content/editions/2/edition.json", b"{"), 1),
    "another edition's sums": (written("site/2/SHA256SUMS", b"x"), 1),
    "a snapshot": (written("content/editions/1/shared.json", b"{"), 1),
    "the edition's own facts": (written("content/editions/1/edition.json", b"{"), 1),
    "the list of versions": (written("site/versions.json", b"["), 1),
    "a unit": (written("units/K-0.json", b"{"), 0),
    "no history": (without_git, 0),
}


@pytest.mark.parametrize("broken", BROKEN)
def test_a_withdrawal_works_whatever_else_is_broken(
    sold: Path, broken: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Noted and stopped; where something could not be shown yet, that is said with what to correct."""
    act, code = BROKEN[broken]
    act(sold)
    monkeypatch.setenv("GIT_CEILING_DIRECTORIES", str(sold.parent))
    assert main(["--root", str(sold), "withdraw", "1", GUIDE, "--because", BECAUSE]) == code
    printed = "".join(capsys.readouterr())
    assert [one.guide for one in withdrawals.read(sold)] == [GUIDE]
    assert "K-1" in printed
    assert "K-2, K-3" in printed
    if broken != "the list of versions":
        assert b"Stop." in (sold / PAGE).read_bytes()
    if broken == "a unit":
        assert "units/K-0.json" in printed
    if code:
        assert "correct this, then deliver" in printed


def test_what_could_not_be_shown_is_shown_by_the_next_command(sold: Path) -> None:
    """As soon as it can be read again."""
    settings = (sold / "mkdocs.yml").read_bytes()
    (sold / "mkdocs.yml").write_bytes(b"[")
    assert main(["--root", str(sold), "withdraw", "1", GUIDE, "--because", BECAUSE]) == 1
    (sold / "mkdocs.yml").write_bytes(settings)
    around.refresh(sold)
    assert BECAUSE in (sold / "site" / "notices.json").read_text(encoding="utf-8")
    assert verify.verify(sold) == ()


def test_owners_of_every_edition_that_has_the_guide_are_named_and_kept(sold: Path) -> None:
    """For the maker alone, once for each; what was ticked off in the list stays so."""
    message = commands.withdraw(sold, "2", GUIDE, BECAUSE, None)
    assert "write to the owners of: K-2\n" in message
    assert "and, because other editions have such a guide, to those of: K-1, K-3\n" in message
    assert "K-other" not in message
    path = sold / "units" / "to-write.txt"
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert path.read_text(encoding="utf-8").splitlines() == [
        f"2025-03-01  K-1  {GUIDE}, edition 1: withdrawn from 2, and edition 1 has such a guide: {BECAUSE}",
        f"2025-03-01  K-2  {GUIDE}, edition 2: withdrawn from 2: {BECAUSE}",
        f"2025-03-01  K-3  {GUIDE}, edition 3: withdrawn from 2, and edition 3 has such a guide: {BECAUSE}",
    ]
    path.write_text("K-1: letter sent\n" + path.read_text(encoding="utf-8"), encoding="utf-8")
    commands.withdraw(sold, "1", GUIDE, BECAUSE, None)
    assert path.read_text(encoding="utf-8").startswith("K-1: letter sent\n")
    assert len(path.read_text(encoding="utf-8").splitlines()) == 7


def test_an_edition_that_is_not_here_is_withdrawn_as_well(sold: Path) -> None:
    """From what is kept of it, as on a fresh clone."""
    shutil.rmtree(sold / "site")
    shutil.rmtree(sold / ".guidegen")
    commands.withdraw(sold, "1", GUIDE, BECAUSE, None)
    held = json.loads((sold / "content" / "editions" / "withdrawn.json").read_bytes())
    assert [one["guide"] for one in held["withdrawn"]] == [GUIDE]


def test_a_withdrawal_that_is_killed_loses_no_owner(
    sold: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Owners are written down before it counts, so whoever runs it again is told of all, and nobody twice."""

    def killed(*given: object) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as dying:
        dying.setattr(withdrawals, "write_atomically", killed)
        main(["--root", str(sold), "withdraw", "1", GUIDE, "--because", BECAUSE])
    assert withdrawals.read(sold) == ()
    capsys.readouterr()
    assert main(["--root", str(sold), "withdraw", "1", GUIDE, "--because", BECAUSE]) == 0
    assert "write to the owners of: K-1" in capsys.readouterr().out
    letters = (sold / "units" / "to-write.txt").read_text(encoding="utf-8").splitlines()
    assert sorted(line.split()[1] for line in letters) == ["K-1", "K-2", "K-3"]


def test_a_withdrawal_counts_where_its_owners_cannot_be_written_down(
    sold: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """They are named all the same, with what stood in the way."""
    (sold / "units" / "to-write.txt").mkdir()
    assert main(["--root", str(sold), "withdraw", "1", GUIDE, "--because", BECAUSE]) == 1
    printed = "".join(capsys.readouterr())
    assert [one.guide for one in withdrawals.read(sold)] == [GUIDE]
    assert "write to the owners of: K-1" in printed
    assert "to-write.txt" in printed
