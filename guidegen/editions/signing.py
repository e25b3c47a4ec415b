"""Signatures of editions, by OpenSSH: whoever may sign stands in `content/signers`, as ssh-keygen's allowed signers.

They are optional. What is signed is the seal of an edition, which holds the sum of its sums and of all that is
kept of it. Trust rests on the workshop's history: who may change `content/signers` there may say who signs.
"""

from __future__ import annotations

import subprocess
from collections.abc import Iterator
from pathlib import Path

from guidegen.editions import kept
from guidegen.problems import EnvironmentProblem, RefusedProblem, UsageProblem
from guidegen.reading import bytes_of
from guidegen.writing import write_atomically

SIGNERS = "content/signers"
SIGNATURE = f"{kept.SEAL}.sig"
NAMESPACE = "guidegen-edition"
"""What a signature is for: one that was made for a letter signs no edition."""


def path_of(root: Path, name: str) -> Path:
    """Where an edition's signature is kept."""
    return kept.folder_of(root, name) / SIGNATURE


def refuse_key(root: Path, key: Path | None) -> None:
    """Raise where an edition could not be signed by this key, or where none is given and editions are signed here."""
    if key is None:
        if (root / SIGNERS).is_file() and any(path_of(root, name).is_file() for name in kept.names(root)):
            raise RefusedProblem(f"editions are signed here; give the key of one of {SIGNERS} with --sign")
        return
    public = key.with_name(f"{key.name.removesuffix('.pub')}.pub")
    try:
        kind, blob, *_ = bytes_of(public).decode().split()
    except (OSError, ValueError) as error:
        raise UsageProblem(f"there is no public key {public.as_posix()}; ssh-keygen makes both") from error
    signers = bytes_of(root / SIGNERS).decode(errors="replace") if (root / SIGNERS).is_file() else ""
    if blob not in signers.split():
        raise RefusedProblem(
            f"{public.as_posix()} is not among {SIGNERS}, so nobody would believe it\n"
            f"  fix: echo 'NAME@WORKSHOP {kind} {blob}' >> {SIGNERS}, and commit it"
        )


def sign(root: Path, name: str, key: Path) -> Path:
    """Sign an edition that is kept, and keep the signature beside its seal."""
    seal = bytes_of(kept.folder_of(root, name) / kept.SEAL)
    done = _ssh_keygen("sign", "-f", str(key), data=seal)
    if done.returncode:
        raise EnvironmentProblem(
            f"edition {name} is published and not signed, because ssh-keygen says: {_said(done)}; run the same again"
        )
    write_atomically(path_of(root, name), done.stdout)
    return path_of(root, name)


def wrong(root: Path, name: str) -> str | None:
    """What is wrong with an edition's signature; None where it is good, or where there is none."""
    path = path_of(root, name)
    if not path.is_file():
        return None
    if not (root / SIGNERS).is_file():
        return f"signed, and there is no {SIGNERS} that says by whom that may be"
    signers = str(root / SIGNERS)
    found = _ssh_keygen("find-principals", "-f", signers, "-s", str(path))
    if found.returncode:
        return f"signed by nobody that {SIGNERS} lists"
    who = found.stdout.decode(errors="replace").splitlines()[0]
    seal = bytes_of(kept.folder_of(root, name) / kept.SEAL)
    good = _ssh_keygen("verify", "-f", signers, "-I", who, "-s", str(path), data=seal)
    return f"not what {who} signed" if good.returncode else None


def unsigned(root: Path, line: list[str]) -> Iterator[str]:
    """The editions of the line that have no signature although one before them has."""
    begun = False
    for name in line:
        has = path_of(root, name).is_file()
        if begun and not has:
            yield name
        begun = begun or has


def _ssh_keygen(what: str, *words: str, data: bytes = b"") -> subprocess.CompletedProcess[bytes]:
    command = ["ssh-keygen", "-Y", what, "-n", NAMESPACE, *words]
    if what == "find-principals":
        command = ["ssh-keygen", "-Y", what, *words]
    try:
        return subprocess.run(command, input=data, capture_output=True, check=False)
    except OSError as error:
        raise EnvironmentProblem("ssh-keygen is not installed, and signatures are OpenSSH's") from error


def _said(done: subprocess.CompletedProcess[bytes]) -> str:
    return " ".join((done.stderr or done.stdout).decode(errors="replace").split())[:300] or "nothing"
