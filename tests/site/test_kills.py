"""Every command that writes, killed at any moment: nothing is torn, and the same command again does the rest.

`make test` kills a few times, `make harden` a thousand times, spread evenly over the commands and over the time that
each takes; GUIDEGEN_KILLS says another number. Half of the kills take the programs with them that a command started, as
when the machine goes; the other half leave them running. The seed is printed with the figures; GUIDEGEN_SEED repeats
it.
"""

from __future__ import annotations

import os
import random
import shutil
import subprocess
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from guidegen.editions import place, verify
from tests.editions_workshop import change_torque, commit, git, lay_down
from tests.site.killing import Forks
from tests.site.surroundings import LOG, LOGGED, log_shot
from tests.whole import WHOLE

pytestmark = pytest.mark.slow

SEED = int(os.environ.get("GUIDEGEN_SEED", random.SystemRandom().randrange(2**32)))
KILLS = int(os.environ.get("GUIDEGEN_KILLS", 1000 if WHOLE else 24))
QUICK = ("--draws", "0")
SOLD = ("--variant", "plain-one", "--kit", "collar", "--revision", "1.10", "--edition", "2025.2", "--customer", "A. N.")


def without_pages(root: Path) -> None:
    """As a fresh clone has it."""
    shutil.rmtree(root / "site")


def edited(root: Path) -> None:
    """A value was changed since the last build."""
    path = root / "machines" / "plain" / "family.yml"
    path.write_text(path.read_text("utf-8").replace("water: 100 ml", "water: 110 ml"), "utf-8")


def committed(root: Path) -> None:
    """And that was committed."""
    edited(root)
    commit(root)


def undelivered(root: Path) -> None:
    """The branch is where it was before the second edition."""
    git(root, "branch", "--force", "published", "published~1")


@dataclass(frozen=True)
class Killed:
    """A command to kill."""

    words: tuple[str, ...]
    before: Callable[[Path], object] = lambda root: None
    """What makes it have something to do."""
    listed: tuple[str, ...] = ("2025.2", "2025.1")
    """The editions that are published when it is done."""
    again: tuple[int, ...] = (0,)
    """How the same command may end where it had been done before it was killed."""
    at: Callable[[Path], object] = lambda root: place.published(root / "site")
    """What changes at the one moment from which on the command counts as done."""


COMMANDS = {
    "build": Killed(("build", *QUICK), edited, at=lambda root: held(root, "site/next")),
    "publish": Killed(("publish", "2025.3", "--note", "Look.", *QUICK), committed, ("2025.3", "2025.2", "2025.1")),
    "deliver": Killed(("deliver",), undelivered, at=lambda root: git(root, "rev-parse", "published")),
    "deliver to a folder": Killed(("deliver", "--folder", "out"), at=lambda root: held(root, "out")),
    "recover": Killed(("recover",), without_pages),
    "anew": Killed(("editions", "--anew"), without_pages, (), at=lambda root: held(root, "site")),
    "unit add": Killed(("unit", "add", "K-2", *SOLD), again=(0, 4), at=lambda root: held(root, "units")),
    "run add": Killed(
        ("run", "add", LOG, *LOGGED), log_shot, again=(0, 2), at=lambda root: held(root, "machines/plain/runs")
    ),
    "plan": Killed(
        ("plan", "plain-one", "collar", "--draws", "64", "--probe", "outlet", "--out", "plan.pdf"),
        at=lambda root: (root / "plan.pdf").is_file(),
    ),
    "withdraw": Killed(
        ("withdraw", "2025.1", "plain-one/collar", "--because", "It may leak."),
        at=lambda root: held(root, "content/editions"),
    ),
}
PHASES = ("before the first file", "while it wrote", "done but for the rest", "with all written", "never, it had ended")
"""Where a kill met a command; it is done from the one moment on that `Killed.at` looks at."""


def held(root: Path, *below: str) -> dict[str, bytes]:
    """Every file of a workshop but those that only say what lies there, or of some of its folders.

    What is left out is not looked at either: a program that a killed command started may still be writing there.
    """
    folders = [root / one for one in below] or [one for one in root.iterdir() if one.name not in (".git", ".guidegen")]
    paths = {path for folder in folders for path in (folder, *folder.rglob("*")) if path.is_file()}
    return {path.relative_to(root).as_posix(): path.read_bytes() for path in sorted(paths)}


def rests(root: Path) -> list[str]:
    """What is only there while something is written."""
    names = [path.relative_to(root).as_posix() for path in root.rglob("*")]
    return [name for name in names if name.endswith((".part", ".lock")) or place.is_rest(name.rpartition("/")[2])]


def tree(root: Path) -> str:
    """What is delivered."""
    return git(root, "rev-parse", "published^{tree}")


