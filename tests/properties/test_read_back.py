"""What pages print of a record is read back and held against it: medians, ends, and which of them stand alone.

The units' factors are written here once more; nothing of how pages print numbers is asked.
"""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from functools import cache

import pytest

from guidegen.assess import Assessor
from guidegen.record import Assessment, Figure, places
from guidegen.site.pages.comparison import comparison_page
from guidegen.site.pages.pair import pair_page
from guidegen.site.pages.place import kinds_of
from guidegen.site.pages.quoted import Quoted
from guidegen.site.pages.replies import reply
from guidegen.site.pages.topics import TOPICS
from tests.conftest import DRAWS
from tests.fixtures.records import site
from tests.mutants.draft import catalogue

pytestmark = pytest.mark.slow
PAIRS = (("tamsin-mk2", "feed-preheater"), ("bracken-a", "loop-controller"), ("tamsin-mk1", "feed-preheater"))

MINUS, SPACE = "−", "\u202f"
NUMBER = re.compile(rf"{MINUS}?\d+(?:\.\d+)?")
RANGE = r'(?: <span class="gg-range">(<span.*?</span></span>|[^<]*)</span>)?'
LINK = re.compile(r'<a class="n" href="[^"]*#(n-[^"]+)"[^>]*>(.*?)</a>' + RANGE, re.S)
CELL = re.compile(r'<td id="(n-[^"]+)"[^>]*>(.*?)</td>', re.S)
BOTH = re.compile(
    r'<span class="q"><span class="q-metric">(.*?)</span><span class="q-imperial">(.*?)</span></span>', re.S
)
# NIST SP 811 (2008), appendix B.8, from memory: pound, ounce, US fluid ounce, inch, psi.
FACTORS = {
    "": 1.0, "K": 1.0, "°C": 1.0, "W": 1.0, "Wh": 1.0, "J/K": 1.0, "s": 1.0, "min": 1 / 60, "h": 1 / 3600, "kg": 1.0,
    "g": 1.0, "ml": 1.0, "mm": 1.0, "m": 1.0, "bar": 1.0, "kPa": 1e-3, "%": 100.0, "lb": 1 / 0.45359237,
    "oz": 1 / 28.34952, "fl oz": 1 / 29.57353, "in": 1 / 25.4, "psi": 14.50377, "bar/K": 1.0,
}  # fmt: skip


@cache
def assessor() -> Assessor:
    """Shared, so that what a variant is without a kit is computed once."""
    return Assessor(catalogue(), "next", DRAWS)


@cache
def assessed(machine: str, kit: str) -> Assessment:
    """The record of one pair, with few draws."""
    return assessor().assess(catalogue().machine(machine), catalogue().kit(kit))


@pytest.fixture(params=PAIRS, ids="/".join)
def record(request: pytest.FixtureRequest) -> Assessment:
    """A record with a gain, one that may be worse, and one of a thermostat with a coil."""
    return assessed(*request.param)


def plain(text: str, metric: bool = True) -> str:
    """What a reader of one system sees."""
    return html.unescape(re.sub(r"<[^>]*>", "", BOTH.sub(r"\1" if metric else r"\2", text))).strip()


def printed(text: str) -> tuple[list[tuple[float, int]], str]:
    """The numbers of a text with their decimals, and the unit behind the last."""
    found = list(NUMBER.finditer(text.replace("×", "")))
    numbers = [(float(one[0].replace(MINUS, "-")), len(one[0].partition(".")[2])) for one in found]
    return numbers, text.replace("×", "")[found[-1].end() :].strip() if found else ""


def agree(number: tuple[float, int], value: float, unit: str, key: str) -> bool:
    """Whether a printed number is this value to the digits that it has."""
    shown, decimals = number
    if unit == "°F":
        there = value * 1.8 + (32 if key.endswith("_degc") else 0)
    elif unit == "psi" and key.endswith("_pa"):
        there = value * 1.450377e-4
    else:
        there = value * FACTORS[unit] * (1000 if unit == "in" and key.endswith("_m") else 1)
    return abs(there - shown) <= 0.500001 * 10.0**-decimals


CHANGE = re.compile(r"(\d+) % (smaller|larger)")
"""A ratio as words say it, to 1 %."""


def check(figure: Figure, value: str, ends: str, key: str) -> None:
    """The median where a point is printed, low and high where a range is; ends beyond a limit are passed over."""
    said, unit = printed(value)
    if figure.value is None or not said:
        return
    if " to " in value:
        ends, said = value, []
    if said:
        assert any(agree(said[0], sign * figure.value, unit, key) for sign in (1, -1)), (key, value, figure)
    if not ends or figure.low is None or figure.high is None:
        return
    numbers, unit = printed(ends)
    turned = (-figure.high, -figure.low)
    assert any(
        agree(numbers[0], low, unit, key) and agree(numbers[1], high, unit, key)
        for low, high in ((figure.low, figure.high), turned)
    ), (key, ends, figure)
    assert numbers[0][1] == numbers[1][1], (key, ends)


