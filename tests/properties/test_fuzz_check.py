"""Whole catalogues with something changed at random, through all that `guidegen check` does: refused in a sentence, or
judged; and what customers send, changed likewise.

One variant of the demonstration with one kit, its procedures and questions, and a workshop's own acts. `make test`
tries some, `make harden` a hundred thousand, GUIDEGEN_FUZZ says another number. Every hundredth goes through the
command itself.
"""

from __future__ import annotations

import os
import random
import re
import shutil
import traceback
from collections import Counter
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path

import pytest

from guidegen import pipeline, trade
from guidegen.assess import verdict
from guidegen.commands import builds, main, orders
from guidegen.commands.fit import answers_of
from guidegen.judge.builds import text as report_text
from guidegen.judge.builds.received import problems_of
from guidegen.judge.builds.report import write
from guidegen.judge.fit.answers import accepted
from guidegen.judge.fit.result import result_of
from guidegen.judge.fit.walk import walk
from guidegen.judge.letter import text_of
from guidegen.problems import CatalogueError, Problem, UsageProblem
from guidegen.trade import Catalogue
from guidegen.trade.paths import known_facts
from guidegen.workshop.memory import Memory
from tests.conftest import REPOSITORY, lay_down
from tests.fixtures.mutated import SEED, VALUES, mutants, rewritten
from tests.fixtures.order_texts import written
from tests.whole import WHOLE

pytestmark = pytest.mark.slow

