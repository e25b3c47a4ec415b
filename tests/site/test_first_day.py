"""The first day of a maker who has the wheel and nothing else: a machine of another size, a kit of an own, a guide.

A boiler of 300 ml on 120 V with a thermostat, and a coil of 6 mm × 1 mm that is 1.2 m long. What the maker types and
what the maker edits stands here in its order; only files of the own workshop are edited. How long the machine takes is
reported with the figures of the run; how long a person takes, nobody measured.
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

import pytest

REPOSITORY = Path(__file__).parents[2]
PIP = (sys.executable, "-m", "pip", "--disable-pip-version-check", "--quiet")
COMMITTER = {f"GIT_{who}_{what}": "m@bench.example" for who in ("AUTHOR", "COMMITTER") for what in ("NAME", "EMAIL")}
OPTIONS = ("--no-deps", "--no-index", "--no-build-isolation")
MOST_CHECKS = 3
"""Runs of `guidegen check` until nothing is left to do, at most."""
VARIANT, KIT = "rowan-r3", "warm-feed"

COIL = """\
  - kind: feed_coil
    tube: {material: copper, outside: 6 mm ± 0.05 mm, wall: 1 mm ± 0.05 mm, temper: annealed}
    length: 1.2 m ± 10 mm
    layers_max: 2
    gap: 0 mm
    tails: {inlet: 90 mm ± 5 mm, outlet: 90 mm ± 5 mm}
    fittings_mass: 40 g ± 2 g
    joined: clamped
    put_on: in-place
    outer_layer: lower-end
"""
SOURCES = """\
  bench-1:
    title: Notes from the bench
    kind: bench
    note: The machine was weighed and measured unplugged and cold.
  data-sheets:
    title: Data sheets of tube and fittings
    kind: manual
    note: Ratings and declarations of their makers.
