"""What an install page gets: plain data, complete, with words derived and branches numbered."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import pytest

from guidegen.judge.safety.record import finding_record, procedure_record
from tests.mutants.draft import draft

pytestmark = pytest.mark.slow

PAIRS = [("tamsin-mk2", "feed-preheater"), ("bracken-a", "feed-preheater"), ("bracken-c", "banjo-feed"),
         ("tamsin-mk1", "loop-controller")]  # fmt: skip


def steps(record: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """Yield every step of both courses."""
    for course in ("fitting", "restoring"):
        for part in (*record[course]["phases"], *record[course]["remedies"]):
            yield from part["steps"]


@pytest.fixture(scope="module", params=PAIRS, ids="/".join)
def record(request: pytest.FixtureRequest) -> dict[str, Any]:
    """The record of a pair."""
    return procedure_record(draft(*request.param).guide())


def test_a_record_is_json_and_no_brace_is_left(record: dict[str, Any]) -> None:
    """Every text is complete."""
    text = json.dumps(record, ensure_ascii=False)
    assert json.loads(text) == record
    assert not [value for value in texts(record) if "{" in value or "not known" in value]


def texts(value: Any) -> Iterator[str]:
    """Yield every text in the record."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for one in value.values():
            yield from texts(one)
    elif isinstance(value, list):
        for one in value:
            yield from texts(one)


def test_every_branch_leads_to_a_printed_step_or_says_who_can_help(record: dict[str, Any]) -> None:
    """Nothing is undefined on a failing side."""
    anchors = {step["anchor"] for step in steps(record)}
    for step in steps(record):
        if step["hold"] is not None:
            way = step["hold"]["on_fail"]
            assert (way["anchor"] in anchors) if way["anchor"] else (way["stop"] and way["who_can_help"])
    for course in ("fitting", "restoring"):
        for remedy in record[course]["remedies"]:
            way = remedy["then"]
            assert (way["anchor"] in anchors) if way["anchor"] else (way["stop"] and way["who_can_help"])


def test_anchors_and_numbers_are_unique(record: dict[str, Any]) -> None:
    """A link and a number mean one step."""
    anchors = [step["anchor"] for step in steps(record)]
    assert len(set(anchors)) == len(anchors)
    for course in ("fitting", "restoring"):
        numbers = [step["number"] for part in (*record[course]["phases"], *record[course]["remedies"])
                   for step in part["steps"]]  # fmt: skip
        assert len(set(numbers)) == len(numbers)


def test_minutes_are_the_sum_of_the_steps_of_the_longest_case(record: dict[str, Any]) -> None:
    """Trimming and exchanging are not both done."""
    total = sum(phase["minutes"] for phase in record["fitting"]["phases"])
    assert record["shortest_minutes"] <= record["minutes"] <= total
    for phase in record["fitting"]["phases"]:
        assert phase["minutes"] == pytest.approx(sum(step["minutes"] for step in phase["steps"]))


def test_every_tool_part_and_consumable_names_its_steps(record: dict[str, Any]) -> None:
    """What nothing uses is not listed."""
    for kind in ("tools", "parts", "consumables"):
        assert all(one["name"] for one in record["uses"][kind])


def test_the_notice_stands_until_a_build_is_recorded() -> None:
    """And goes with the first one."""
    one = draft("tamsin-mk2", "feed-preheater")
    assert procedure_record(one.guide())["notice"] == "Not yet carried out on this variant."
    one.paper = type(one.paper)("next", "c", "en", builds=1)
    assert procedure_record(one.guide())["notice"] is None


def test_machine_dependent_steps() -> None:
    """A machine without a boss has no step for it; a hard-wired one is isolated at its disconnector."""
    keys = {variant: {step["key"] for step in steps(procedure_record(draft(variant, "feed-preheater").guide()))}
            for variant in ("tamsin-mk1", "tamsin-mk3", "tamsin-mk1b", "bracken-a")}  # fmt: skip
    assert "trim/saw-lifting-web" in keys["tamsin-mk1"]
    assert not any("saw" in key for key in keys["tamsin-mk3"] | keys["tamsin-mk1b"] | keys["bracken-a"])
    assert "exchange/plates" in keys["tamsin-mk1b"]
    assert "exchange/plates" not in keys["tamsin-mk3"]
    assert "put-back/relief-upstream" in keys["tamsin-mk1"]
    assert "put-back/relief-downstream" in keys["tamsin-mk3"]
    assert "put-back/prove-dead" in keys["bracken-a"]
    assert "put-back/prove-dead" not in keys["tamsin-mk3"]


