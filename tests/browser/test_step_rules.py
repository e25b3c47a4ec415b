"""The scripts of one step at a time against what Python says: readings, the way through the steps, the report."""

from __future__ import annotations

import datetime
import json
import random
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

import guidegen.site.web
from guidegen.commands.builds import rules
from guidegen.editions.edition import Edition
from guidegen.judge.builds.reading import accepted, reads
from guidegen.judge.builds.report import DOERS, SIGNERS, BuildReport, FailedReading, HoldReading, write
from guidegen.judge.safety.flow import Run
from guidegen.judge.safety.measure import measured
from guidegen.site.pages.my_case import carried_over
from tests.fixtures.records import fitting_data, record
from tests.mutants.draft import draft
from tests.mutants.table import CLEAN

if TYPE_CHECKING:
    from playwright.sync_api import Browser
    from playwright.sync_api import Page as Tab

ASSETS = Path(guidegen.site.web.__file__).parent / "assets"
PURE = ("step-reading", "step-report", "step-course", "self-check-case")
UNITS = ("°C", "K", "°F", "mm", "cm", "in", "bar", "kPa", "Ω", "MΩ", "mΩ", "Ohm", "min", "s", "h", "N·m", "Nm", "turn",
         "mA", "g", "damp joints", "drops", "", "x9", "V~")  # fmt: skip


@pytest.fixture(scope="module")
def blank(browser: Browser) -> Iterator[Tab]:
    """A page that holds nothing but the scripts that touch no page."""
    page = browser.new_page()
    for name in PURE:
        page.add_script_tag(content=(ASSETS / f"{name}.js").read_text(encoding="utf-8"))
    yield page
    page.close()


def written(chance: random.Random, unit: str) -> str:
    """A number as somebody writes it, with a unit, a gap, a fraction or a tolerance now and then."""
    decimal = f"{chance.uniform(0, 60):.{chance.randint(1, 3)}f}"
    number = chance.choice([str(chance.randint(0, 120)), decimal, "3/4", "0"])
    gap = chance.choice([" ", "", "\u202f", "  "])
    text = f"{number}{gap}{unit}"
    return f"{text} ± {chance.randint(0, 9) / 4:g} {unit}" if chance.random() < 0.2 else text


def readings() -> list[tuple[str, str, str]]:
    """Sense, limit and reading: those of the demonstration on, beside and far from their limits, and any."""
    chance = random.Random(18)
    found = []
    for pair in CLEAN:
        for step in record(*pair).procedure.fitting.steps:  # type: ignore[union-attr]
            if step.hold is None or step.hold.accept is None:
                continue
            accept = step.hold.accept
            bound = measured(accept.limit)
            unit = bound.unit if bound is not None else "mm"
            near = [bound.number * factor for factor in (1, 0.999, 1.001, 0.5, 2)] if bound is not None else []
            found += [(accept.sense, accept.limit, f"{one:.12g} {unit}") for one in near]
            found += [(accept.sense, accept.limit, written(chance, chance.choice([unit, *UNITS]))) for _ in range(8)]
    for _ in range(3000):
        sense = chance.choice(["at_most", "at_least", "within"])
        found.append((sense, written(chance, chance.choice(UNITS)), written(chance, chance.choice(UNITS))))
    return [*found, ("within", "103 °C ± 1 K", "103.9 °C"), ("at_most", "pH 6", "pH 5.5"), ("at_most", "low", "5 mm")]


def test_readings_are_judged_as_python_judges_them(blank: Tab) -> None:
    """Read or not, within or not, for some thousands of readings."""
    tried = readings()
    said = blank.evaluate(
        """([units, tried]) => {
          const rules = guidegenReading(units);
          const judged = ([sense, limit, text]) => rules.reads(limit, text) ? rules.accepted(sense, limit, text) : null;
          return tried.map(judged);
        }""",
        [fitting_data(record())["units"], tried],
    )
    expected = [accepted(*one) if reads(one[1], one[2]) is not None else None for one in tried]
    assert {None, True, False} == set(expected)
    wrong = [(one, here, there) for one, here, there in zip(tried, said, expected, strict=True) if here != there]
    assert wrong == []


@pytest.mark.parametrize("pair", CLEAN, ids="-".join)
def test_a_reading_is_wanted_where_a_report_is_refused_without_it(blank: Tab, pair: tuple[str, str]) -> None:
    """Hold point by hold point, against the rules by which a received report is judged."""
    one = record(*pair)
    edition = Edition(edition="2026.9", date=datetime.date(2026, 3, 1), reason="first", guides={})
    wanted = {hold.step: hold.wants_reading for hold in rules(one, edition).holds}
    said = blank.evaluate(
        """(data) => {
          const rules = guidegenReading(data.units);
          const held = guidegenCourse(data).steps.filter((step) => step.h);
          return Object.fromEntries(held.map((step) => [step.k, rules.wants(step.h)]));
        }""",
        fitting_data(one),
    )
    assert said == wanted


WALK = """([data, id]) => {
  const course = guidegenCourse(JSON.parse(data));
  const key = (place) => course.steps[place].k;
  const p = course.begin("TEST", id);
  const line = [], ways = {};
  while (p.show !== "end") {
    const place = course.shown(p);
    if (course.steps[place].h) {
      const other = JSON.parse(JSON.stringify(p));
      course.fail(other, "");
      ways[key(place)] = other.show === "step" ? key(course.shown(other)) : null;
    }
    line.push(key(place));
    course.pass(p);
    if (p.show === "stop") course.goOn(p);
  }
  const ends = {};
  course.groups.forEach((group, place) => {
    const own = course.placesOf(p, place);
    if (group.phase || !own.length) return;
    const other = course.begin("TEST", id);
    other.at = own[own.length - 1];
    course.pass(other);
    ends[key(own[own.length - 1])] = other.show === "step" ? key(course.shown(other)) : null;
  });
  return [line, ways, ends];
}"""


