"""Verifying survives what it is for: whatever a disk or a stranger did to a file, the file is named."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from guidegen.commands import main
from guidegen.editions import around, commands, verify
from tests.unit.editions.conftest import Publish, commit

pytestmark = pytest.mark.slow

SITE, KEPT = "site/1", "content/editions/1"
SUMS, VERSIONS = f"{SITE}/SHA256SUMS", "site/versions.json"

Damage = Callable[[bytes], bytes]
DEEP = b"[" * 100_000


def other(data: bytes) -> bytes:
    """One byte is another one."""
    return data[:-5] + bytes([data[-5] ^ 1]) + data[-4:]


def line(text: str) -> Damage:
    """A line more."""
    return lambda data: data + text.encode() + b"\n"


def nothing(data: bytes) -> bytes:
    """No byte is left."""
    return b""


def no_text(data: bytes) -> bytes:
    """Bytes that are no text."""
    return b"\xff\x00\xfe" + data


def without(text: bytes) -> Damage:
    """Something in it is called otherwise, so that a field is missing."""
    return lambda data: data.replace(text, b"x" * len(text))


def named_by(given: object) -> str | None:
    """A damage has no name that is the same in every worker; the path has."""
    return given if isinstance(given, str) else None


TOTAL = "0" * 64
DAMAGES: list[tuple[str, Damage, str]] = [
    (SUMS, other, "1/SHA256SUMS"),
    (SUMS, nothing, "1/SHA256SUMS"),
    (SUMS, no_text, "1/SHA256SUMS"),
    (SUMS, line("no sum"), "1/SHA256SUMS"),
    (SUMS, line(f"{TOTAL}  ../../units/K-1.json"), "1/SHA256SUMS"),
    (SUMS, line(f"{TOTAL}  /etc/passwd"), "1/SHA256SUMS"),
    (SUMS, line(f"{TOTAL}  index.html"), "1/SHA256SUMS"),
    (SUMS, without(b"edition.json"), "1/"),
    (f"{SITE}/edition.json", other, "1/edition.json"),
    (f"{SITE}/edition.json", nothing, "1/edition.json"),
    (f"{SITE}/snapshot/shared.json", other, "1/snapshot/shared.json"),
    (f"{KEPT}/edition.json", nothing, f"{KEPT}/edition.json"),
    (f"{KEPT}/edition.json", no_text, f"{KEPT}/edition.json"),
    (f"{KEPT}/edition.json", without(b"supersedes"), f"{KEPT}/edition.json"),
    (f"{KEPT}/edition.json", lambda data: DEEP, f"{KEPT}/edition.json"),
    (f"{KEPT}/shared.json", nothing, f"{KEPT}/shared.json"),
    (f"{KEPT}/shared.json", without(b"curves"), f"{KEPT}/shared.json"),
    (f"{KEPT}/plain-one.json", lambda data: DEEP, f"{KEPT}/plain-one.json"),
    (f"{KEPT}/plain-one.json", without(b"kits"), f"{KEPT}/plain-one.json"),
    (f"{KEPT}/SHA256SUMS.sha256", nothing, KEPT),
    (f"{KEPT}/SHA256SUMS.sha256", no_text, KEPT),
    (VERSIONS, nothing, "versions.json"),
    (VERSIONS, no_text, "versions.json"),
    (VERSIONS, lambda data: DEEP, "versions.json"),
    (VERSIONS, lambda data: b'[{"version": "../units"}]', "versions.json"),
    (VERSIONS, lambda data: b'[{"version": 5}]', "versions.json"),
    ("content/editions/withdrawn.json", lambda data: b"{", "withdrawn.json"),
    ("content/editions/withdrawn.json", lambda data: b'{"withdrawn": 5}', "withdrawn.json"),
    ("content/offers.yml", lambda data: b"{", "offers.yml"),
    ("site/notices.json", other, "notices.json"),
    ("site/feed.xml", nothing, "feed.xml"),
]


@pytest.mark.parametrize(("path", "damage", "named"), DAMAGES, ids=named_by)
@pytest.mark.parametrize("is_noted", [True, False], ids=["as it was left", "with nothing noted"])
def test_what_is_damaged_is_named_and_nothing_ends(
    root: Path, publish: Publish, path: str, damage: Damage, named: str, is_noted: bool,
    capsys: pytest.CaptureFixture[str],
) -> None:  # fmt: skip
    """With the exit code of a mistake in what is here, also on another machine, where nothing is noted."""
    publish("1")
    target = root / path
    target.write_bytes(damage(target.read_bytes() if target.is_file() else b""))
    if not is_noted:
        shutil.rmtree(root / ".guidegen")
    capsys.readouterr()
    assert main(["--root", str(root), "verify"]) == 1
    assert named in capsys.readouterr().out


@pytest.mark.parametrize(
    ("path", "damage"),
    [(KEPT + "/shared.json", nothing), (KEPT + "/plain-one.json", without(b"kits"))],
    ids=["emptied", "without"],
)
def test_a_snapshot_is_compared_with_its_sums_where_no_page_is_here(
    root: Path, publish: Publish, path: str, damage: Damage
) -> None:
    """As on a fresh clone."""
    publish("1")
    shutil.rmtree(root / "site")
    assert verify.verify(root) == ()
    (root / path).write_bytes(damage((root / path).read_bytes()))
    assert [str(fault) for fault in verify.verify(root)] == [f"{path}: changed"]


def test_a_snapshot_that_nothing_vouches_for_is_at_least_read(root: Path, publish: Publish) -> None:
    """Editions that an older program kept have no sums of their snapshots."""
    publish("1")
    shutil.rmtree(root / "site")
    seal = root / KEPT / "SHA256SUMS.sha256"
    seal.write_bytes(seal.read_bytes().split(b"\n")[0] + b"\n")
    assert verify.verify(root) == ()
    (root / KEPT / "plain-one.json").write_bytes(b"{}")
    assert "content/editions/1: cannot be judged: edition 1: its snapshot is damaged" in str(verify.verify(root)[0])


@pytest.mark.parametrize("text", ["", "contact\n", "[", "contact: 5\nlanguage: [a]\n", "\x00"])
def test_a_broken_workshop_file_is_none_of_its_business(root: Path, publish: Publish, text: str) -> None:
    """`check` names it; here at most what was made from it is old."""
    publish("1")
    (root / "content" / "workshop.yml").write_text(text, encoding="utf-8")
    assert {fault.what for fault in verify.verify(root)} <= {verify.OLD}


def state(root: Path) -> dict[str, tuple[int, int]]:
    """Every path with its size and when it was changed."""
    return {str(path): (path.stat().st_size, path.stat().st_mtime_ns) for path in [root, *root.rglob("*")]}


def test_looking_writes_nothing(root: Path, publish: Publish) -> None:
    """Not where all is well, not where something is damaged or old, and not where nothing was ever built."""
    publish("1")
    rest = root / "site" / ".prepared-2"
    rest.mkdir()
    (root / "content" / "workshop.yml").write_text("contact: bench@workshop.example\n", encoding="utf-8")
    for _ in range(2):
        before = state(root)
        main(["--root", str(root), "verify"])
        assert state(root) == before
        (root / "site" / "1" / "index.html").write_bytes(b"other")
        shutil.rmtree(root / ".guidegen", ignore_errors=True)
    around.refresh(root)
    assert not rest.exists()


def test_a_translated_stop_page_is_no_fault(root: Path, publish: Publish) -> None:
    """It is judged in the language in which it was made."""
    words = 'msgid ""\nmsgstr "Content-Type: text/plain; charset=utf-8\\n"\n\n'
    words += 'msgid "Stop. Do not work by this guide."\nmsgstr "Halt."\n'
    (root / "content" / "words").mkdir()
    (root / "content" / "words" / "de.po").write_text(words, encoding="utf-8")
    (root / "content" / "workshop.yml").write_text("contact: a\nlanguage: de\n", encoding="utf-8")
    publish("1")
    commit(root)
    commands.withdraw(root, "1", None, "Because.", None)
    assert b"Halt." in (root / "site" / "1" / "guides" / "plain-one" / "collar" / "install.html").read_bytes()
    assert verify.verify(root) == ()


def test_a_fresh_clone_has_no_faults(root: Path, publish: Publish) -> None:
    """Nothing was built or brought back there, and nothing is wrong."""
    publish("1")
    shutil.rmtree(root / "site")
    shutil.rmtree(root / ".guidegen")
    (root / "site").mkdir()
    (root / "site" / ".gitkeep").touch()
    assert verify.verify(root) == ()
