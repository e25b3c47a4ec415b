"""Room for a key under a coil, worked out by hand on a boiler of 70 mm with tube of 8 mm."""

from __future__ import annotations

import pytest

from guidegen.trade.access import BoltKey, Layer, circle_needed, layers_of, room_needed
from guidegen.trade.cutting import Span


def mm(low: float, high: float | None = None) -> Span:
    """A length in mm."""
    return Span(low / 1e3, (low if high is None else high) / 1e3)


def in_mm(span: Span) -> tuple[float, float]:
    """Its ends in mm."""
    return round(span.low * 1e3, 6), round(span.high * 1e3, 6)


KEY = BoltKey(mm(25), mm(5))
RISE = mm(8)
LAYERS = layers_of(mm(70), mm(8), (0.040, 0.030), "upper-end")


def test_layers_lie_on_one_another() -> None:
    """70 mm and a tube on both sides, 86 mm; another, 102 mm. The shorter one stands 10 mm up, or at the foot."""
    assert [in_mm(one.outside) for one in LAYERS] == [(86, 86), (102, 102)]
    assert [in_mm(one.lower_edge) for one in LAYERS] == [(0, 0), (10, 10)]
    assert in_mm(layers_of(mm(70), mm(8), (0.040, 0.030), "lower-end")[1].lower_edge) == (0, 0)
    assert in_mm(layers_of(mm(70), mm(8), (0.040, 0.030), None)[1].lower_edge) == (0, 10)


@pytest.mark.parametrize(
    ("circle", "room"),
    [
        (mm(88), (33, 33)),  # the key reaches in to 83 of 86: under layer one, 25 + 8
        (mm(91), (23, 23)),  # its edge just touches 86: only layer two is over it, 10 mm higher
        (mm(106), (23, 23)),  # in to 101 of 102
        (mm(107), (0, 0)),  # beside the coil
        (mm(90, 92), (23, 33)),  # perhaps under layer one
        (mm(100, 110), (0, 23)),  # perhaps beside
        (None, (0, 33)),  # nobody knows
    ],
)
def test_room_over_a_head(circle: Span | None, room: tuple[float, float]) -> None:
    """Height of the key and rise of the head, less what the lowest layer in the way leaves free."""
    assert in_mm(room_needed(LAYERS, circle, KEY, RISE)) == room


def test_both_ends_of_every_length_count() -> None:
    """A key of 25 to 26 mm and a thread of 7 to 9 mm need 32 to 35 mm under a layer at the wall's foot."""
    assert in_mm(room_needed(LAYERS, mm(88), BoltKey(mm(25, 26), mm(5)), mm(7, 9))) == (32, 35)


def test_a_key_shorter_than_the_layer_stands_high_needs_nothing() -> None:
    """Less than nothing is not needed."""
    assert in_mm(room_needed(LAYERS, mm(95), BoltKey(mm(1), mm(5)), mm(2))) == (0, 0)


def test_without_a_layer_every_bolt_is_free() -> None:
    assert in_mm(room_needed((), mm(88), KEY, RISE)) == (0, 0)


def test_beside_the_coil() -> None:
    """102 mm of coil and 5 mm of key: from 107 mm on; with a tube of 8.1 mm and a key of 6 mm from 108.4 mm."""
    assert in_mm(circle_needed(LAYERS, KEY)) == (107, 107)
    thick = layers_of(mm(70), mm(8, 8.1), (0.040, 0.030), None)
    assert in_mm(circle_needed(thick, BoltKey(mm(25), mm(5, 6)))) == (107, 108.4)
    assert circle_needed([Layer(mm(86), mm(0))], KEY) == mm(91)