VARIANT, KIT = "mk2", "banjo-feed"
PAIR = (f"tamsin-{VARIANT}", KIT)
PARTS = 8
"""Tests that share the work, so that several workers can."""
CATALOGUES = int(os.environ.get("GUIDEGEN_FUZZ", 100_000 if WHOLE else 80))
ORDERS = max(200, CATALOGUES // 10)
OWN_ACTS = REPOSITORY / "tests" / "fixtures" / "own_acts" / "content" / "acts.yml"


@pytest.fixture(scope="module")
def root(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demonstration with one variant and one kit."""
    root = lay_down(tmp_path_factory.mktemp("one pair") / "workshop")
    shutil.rmtree(root / "content" / "editions")
    shutil.rmtree(root / "machines" / "bracken")
    shutil.rmtree(root / "machines" / "tamsin" / "runs")
    (root / "content" / "pictures.yml").unlink()
    (root / "content" / "offers.yml").unlink()
    for path in root.glob("machines/tamsin/*.yml"):
        if path.stem not in ("family", VARIANT):
            path.unlink()
    for folder in ("kits", "procedures"):
        for path in (root / "content" / folder).glob("*.yml"):
            if path.stem not in (KIT, "shared"):
                path.unlink()
    questions = root / "content" / "questions.yml"
    text = re.sub(r"kits: \[[^\]]*\]", f"kits: [{KIT}]", questions.read_text(encoding="utf-8"))
    questions.write_text(text, encoding="utf-8")
    acts = OWN_ACTS.read_text(encoding="utf-8").replace("hazards: [sharp-edge]", "hazards: []")
    (root / "content" / "acts.yml").write_text(acts, encoding="utf-8")
    confirm = ("read", "--confirm", "--role", "maker", "--all", "--date", "2025-03-01", "--quiet")
    assert main(["--root", str(root), *confirm]) == 0
    pipeline.check(root)
    return root


FOUND = (
    ("content/procedures/banjo-feed.yml", "  banjo_torque: {", "  banjo_torue: {"),
    ("content/procedures/banjo-feed.yml", "  bench_pressure: {", "  bench: {"),
)
"""A file and a change of it, as small as could be, that once ended otherwise."""


@pytest.mark.parametrize(("path", "old", "new"), FOUND)
def test_what_was_found_once_stays_mended(root: Path, path: str, old: str, new: str) -> None:
    """Refused, with the place of what asks for it."""
    text = (root / path).read_text(encoding="utf-8")
    assert text.count(old) == 1
    known = trade.load(root, Memory(), {path: text.replace(old, new).encode()})
    with pytest.raises(CatalogueError) as refused:
        checked(known, root)
    assert {"DOC03"} <= {str(one.code) for one in refused.value.problems}


SLIPS = (
    ("machines/tamsin/mk2.yml", "resolution: 1 K", "resolution: 1$K", {"Q02"}),
    ("machines/tamsin/mk2.yml", "resolution: 1 K", "resolution: 0.5 bar", set()),
    ("machines/tamsin/family.yml", "water: {is: 105 ml", "water: {is: 105 l", {"P01"}),
)
"""A slip in a unit, and what it is called."""


@pytest.mark.parametrize(("path", "old", "new", "codes"), SLIPS)
def test_a_slip_in_a_unit_has_its_place(root: Path, path: str, old: str, new: str, codes: set[str]) -> None:
    """Where it was written, refused or warned of; one that only says another thing is as good as none."""
    text = (root / path).read_text(encoding="utf-8")
    assert text.count(old) == 1
    line = text[: text.index(old)].count("\n") + 1
    found: list[Problem] = []
    try:
        known = trade.load(root, Memory(), {path: text.replace(old, new).encode()})
        found += known.warnings
        checked(known, root)
    except CatalogueError as refused:
        found += refused.problems
    assert {str(one.code) for one in found if (one.path, one.line) == (path, line)} == codes


def faulty(seen: dict[str, str], said: str, data: bytes) -> None:
    """Note a fault by where it arose, once."""
    place = traceback.format_exc().strip().splitlines()
    seen.setdefault("\n".join([*place[-3:-1], place[-1][:300]]), f"{said}\n{data[-1500:]!r}")


def checked(known: Catalogue, root: Path) -> None:
    """What `guidegen check` does with a catalogue."""
    records = pipeline.assess_all(known, root, draws=0)
    pipeline.refuse_unsafe(records, known)


@pytest.mark.parametrize("part", range(PARTS))
def test_a_catalogue_with_something_changed_is_judged_or_refused(
    root: Path, part: int, capsys: pytest.CaptureFixture[str], record_property: Callable[[str, object], None]
) -> None:
    """Any of its files, bytes or lines, with all that is checked across them."""
    paths = [path.relative_to(root).as_posix() for path in sorted(root.rglob("*.yml")) if ".guidegen" not in path.parts]
    paths += [path for path in paths if "procedures" in path or "machines" in path]
    chance, memory = random.Random(f"{SEED} catalogue {part}"), Memory()
    count, ends, seen = CATALOGUES // PARTS, Counter[str](), dict[str, str]()
    for number in range(count):
        path = chance.choice(paths)
        data = (root / path).read_bytes()
        made = rewritten(data, chance) if chance.randrange(4) else next(mutants(data, chance))
        said = f"GUIDEGEN_SEED={SEED}, part {part}, {path}, try {number}"
        try:
            if number % 100 == 99:
                commanded(root, path, made, capsys)
            known = trade.load(root, memory, {path: made})
            ends["loaded"] += 1
            checked(known, root)
            ends["judged clean"] += 1
        except CatalogueError:
            ends["refused"] += 1
        except Exception:
            faulty(seen, said, made)
    record_property(
        "figures", f"catalogues changed: part {part}: {count}, seed {SEED}: {dict(ends)}, {len(seen)} faults"
    )
    assert not seen, "\n\n".join(f"{place}\n{said}" for place, said in seen.items())


def commanded(root: Path, path: str, data: bytes, capsys: pytest.CaptureFixture[str]) -> None:
    """The same by the command; no end is a fault of ours."""
    before = (root / path).read_bytes()
    try:
        (root / path).write_bytes(data)
        code = main(["--root", str(root), "check"])
    finally:
        (root / path).write_bytes(before)
    printed = "".join(capsys.readouterr())
    assert code in (0, 1), printed[-500:]
    assert "Traceback" not in printed


@pytest.fixture(scope="module")
def known(root: Path) -> Catalogue:
    """Its catalogue."""
    return trade.load(root)


def test_an_order_with_something_changed_is_held_against_its_rules_or_refused(
    root: Path, known: Catalogue, record_property: Callable[[str, object], None]
) -> None:
    """Whole ones of every ending come first."""
    payload = verdict.checked(known, known.machine(PAIR[0]), known.kit(KIT), pipeline.EDITION).payload
    chance, ends, seen = random.Random(f"{SEED} orders"), Counter[str](), dict[str, str]()
    whole = [written(payload, {}, choice).encode() for choice in (0, 1)]
    for data in whole:
        orders.receive(root, known, data.decode(), "order.txt")
    for number in range(ORDERS):
        data = chance.choice(whole)
        made = rewritten(data, chance) if chance.randrange(2) else next(mutants(data, chance))
        try:
            received = orders.receive(root, known, text_of(made, "order.txt", "order text"), "order.txt")
            list(orders.changes(received))
            ends["held"] += 1
        except CatalogueError:
            ends["refused"] += 1
        except Exception:
            faulty(seen, f"GUIDEGEN_SEED={SEED}, order {number}", made)
    record_property("figures", f"orders changed: {ORDERS}, seed {SEED}: {dict(ends)}, {len(seen)} faults")
    assert not seen, "\n\n".join(f"{place}\n{said}" for place, said in seen.items())


def test_a_build_report_with_something_changed_is_held_against_its_edition_or_refused(
    record_property: Callable[[str, object], None],
) -> None:
    """A whole one comes first; whatever is changed in it, it is read, or refused with places."""
    whole = write(builds.blank(REPOSITORY, "tamsin-mk2/feed-preheater", "2025.3", ())).encode()
    rules = builds.rules_of(
        REPOSITORY, builds.receive(REPOSITORY, trade.load(REPOSITORY), whole.decode(), "report.txt")
    )
    chance, ends, seen = random.Random(f"{SEED} reports"), Counter[str](), dict[str, str]()
    for number in range(ORDERS):
        made = rewritten(whole, chance) if chance.randrange(2) else next(mutants(whole, chance))
        try:
            received = report_text.read(text_of(made, "report.txt", "build report"), "report.txt")
            ends["held" if not [*problems_of(received, rules, known_facts(), date(2026, 1, 1))] else "judged"] += 1
        except CatalogueError:
            ends["refused"] += 1
        except Exception:
            faulty(seen, f"GUIDEGEN_SEED={SEED}, report {number}", made)
    record_property("figures", f"reports changed: {ORDERS}, seed {SEED}: {dict(ends)}, {len(seen)} faults")
    assert not seen, "\n\n".join(f"{place}\n{said}" for place, said in seen.items())


def test_any_answers_come_to_an_outcome_or_are_refused(
    known: Catalogue, record_property: Callable[[str, object], None]
) -> None:
    """What is offered, what is nearly that, and anything."""
    payload = verdict.checked(known, known.machine(PAIR[0]), known.kit(KIT), pipeline.EDITION).payload
    facts = {fact["fact"]: fact for fact in payload["rules"]["facts"]}
    chance, ends, seen = random.Random(f"{SEED} answers"), Counter[str](), dict[str, str]()

    def texts(wrong: int) -> Iterator[str]:
        for name, fact in facts.items():
            offered = [*(fact["choices"] or ()), "not-sure", "photo", *re.findall(r"[0-9.]+ [^ ;]+", accepted(fact))]
            text = chance.choice(offered)
            if wrong and not chance.randrange(wrong):
                bent = next(mutants(text.encode(), chance)).decode(errors="replace")
                text = chance.choice((bent, chance.choice(VALUES)))
            yield f"{name}={text}"

    for number in range(ORDERS):
        given = [text for text in texts(chance.choice((0, 0, 10))) if chance.randrange(20)]
        try:
            answers = answers_of(payload, given, known_facts())
            found = walk(payload["rules"], answers)
            if found["outcome"] is not None:
                result_of(payload, answers, found)
            ends[str(found["outcome"])] += 1
        except UsageProblem:
            ends["refused"] += 1
        except Exception:
            faulty(seen, f"GUIDEGEN_SEED={SEED}, answers {number}", "\n".join(given).encode())
    record_property("figures", f"answers changed: {ORDERS}, seed {SEED}: {dict(ends)}, {len(seen)} faults")
    assert not seen, "\n\n".join(f"{place}\n{said}" for place, said in seen.items())
