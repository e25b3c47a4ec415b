"""Charts as a browser sets them: on a telephone every word can be read, and none lies on another."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from conftest import Open, served

SMALLEST = 9.0
"""px of letters below which nobody reads."""
FOUND = """() => [...document.querySelectorAll('figure.gg-chart')].flatMap((figure) => {
  const drawing = figure.querySelector('svg'), outer = drawing.getBoundingClientRect();
  const scale = outer.width / drawing.viewBox.baseVal.width;
  const texts = [...drawing.querySelectorAll('text')].map((text) => {
    const box = text.getBoundingClientRect(), size = parseFloat(getComputedStyle(text).fontSize) * scale;
    const spare = (box.height - size * 0.75) / 2;  // the font's own air above and below its letters
    return { words: text.textContent, size, left: box.left, right: box.right, top: box.top + spare,
             bottom: box.bottom - spare };
  });
  const wrong = [];
  texts.forEach((one, i) => {
    if (one.size < SMALLEST) wrong.push(`${one.words}: ${one.size} px`);
    if (one.left < outer.left - 1 || one.right > outer.right + 1) wrong.push(`${one.words}: outside`);
    for (const other of texts.slice(i + 1))
      if (one.left < other.right && other.left < one.right && one.top < other.bottom && other.top < one.bottom)
        wrong.push(`${one.words} on ${other.words}`);
  });
  return wrong.map((what) => `${figure.id}: ${what}`);
})"""


@pytest.fixture(scope="module")
def address(built_site: Path) -> Iterator[str]:
    """The demonstration over HTTP."""
    with served(built_site) as running:
        yield running


def test_words_of_charts_are_apart_and_large_enough_on_a_telephone(
    open_page: Open, built_site: Path, address: str
) -> None:
    """On the charts' page of every pair of the demonstration, 390 px wide."""
    pages = sorted(path.relative_to(built_site).as_posix() for path in built_site.glob("guides/*/*/charts.html"))
    assert pages
    script = FOUND.replace("SMALLEST", str(SMALLEST))
    wrong = {page: open_page(address + page, "narrow", "light").page.evaluate(script) for page in pages}
    assert not {page: found for page, found in wrong.items() if found}
