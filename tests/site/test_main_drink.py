"""Which drink guides compare by is the workshop's choice: with another one, every page, file and answer follows."""

from __future__ import annotations

import csv
import io
import re
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from guidegen import pipeline, record_at, trade
from guidegen.assess import Assessor
from guidegen.commands.assumed import table as assumed
from guidegen.record import Assessment
from guidegen.record.places import HEADLINES, headlines
from guidegen.site.pages import replies, terminal

SINGLE = """drinks:
  - id: single
    name: single
    beverage: 25 g ± 2 g
    puck_keeps: 9 g ± 1 g
    vented: 2 g ± 1 g
    time: 25 s ± 3 s
"""
ELSEWHERE = re.compile(r"\bdouble braces")
"""Where the word is about something else."""


def of_singles(root: Path, lay_down: Callable[[Path], Path]) -> Path:
    """The demonstration as a workshop that offers singles only, without its editions and logs, which are of doubles."""
    lay_down(root)
    shutil.rmtree(root / "content" / "editions")
    for runs in root.glob("machines/*/runs"):
        shutil.rmtree(runs)
    (root / "content" / "drinks.yml").write_text(SINGLE, encoding="utf-8")
    settings = root / "content" / "workshop.yml"
    text = settings.read_text(encoding="utf-8")
    settings.write_text(text.replace("double", "single"), encoding="utf-8")
    return root


@pytest.fixture(scope="module")
def singles(tmp_path_factory: pytest.TempPathFactory, lay_down_small_workshop: Callable[[Path], Path]) -> Path:
    """That workshop, built."""
    root = of_singles(tmp_path_factory.mktemp("singles") / "workshop", lay_down_small_workshop)
    pipeline.build(root, draws=0)
    return root


@pytest.mark.slow
def test_a_workshop_of_singles_never_speaks_of_a_double(singles: Path) -> None:
    """No page and no file of its site; the pages that say most name its own drink instead."""
    site = singles / "site" / "next"
    files = [path for path in sorted(site.rglob("*")) if path.suffix in (".html", ".csv", ".json", ".txt", ".xml")]
    assert len(files) > 80
    for path in files:
        if "assets" not in path.relative_to(site).parts:
            text = ELSEWHERE.sub("", path.read_text(encoding="utf-8"))
            assert not re.search(r"\bdouble\b", text, re.I), path.relative_to(site)
    guide = "guides/tamsin-mk2/feed-preheater"
    for page in ("compare.html", f"{guide}/index.html", f"{guide}/charts.html", "guides/tamsin-mk2/index.html"):
        assert "single" in (site / page).read_text(encoding="utf-8"), page


@pytest.mark.slow
def test_what_is_asked_at_the_terminal_is_about_singles_too(singles: Path) -> None:
    """The summary, every reply, and what is measured first."""
    known = trade.load(singles)
    made = Assessor(known, "next", 64).assess(known.machines["tamsin-mk2"], known.kits["feed-preheater"])
    printed = [terminal.summary(made), *(replies.reply(made, name).text for name in replies.TOPICS), assumed([made])]
    assert made.main_drink == "single"
    assert not any("double" in text for text in printed)
    assert "With the kit the boiler sensor's dip in a single" in printed[2]
    assert set(headlines("single")) <= set(made.influence)


@pytest.mark.slow
def test_the_main_drink_need_not_be_the_usual_one(tmp_path: Path, lay_down_workshop: Callable[[Path], Path]) -> None:
    """With all drinks offered and the single chosen, the second drink after a wait and the display are singles."""
    root = lay_down_workshop(tmp_path / "workshop")
    settings = root / "content" / "workshop.yml"
    text = settings.read_text(encoding="utf-8")
    assert "main_drink: double\n" in text
    made: dict[str, Assessment] = {}
    for name in ("double", "single"):
        settings.write_text(text.replace("main_drink: double\n", f"main_drink: {name}\n"), encoding="utf-8")
        known = trade.load(root)
        made[name] = Assessor(known, "next", 0).assess(known.machines["tamsin-mk2"], known.kits["feed-preheater"])
        assert made[name].main_drink == made[name].shot.drink == name
        assert made[name].main == made[name].drinks[name]
    double, single = made["double"], made["single"]
    assert single.drinks == double.drinks
    # A rested machine is as if the first drink had not been: after twenty minutes the same drink drops nearly the same.
    for one in made.values():
        first, again = one.main.with_.sensor_drop_k.value, one.waiting[-1].sensor_drop_k.with_.value
        assert first is not None
        assert again == pytest.approx(first, rel=0.1)
    drops = [one.waiting[-1].sensor_drop_k.with_.value or 0.0 for one in (single, double)]
    assert drops[0] < 0.9 * drops[1]


def test_headlines_are_places_of_the_main_drink() -> None:
    """Those of a drink name it; the others do not change."""
    assert headlines("single")[0] == "drinks.single.drop_ratio.sensor"
    assert [one for one in headlines("single") if one not in headlines("double")] == [
        one.place.replace("*", "single") for one in HEADLINES if "*" in one.place
    ]


@pytest.mark.slow
def test_the_files_name_the_main_drink(singles: Path) -> None:
    """JSON and CSV, for programs that read them."""
    site = singles / "site" / "next" / "data"
    assert record_at(site / "tamsin-mk2" / "feed-preheater.json").shot.drink == "single"
    rows = list(csv.DictReader(io.StringIO((site / "all.csv").read_text(encoding="utf-8-sig"))))
    assert {row["quantity"].split(".")[1] for row in rows if row["quantity"].startswith("drinks.")} == {"single"}
