"""Facts of a workshop's own: declared, stated, asked, judged."""

from __future__ import annotations

import datetime
import shutil
from pathlib import Path
from types import SimpleNamespace
from typing import cast

import jsonschema
import pytest

from guidegen import trade
from guidegen.assess import verdict
from guidegen.assess.adapt import facts_of
from guidegen.commands import builds, main
from guidegen.commands.fit import answers_of
from guidegen.commands.orders import Received, reported
from guidegen.judge.builds.received import GuideRules
from guidegen.judge.builds.report import BuildReport, write
from guidegen.judge.fit.answers import read_answer
from guidegen.problems import CatalogueError, UsageProblem
from guidegen.trade import Catalogue
from guidegen.trade.load import look, own_facts
from guidegen.trade.new_variant import draft
from guidegen.trade.paths import known_facts
from guidegen.trade.schema import json_schema
from guidegen.workshop.memory import Memory

FIXTURE = Path(__file__).parents[2] / "fixtures" / "catalogue_min"
FACTS = """facts:
  - {id: foot_thread, title: Thread in the feet, kind: choice, choices: [M4, M5], settles: try a screw}
  - id: foot_height
    title: Height of the feet
    kind: quantity
    unit: mm
    plausible: [5 mm, 60 mm]
    settles: a ruler
  - {id: foot_maker, title: Maker of the feet, kind: text}
"""
QUESTIONS = """questions:
  - fact: own.foot_height
    ask: How tall are the feet?
    why: The tray goes below.
    tool: a ruler
    where: below the machine
    look: outside
    minutes: 2
    units: [mm]
    tolerance: 1 mm
    photos: [a foot]
"""
ASKED = """requirements:
  - {id: thread, says: The feet take M5., fact: own.foot_thread, is: M5, unmet: no, because: Its screws are M5.}
  - {id: tall, says: The feet are tall., fact: own.foot_height, at_least: 20 mm, unmet: no, because: It goes below.}
"""
STATED = """own:
  foot_thread: {is: M5, evidence: measured, source: bench-1}
  foot_maker: Feet & Sons
"""


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """Return the small workshop with three facts of its own, two of them stated by one variant and asked by a kit."""
    shutil.copytree(FIXTURE, tmp_path / "w")
    (tmp_path / "w" / "content" / "facts.yml").write_text(FACTS, encoding="utf-8")
    (tmp_path / "w" / "content" / "questions.yml").write_text(QUESTIONS, encoding="utf-8")
    kit = tmp_path / "w" / "content" / "kits" / "collar.yml"
    kit.write_text(kit.read_text(encoding="utf-8").replace("requirements:\n", ASKED), encoding="utf-8")
    one = tmp_path / "w" / "machines" / "plain" / "one.yml"
    one.write_text(one.read_text(encoding="utf-8") + STATED, encoding="utf-8")
    return tmp_path / "w"


def met(known: Catalogue, variant: str) -> dict[str, bool | None]:
    """Return which of the two requirements are met on a variant."""
    fit = verdict.standing(known, known.machine(variant), known.kit("collar")).fit
    return {one.id: one.met for one in fit.reasons if one.id in ("thread", "tall")}


def test_a_machine_states_them_with_evidence_and_a_kit_asks_them(root: Path) -> None:
    """What nobody stated is not known, and what its question asks of an owner settles it."""
    known = trade.load(root)
    thread = known.machine("plain-one").fact("own.foot_thread")
    assert thread is not None
    assert (thread.text, thread.evidence, thread.source, thread.title) == (
        "M5", "measured", "bench-1", "Thread in the feet",
    )  # fmt: skip
    assert known.machine("plain-one").fact("own.foot_height") is None
    assert met(known, "plain-one") == {"thread": True, "tall": None}
    pair = verdict.judged(known, known.machine("plain-one"), known.kit("collar"), "next")
    (asked,) = [one for one in pair.check.payload["rules"]["facts"] if one["fact"] == "own.foot_height"]
    assert read_answer(asked, "22 mm") is not None
    reason = next(one for one in verdict.fit_part(pair.check).reasons if one.id == "tall")
    assert reason.detail.startswith("height of the feet")


def test_another_value_is_judged_otherwise(root: Path) -> None:
    """M4 where M5 is asked; the height in another unit of its dimension, below the limit."""
    two = root / "machines" / "plain" / "two.yml"
    more = "own: {foot_thread: M4, foot_height: 1.9 cm}\n"
    two.write_text(two.read_text(encoding="utf-8") + more, encoding="utf-8")
    assert met(trade.load(root), "plain-two") == {"thread": False, "tall": False}


