"""Who vouches for an edition: the workshop's history, and whoever signs, if somebody does. A forger does neither."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest

from guidegen.commands import main
from guidegen.editions import commands, kept, place, signing, verify
from guidegen.editions.edition import FILE
from guidegen.problems import RefusedProblem, UsageProblem
from tests.unit.editions.conftest import Publish, commit
from tests.unit.editions.small import edition

pytestmark = pytest.mark.skipif(shutil.which("ssh-keygen") is None, reason="no ssh-keygen on this machine")

SIGNED = "content/editions/1/SHA256SUMS.sha256.sig"


def key(folder: Path, name: str = "key") -> Path:
    """A key without a passphrase."""
    path = folder / name
    subprocess.run(["ssh-keygen", "-q", "-t", "ed25519", "-N", "", "-C", "", "-f", str(path)], check=True)
    return path


def allow(root: Path, *keys: Path) -> None:
    """Let these sign, and commit that."""
    rows = [f"maker@workshop.example {' '.join(one.with_suffix('.pub').read_text().split()[:2])}\n" for one in keys]
    (root / signing.SIGNERS).write_text("".join(rows), encoding="utf-8")
    commit(root)


@pytest.fixture
def signed(root: Path, publish: Publish, tmp_path: Path) -> Path:
    """A workshop with one edition, signed."""
    mine = key(tmp_path)
    allow(root, mine)
    publish("1")
    signing.refuse_key(root, mine)
    signing.sign(root, "1", mine)
    commit(root)
    return root


def faults(root: Path) -> list[str]:
    """What verify prints."""
    return [str(one) for one in verify.verify(root)]


def test_a_signature_that_is_good_is_no_fault_and_openssh_itself_agrees(signed: Path) -> None:
    """By its own command, without guidegen."""
    assert faults(signed) == []
    seal = (signed / "content/editions/1/SHA256SUMS.sha256").read_bytes()
    command = ["ssh-keygen", "-Y", "verify", "-f", str(signed / signing.SIGNERS), "-I", "maker@workshop.example",
               "-n", "guidegen-edition", "-s", str(signed / SIGNED)]  # fmt: skip
    assert subprocess.run(command, input=seal, capture_output=True).returncode == 0


def test_a_seal_that_was_changed_with_all_that_it_vouches_for_is_found_out(signed: Path) -> None:
    """Without the key nobody can sign the other one."""
    path = signed / "content/editions/1/SHA256SUMS.sha256"
    before = path.read_bytes()
    (signed / "site/1/index.html").write_bytes(b"forged")
    inside = {one.relative_to(signed / "site/1").as_posix(): one.read_bytes() for one in (signed / "site/1").rglob("*")
              if one.is_file() and one.name != "SHA256SUMS"}  # fmt: skip
    sums = place.sums_of(inside)
    (signed / "site/1/SHA256SUMS").write_bytes(sums)
    path.write_bytes(before.replace(before[:64], place.digest(sums).encode()))
    assert faults(signed) == [f"{SIGNED}: not what maker@workshop.example signed"]


def test_a_stranger_s_signature_is_found_out(signed: Path, tmp_path: Path) -> None:
    """Good by itself, and of nobody that may sign."""
    signing.sign(signed, "1", key(tmp_path, "stranger"))
    assert faults(signed) == [f"{SIGNED}: signed by nobody that content/signers lists"]
    (signed / signing.SIGNERS).unlink()
    assert "there is no content/signers" in faults(signed)[0]


def test_once_signed_editions_stay_signed(signed: Path, publish: Publish) -> None:
    """One without is named, and publishing without a key is refused."""
    publish("2", "1")
    assert faults(signed) == ["content/editions/2: not signed, and an edition before it is"]
    with pytest.raises(RefusedProblem, match="give the key of one of content/signers with --sign"):
        signing.refuse_key(signed, None)


def test_a_key_that_nobody_would_believe_is_refused_before_anything_is_published(signed: Path, tmp_path: Path) -> None:
    """With the line that would let it sign."""
    with pytest.raises(RefusedProblem, match="echo 'NAME@WORKSHOP ssh-ed25519 "):
        signing.refuse_key(signed, key(tmp_path, "other"))
    with pytest.raises(UsageProblem, match="there is no public key"):
        signing.refuse_key(signed, tmp_path / "nowhere")


def test_a_forged_edition_is_not_brought_back(signed: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Whole by its own sums, listed, and known to nobody here: nothing vouches for it."""
    out = tmp_path / "out"
    commands.deliver_to(signed, "published", out)
    files = {"index.html": b"<p>forged</p>", FILE: edition("2", "1").to_bytes()}
    for path, data in {**files, "SHA256SUMS": place.sums_of(files)}.items():
        (out / "2").mkdir(exist_ok=True)
        (out / "2" / path).write_bytes(data)
    (out / place.VERSIONS).write_bytes(place.versions_bytes(["2", "1"]))
    assert main(["--root", str(signed), "recover", "--folder", str(out)]) == 4
    assert "holds editions that nothing here vouches for: 2" in capsys.readouterr().err
    assert kept.names(signed) == ("1",)
    assert faults(signed) == []


def test_what_is_badly_signed_is_not_brought_back(signed: Path, tmp_path: Path) -> None:
    """Though its bytes are those of the seal."""
    out = tmp_path / "out"
    commands.deliver_to(signed, "published", out)
    signing.sign(signed, "1", key(tmp_path, "stranger"))
    with pytest.raises(RefusedProblem, match="edition 1 is signed by nobody that content/signers lists"):
        commands.recover(signed, "published", out)


def test_without_openssh_a_signature_cannot_be_judged(signed: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """That is said, and is no silence."""
    monkeypatch.setenv("PATH", "")
    assert faults(signed) == [
        "content/signers: cannot be judged: ssh-keygen is not installed, and signatures are OpenSSH's"
    ]