def anchors(record: Assessment) -> dict[str, tuple[str, Figure]]:
    """Each figure by the id of its row; a dot and an underscore are a dash there."""
    known = places.figures(record)
    return {"n-" + place.replace(".", "-").replace("_", "-"): (places.key(place), one) for place, one in known}


def bodies(record: Assessment) -> Iterator[tuple[str, str]]:
    """Every page of a pair, the bench sheet among them, and the comparison."""
    whole = site(record)
    for kind in kinds_of(record):
        yield kind, pair_page(record, kind, whole).body
    yield "compare", comparison_page(whole).body


def test_every_linked_number_is_that_of_its_row(record: Assessment) -> None:
    """On overview, bench sheet, comparison, in both systems; enough of them that the look is not idle."""
    known, seen = anchors(record), 0
    for _, body in bodies(record):
        for anchor, value, ends in LINK.findall(body):
            key, figure = known[anchor]
            if said := CHANGE.findall(plain(value)):
                ratios = [1 + (0.01 if way == "larger" else -0.01) * float(percent) for percent, way in said]
                expected = [figure.value] if len(ratios) == 1 else [figure.low, figure.high]
                assert ratios == pytest.approx(expected, abs=0.0051), (anchor, value, figure)
                seen += 1
                continue
            for metric in (True, False):
                # Of a way from one to the other the row is that of the other.
                check(figure, plain(value, metric).rpartition(" → ")[2], plain(ends, metric), key)
            seen += 1
    assert seen > 10


def test_every_row_of_the_numbers_page_is_its_figure(record: Assessment) -> None:
    """All figures of the record have a cell; the two of a row have equal decimals."""
    known, found = anchors(record), {}
    for anchor, cell in CELL.findall(pair_page(record, "numbers", site(record)).body):
        value, _, ends = cell.partition("<br>")
        key, figure = known[anchor]
        for metric in (True, False):
            check(figure, plain(value, metric), plain(ends, metric), key)
        if figure.value is not None:
            found[anchor] = printed(plain(value))
    assert {anchor for anchor, (_, one) in known.items() if one.value is not None} == set(found)
    for anchor, (numbers, unit) in found.items():
        other = found.get(anchor.replace("-without-", "-with-")) if "-without-" in anchor else None
        if other is not None:
            assert (numbers[0][1], unit) == (other[0][0][1], other[1]), anchor


def test_no_middle_stands_where_the_range_holds_both(record: Assessment) -> None:
    """A ratio with less and more than one in its range, or an addition with less and more than nothing."""
    known = anchors(record)
    for kind, body in bodies(record):
        for anchor, value, _ in LINK.findall(body):
            key, figure = known[anchor]
            same = 1.0 if "ratio" in anchor else 0.0 if "added" in key else None
            if same is not None and figure.low is not None and figure.high is not None:
                is_range = " to " in plain(value) or plain(value).startswith("between ")
                assert is_range == (figure.low < same < figure.high), (kind, anchor, value)


def test_the_tables_of_charts_hold_the_record(record: Assessment) -> None:
    """Drops by drink and in a second drink, and the energies: row by row, in the order of the record."""
    bodies_of = dict(bodies(record))
    if "charts" not in bodies_of:
        pytest.skip("nothing is claimed of this pair")
    drinks = [(one.without.sensor_drop_k, one.with_.sensor_drop_k, one.drop_ratio.sensor)
              for one in record.drinks.values()]  # fmt: skip
    waits = [(one.sensor_drop_k.without, one.sensor_drop_k.with_) for one in record.waiting]
    energy = [(record.energy.without.day_wh, record.energy.with_.day_wh)]
    for name, rows, keys in (("drinks", drinks, ("_k", "_k", "")), ("second", waits, ("_k",) * 2),
                             ("energy", energy, ("_wh",) * 2)):  # fmt: skip
        at = bodies_of["charts"].index(f'id="chart-{name}"')
        table = bodies_of["charts"][at:].partition("<tbody>")[2].partition("</tbody>")[0]
        for row, figures in zip(table.split("<tr>")[1:], rows, strict=False):
            cells = re.findall(r"<td[^>]*>(.*?)</td>", row, re.S)
            assert len(cells) == len(figures), row
            for cell, figure, key in zip(cells, figures, keys, strict=True):
                value, _, ends = plain(cell).partition(" (")
                check(figure, value, ends.rstrip(")"), key)


def test_a_letter_quotes_the_record(record: Assessment) -> None:
    """Each place that a reply may quote, by itself; and a reply about every topic can be written."""
    quoted = Quoted(record)
    for place, figure in quoted.known.items():
        value, _, beside = quoted.n(place, ranged=True).partition(" (")
        found = re.search(r"range ([^,)]*)", beside)
        check(figure, value, found[1] if found else "", places.key(place))
    assert all(reply(record, name).text for name in TOPICS)
