"""Words in drawings: on no other word, and inside the drawing, in every record that the demonstration has published."""

from __future__ import annotations

import re
from functools import cache
from itertools import combinations
from pathlib import Path
from xml.etree import ElementTree

import pytest

from guidegen.editions import kept
from guidegen.record import Assessment
from guidegen.site.charts import CHARTS
from guidegen.site.charts.frame import WIDTH, Axis, frame
from guidegen.site.charts.layers import Curve, Label
from guidegen.site.charts.words import LETTERS, Box, around, box, overlap, settled, width

ROOT = Path(__file__).parents[4]
EDITIONS = sorted(path.name for path in (ROOT / "content" / "editions").iterdir() if path.is_dir())
NARROWEST = 358
"""px that a chart is wide on a telephone of 390 px: 16 px of margin on either side."""
SMALLEST = 9.0
"""px of letters below which nobody reads."""
PLAIN = frame(Axis("x", 0, 10, (0, 5, 10)), Axis("y", 0, 10, (0, 5, 10)))


@cache
def published(edition: str) -> tuple[Assessment, ...]:
    """The records of an edition, by the one door for kept ones."""
    return tuple(Assessment.model_validate(one) for one in kept.records(ROOT, edition))


def boxes(drawing: str) -> dict[str, Box]:
    """What each text of a drawing covers, ticks and names of the axes too where they lie level."""
    found: dict[str, Box] = {}
    for i, text in enumerate(ElementTree.fromstring(drawing).iter("text")):
        words, style = "".join(text.itertext()), text.attrib.get("style", "")
        kind, anchor = text.attrib.get("class", ""), text.attrib.get("text-anchor", "")
        if not anchor:
            anchor = re.findall(r"text-anchor: (\w+)", style)[0] if "text-anchor" in style else "start"
        turn = text.attrib.get("transform", "")
        if "rotate" in turn:
            continue
        x, y = float(text.attrib["x"]), float(text.attrib["y"])
        wide = width(words, "gg-with" in kind)
        left = x - {"start": 0.0, "middle": wide / 2, "end": wide}[anchor]
        found[f"{i} {words}"] = (left, y - 10, left + wide, y + (0 if words.isdigit() else 3))
    return found


@pytest.mark.parametrize("name", CHARTS)
@pytest.mark.parametrize("edition", EDITIONS)
def test_no_words_lie_on_others_or_outside(edition: str, name: str) -> None:
    """Measured with a font that is wider than those of most readers."""
    for record in published(edition):
        drawn = CHARTS[name](record)
        if drawn is None:
            continue
        svg = re.findall(r"<svg.*?</svg>", str(drawn), re.S)[0]
        height = float(re.findall(r'viewBox="0 0 \d+ ([\d.]+)"', svg)[0])
        found = boxes(svg)
        where = f"{record.variant.id}/{record.kit.id}"
        for (one, here), (other, there) in combinations(found.items(), 2):
            assert not overlap(here, there), (where, one, other)
        for words, (left, top, right, bottom) in found.items():
            assert -1 <= left < right <= WIDTH + 1, (where, words)
            assert -1 <= top < bottom <= height + 1, (where, words)


def test_letters_can_be_read_on_a_telephone() -> None:
    """All words of a drawing have one size, axes too."""
    assert LETTERS * NARROWEST / WIDTH >= SMALLEST
    assert set(re.findall(r"font-size: ([\d.]+)px", PLAIN.svg)) == {f"{LETTERS:g}"}
    css = (ROOT / "guidegen/site/web/assets/charts.css").read_text(encoding="utf-8")
    assert re.findall(r"\.gg-label \{[^}]*font-size: ([\d.]+)px", css) == [f"{LETTERS:g}"]


def test_words_keep_off_a_line_and_off_other_words() -> None:
    """A level line through a point: the first name stands over it, the next one elsewhere."""
    line = Curve("with", [(0, 5), (10, 5)])
    names = settled(PLAIN, [line], [around("one", 5, 5), around("two", 5, 5)])
    height = PLAIN.down(5)
    for _, top, _, bottom in (box(one, PLAIN) for one in names):
        assert bottom < height or top > height
    assert not overlap(*(box(one, PLAIN) for one in names))


def test_words_at_the_edge_turn_to_the_other_side() -> None:
    """At the right end of an axis they end at the point instead of beginning there."""
    (label,) = settled(PLAIN, [], [around("a long name of a line", 10, 5)])
    assert label.anchor == "end"
    assert box(label, PLAIN)[2] <= PLAIN.right


def test_a_label_that_stands_already_is_kept_clear_of() -> None:
    """Words that have one place only are given as a layer."""
    fixed = Label("fixed", 5, 5, right=8, below=-9)
    (other,) = settled(PLAIN, [fixed], [around("other", 5, 5)])
    assert not overlap(box(fixed, PLAIN), box(other, PLAIN))
