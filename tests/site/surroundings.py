"""What is walked through in broken surroundings: a small workshop in which every command has something to do."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from guidegen.commands import main
from tests.editions_workshop import change_torque, commit, guidegen, lay_down, list_picture, publish

PAIR = ("plain-one", "collar")
QUICK = ("--draws", "0")
ORDER, REPORT, LOG = "order.txt", "report.txt", "log.csv"
SOLD = ("--variant", "plain-one", "--kit", "collar", "--revision", "1.10", "--edition", "2025.2", "--customer", "A. N.")
BEGUN = ("--set", "years.from=1990", "--set", "mains.voltage=230 V~", "--set", "control.kind=pid")
LOGGED = ("--variant", "plain-one", "--kind", "shot", "--invented", "--logger", "nobody", "--date", "2025-02-28",
          "--machine", "1", "--column", "t=time s", "--column", "T1=sensor °C", "--probe", "T1=type-k 1",
          "--lag", "T1=2 s ± 0.5 s", "--drink", "double", "--setpoint", "103 °C", "--yes")  # fmt: skip
RUN = "machines/plain/runs/first.yml"
COMMANDS: tuple[tuple[str, ...], ...] = (
    ("verify",),
    ("check",),
    ("check", "--states"),
    ("list",),
    ("show", "plain-one"),
    ("assess", *PAIR, *QUICK),
    ("which",),
    ("fit", *PAIR),
    ("fit", "--read", ORDER),
    ("fitted",),
    ("fitted", "form", *PAIR),
    ("fitted", "add", REPORT, "--yes"),
    ("fitted", "accept", "1", "--date", "2025-03-01", "--yes"),
    ("answer", "plain-one"),
    ("assumed", "--draws", "8"),
    ("pictures",),
    ("read",),
    ("read", "--confirm", "--role", "maker", "--all", "--date", "2025-03-01"),
    ("schema", "kit"),
    ("run", "add", LOG, "--name", "second", *LOGGED),
    ("run", "show", RUN),
    ("run", "compare", *PAIR, *QUICK),
    ("run", "learn", "plain-one"),
    ("run", "accept", "plain-one", "--yes"),
    ("plan", *PAIR, "--draws", "64", "--probe", "outlet", "--out", "plan.pdf"),
    ("print", *PAIR, "--out", "sheet.pdf", *QUICK),
    ("convert", "--yes"),
    ("set", "plain-one", "boiler.mass=510 g ± 10 g", "--yes"),
    ("new", "variant", "--family", "plain", "--name", "Plain New", *BEGUN),
    ("new", "kit", "new-kit"),
    ("new", "workshop", "another"),
    ("editions",),
    ("changes", *QUICK),
    ("affected", "2025.1", "2025.2"),
    ("unit", "add", "K-2", *SOLD),
    ("unit", "label", "K-1"),
    ("withdraw", "2025.1", "plain-one/collar", "--because", "It may leak."),
    ("build", *QUICK),
    ("publish", "2025.3", "--note", "Look.", *QUICK),
    ("editions", "--anew"),
    ("deliver", "--folder", "out"),
    ("deliver",),
    ("recover",),
    ("verify",),
)

BUILDS = """\
builds:
  - id: 1
    variant: plain-one
    kit: collar
    revision: 1.10
    edition: 2025.2
    date: 2025-02-28
    role: owner
    signed: nobody
    publish: true
    holds: [{step: open/look, result: not-done}]
"""


def log_shot(root: Path) -> None:
    """Five minutes of a sensor that falls by 4 K in a shot, as a logger writes them."""
    rows = ["t,T1,Pump"]
    for second in range(300):
        fall = (second - 100) / 7 if 100 <= second < 128 else max(0.0, 4 - (second - 128) / 15) if second >= 128 else 0
        rows.append(f"{second},{103 - fall + second % 2 / 10:.1f},{int(100 <= second < 128)}")
    (root / LOG).write_text("\n".join([*rows, ""]), encoding="utf-8")


def lay_down_whole(root: Path) -> Path:
    """The small workshop with two editions, a unit, a draft, an order, a build report, a logged run, and a branch."""
    lay_down(root)
    assert publish(root, "2025.1") == 0
    change_torque(root)
    assert publish(root, "2025.2", "--note", "Tighten.") == 0
    (root / "content" / "offers.yml").write_text("valid_until: 2025-12-31\nkits: {}\n", encoding="utf-8")
    list_picture(root)
    (root / ORDER).write_text("Edition: 2025.2\n", encoding="utf-8")
    (root / REPORT).write_text("Build report\nEdition: 2025.2\nEnd of the build report\n", encoding="utf-8")
    log_shot(root)
    assert guidegen(root, "run", "add", str(root / LOG), "--name", "first", *LOGGED) == 0
    (root / "machines" / "plain" / "builds.yml").write_text(BUILDS, encoding="utf-8")
    assert guidegen(root, "unit", "add", "K-1", *SOLD) == 0
    assert guidegen(root, "withdraw", "2025.1", "plain-two/collar", "--because", "It leaks.") == 0
    commit(root)
    assert guidegen(root, "build", *QUICK) == 0
    assert guidegen(root, "deliver") == 0
    return root


def walk(capsys: pytest.CaptureFixture[str], before: Callable[[], object] = lambda: None) -> dict[str, int]:
    """Run every command; none may end as a fault of guidegen's own, nor show a traceback."""
    codes: dict[str, int] = {}
    wrong: list[str] = []
    for words in COMMANDS:
        before()
        try:
            code = main([*words])
        except SystemExit as left:
            code = int(left.code or 0)
        printed = "".join(capsys.readouterr())
        codes[" ".join(words)] = code
        if code not in (0, 1, 2, 3, 4) or "Traceback" in printed:
            wrong.append(f"{' '.join(words)} ended with {code}: {printed[-300:]}")
    assert not wrong, "\n".join(wrong)
    return codes