def test_steps_and_tables_know_their_names(root: Path) -> None:
    """A `when:` may ask them; the program's own names stay, and those of other workshops are nobody's."""
    known = trade.load(root)
    values = facts_of(known.machine("plain-one"), known.kit("collar"), {}, ())
    assert values.get("own.foot_thread").text == "M5"
    assert values.get("own.foot_height").gaps[0].settles == "a ruler"
    assert known.table["own.foot_height"].dimension == "length"
    assert set(known_facts()) < set(known.table)
    assert not [name for name in known_facts() if name.startswith("own.")]


def test_a_family_states_what_its_variants_share(root: Path) -> None:
    """Inherited like everything, from a base as well, and removed by null."""
    family = root / "machines" / "plain" / "family.yml"
    family.write_text(family.read_text(encoding="utf-8") + "own: {foot_height: 30 mm}\n", encoding="utf-8")
    known = trade.load(root)
    assert met(known, "plain-two")["tall"] is True
    assert met(known, "plain-one") == {"thread": True, "tall": True}
    two = root / "machines" / "plain" / "two.yml"
    two.write_text(two.read_text(encoding="utf-8") + "own: {foot_thread: null}\n", encoding="utf-8")
    assert met(trade.load(root), "plain-two") == {"thread": None, "tall": True}


def test_an_edited_declaration_is_read_again(root: Path) -> None:
    """With the memory of an earlier look: the documents that were read by the old one are read anew."""
    memory = Memory()
    assert look(root, memory)[1] == []
    (root / "content" / "facts.yml").write_text(FACTS.replace("[M4, M5]", "[M4, M6]"), encoding="utf-8")
    assert any("never that" in one.message or "not one of the words" in one.message for one in look(root, memory)[1])


def test_a_value_outside_of_what_is_plausible_is_warned_of(root: Path) -> None:
    """As of any fact."""
    two = root / "machines" / "plain" / "two.yml"
    two.write_text(two.read_text(encoding="utf-8") + "own: {foot_height: 80 mm}\n", encoding="utf-8")
    (found,) = [one for one in trade.load(root).warnings if "foot_height" in one.message]
    assert found.severity == "warning"


def test_nothing_undeclared_is_stated(root: Path) -> None:
    """The nearest name is offered, or the file in which to declare it."""
    two = root / "machines" / "plain" / "two.yml"
    two.write_text(two.read_text(encoding="utf-8") + "own: {foot_tread: M4}\n", encoding="utf-8")
    with pytest.raises(CatalogueError) as caught:
        trade.load(root)
    assert 'own.foot_tread: content/facts.yml has no fact "foot_tread"' in str(caught.value)
    assert "write foot_thread" in str(caught.value)


def test_a_declaration_that_cannot_be_read_is_one_mistake(root: Path) -> None:
    """Who states a fact of it or asks for one is judged in all else, and not accused of the same."""
    facts = root / "content" / "facts.yml"
    facts.write_text(FACTS.replace("kind: quantity", "kind: quantty"), encoding="utf-8")
    known, problems = look(root)
    assert [(one.path, one.line) for one in problems if one.severity == "error"] == [("content/facts.yml", 5)]
    assert known is not None
    assert {"plain-one", "plain-two"} <= set(known.machines)
    assert "collar" in known.kits


def test_a_name_that_nobody_declared_is_one_mistake_however_many_state_it(root: Path) -> None:
    """With the first place; another name is another mistake."""
    for stem, more in (("one", "  foot_tread: M4\n"), ("two", "own: {foot_tread: M5, colour: red}\n")):
        path = root / "machines" / "plain" / f"{stem}.yml"
        path.write_text(path.read_text(encoding="utf-8") + more, encoding="utf-8")
    with pytest.raises(CatalogueError) as caught:
        trade.load(root)
    said = [(one.path, one.message.partition(": ")[2]) for one in caught.value.problems]
    assert said == [
        ("machines/plain/one.yml", 'content/facts.yml has no fact "foot_tread" (and 1 more like it)'),
        ("machines/plain/two.yml", 'content/facts.yml has no fact "colour"'),
    ]