def test_a_phase_that_only_some_need_says_so_once() -> None:
    """Trimming and exchanging the boiler are two ways to the same place."""
    phases = procedure_record(draft("tamsin-mk2", "feed-preheater").guide())["fitting"]["phases"]
    printed = {phase["id"]: phase["only_if"] for phase in phases if phase["only_if"]}
    assert printed == {"trim": "you trim your own boiler", "exchange": "you have the exchange boiler"}


def test_machines_of_120_volt_and_without_a_plug_say_so() -> None:
    """Among the preliminary requirements."""
    printed = {variant: {note["id"] for note in procedure_record(draft(variant, "banjo-feed").guide())["preliminary"]}
            for variant in ("tamsin-mk1", "tamsin-mk1-120", "bracken-a")}  # fmt: skip
    assert "low-voltage" in printed["tamsin-mk1-120"]
    assert "hard-wired" in printed["bracken-a"]
    assert not {"low-voltage", "hard-wired"} & printed["tamsin-mk1"]


def test_a_finding_is_plain_data() -> None:
    """With its place as path, line and column."""
    one = draft("tamsin-mk2", "feed-preheater")
    one.procedure["version"] = None
    (finding,) = one.findings()
    data = finding_record(finding)
    assert data["rule"] == "DOC01"
    assert data["place"].startswith("content/procedures/feed-preheater.yml:")


def test_what_keeps_a_step_safe_is_in_its_record() -> None:
    """How the plug is kept, what shows that the pressure is off, how a device sits, what keeps a distance."""
    named = {one["key"]: one for one in steps(procedure_record(draft("tamsin-mk2", "feed-preheater").guide()))}
    assert named["prepare/cut-off"]["keeps_control"].startswith("Lay the plug in front of you")
    assert named["cool/open-tap"]["release"]["proof"].startswith("No hiss")
    assert named["put-back/device-on-limit"]["seat"]["clamp"] == "its own clip or screws, as in the photograph"
    assert named["put-back/clearance"]["restraint"].startswith("both clamp bands")
    assert named["cold-test/power-pump"]["watched"]
    assert not named["cold-test/press"]["watched"]


def test_a_wired_machine_is_unlocked_before_it_is_switched_on_and_tested_at_its_circuit() -> None:
    """It has no socket that a portable device could go into, and no plug with an earth pin."""
    wired = [one["key"] for one in steps(procedure_record(draft("bracken-a", "banjo-feed").guide()))]
    corded = [one["key"] for one in steps(procedure_record(draft("tamsin-mk1", "banjo-feed").guide()))]
    for phase, power in (("cold-test", "power-pump"), ("heat", "power-heat"), ("service", "power-use")):
        assert wired.index(f"{phase}/unlock") == wired.index(f"{phase}/{power}") - 1
        assert f"{phase}/unlock" not in corded
    texts_of = {variant: list(texts(procedure_record(draft(variant, "banjo-feed").guide())))
                for variant in ("bracken-a", "tamsin-mk1")}  # fmt: skip
    assert not any("pin of" in text or "earth pin" in text or "ortable" in text for text in texts_of["bracken-a"])
    assert not any("padlock off" in text or "earth terminal" in text for text in texts_of["tamsin-mk1"])


def test_a_kit_that_has_to_come_first_changes_what_the_next_one_finds() -> None:
    """The Mark 1's tall straight inlet does not clear the coil; once the Banjo Feed is on, the inlet is a banjo."""
    keys = [one["key"] for one in steps(procedure_record(draft("tamsin-mk1", "feed-preheater").guide()))]
    assert "take-out/hose-off-banjo" in keys
    assert "take-out/hose-off" not in keys
    # The fitting of the Banjo Feed itself still finds the straight one.
    assert draft("tamsin-mk1", "banjo-feed").facts.get("water_path.inlet.fitting").text == "straight"


