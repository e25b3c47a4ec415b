"""Whatever stands out of a wall: record, instruction, costs and lint say the same, and nothing unknown is ever cut."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from guidegen.assess import guiding, verdict
from guidegen.assess.ways import options
from guidegen.judge.safety.lint import lint
from guidegen.trade.cutting import CUTTABLE, Action, Why, metal_needed
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine
from tests.fixtures.wall_cases import choice, fact, protrusion, put_on, with_protrusions
from tests.mutants.draft import COMPUTED, catalogue
from tests.whole import examples

pytestmark = pytest.mark.slow

KNOWN = catalogue()
MARK_2, KIT = KNOWN.machine("tamsin-mk2"), KNOWN.kit("feed-preheater")
BOSS = MARK_2.boiler.protrusions[0]


def lengths(low: int, high: int) -> st.SearchStrategy[str]:
    """A measured length in mm, or unknown."""
    widths = st.sampled_from(["0.1", "0.5", "1"])
    return st.one_of(st.builds("{} mm ± {} mm".format, st.integers(low, high), widths), st.just("unknown"))


def mostly(usual: str, others: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
    """What lets a thing be trimmed, five times out of six: else hardly any case would come to a cut."""
    return st.integers(0, 5).flatmap(lambda die: others if die == 5 else st.just(usual))


BANDS = st.one_of(
    *[st.just(("12 mm ± 0.5 mm", "24 mm ± 0.5 mm"))] * 4,
    st.sampled_from([("41.5 mm ± 0.5 mm", "44 mm ± 0.5 mm"), ("39 mm ± 0.5 mm", "44 mm ± 0.5 mm")]),
    st.tuples(lengths(0, 44), lengths(1, 45)),
)
LITTLE = st.sampled_from(["0.4 mm ± 0.1 mm", "0.5 mm ± 0.1 mm", "0.6 mm ± 0.1 mm", "0.61 mm ± 0.1 mm"])
PROTRUSIONS = st.builds(
    lambda band, **others: {"from_": band[0], "to": band[1], **others},
    band=BANDS,
    kind=mostly("boss", st.sampled_from(["web", "ear", "stud", "unknown"])),
    stands_out=mostly("6 mm ± 0.3 mm", st.one_of(LITTLE, lengths(1, 15))),
    carries=mostly("nothing", st.sampled_from(["fuse", "unknown"])),
    metal_left=mostly("3 mm ± 0.3 mm", st.one_of(st.just("0.1 mm"), lengths(1, 5))),
    evidence=mostly("measured", st.just("assumed")),
)
BOILERS = st.fixed_dictionaries({
    "wall": st.sampled_from([*["4 mm ± 0.5 mm"] * 4, "1.3 mm ± 0.1 mm", "unknown"]).map(fact),
    "material": st.sampled_from([*["brass"] * 6, "copper", "aluminium", "unknown"]).map(choice),
})  # fmt: skip
PRESSURES = st.sampled_from([*["12 bar ± 1 bar"] * 5, "unknown"])
WAYS = st.sampled_from(["from-above", "from-below", "in-place", None])


def machines(parts: list[dict[str, Any]], boiler: dict[str, Any], pressure: str) -> Machine:
    """The Mark 2 with these things on its wall."""
    out = [protrusion(BOSS, f"part-{place}", **part) for place, part in enumerate(parts)]
    made = with_protrusions(MARK_2, *out, **boiler)
    path = made.water_path.model_copy(update={"relief_opens": fact(pressure, "pressure")})
    return made.model_copy(update={"water_path": path})


def sawn(machine: Machine, kit: Kit, pair: verdict.Judged) -> tuple[set[str], set[str]] | None:
    """What the instruction cuts, and which rules about cuts find something; None where there is no instruction."""
    fit = verdict.fit_part(pair.check)
    made = guiding.made_guide(KNOWN, machine, kit, fit, pair, COMPUTED, "next")
    if made is None:
        return None
    cuts = {step.item for step in made.resolved.fitting.steps if step.step.cut is not None}
    return {one for one in cuts if one}, {one.rule for one in lint(made) if one.rule.startswith("CUT")}


@settings(max_examples=examples(60, 5), deadline=None, derandomize=True)
@given(parts=st.lists(PROTRUSIONS, max_size=3), boiler=BOILERS, pressure=PRESSURES, way=WAYS)
def test_everybody_says_the_same(
    parts: list[dict[str, Any]], boiler: dict[str, Any], pressure: str, way: str | None
) -> None:
    """What the record trims is what the instruction saws, what costs count, and what the lint accepts."""
    machine, kit = machines(parts, boiler, pressure), put_on(KIT, way)
    pair = verdict.judged(KNOWN, machine, kit, "next")
    recorded = verdict.protrusions(machine, kit, pair)
    trims = {one.id for one in recorded if one.action == "trim"}
    ways = options(pair.ways["wall.way"])
    met = next(one for one in verdict.fit_part(pair.check).reasons if one.id == "wall-smooth").met
    found = sawn(machine, kit, pair)
    if found is not None:
        assert found == (trims, set())
    else:
        assert not trims
    assert bool(trims) <= ("trimmed" in ways)
    assert (ways == ("smooth",)) <= (met is True)
    if met:
        assert all(one.action == "leave" for one in recorded)
    for one in recorded:
        assert (one.action == "leave") <= (one.reason in (Why.ELSEWHERE, Why.FLUSH))


@settings(max_examples=examples(200, 5), deadline=None, derandomize=True)
@given(parts=st.lists(PROTRUSIONS, min_size=1, max_size=3), boiler=BOILERS, pressure=PRESSURES, way=WAYS)
def test_nothing_unknown_is_ever_cut(
    parts: list[dict[str, Any]], boiler: dict[str, Any], pressure: str, way: str | None
) -> None:
    """Of what is trimmed all is known and measured, it carries nothing, and metal enough stays."""
    machine, kit = machines(parts, boiler, pressure), put_on(KIT, way)
    for one in verdict.judged(KNOWN, machine, kit, "next").decisions:
        if one.action is not Action.TRIM:
            continue
        out = one.protrusion
        needed = metal_needed(machine)
        assert all(each.known for each in (out.stands_out, out.metal_left, out.carries, machine.boiler.wall))
        assert (out.stands_out.evidence, out.metal_left.evidence) == ("measured", "measured")
        assert out.kind in CUTTABLE
        assert out.carries.value == "nothing"
        assert needed is not None
        assert one.keeps is not None
        assert one.keeps >= max(1e-3, needed, out.metal_left.low)
        assert machine.boiler.wall.low >= one.keeps
        assert machine.boiler.material.value != "aluminium"
