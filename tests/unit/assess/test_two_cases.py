"""A whole guide in an invented language with two cases, from a generated catalogue.

Its grammar: what a sentence begins with is a nominative (`lo …`), every other name an accusative (`lun …en`), and `ud`
before `lun` becomes `udlun`. Every other word gets the ending `os`.
"""

from __future__ import annotations

import io
import re
from collections.abc import Callable, Iterable, Iterator
from functools import cache
from pathlib import Path

import pytest
from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po, write_po

from guidegen import pipeline, trade
from guidegen.assess import leaning, verdict
from guidegen.assess.adapt import facts_of
from guidegen.assess.guiding import problems
from guidegen.judge.safety.model import ResolvedProcedure
from guidegen.judge.safety.resolve import resolve
from guidegen.language import in_language
from guidegen.language.collect import template
from guidegen.language.forms import MissingForm, PartOf
from guidegen.trade import Catalogue

pytestmark = pytest.mark.slow

ROOT = Path(__file__).parents[3]
LANGUAGE = "xv"
PAIR = ("tamsin-mk2", "feed-preheater")
SLOT = re.compile(r"\{(?:of|at|to|with|relief\.say|work\.joints|work\.earth)\}")


def said(text: str) -> str:
    """A template in the language."""
    named = SLOT.sub(lambda found: f"{found[0][:-1]}:{'acc' if found.start() else 'nom'}}}", text)
    pieces = re.split(r"(\{[^}]*\})", named)
    ended = "".join(one if one.startswith("{") else re.sub(r"[^\W\d_]+", r"\g<0>os", one) for one in pieces)
    return re.sub(r"\batos (?=\{at:acc)", "ud ", ended)


def stem(name: str) -> str:
    """A name without its English articles."""
    return re.sub(r"\b(?:the|of|every|with) ", "", name)


def generated(names: Iterable[str], without: tuple[str, str] = ("", "")) -> bytes:
    """The catalogue: every template of acts, and every name in both cases but for one."""
    catalogue, text = Catalog(), io.BytesIO()
    for one in read_po(io.BytesIO(template())):
        if one.context == "act":
            catalogue.add(one.id, said(str(one.id)), context="act")
    catalogue.add("the", "nom acc", context="forms")
    catalogue.add("ud lun", "udlun", context="contraction")
    for name in names:
        cases = (("nom", f"lo {stem(name)}"), ("acc", f"lun {stem(name)}en"))
        for form, string in cases:
            if (form, name) != without:
                catalogue.add(name, string, context=form)
    write_po(text, catalogue)
    return text.getvalue()


@cache
def demonstration() -> Catalogue:
    """The catalogue of the demonstration."""
    return trade.load(ROOT)


def made() -> ResolvedProcedure:
    """The guide of the pair in the language in use, its steps alone."""
    known = demonstration()
    machine, kit = known.machine(PAIR[0]), known.kit(PAIR[1])
    pair = verdict.judged(known, machine, kit, "next")
    facts = facts_of(machine, kit, {**pair.numbers, **pair.ways}, pair.decisions)
    assert known.shared is not None
    return resolve(known.procedures[kit.id], known.shared, facts)


@cache
def names() -> tuple[str, ...]:
    """Every name that an act of this pair may have: of things, and of the bolts, which are named by their number."""
    known = demonstration()
    machine, kit = known.machine(PAIR[0]), known.kit(PAIR[1])
    facts = leaning.looking(known, facts_of(machine, kit, {}, ()), machine, kit, ())
    said = [one.say for one in facts.things.by_id.values()]
    things = [one.thing if isinstance(one, PartOf) else one for one in said]
    items = [item.say or item.name for many in facts.lists.values() for item in many]
    return tuple(sorted({*things, *items, facts.get("relief.say").text, "the plug's earth pin"}))


def workshop(root: Path, catalogue: bytes) -> Path:
    """A folder that brings the language."""
    folder = root / "content" / "words"
    folder.mkdir(parents=True, exist_ok=True)
    (folder / f"{LANGUAGE}.po").write_bytes(catalogue)
    return root


