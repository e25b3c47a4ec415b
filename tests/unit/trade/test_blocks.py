"""Before and after are compared only where nothing but the kit differs."""

from __future__ import annotations

import pytest

from guidegen.runs.codes import RunCode
from guidegen.runs.describing import read_back
from guidegen.runs.document import LoggedRun
from guidegen.trade.blocks import FEWEST, Compared, Configurations, compared, of_one

MACHINE = "serial 7"


def run(path: str, block: int | None, machine: str | None = MACHINE, feed: str | None = "20 °C ± 0.5 K",
        setpoint: str | None = None, probe: str = "kind: type-k, class: '1'", invented: bool = True,
        ) -> LoggedRun:  # fmt: skip
    """The description of one shot."""
    said = {"block": block, "machine": machine, "feed": feed, "setpoint": setpoint}
    lines = "".join(f"{name}: {value}\n" for name, value in said.items() if value is not None)
    return read_back(
        f"variant: a-b\ndate: 2026-03-31\nkind: shot\ninvented: {str(invented).lower()}\nlogger: invented\n"
        f"file: log.csv\n{lines}"
        f"sha256: {'0' * 64}\n"
        "written: {encoding: utf-8, separator: comma, decimal: point, names_in_line: 1, values_from_line: 2}\n"
        "time: {column: t, written: s}\ncolumns: [{column: pump, quantity: pump, unit: ''}, "
        f"{{column: sensor, place: sensor, unit: °C, probe: {{{probe}}}}}]\n",
        path,
    )


def campaign(blocks: int = FEWEST, without: dict[str, LoggedRun] | None = None, **last: object) -> Compared:
    """Whole blocks, of which the last one's run with the kit is described otherwise."""
    before = {f"w{one}.yml": run(f"w{one}.yml", one) for one in range(1, blocks + 1)}
    after = {f"k{one}.yml": run(f"k{one}.yml", one, **(last if one == blocks else {}))  # type: ignore[arg-type]
             for one in range(1, blocks + 1)}  # fmt: skip
    return compared(before | (without or {}), after)


def refusals(found: Compared) -> list[tuple[str, str, int]]:
    """Code, file and line of each refusal."""
    return [(one.code, one.path, one.line) for one in found.refused]


def test_whole_blocks_are_pairs_in_their_order() -> None:
    """Five of them are enough."""
    found = campaign()
    assert found.refused == ()
    assert found.pairs == tuple((f"w{one}.yml", f"k{one}.yml") for one in range(1, 6))


def test_four_blocks_are_too_few() -> None:
    """Exchanged within four pairs, one arrangement in eight is as extreme as the most extreme: nothing can be shown."""
    found = campaign(4)
    assert refusals(found) == [(RunCode.FEW_PAIRS, "k4.yml", 7)]
    assert "4 whole blocks" in found.refused[0].message
    assert found.refused[0].fix == "log 1 more"
    assert found.pairs == ()


@pytest.mark.parametrize("block", [None, 9])
def test_a_shot_without_its_partner_refuses_all(block: int | None) -> None:
    """Without a block, or in one that has no other configuration: leaving it out could be a choice."""
    found = campaign(6, {"x.yml": run("x.yml", block)})
    assert refusals(found) == [(RunCode.UNPAIRED, "x.yml", 1 if block is None else 7)]
    assert found.pairs == ()


def test_a_block_with_one_configuration_twice_is_no_pair() -> None:
    """Which of the two would it be?"""
    found = campaign(6, {"x.yml": run("x.yml", 2)})
    assert [path for _, path, _ in refusals(found)] == ["k2.yml", "w2.yml", "x.yml"]
    assert {code for code, _, _ in refusals(found)} == {RunCode.UNPAIRED}


@pytest.mark.parametrize(("machine", "line"), [(None, 1), ("serial 8", 8)])
def test_another_machine_is_refused(machine: str | None, line: int) -> None:
    """So is one that nobody named."""
    found = campaign(machine=machine)
    assert refusals(found) == [(RunCode.OTHER_MACHINE, "k5.yml", line)]
    assert MACHINE in found.refused[0].message + found.refused[0].fix


@pytest.mark.parametrize(
    ("feed", "is_refused"),
    [(None, True), ("22.5 °C ± 0.5 K", True), ("21.9 °C ± 0.5 K", False), ("22.5 °C ± 2 K", False)],
)
def test_another_feed_is_refused(feed: str | None, is_refused: bool) -> None:
    """20 °C ± 0.5 K beside it: 1 K and both uncertainties are allowed, so 2 K with half a kelvin each."""
    found = campaign(feed=feed)
    assert [code for code, _, _ in refusals(found)] == ([RunCode.OTHER_FEED] if is_refused else [])
    assert all(one.fix and one.severity == "warning" for one in found.refused)


@pytest.mark.parametrize(
    ("probe", "is_refused"),
    [("kind: type-k, class: '1', lag: 2 s", False), ("kind: type-k, class: '2'", True), ("kind: other", True)],
)
def test_another_probe_is_refused(probe: str, is_refused: bool) -> None:
    """Kind and class say how far it may be off; its lag is taken off."""
    assert [code for code, _, _ in refusals(campaign(probe=probe))] == ([RunCode.OTHER_PROBE] if is_refused else [])


@pytest.mark.parametrize(("setpoint", "is_refused"), [(None, False), ("366.15 K", False), ("96 °C", True)])
def test_another_setpoint_is_refused(setpoint: str | None, is_refused: bool) -> None:
    """93 °C is 366.15 K; what only one of them states differs from nothing."""
    pair = run("w.yml", 1, setpoint="93 °C"), run("k.yml", 1, setpoint=setpoint)
    rest = {f"{side}{one}.yml": run(f"{side}{one}.yml", one) for side in "wk" for one in range(2, 6)}
    found = compared(*({"w.yml": pair[0]} | {path: one for path, one in rest.items() if path[0] == "w"},
                       {"k.yml": pair[1]} | {path: one for path, one in rest.items() if path[0] == "k"}))  # fmt: skip
    assert [(code, path) for code, path, _ in refusals(found)] == (
        [(RunCode.OTHER_SETPOINT, "k.yml")] if is_refused else []
    )


def test_invented_beside_real_is_refused() -> None:
    """All the invented ones are named, with the line that says so."""
    found = campaign(invented=False)
    assert {code for code, _, _ in refusals(found)} == {RunCode.INVENTED_AND_REAL}
    assert {line for _, _, line in refusals(found)} == {4}
    assert len(found.refused) == 2 * FEWEST - 1


def test_figures_are_those_of_one_machine() -> None:
    """Of the pairs' where there are pairs, of the only one where there are none; of two machines nothing."""
    side = {f"w{one}.yml": run(f"w{one}.yml", one) for one in range(1, 6)}
    other = {f"k{one}.yml": run(f"k{one}.yml", one) for one in range(1, 6)}
    stranger = {"x.yml": run("x.yml", None, machine="serial 8").model_copy(update={"kind": "cold-start"})}
    both = Configurations(side | stranger, other)
    assert of_one(both, compared(side, other)) == Configurations(side, other)
    assert of_one(both, Compared((), ())) == Configurations({}, {})
    assert of_one(Configurations(side, {}), Compared((), ())) == Configurations(side, {})
    invented = {"y.yml": run("y.yml", 1, invented=False)}
    assert of_one(Configurations(side, invented), Compared((), ())) == Configurations({}, {})


def test_nothing_logged_is_refused_without_words() -> None:
    """There is nothing to name."""
    assert compared({}, {}) == Compared((), ())
