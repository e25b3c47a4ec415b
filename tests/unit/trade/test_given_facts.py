"""Facts of a workshop's own that a kit gives: they are so for the steps of the kits that go onto it."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from guidegen import trade
from guidegen.assess import guiding, verdict
from guidegen.judge.logic import Truth
from guidegen.judge.safety.facts import holds
from guidegen.problems import Code
from guidegen.trade.load import look
from tests.unit.trade.test_own_facts import FACTS, FIXTURE

GIVEN = """gives: {own.foot_thread: M5, own.foot_height: 30 mm ± 1 mm}
"""


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """Return the small workshop with three facts of its own."""
    shutil.copytree(FIXTURE, tmp_path / "w")
    (tmp_path / "w" / "content" / "facts.yml").write_text(FACTS, encoding="utf-8")
    return tmp_path / "w"


def test_a_kit_gives_them_to_the_kit_that_goes_onto_it(root: Path) -> None:
    """A word, and a quantity that a `when:` may compare; whatever the machine itself has."""
    kits = root / "content" / "kits"
    text = (kits / "collar.yml").read_text(encoding="utf-8")
    (kits / "collar.yml").write_text(text + GIVEN, encoding="utf-8")
    effects = text[text.index("effects:\n") : text.index("parts:\n")]
    ring = text.replace(effects, "effects:\n  - {kind: none, because: It only sits there.}\nneeds: collar\n")
    asked = ring[ring.index("wetted:\n") : ring.index("downsides:\n")]
    ring = ring.replace(asked, "wetted: []\nrequirements: []\n")
    (kits / "ring.yml").write_text(ring, encoding="utf-8")
    two = root / "machines" / "plain" / "two.yml"
    two.write_text(two.read_text(encoding="utf-8") + "own: {foot_thread: M4}\n", encoding="utf-8")
    known = trade.load(root)
    machine, kit = known.machine("plain-two"), known.kit("ring")
    pair = verdict.judged(known, machine, kit, "next")
    facts = guiding.facts_for(known, machine, kit, verdict.fit_part(pair.check), pair, {})
    assert facts.get("own.foot_thread").value == "M5"
    assert holds({"own.foot_height": {"at_least": "28 mm"}}, facts) is Truth.TRUE
    assert holds({"own.foot_height": {"at_least": "3.2 cm"}}, facts) is Truth.FALSE


@pytest.mark.parametrize(
    ("given", "code", "fix"),
    [
        ("own.foot_thread: M6", Code.WRONG_CHOICE, "use one of M4, M5"),
        ("own.foot_heigth: 30 mm", Code.UNKNOWN_FACT, "write own.foot_height"),
        ("own.foot_height: 30 ml", Code.WRONG_DIMENSION, ""),
    ],
)
def test_what_a_kit_gives_is_checked_as_it_was_declared(root: Path, given: str, code: Code, fix: str) -> None:
    """At its line: a word that the fact never is, a name that nobody declared, another dimension."""
    kit = root / "content" / "kits" / "collar.yml"
    text = kit.read_text(encoding="utf-8")
    kit.write_text(f"{text}gives: {{{given}}}\n", encoding="utf-8")
    (problem,) = [one for one in look(root)[1] if one.severity == "error"]
    assert (problem.code, problem.line) == (code, len(text.splitlines()) + 1)
    assert fix in problem.fix