def sentences(resolved: ResolvedProcedure) -> Iterator[tuple[str, str]]:
    """The key and the sentence of every step."""
    for course in resolved.courses:
        steps = [step for part in course.phases for step in part.steps]
        steps += [step for part in course.remedies for step in part.steps]
        yield from ((f"{course.name} {step.key}", step.step.do) for step in steps)


def test_every_sentence_of_a_guide_is_said_in_the_language(tmp_path: Path) -> None:
    """Some written out by hand; none keeps an English word, none lacks a name, and the steps stay the same."""
    english = dict(sentences(made()))
    with in_language(LANGUAGE, workshop(tmp_path, generated(names()))):
        resolved = made()
    assert resolved.formless == ()
    told = dict(sentences(resolved))
    assert list(told) == list(english)
    assert len(told) > 150
    by_english = {english[key]: sentence for key, sentence in told.items()}
    for sentence, wanted in WRITTEN_OUT.items():
        assert by_english[sentence] == wanted
    assert [one for one in told.values() if re.search(r"\b(?:the|with|every|back|off)\b", one)] == []


WRITTEN_OUT = {
    "Switch the machine's own switch off.": "Switchos lun machine's own switchen offos.",
    "Undo the screws of the top cover.": "Undoos theos screwsos ofos lun top coveren.",
    "Tighten bolt 3 with the torque wrench on the shortened hex key.":
        "Tightenos lun bolt 3en withos theos torqueos wrenchos onos lun shortened hex keyen.",
    "Open the steam tap slowly over the jug.": "Openos lun steam tapen slowlyos overos lun jugen.",
}  # fmt: skip
"""By hand, from the grammar above."""


def test_places_are_contracted_and_lists_named_one_by_one(tmp_path: Path) -> None:
    """What stood behind `at`, and the joints of this work."""
    with in_language(LANGUAGE, workshop(tmp_path, generated(names()))):
        resolved = made()
    told = [sentence for _, sentence in sentences(resolved)]
    assert any(" udlun " in one for one in told)
    assert not any(" ud lun " in one for one in told)
    joints = {note for course in resolved.courses for part in course.phases for step in part.steps
              if step.step.do.startswith("Wrapos") for note in step.step.notes}  # fmt: skip
    assert joints
    assert all(
        re.fullmatch(r"Theseos areos: (?:lun [^,]+en, )+lun [^,]+en and lun [^,]+en\.", str(one)) for one in joints
    )


def test_one_missing_form_is_named(tmp_path: Path) -> None:
    """One form of one name is gone: it and nothing else is missing."""
    with in_language(LANGUAGE, workshop(tmp_path, generated(names(), ("acc", "the feed hose")))):
        assert made().formless == (MissingForm("the feed hose", "acc"),)


def test_a_form_that_no_sentence_asks_for_is_not_missed(tmp_path: Path) -> None:
    """No sentence begins with the feed hose."""
    with in_language(LANGUAGE, workshop(tmp_path, generated(names(), ("nom", "the feed hose")))):
        assert made().formless == ()


def test_a_missing_form_refuses_the_build_of_that_language(
    tmp_path: Path, lay_down_workshop: Callable[[Path], Path]
) -> None:
    """A problem with code, file, the name, the form and what to write; with the form there is none."""
    root = lay_down_workshop(tmp_path / "workshop")
    settings = root / "content" / "workshop.yml"
    settings.write_text(settings.read_text(encoding="utf-8").replace("language: en\n", f"language: {LANGUAGE}\n"))
    for without, wanted in ((("acc", "the feed hose"), 1), (("", ""), 0)):
        workshop(root, generated(names(), without))
        record = pipeline.assess_one(root, *PAIR, draws=0)
        found = [one for one in problems(record) if one.severity == "error"]
        assert len(found) == wanted
        for one in found:
            assert str(one.path) == f"content/words/{LANGUAGE}.po"
            assert one.code == "ACT04"
            assert '"the feed hose" has no form `acc`' in one.message
            assert 'msgctxt "acc", msgid "the feed hose"' in one.fix
