"""What nobody knows is never stated as if somebody did: some facts of two variants, and all of them, taken away.

Every fact of every variant is taken away in the files beside this one, one for each family.
"""

from __future__ import annotations

import re

import pytest

from guidegen.assess import Assessor
from guidegen.assess.guiding import problems
from guidegen.assess.reference import reference
from guidegen.site.pages.cost import usage_words
from guidegen.site.pages.pair import pair_page
from guidegen.site.pages.place import kinds_of
from guidegen.site.pages.site import Site, by_pair
from tests.fixtures.unknown_facts import OPEN, check, spaced
from tests.fixtures.unknowns import records, said, shown, without_facts
from tests.mutants.draft import catalogue

pytestmark = pytest.mark.slow

FEW = (
    ("tamsin-mk2", (
        "mains.voltage", "boiler.material", "boiler.diameter", "boiler.bolts.torque", "boiler.protrusions.0.carries",
        "control.setpoint", "water_path.check_valve", "safety_devices.0.rating",
    )),
    ("tamsin-mk1", ("water_path.inlet.fitting", "control.opens")),
)  # fmt: skip


@pytest.mark.parametrize(("variant", "name"), [(variant, name) for variant, names in FEW for name in names])
def test_a_fact_that_nobody_knows_is_not_told(variant: str, name: str) -> None:
    """One fact of each kind: of the mains, the boiler, what stands out of it, the control, the water, a device."""
    check(variant, name)


CERTAIN = (
    "not on this variant", "it can be undone:", "can be undone", "the kit puts nothing round the wall.",
    "it does not stand where the coil goes.", "fits", "fits with conditions",
)  # fmt: skip
"""Lines that nobody may write about a machine of which nothing is known, with a kit that winds a coil."""


@pytest.mark.parametrize("variant", ["tamsin-mk2", "tamsin-mk1"])
@pytest.mark.parametrize("draws", [0, 64])
def test_of_nothing_known_nothing_is_claimed(variant: str, draws: int) -> None:
    """No ratio, no degrees, no time, no watt; no instruction, no charts; and no line that is certain of the variant."""
    known = catalogue()
    machine = without_facts(known.machines[variant])
    found = records(Assessor(known, "next", draws), machine)
    assert [one for one in problems(*found.values()) if one.severity == "error"] == []
    coil = found["feed-preheater"]
    assert coil.procedure is None
    assert "charts" not in kinds_of(coil)
    told = said({"feed-preheater": coil}, known)
    every = {spaced(line) for many in told.values() for line in many}
    assert {line for line in every if line.casefold() in CERTAIN} == set()
    computed = re.compile(r"× ?\d|\d ?(?:°C|K|°F|s|min|h|W|Wh|ml)\b")
    inputs = {spaced(one.text) for one in coil.inputs}
    needed = {spaced(reason.detail) for reason in coil.fit.reasons}
    inputs |= {spaced(usage_words(coil))}  # the workshop's habits, not the machine's
    claims = {line for line in every - inputs if computed.search(line) and not any(one in line for one in needed)}
    assert {line for line in claims if not OPEN.search(line)} == set()
    overview = set(shown(pair_page(coil, "overview", Site.of(by_pair([coil]), reference(known)))))
    assert {"Not known yet", "No fitting instruction yet", "not known on this variant"} <= overview
    assert any("whether something has to be cut is not known yet" in line.casefold() for line in overview)
