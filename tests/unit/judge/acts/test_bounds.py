"""Every number that an author states is bounded, and the closed catalogue of bounds is the one written down here."""

from __future__ import annotations

import re

import pytest

from guidegen.judge.acts.kernel import EFFECTS
from guidegen.judge.acts.row import rows
from guidegen.judge.safety.measure import measured
from guidegen.workshop.bounds import Bounds
from tests.mutants.draft import written_data

TURN = ("1/8 turn", "11/8 turn")
DISPLAY = ("{control.shown}", "{control.shown}")
CONTROLLER = ("{kit.control.setpoint}", "{kit.control.setpoint}")
# Both ends, None where only one harms. EN 50678 for earth and insulation and VDE 0701-0702 for the currents are from
# memory, the last two being 3.5 mA below 3.5 kW of heaters; the other figures are common practice of such work.
CATALOGUE = {
    ("earth-test", "limit"): (None, "0.3 Ω"), ("earth-test-casing", "limit"): (None, "0.3 Ω"),
    ("earth-test", "lead_section"): (None, "1.5 mm²"), ("earth-gross", "limit"): (None, "1 Ω"),
    ("insulation-test", "limit"): ("0.3 MΩ", None), ("insulation-wiring", "limit"): ("1 MΩ", None),
    ("sign", "conductor_current"): (None, "3.5 mA"), ("sign", "touch_current"): (None, "0.5 mA"),
    ("try-device", "limit"): (None, "2 Ω"), ("measure-live", "limit"): ("8 mm", None),
    ("tie-leads", "limit"): ("8 mm", None), ("measure-seats", "limit"): ("2 mm", None),
    ("measure-left", "limit"): ("1 mm", None), ("measure-temperature", "limit"): (None, "40 °C"),
    ("compare-record", "limit"): ("{relief.bench}", "{wetted.pressure}"),
    ("measure-over-bolts", "limit"): ("{bolts.room}", None), ("measure-above", "limit"): ("{coil.height}", None),
    ("prime", "limit"): ("5 s", "180 s"), ("press", "amount"): ("30 s", "180 s"),
    ("energise-pump", "amount"): ("60 s", None), ("energise-heat", "amount"): ("60 s", None),
    ("watch-display", "amount"): ("60 s", None), ("settle", "amount"): ("60 s", None),
    ("look-hot", "amount"): ("300 s", None), ("watch-display", "limit"): DISPLAY, ("settle", "limit"): CONTROLLER,
    ("watch-display", "runaway"): (None, "15 K"), ("settle", "runaway"): (None, "15 K"),
    ("compare-plates", "limit"): (None, "10 %"), ("screw-joint", "amount"): TURN, ("screw-hose", "amount"): TURN,
    ("tighten-nut", "amount"): TURN, ("move-valve-in", "amount"): TURN, ("press-by-hand", "amount"): ("30 s", None),
    ("insulation-heater", "limit"): ("0.3 MΩ", None), ("press-hot", "amount"): ("30 s", "180 s"),
    ("measure-room", "limit"): ("{coil.live_room}", None), ("use-water", "limit"): ("pH 6", None),
    ("read-display", "limit"): CONTROLLER, ("wait-longer", "amount"): (None, "120 min"),
    ("prove-vessel", "amount"): ("300 s", None), ("prove-vessel", "limit"): ("{vessel.proof}", "{vessel.bears}"),
    ("compare-proof", "limit"): ("{vessel.proof}", "{wetted.pressure}"),
    ("press-by-hand", "limit"): ("{relief.by_hand}", "{wetted.pressure}"),
}  # fmt: skip
OWN_RULE = {"trip_current", "lead_length"}
"""The first has MNS rules of its own, on the second hangs the limit of the earth test."""
ALL = {(name, number): bounds for name, row in rows().items() for number, bounds in row.bounds.items()}


def test_the_catalogue_is_closed() -> None:
    """Neither more nor less."""
    assert {key: (one.at_least, one.at_most) for key, one in ALL.items()} == CATALOGUE


@pytest.mark.parametrize("name", rows())
def test_whatever_an_author_states_is_bounded(name: str) -> None:
    """Amount and limit, and every value that the shared blocks state and a text of the row prints."""
    row = rows()[name]
    stated = {"amount"} if row.amount else set()
    stated |= {"limit"} if row.hold and row.hold.asks_limit else set()
    texts = [str(part) for way in row.ways for part in (way.say, way.why, way.hold)]
    values = set(written_data("content/procedures/shared.yml")["values"])
    stated |= values & set(re.findall(r"\{([a-z_.]+)\}", " ".join(texts)))
    assert stated - OWN_RULE <= set(row.bounds)


def test_the_limits_of_the_rows_themselves() -> None:
    """A joint is made again at most twice; the others are computed for each machine."""
    own = {name: row.hold.limit for name, row in rows().items() if row.hold and row.hold.limit}
    assert own == {"count-attempts": "2 attempts", "listen": "{first_heat.limit}", "measure-left": "{of.keeps}",
                   "press": "{relief.by_hand}"}  # fmt: skip


@pytest.mark.parametrize("key", ALL, ids=str)
def test_a_bound_is_read_and_has_the_dimension_of_its_number(key: tuple[str, str]) -> None:
    """What is written; a fact in braces is that of the machine."""
    hold, bounds = rows()[key[0]].hold, ALL[key]
    ends = [text for text in (bounds.at_least, bounds.at_most, bounds.tolerance) if text and "{" not in text]
    read = [measured(text) for text in ends]
    assert None not in read
    assert len({one.dimension for one in read if one}) <= 1
    if key[1] == "limit" and hold:
        assert {one.dimension for one in read if one} <= {hold.at_most or hold.at_least or hold.within}


def test_an_earth_limit_grows_with_the_lead_alone() -> None:
    """EN 50678, from memory: 0.3 Ω to 5 m, 0.1 Ω more for each further 7.5 m, 1 Ω at most."""
    for name in ("earth-test", "earth-test-casing"):
        wider = rows()[name].bounds["limit"].wider
        assert wider is not None
        assert (wider.of, wider.above, wider.per, wider.more, wider.most) == (
            "{lead_length}", "5 m", "7.5 m", "0.1 Ω", "1 Ω")  # fmt: skip


def test_a_supply_is_bounded_by_its_own_rule() -> None:
    """Whoever energises names the trip current, which MNS rules hold to 30 mA."""
    assert EFFECTS["energise-pump"].fields.__name__ == EFFECTS["energise-heat"].fields.__name__ == "supply"
    assert Bounds().at_most is None