@pytest.fixture(scope="module")
def forks() -> Iterator[Forks]:
    """What starts the commands."""
    forks = Forks()
    yield forks
    forks.close()


@pytest.fixture(scope="module")
def start(forks: Forks, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A workshop of one variant and one kit: two editions, delivered one after the other, a unit, a draft."""
    root = lay_down(tmp_path_factory.mktemp("kills") / "workshop")
    (root / "machines" / "plain" / "two.yml").unlink()
    commit(root)

    def done(*words: str) -> None:
        code, _ = forks.run(root, words)
        assert code == 0, forks.said.read_text("utf-8")
        commit(root)

    done("publish", "2025.1", *QUICK)
    done("deliver")
    change_torque(root)
    done("publish", "2025.2", "--note", "Tighten.", *QUICK)
    done("deliver")
    done("unit", "add", "K-1", *SOLD)
    done("build", *QUICK)
    return root


@pytest.mark.parametrize("name", COMMANDS)
def test_a_killed_command_tears_nothing_and_is_finished_by_the_next(
    forks: Forks, start: Path, tmp_path: Path, name: str, record_property: Callable[[str, object], None]
) -> None:
    """What is listed is whole at every moment; run again it leaves the very bytes of a run that nobody killed."""
    one = COMMANDS[name]
    template = copied(start, tmp_path / "template")
    one.before(template)
    whole = copied(template, tmp_path / "whole")
    times = []
    for _ in range(2):
        shutil.rmtree(whole)
        copied(template, whole)
        code, took = forks.run(whole, one.words)
        assert code == 0, forks.said.read_text("utf-8")
        times.append(took)
    assert verify.verify(whole) == ()
    share = KILLS // len(COMMANDS) + (list(COMMANDS).index(name) < KILLS % len(COMMANDS))
    chance, seen, longest = random.Random(f"{SEED} {name}"), Counter[str](), max(times)
    for number in range(share):
        # Evenly over the time, and at random within each part of it.
        wait = longest * (number + chance.random()) / share
        said = f"GUIDEGEN_SEED={SEED}, {name}, kill {number} of {share} after {wait:.3f} s of {longest:.3f} s"
        seen[killed(forks, one, (template, whole), wait, bool(number % 2), tmp_path / "killed", said)] += 1
    phases = ", ".join(f"{seen[phase]} {phase}" for phase in PHASES)
    record_property("figures", f"kills: {name}: {share} within {longest:.2f} s, seed {SEED}: {phases}")


def copied(source: Path, target: Path) -> Path:
    """A copy of a workshop; what is written is always a new file, so the old ones can be shared."""
    subprocess.run(["cp", "-a", str(source), str(target)], check=True)
    return target


def killed(forks: Forks, one: Killed, known: tuple[Path, Path], wait: float, alone: bool, root: Path, said: str) -> str:
    """Kill a command once, look, run it again, look again; returns where it was met."""
    template, whole = known
    shutil.rmtree(root, ignore_errors=True)
    copied(template, root)
    code, _ = forks.run(root, one.words, wait, alone)
    assert code in (-9, 0), said
    phase = PHASES[-1] if code == 0 else met(one, template, whole, root)
    listed = place.published(root / "site")
    assert {*place.published(template / "site")} <= {*listed} <= {*one.listed}, said
    assert torn(root, template, one.words[0]) == [], said
    code, _ = forks.run(root, one.words)
    assert code in one.again, f"{said}\n{forks.said.read_text('utf-8')}"
    forks.sweep()
    assert verify.verify(root) == (), said
    assert rests(root) == [], said
    assert tree(root) == tree(whole), said
    after, expected = held(root), held(whole)
    assert {path for path in {*after, *expected} if after.get(path) != expected.get(path)} == set(), said
    return phase


def torn(root: Path, template: Path, command: str) -> list[str]:
    """What is not whole of the editions that are listed.

    While a guide is called back, its pages are exchanged one by one; then each original is there, or put by.
    """
    listed = place.published(root / "site")
    if command != "withdraw":
        faults = [fault for edition in listed for fault in verify.of_edition(root, edition, root / "site" / edition)]
        return [f"{fault.path}: {fault.what}" for fault in faults]
    now = held(root, *(f"site/{edition}" for edition in listed))
    kept = {*now.values()}
    originals = held(template, *(f"site/{edition}" for edition in listed))
    return [path for path, data in originals.items() if now.get(path) != data and data not in kept]


def met(one: Killed, template: Path, whole: Path, root: Path) -> str:
    """Where the kill met the command, by what lies there."""
    now, after = held(root), one.at(root)
    if after == one.at(whole):
        return PHASES[3] if now == held(whole) else PHASES[2]
    return PHASES[0] if now == held(template) and after == one.at(template) else PHASES[1]