def test_only_devices_that_the_machine_has_are_named() -> None:
    """The Mark 1 has no thermal fuse; the Mark 3 has one, and it is the last line."""
    found = {variant: " ".join(texts(procedure_record(draft(variant, "feed-preheater").guide())["residual"]))
             for variant in ("tamsin-mk1", "tamsin-mk3")}  # fmt: skip
    assert "The limit thermostat is the last line." in found["tamsin-mk1"]
    assert "The thermal fuse is the last line." in found["tamsin-mk3"]


def test_what_is_laid_out_is_what_the_course_takes_in_hand() -> None:
    """Sizes and seals with each part; a saw is for those who trim; spare seals are for the way back."""
    one = procedure_record(draft("tamsin-mk2", "feed-preheater").guide())
    tools = {tool["id"]: tool for tool in one["uses"]["tools"]}
    assert tools["hand-saw"]["only_if"] == "you trim your own boiler"
    assert tools["torque-wrench"]["only_if"] is None
    parts = {part["id"]: part for part in one["uses"]["parts"]}
    seal = "with 1 × flat seal, PTFE, 10 × 14 × 1.5 mm"
    assert parts["female-fitting"]["details"] == f"1 ×; for 8 mm tube, G 1/8 female (thread inside); {seal}"
    assert parts["male-fitting"]["details"] == f"1 ×; for 8 mm tube, G 1/8 male (thread outside); {seal}"
    assert "hand-saw" not in {tool["id"] for tool in one["restoring_uses"]["tools"]}
    taken = {name for step in steps({"fitting": {"phases": [], "remedies": []}, "restoring": one["restoring"]})
             for name in step["uses"]["consumables"]}  # fmt: skip
    assert {thing["name"] for thing in one["restoring_uses"]["consumables"]} == taken


def test_a_limit_names_its_instrument_as_the_kit_lists_it() -> None:
    """Not by an id that only the author knows; the senses of the body keep their word."""
    found = {(accept["instrument"], accept["read_with"])
             for step in steps(procedure_record(draft("bracken-a", "banjo-feed").guide()))
             if (accept := (step["hold"] or {}).get("accept"))}  # fmt: skip
    assert ("circuit-rcd", "residual-current device in the machine's circuit") in found
    assert ("earth-tester", "earth continuity tester") in found
    assert ("sight", "sight") in found


@pytest.mark.parametrize(("variant", "cuts"), [("tamsin-mk1", True), ("tamsin-mk3", False)])
def test_a_cloth_for_metal_dust_is_laid_out_only_where_something_is_cut(variant: str, cuts: bool) -> None:
    """The Mark 1 has a web on its wall, the Mark 3 none (their YAML); no other cloth ever takes the dust."""
    one = draft(variant, "feed-preheater")
    assert ("dust-cloth" in one.kit.consumables) is cuts
    dusty = {name for step in steps(procedure_record(one.guide())) if not step["reversible"]
             for name in step["uses"]["consumables"]}  # fmt: skip
    assert dusty == ({"cloth for metal dust"} if cuts else set())


def test_an_exchange_boiler_gets_the_inlet_fitting_of_the_old_one() -> None:
    """It comes with a thread only: the fitting moves over, on new seals, to a torque, before the coil goes on."""
    resolved = draft("tamsin-mk1", "feed-preheater").guide().resolved
    found = list(dict.fromkeys(step.step.id for phase in resolved.fitting.phases for step in phase.steps))
    wanted = ["plates", "fitting-off", "fitting-over", "fitting-torque", "slide-coil", "outlet"]
    assert [name for name in found if name in wanted] == wanted


def test_a_bonds_screws_state_their_torque_on_both_ways() -> None:
    """Both ends when it goes on, and the machine's earth screw when it comes off: what the kit's file states for M4."""
    one = procedure_record(draft("tamsin-mk3", "feed-preheater").guide())
    torques = {
        course: [
            (step["torque"]["is"], step["torque"]["thread"], step["uses"]["tools"])
            for phase in one[course]["phases"]
            for step in phase["steps"]
            if step["torque"] and ("eyelet" in step["do"] or "earth lead" in step["do"])
        ]
        for course in ("fitting", "restoring")
    }
    stated = ("2.4 N·m ± 0.3 N·m", "M4, A2-70", ["torque wrench", "screwdriver bit for the torque wrench"])
    assert torques == {"fitting": [stated, stated], "restoring": [stated]}