"""
MEASURED = {
    "mains.connection": "corded",
    "mains.lead_length": "1.5 m ± 0.05 m",
    "boiler.material": "brass",
    "boiler.mass": "1.2 kg ± 20 g",
    "boiler.water": "300 ml ± 5 ml",
    "boiler.diameter": "90 mm ± 0.3 mm",
    "boiler.straight_wall": "70 mm ± 0.5 mm",
    "boiler.height": "78 mm ± 0.5 mm",
    "boiler.flange": "128 mm ± 0.5 mm",
    "boiler.wall": "3 mm ± 0.2 mm",
    "boiler.clearance": "25 mm ± 1 mm",
    "boiler.gasket": "90 × 2 mm",
    "boiler.insulation": "none",
    "boiler.bolts.count": "6",
    "boiler.bolts.thread": "M5",
    "boiler.bolts.class": "A2-70",
    "boiler.bolts.circle": "110 mm ± 0.5 mm",
    "boiler.bolts.engagement": "9 mm ± 0.5 mm",
    "boiler.bolts.undone_from": "below",
    "boiler.bolts.head": "8.5 mm ± 0.1 mm",
    "boiler.bolts.head_room": "10 mm ± 0.5 mm",
    "boiler.bolts.torque": "5 N·m ± 0.5 N·m",
    "heater.kind": "sheath",
    "heater.power": "1300 W ± 30 W",
    "heater.terminal_distance": "40 mm ± 1 mm",
    "heater.leads": "silicone, crimped tabs",
    "group.material": "brass",
    "group.mass": "1.35 kg ± 0.02 kg",
    "sensor.kind": "thermostat",
    "sensor.place": "screwed to the boiler",
    "control.opens": "104 °C ± 2 K",
    "control.closes": "97 °C ± 2 K",
    "control.lag": "5 s ± 2 s",
    "water_path.relief_branch": "upstream",
    "water_path.relief_opens": "11 bar ± 0.5 bar",
    "water_path.check_valve": "before-relief",
    "water_path.inlet.thread": "G 1/8",
    "water_path.inlet.projection": "17 mm ± 1 mm",
    "water_path.inlet.fitting": "straight",
    "water_path.pump": "vibration pump, 52 W",
    "water_path.pump_pressure": "15 bar ± 1 bar",
    "steam.setpoint": "128 °C ± 2 K",
    "steam.overshoot": "6 K ± 3 K",
    "safety_devices.brew-thermostat.rating": "16 A, opens at 104 °C",
    "safety_devices.brew-thermostat.seat": "screwed to the boiler's top plate",
}
DEVICES = """\
  - {id: limit, name: limit thermostat, kind: thermostat, class: protective,
     rating: "16 A, opens at 160 °C, reset by hand", seat: screwed to the boiler's top plate}
  - {id: fuse, name: thermal fuse, kind: thermal-fuse, class: protective,
     rating: "15 A, 184 °C, one shot", seat: clip on the boiler's top plate}
  - {id: relief, name: relief valve, kind: relief-valve, class: protective,
     rating: 11 bar, seat: between the pump and the boiler}
"""
CIRCUIT = "{kind: circuit, say: the circuit of the heater, in_order: [own-switch, limit, brew-thermostat, fuse]}"
NO_SCREW = "thread: unknown, metal: unknown, into: unknown, engagement: unknown"


@dataclass
class Day:
    """What the maker did: commands, edits by file, and runs of the check until it had nothing to say."""

    package: Path
    root: Path
    commands: int = 0
    checks: int = 0
    edited: list[str] = field(default_factory=list)
    took: float = 0.0

    def run(self, *words: str, cwd: Path | None = None) -> str:
        """Type one command, which must succeed; return all that it says."""
        environment = {**os.environ, **COMMITTER, "PYTHONPATH": str(self.package), "PYTHONUTF8": "1"}
        line = [*words] if words[0] == "git" else [sys.executable, "-m", "guidegen", *words]
        began = time.monotonic()
        done = subprocess.run(line, cwd=cwd or self.root, env=environment, capture_output=True, encoding="utf-8")
        self.took += time.monotonic() - began
        assert done.returncode == 0, done.stdout[-3000:] + done.stderr[-3000:]
        self.commands += 1
        return done.stdout + done.stderr

    def check(self) -> str:
        """Run the check once more; return what is still to do, nothing where it is green."""
        self.checks += 1
        said = self.run("check")
        return "" if " warning: " not in said else said

    def edit(self, name: str, change: Callable[[str], str]) -> None:
        """Change a file of the workshop in an editor."""
        path = self.root / name
        before = path.read_text(encoding="utf-8")
        after = change(before)
        assert after != before, f"nothing was changed in {name}"
        path.write_text(after, encoding="utf-8")
        self.edited.append(name)


def swapped(*pairs: tuple[str, str]) -> Callable[[str], str]:
    """Put other words in place of some that must be there."""

    def change(text: str) -> str:
        for old, new in pairs:
            assert old in text, old
            text = text.replace(old, new)
        return text

    return change


def known(value: str) -> str:
    """What a data sheet says."""
    return f"{{is: {value}, evidence: maker-document, source: data-sheets}}"


@pytest.fixture(scope="module")
def day(tmp_path_factory: pytest.TempPathFactory) -> Day:
    """The whole day, in a folder that was empty."""
    wheels, package = tmp_path_factory.mktemp("wheels"), tmp_path_factory.mktemp("package")
    subprocess.run([*PIP, "wheel", *OPTIONS, "--wheel-dir", str(wheels), str(REPOSITORY)], check=True)
    (wheel,) = wheels.glob("*.whl")
    subprocess.run([*PIP, "install", *OPTIONS, "--target", str(package), str(wheel)], check=True)
    empty = tmp_path_factory.mktemp("an empty folder")
    made = Day(package, empty / "shop")
    made.run("new", "workshop", "shop", cwd=empty)
    _lay_down(made)
    todo = made.check()
    assert "boiler.diameter: not known" in todo, "the first run says what to measure"
    _fill_in(made)
    left = made.check()
    assert left == "", left
    _publish(made)
    return made


def _lay_down(day: Day) -> None:
    """Who one is, the machine by what its plate says, and the kit by what it does."""
    day.edit("content/workshop.yml", swapped(("name: A New Workshop", "name: Old Mill Bench")))
    day.edit("mkdocs.yml", swapped(("site_name: A New Workshop", "site_name: Old Mill Bench")))
    plate = ("--set", "years.from=1996", "--set", "mains.voltage=120 V~", "--set", "control.kind=thermostat")
    day.run("new", "variant", "--family", "rowan", "--name", "Rowan R3", *plate)
    day.run("new", "kit", KIT)
    for name in ("machines/first-family/first-variant.yml", "machines/first-family/family.yml",
                 "content/kits/first-kit.yml"):  # fmt: skip
        (day.root / name).unlink()
    (day.root / "machines/first-family").rmdir()
    nothing = "  - {kind: none, because: It is not stated yet what this kit changes.}\n"
    words = (
        "summary: A kit that has not been described yet.",
        "summary: A coil round the boiler warms the feed water.",
    )
    reason = ("reason: Why somebody would want it has not been written yet.", "reason: Cold feed cools the boiler.")
    day.edit(f"content/kits/{KIT}.yml", swapped((nothing, COIL), words, reason))
    day.run("new", "procedure", KIT)


def _fill_in(day: Day) -> None:
    """What the first check asked for, measured, looked up, and every text read."""
    day.edit("content/sources.yml", lambda text: text + SOURCES)
    facts = [f"{name}={value}" for name, value in MEASURED.items()]
    day.run("set", VARIANT, "--yes", "--evidence", "measured", "--source", "bench-1", *facts)

    def machine(text: str) -> str:
        text = re.sub(r"  protrusions:\n(    .*\n|   +.*\n)+?(?=heater:)", "  protrusions: []\n", text)
        text = re.sub(r"  - \{id: last-protection(.*\n)+?(?=water_path:)", DEVICES, text)
        return swapped(("heater-circuit: {kind: unknown}", f"heater-circuit: {CIRCUIT}"))(text)

    day.edit("machines/rowan/r3.yml", machine)
    fitting = "thread: G 1/8, metal: brass, into: brass, engagement: 8 mm ± 1 mm, bore: 5 mm ± 0.2 mm"
    earth = "thread: M4, metal: A2-70, into: stainless, engagement: 4 mm ± 0.5 mm"
    day.edit("machines/rowan/family.yml", swapped((f"{NO_SCREW}, bore: unknown", fitting), (NO_SCREW, earth)))
    ratings = (("    pressure: unknown", f"    pressure: {known('40 bar')}"),
               ("    temperature: unknown", f"    temperature: {known('150 °C')}"),
               ("    drinking_water: unknown", f"    drinking_water: {known('yes')}"),
               ("engagement: unknown", "engagement: 6 mm ± 0.5 mm"))  # fmt: skip
    lasting = ("What cannot be undone has not been written yet.", "Nothing is cut, and every old part is kept.")
    day.edit(f"content/kits/{KIT}.yml", swapped(*ratings, lasting))
    day.run("read", "--confirm", "--role", "maker", "--all", "--date", "2026-01-01")


def _publish(day: Day) -> None:
    """An edition, kept in git."""
    day.run("git", "init", "--quiet", ".")
    day.run("git", "add", ".")
    day.run("git", "commit", "--quiet", "-m", "Begin the workshop")
    # Fewer draws than by default, for time; nothing that is looked at here depends on them.
    day.run("publish", "2026.1", "--draws", "64")


@pytest.mark.slow
def test_the_day_ends_with_a_published_guide(day: Day, record_property: Callable[[str, object], None]) -> None:
    """An own kit with instruction, self-check, drawings and bench sheet, under an edition's name."""
    guide = day.root / "site" / "2026.1" / "guides" / VARIANT / KIT
    install = (guide / "install.html").read_text(encoding="utf-8")
    assert "Warm Feed" in install
    assert "<svg" in install
    assert not re.search(r"has not been (written|described)", install)
    fit = (guide / "fit.html").read_text(encoding="utf-8")
    assert "How much free room is there round the boiler" in fit or "How is the machine connected" in fit
    day.run("print", VARIANT, KIT, "--draws", "64", "--out", "bench.pdf")
    assert (day.root / "bench.pdf").read_bytes().startswith(b"%PDF")
    files = len({*day.edited})
    words = f"first day: {day.commands} commands, {len(day.edited)} edits of {files} files, {day.checks} checks, "
    record_property("figures", words + f"{day.took / 60:.1f} min of the machine's time")


@pytest.mark.slow
def test_the_check_has_nothing_to_say_after_few_runs(day: Day) -> None:
    """The first run lists all that there is to find out; what it did not say would come in a later one."""
    assert day.checks <= MOST_CHECKS


@pytest.mark.slow
def test_no_file_of_the_package_is_opened(day: Day) -> None:
    """Whatever is edited lies in the maker's own workshop, and nothing is copied out of the package by hand."""
    assert all((day.root / name).is_file() or name.startswith(("content/", "machines/")) for name in day.edited)
    assert not any(str(day.package) in name for name in day.edited)


@pytest.mark.slow
def test_the_owner_is_asked_and_told_what_is_ours(day: Day) -> None:
    """Nothing decides on an assumed value in silence: what the bench measured is called that, the rest is asked."""
    said = day.run("fit", VARIANT, KIT)
    assert "our data, which no question is about:" in said
    assert "assumed, not measured" not in said
    assert "guidegen fit rowan-r3 warm-feed --answer" in said