@pytest.mark.parametrize("pair", CLEAN, ids="-".join)
def test_the_way_through_the_steps_is_that_of_the_state_machine(blank: Tab, pair: tuple[str, str]) -> None:
    """In every case: the main way, where each failing side leads, and where each remedy goes on."""
    one = record(*pair)
    data = fitting_data(one)
    guide = draft(*pair).guide()
    runs = [run for run in guide.runs if run.graph.course is guide.resolved.fitting]
    for run in runs:
        case = next(each for each in data["cases"] if not each["id"] or each["id"] in case_of(run))
        line, ways, ends = blank.evaluate(WALK, [json.dumps(data), case["id"]])
        graph = run.graph
        assert line == list(graph.main)
        failing = {edge.source: edge.target for edge in graph.edges if edge.failing and edge.source in graph.rank}
        assert ways == failing
        lasts = [steps[-1].key for remedy in graph.course.remedies if (steps := in_case(run, remedy.steps))]
        assert ends == {key: next(e.target for e in graph.ways[key] if not e.failing) for key in lasts}


@pytest.mark.parametrize("act", ["pass", "fail"])
def test_a_clock_counts_for_one_stay_at_its_step(blank: Tab, act: str) -> None:
    """What was waited for once is waited for again when the step comes again; other steps' clocks stand."""
    left = blank.evaluate(
        """([data, act]) => {
          const course = guidegenCourse(data);
          const p = course.begin("TEST", data.cases[0].id);
          p.at = course.steps.find((step) => step.h).place;
          const other = p.at * 10;
          p.timers = { [p.at + ".0"]: { over: true }, [p.at + ".1"]: {}, [other + ".0"]: { over: true } };
          course[act](p, "");
          return Object.keys(p.timers).filter((one) => one !== other + ".0").concat(Object.keys(p.timers).length);
        }""",
        [fitting_data(record()), act],
    )
    assert left == [1]


def case_of(run: Run) -> str:
    """What the scenario of a run is called."""
    return run.graph.course.cases[run.graph.scenario]


def in_case(run: Run, steps: Any) -> list[Any]:
    """The steps that are of a run's scenario."""
    return [step for step in steps if step.key in run.graph.steps]


@pytest.mark.parametrize(
    ("chosen", "leads"),
    [
        (["part:exchange-boiler"], "install.html?case=exchanged"),
        (["kit:banjo-feed", "fabrication:trim-protrusions"], "install.html?case=trimmed"),
        (["kit:banjo-feed"], "install.html"),
        (None, "install.html"),
    ],
)
def test_the_self_check_leads_to_its_case(blank: Tab, chosen: list[str] | None, leads: str) -> None:
    """By what the chosen remedies bring about; to all cases where that leaves more than one open."""
    one = record()
    payload = {"makes": one.self_check.makes, "instruction": {"href": "install.html", "cases": carried_over(one)}}
    asked = "([payload, chosen]) => guidegenSelfCheckCase(payload, [], chosen && { remedies: chosen })"
    assert blank.evaluate(asked, [payload, chosen]) == leads
    assert blank.evaluate(asked, [{**payload, "instruction": None}, chosen]) is None


def test_the_report_is_the_text_that_python_writes(blank: Tab) -> None:
    """Reports at random, empty parts too: byte by byte."""
    chance = random.Random(9)
    texts = ["", "turned the nut 1/8 further", "dried – and looked again", "24 bar ± 1 bar"]
    made = []
    for _ in range(60):
        holds = tuple(
            HoldReading(f"{i}.1", f"phase/step-{i}", chance.choice(["passed", "failed", "not-done"]),
                        chance.choice(["", "38 °C"]))
            for i in range(chance.randint(0, 4))
        )  # fmt: skip
        made.append(
            BuildReport(
                variant="tamsin-mk2", variant_name="Tamsin Mark 2", kit="feed-preheater", kit_name="Feed Preheater",
                revision="B", edition="2026.1", finished=datetime.date(2026, 3, chance.randint(1, 28)),
                doer=chance.choice([*DOERS]), signer=chance.choice([*SIGNERS]), publish=chance.random() < 0.5,
                case=tuple(chance.sample(["you trim your own boiler", "it is warm"], chance.randint(0, 2))),
                readings=holds, minutes={"cool": 12} if chance.random() < 0.5 else {},
                failures=tuple(
                    FailedReading(one.number, one.step, one.reading, chance.choice(texts)) for one in holds[:2]
                ),
                facts={"boiler.clearance": "26 mm"} if chance.random() < 0.5 else {},
                findings=tuple(chance.sample(texts[1:], chance.randint(0, 2))),
            )
        )  # fmt: skip
    plain = [
        {
            **{name: getattr(one, name) for name in (
                "variant", "variant_name", "kit", "kit_name", "revision", "edition", "doer", "signer", "publish"
            )},
            "finished": one.finished.isoformat(), "case": [*one.case],
            "readings": [vars(each) for each in one.readings],
            "minutes": [[*each] for each in one.minutes.items()], "failures": [vars(each) for each in one.failures],
            "facts": [[*each] for each in one.facts.items()], "findings": [*one.findings],
        }
        for one in made
    ]  # fmt: skip
    assert blank.evaluate("(reports) => reports.map(guidegenReport)", plain) == [write(one) for one in made]
