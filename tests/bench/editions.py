"""What is done with editions, on the demonstration with its records kept: publish, deliver, verify, changes, check.

A name is edited between two editions. What the second weighs is what the delivered branch grows by, packed by git with
a long window. Each command is a process of its own; what changes something runs once, what only looks takes turns.
"""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from functools import partial
from pathlib import Path

from tests.bench._aims import Aim, editing, guidegen, in_turn, run, say, seconds
from tests.bench.synthetic import keep_records, lay_down

FIRST, SECOND, DAY = "2027.1", "2027.2", "2026-12-01"
EDITED = ("machines/bracken/c.yml", "name: Bracken C", "name: Bracken C2")
MOST_MB = 0.2
WHO = ("-c", "user.name=A Bench", "-c", "user.email=bench@workshop.example")


def git(root: Path, *words: str) -> str:
    """Run git in the workshop."""
    return run(["git", *WHO, *words], root)


def commit(root: Path) -> None:
    """Commit everything."""
    git(root, "add", "--all")
    git(root, "commit", "--quiet", "--message", "Work", f"--date={DAY}T12:00:00+00:00")


def published(root: Path, name: str, *why: str) -> dict[str, float]:
    """Seconds of publishing and delivering an edition, and the branch's megabytes after it."""
    words = ("publish", name, *why, "--date", DAY)
    spent = {"publish": seconds(partial(guidegen, root, *words))}
    commit(root)
    spent["deliver"] = seconds(partial(guidegen, root, "deliver"))
    return {**spent, "MB": packed_mb(root)}


def packed_mb(root: Path) -> float:
    """How large the delivered branch is, and nothing else, packed."""
    with tempfile.TemporaryDirectory() as folder:
        git(root, "clone", "--quiet", "--bare", "--no-local", "--single-branch", "--branch", "published", ".", folder)
        git(Path(folder), "repack", "-a", "-d", "-f", "-q", "--window=50")
        return sum(path.stat().st_size for path in Path(folder).rglob("*.pack")) / 1e6


def main() -> Iterator[Aim]:
    """A line per edition, one for what only looks, and the aim of one more edition."""
    with tempfile.TemporaryDirectory() as folder:
        root = lay_down(Path(folder) / "workshop", 0)
        (root / ".gitignore").write_text("/site/\n/.guidegen/\n/units/\n", encoding="utf-8")
        keep_records(root)
        git(root, "init", "--quiet")
        commit(root)
        first = published(root, FIRST, "--note", "Nothing is to be done.")
        looks = {
            "verify": partial(guidegen, root, "verify"),
            "changes": partial(guidegen, root, "changes"),
            "list": partial(guidegen, root, "list"),
            "check": partial(guidegen, root, "check"),
            "build, nothing edited": partial(guidegen, root, "build"),
        }
        cold = seconds(looks["check"])
        looked = in_turn(looks)
        with editing(root / EDITED[0]) as put:
            put(*EDITED[1:])
            commit(root)
            second = published(root, SECOND, "--reason", "A variant has another name.")
    for made in (first, second):
        say(
            "editions",
            f"published in {made['publish']:.1f} s, delivered in {made['deliver']:.1f} s; {made['MB']:.1f} MB",
        )
    say(
        "editions",
        f"check {cold:.1f} s at first; then " + ", ".join(f"{one} {took:.2f} s" for one, took in looked.items()),
    )
    yield Aim(
        "one more edition", second["MB"] - first["MB"], MOST_MB, "MB", "the sheets: each names its edition inside"
    )
