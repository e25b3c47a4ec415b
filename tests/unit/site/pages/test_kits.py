"""The page of a kit and the brief: what they say is what verdicts, instructions and terms say."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from guidegen.assess import verdict
from guidegen.record import Assessment
from guidegen.site.pages import kits
from guidegen.site.pages.page import Page
from guidegen.site.pages.pair import pair_page
from guidegen.site.pages.place import kinds_of
from guidegen.site.pages.site import Site
from tests.fixtures.records import record, site
from tests.mutants.draft import catalogue

KIT = "feed-preheater"
VARIANTS = ("tamsin-mk1", "tamsin-mk2")


def judged(variant: str) -> Assessment:
    """A record with the verdict on the demonstration's data, and the variant's own name."""
    known = catalogue()
    machine = known.machines[variant]
    fit = verdict.fit_part(verdict.checked(known, machine, known.kits[KIT], "next"))
    made = record(variant, KIT)
    named = made.variant.model_copy(update={"name": machine.name})
    return made.model_copy(update={"fit": fit, "variant": named})


@pytest.fixture(scope="module")
def whole() -> Site:
    return site(*map(judged, VARIANTS))


@pytest.fixture(scope="module")
def page(whole: Site) -> Page:
    return kits.kit_page(KIT, whole)


def text(body: str) -> str:
    return " ".join(re.sub(r"<[^>]+>", " ", body).split())


def test_the_bag_is_that_of_the_instructions() -> None:
    """A part whose size depends on the boiler names the variants of each size; one that is for some names those."""
    both = [judged(name) for name in VARIANTS]
    found = {one["name"]: one for one in kits.bag(both)}
    assert both[0].procedure is not None
    assert set(found) >= {one.name for one in both[0].procedure.uses.parts}
    coil = found["copper coil, pressure tested"]
    assert sorted(names for _, names in coil["sizes"]) == ["Tamsin Mark 1", "Tamsin Mark 2"]
    assert coil["some"] == ""


def test_another_kit_that_goes_on_first_is_named_with_its_machines(whole: Site) -> None:
    """A Mark 1 has the tall fitting, a Mark 2 has not."""
    found = list(kits.first([judged(name) for name in VARIANTS], "kits/feed-preheater/index.html"))
    assert found == [{"name": "Banjo Feed", "href": "../banjo-feed/index.html", "variants": "Tamsin Mark 1"}]


def test_each_machine_has_a_row_with_its_verdict(page: Page) -> None:
    for variant in VARIANTS:
        assert f'href="../../guides/{variant}/{KIT}/index.html"' in page.body
    assert "Fits with conditions" in page.body


def test_the_terms_of_the_workshop_stand_on_it(page: Page) -> None:
    """All of content/workshop.yml's block; without one there is no section."""
    terms = catalogue().workshop.terms
    assert terms is not None
    for words in (terms.seller.name, terms.seller.address, terms.delivery, terms.payment, terms.returns,
                  terms.warranty, terms.fitting, terms.privacy):  # fmt: skip
        assert " ".join(words.split()) in text(page.body)
    known = site(judged("tamsin-mk2"))
    publisher = known.reference.publisher.model_copy(update={"terms": None})
    without = replace(known, reference=replace(known.reference, publisher=publisher))
    assert 'id="terms"' not in kits.kit_page(KIT, without).body


def test_the_brief_has_every_reading_of_the_skilled_person(whole: Site) -> None:
    """By step, with limit and record; and every signature that the instruction asks for."""
    made = judged("tamsin-mk2")
    assert "brief" in kinds_of(made)
    body = pair_page(made, "brief", whole).body
    assert made.procedure is not None
    steps = [step for phase in made.procedure.fitting.phases for step in phase.steps]
    for step in steps:
        if step.role == "electrically-skilled" and step.hold is not None and step.hold.accept is not None:
            assert f'<a href="install.html#{step.anchor}">{step.number}</a>' in body
            assert step.hold.accept.limit in text(body)
    for step in steps:
        assert (f"Step {step.number}</a>" in body) == (step.act == "sign")


def test_an_edition_without_visits_has_no_brief() -> None:
    made = judged("tamsin-mk2")
    assert made.procedure is not None
    old = made.model_copy(update={"procedure": made.procedure.model_copy(update={"visits": ()})})
    assert "brief" not in kinds_of(old)
