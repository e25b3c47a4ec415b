"""A snapshot gives back what was put in, says everything once, and does not change where nothing did."""

from __future__ import annotations

import copy
import json

from guidegen.editions import lines, snapshot
from tests.unit.editions.small import Data, course, hold, record, step, steps


def without_lines(value: object) -> object:
    """The same with places that end at the file."""
    return json.loads(json.dumps(value).replace(":14:9", "").replace(":10:5", ""))


def records() -> list[Data]:
    """Two variants with two kits; one step differs on one variant, one kit has no procedure."""
    other = steps()
    other[1]["do"] = "Touch the cold boiler."
    return [
        record("plain-one", "collar"),
        record("plain-one", "ring", procedure=None),
        record("plain-two", "collar", work=other),
        record("plain-two", "ring", procedure=None),
    ]


def test_what_goes_in_comes_out() -> None:
    """All but the line numbers of the YAML."""
    back = snapshot.unpack(snapshot.pack(records()), "next")
    assert json.loads(json.dumps(back)) == without_lines(records())


def test_records_come_in_the_order_of_their_ids() -> None:
    """Although a file's name sorts otherwise: a hyphen comes before the dot of `.json`."""
    held = [record("plain-one-120"), record("plain-one")]
    names = [one["variant"]["id"] for one in snapshot.unpack(snapshot.pack(held), "next")]
    assert names == ["plain-one", "plain-one-120"]


def test_the_self_check_of_an_edition_names_that_edition() -> None:
    """The order that its page writes must say by which rules it was made; the file itself stays the same in each."""

    def of(edition: str) -> list[Data]:
        return [{**one, "self_check": {"pair": {"kit": "collar", "edition": edition}}} for one in records()]

    packed = snapshot.pack(of("2026.1"))
    assert packed == snapshot.pack(of("next"))
    assert {one["self_check"]["pair"]["edition"] for one in snapshot.unpack(packed, "2026.2")} == {"2026.2"}


def test_packing_leaves_the_records_alone() -> None:
    """Whoever packs may go on with them."""
    held = records()
    before = copy.deepcopy(held)
    snapshot.pack(held)
    assert held == before


def test_a_step_that_all_variants_share_stands_once() -> None:
    """And the one that differs stands twice, the second time under a name that says so."""
    shared = json.loads(snapshot.pack(records())["shared.json"])
    assert [name for name in shared["steps"] if name.startswith("work/label")] == ["work/label"]
    assert [name for name in shared["steps"] if name.startswith("work/touch")] == ["work/touch", "work/touch~2"]


def test_a_variant_that_did_not_change_is_the_same_file_in_every_edition() -> None:
    """So git keeps it once, and a difference shows only where there is one."""
    before = snapshot.pack(records())
    changed = [{**one, "edition": "2026.2"} for one in records()]
    for one in changed[2:]:
        one["inputs"][0]["text"] = "480 g ± 5 g"
    after = snapshot.pack(changed)
    assert [name for name in before if before[name] != after[name]] == ["plain-two.json"]
    rows = [after["plain-two.json"].split(b"\n"), before["plain-two.json"].split(b"\n")]
    assert sum(one != other for one, other in zip(*rows, strict=True)) == 1


def test_a_comment_in_the_yaml_changes_nothing() -> None:
    """Lines that move are no change."""
    moved = json.loads(json.dumps(records()).replace(":14:9", ":15:9"))
    assert snapshot.pack(moved) == snapshot.pack(records())


def test_a_branch_leads_to_the_step_of_its_own_course() -> None:
    """In the way back the same shared step leads to the way back's step, with that one's number."""
    work, back = (
        [step("work/measure", "Measure.", hold=hold("2 drops", f"{name}-work-label")), step("work/label", "Label.")]
        for name in ("fitting", "restoring")
    )
    held = record()
    held["procedure"]["fitting"] = course(work)
    held["procedure"]["restoring"] = course([step("work/first", "Begin.")], back, name="restoring")
    work[0]["hold"]["on_fail"]["number"], back[0]["hold"]["on_fail"]["number"] = "1.2", "2.2"
    files = snapshot.pack([held])
    assert len([name for name in json.loads(files["shared.json"])["steps"] if "measure" in name]) == 1
    assert json.loads(json.dumps(snapshot.unpack(files, "next"))) == [without_lines(held)]


def test_lines_are_json_and_short_where_they_can_be() -> None:
    """What fits on a line stands on one; a curve stays on one however long."""
    value = {"a": [{"b": "x" * 60, "c": 1}, {"b": "y" * 60, "c": None}], "curve": [float(i) for i in range(200)]}
    text = lines.dumps(value)
    assert json.loads(text) == value
    rows = text.splitlines()
    assert len(rows) == 7
    assert max(len(row) for row in rows if "curve" not in row) <= lines.WIDTH
