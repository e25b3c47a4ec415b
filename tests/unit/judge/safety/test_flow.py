"""Every path through the step graph: branches, nights, failing sides, loops."""

from __future__ import annotations

from typing import Any

from guidegen.judge.safety.flow import runs_of, settled
from guidegen.judge.safety.report import difference, state_rows, states_report
from tests.unit.judge.safety.small import COOL, HELP, LIVE, OFF, guide, hold

STOP = {"id": "night", "say": "Safe stop."}


def run(*phases: list[dict[str, Any]], remedies: Any = ()) -> Any:
    """Return the walk through phases that each end in a safe stop."""
    made = [{"id": f"p{n}", "name": "P", "steps": steps, "stop": STOP} for n, steps in enumerate(phases)]
    one = guide(phases=made, remedies=list(remedies))
    (walked,) = runs_of(one.resolved)
    return walked


def look(name: str, aim: dict[str, Any], **more: Any) -> dict[str, Any]:
    """Return a hold point."""
    return {"id": name, "do": "Look.", "hold": {**hold(at_most="0 drops"), "on_fail": aim}, **more}


def step(name: str, **more: Any) -> dict[str, Any]:
    """Return a step."""
    return {"id": name, "do": "Do it.", **more}


def test_a_night_joins_the_next_phase() -> None:
    """Who goes on at once and who comes back tomorrow read the same step."""
    walked = run([OFF, COOL], [step("next")])
    assert walked.after["p0/cool"].mains == "off"
    assert walked.before["p1/next"].mains == "unknown"
    assert walked.before["p1/next"].temperature == "unknown"


def test_without_a_safe_stop_there_is_no_night() -> None:
    """No instruction says that one may stop there."""
    one = guide(phases=[{"id": "a", "name": "A", "steps": [OFF]}, {"id": "b", "name": "B", "steps": [step("next")]}])
    (walked,) = runs_of(one.resolved)
    assert walked.before["b/next"].mains == "off"


def test_the_failing_side_does_not_get_what_only_success_gives() -> None:
    """A failed measurement does not make the boiler cool."""
    walked = run([OFF, {**COOL, "hold": {**COOL["hold"], "on_fail": {"goto": "off"}}}, step("last")])
    assert walked.before["p0/last"].temperature == "cool"
    assert walked.failed["p0/cool"].temperature == "unknown"


def test_the_failing_side_keeps_the_harm() -> None:
    """A failed first heat still leaves the machine live."""
    walked = run([OFF, {**LIVE, **look("live", HELP)}])
    (edge,) = [edge for edge in walked.graph.edges if edge.failing]
    assert walked.at(edge).mains == "live"


def test_a_failed_proof_of_dead_means_live() -> None:
    """Where the tester shows a voltage, nothing is off."""
    proof = {"tester": "t", "pairs": [], "order": []}
    walked = run([OFF, look("prove", HELP, sets={"mains": "proved_dead"}, prove=proof)])
    (edge,) = [edge for edge in walked.graph.edges if edge.failing]
    assert walked.at(edge).mains == "unknown"


def test_a_loop_brings_its_state_back() -> None:
    """A remedy that opens the machine makes the enclosure of the step it returns to uncertain: open."""
    repair = {"id": "repair", "name": "Repair", "steps": [step("m", sets={"enclosure": "open"})], "then": {"goto": "a"}}
    walked = run([OFF, step("a"), look("b", {"goto": "repair"}), step("c")], remedies=[repair])
    assert walked.before["p0/a"].enclosure == "open"
    assert walked.before["p0/c"].enclosure == "open"


def test_goto_means_the_nearest_step_of_that_name() -> None:
    """In the same block first; a name that stands twice elsewhere leads nowhere."""
    walked = run([step("a"), step("only")], [step("a"), look("b", {"goto": "a"}), look("c", {"goto": "only"})])
    aims = {edge.source: edge.target for edge in walked.graph.edges if edge.failing}
    assert aims == {"p1/b": "p1/a", "p1/c": "p0/only"}
    lost = run([step("x")], [step("x")], [look("b", {"goto": "x"})])
    assert [edge.kind for edge in lost.graph.edges if edge.failing] == ["lost"]


def test_settled_is_true_only_if_every_path_agrees() -> None:
    """Something good after the last bad, on every path, and a failed hold did no good."""
    good, bad = (lambda one: one.step.id == "good"), (lambda one: one.step.id == "bad")
    straight = run([step("bad"), step("good"), step("end")])
    assert settled(straight, good, bad)["p0/end"]
    spoiled = run([step("good"), step("bad"), step("end")])
    assert not settled(spoiled, good, bad)["p0/end"]
    side = {"id": "side", "name": "S", "steps": [step("s")], "then": {"goto": "end"}}
    failed = run([step("start"), look("good", {"goto": "side"}), step("end")], remedies=[side])
    assert not settled(failed, good, bad)["p0/end"]
    assert settled(straight, good, bad)["p0/end>end"]


def test_the_report_lists_every_step_stop_and_failing_side() -> None:
    """And is the same each time."""
    one = guide(phases=[
        {"id": "p", "name": "Work", "steps": [OFF, look("a", HELP)], "stop": STOP},
        {"id": "q", "name": "More", "steps": [step("last")]},
    ])  # fmt: skip
    text = states_report(one.resolved, "title")
    assert text == states_report(one.resolved, "title")
    lines = text.splitlines()
    assert lines[0] == "title"
    assert sum(line.startswith("  1.") or line.startswith("  2.") for line in lines) == 3
    assert sum(line.split() == ["fails:", "the", "work", "stops", "mains", "off"] for line in lines) == 1
    assert sum(line.split() == ["night", "(night)", "mains", "unknown"] for line in lines) == 1
    assert sum(line.split()[0] == "end" for line in lines if line.strip()) == 1


def test_only_what_changes_is_printed() -> None:
    """A step that changes nothing has no word behind it, and no row says the same state twice."""
    one = guide(phases=[{"id": "p", "name": "Work", "steps": [OFF, step("look-on"), step("last")]}])
    rows = [row for row in state_rows(one.resolved) if row.number.startswith("1.")]
    assert [row.changes for row in rows] == ["mains off", "", ""]


def test_two_tables_differ_in_what_differs() -> None:
    """One step more on one side; the same on both sides is no difference."""
    steps = [OFF, step("last")]
    one, other = (
        guide(phases=[{"id": "p", "name": "Work", "steps": some}]) for some in (steps, [*steps, step("more")])
    )
    rows = state_rows(one.resolved), state_rows(other.resolved)
    assert difference(rows[0], rows[0], ("a", "a")) == ""
    changed = [line for line in difference(*rows, ("a", "b")).splitlines() if line[:1] in "+-"]
    assert changed[:2] == ["--- a", "+++ b"]
    assert len(changed) == 3
    assert changed[2].startswith("+hand tools")