def test_a_field_of_it_is_explained(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """As any: what it is, how it is written and found out, what depends on it, and what machines state."""
    assert main(["--root", str(root), "explain", "own.foot_height"]) == 0
    text = " ".join(capsys.readouterr().out.split())
    for words in (
        "own.foot_height (machines/*/*.yml) Height of the feet; a fact of your own, declared in content/facts.yml.",
        "written a length, in mm",
        "plausible 5 mm to 60 mm",
        "found out by a ruler",
        "the self-check asks it (content/questions.yml:2)",
        "The feet are tall. (content/kits/collar.yml:",
    ):
        assert words in text
    assert main(["--root", str(root), "explain", "own.foot_thread"]) == 0
    assert "plain-one: M5, measured (machines/plain/one.yml:" in " ".join(capsys.readouterr().out.split())


GIVEN = {"name": "Plain Nine", "years.from": "1988", "mains.voltage": "120 V~", "control.kind": "thermostat"}


def test_a_new_variant_says_how_each_is_found_out(root: Path) -> None:
    """What was given is written, the rest is unknown; a kit that asks one makes it wanted."""
    known = trade.load(root)
    made = draft(known, "plain", "nine", {**GIVEN, "own.foot_height": "30 mm"})
    text = made.files["machines/plain/nine.yml"]
    lines = "own:\n  foot_thread: unknown  # try a screw\n  foot_height: 30 mm\n  foot_maker: unknown\n"
    assert lines in text
    assert ("own.foot_thread", ("collar",)) in [(one.name, one.needed_by) for one in made.next]
    machine = trade.load(root, edited={path: one.encode() for path, one in made.files.items()}).machine("plain-nine")
    height = machine.fact("own.foot_height")
    assert height is not None
    assert height.value == pytest.approx(0.030)
    with pytest.raises(CatalogueError) as caught:
        draft(known, "plain", "nine", {**GIVEN, "own.colour": "red"})
    assert 'content/facts.yml has no fact "colour"' in str(caught.value)


def test_what_an_owner_answered_otherwise_is_taken_over(root: Path) -> None:
    """From an order: beside the variant that the owner took the machine for, only what differs."""
    known = trade.load(root)
    pair = verdict.judged(known, known.machine("plain-two"), known.kit("collar"), "next")
    (asked,) = [one for one in pair.check.payload["rules"]["facts"] if one["fact"] == "own.foot_height"]
    given = {"own.foot_height": read_answer(asked, "22 mm")}
    order = SimpleNamespace(variant="plain-one", kit="collar", edition="2026.1")
    received = SimpleNamespace(order=order, payload=pair.check.payload, sound=SimpleNamespace(answers=given))
    found = reported(cast(Received, received), known)
    assert found["own.foot_height"] == "22 mm ± 1 mm"
    text = draft(known, "plain", "nine", found).files["machines/plain/nine.yml"]
    assert "own:\n  foot_height: " in text
    assert "foot_thread" not in text


def test_an_editor_completes_the_declared_names(root: Path) -> None:
    """And no other, in the workshop that declares them; elsewhere any."""
    stated = json_schema("machine", None, own_facts(root))["$defs"]["OwnValues"]
    assert [*stated["properties"]] == ["foot_thread", "foot_height", "foot_maker"]
    assert stated["additionalProperties"] is False
    assert stated["properties"]["foot_height"]["description"].startswith("Height of the feet.")
    machine = jsonschema.Draft202012Validator(json_schema("machine", None, own_facts(root)))
    for value, fits in ({"foot_thread": "M5", "foot_height": "3 cm"}, True), ({"foot_thread": "M6"}, False), (
        {"colour": "red"}, False
    ):  # fmt: skip
        assert machine.is_valid({"own": value}) is fits
    assert json_schema("machine")["$defs"]["OwnValues"]["additionalProperties"] is True


def test_a_build_report_may_say_what_it_is(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """By its name, in the words and the dimension that are declared."""
    known = trade.load(root)
    day = datetime.date(2026, 2, 1)
    monkeypatch.setattr(builds, "rules_of", lambda *_: GuideRules("B", day, {}, (), frozenset()))

    def said(**facts: str) -> list[str]:
        own = {f"own.{name}": value for name, value in facts.items()}
        text = write(
            BuildReport(
                "plain-one", "Plain One", "collar", "Collar", "B", "2026.1", day, "owner", "nobody", True, facts=own
            )
        )
        try:
            return [*builds.receive(root, known, text, "report.txt").report.facts]
        except CatalogueError as error:
            return [one.message for one in error.problems]

    assert said(foot_thread="M5", foot_height="22 mm") == ["own.foot_thread", "own.foot_height"]
    assert said(foot_thread="M7") == ["own.foot_thread: “M7” is none of its words"]
    assert said(colour="red") == ["no machine has a fact own.colour"]


def test_an_answer_that_nobody_asks_is_told_from_one_that_no_machine_has(root: Path) -> None:
    """`guidegen fit --answer` knows the declared names as the program's own."""
    known = trade.load(root)
    payload = verdict.checked(known, known.machine("plain-one"), known.kit("collar"), "next").payload
    for name, words in (("own.foot_maker", "the variant's data settle it"), ("own.colour", "no machine has such")):
        with pytest.raises(UsageProblem, match=words):
            answers_of(payload, [f"{name}=red"], known.table)
