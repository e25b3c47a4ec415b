"""Words where they are met: what a page uses is explained on it, and nothing else."""

from __future__ import annotations

import pytest

from guidegen.site.pages.glossary import with_words
from guidegen.trade.shop import WrittenTerm

TERMS = {
    "boss": WrittenTerm(name="boss", means="It stands out.", also=("lug",)),
    "check-valve": WrittenTerm(name="check valve", means="One direction <only>."),
}


@pytest.mark.parametrize(
    ("body", "explained"),
    [
        ("<p>A boss is there.</p>", ["It stands out."]),
        ("<p>Two bosses.</p>", ["It stands out."]),
        ("<p>The <b>Lug</b>s.</p>", ["It stands out."]),
        ("<p>Both: boss, check valves</p>", ["It stands out.", "One direction &lt;only&gt;."]),
        ("<p>embossed</p>", []),
        ('<p title="boss">x</p><script>boss</script><svg><title>boss</title></svg>', []),
    ],
)
def test_the_words_of_a_page_are_explained_at_its_end(body: str, explained: list[str]) -> None:
    """Whole words in any case, singular or plural, in text and nowhere else; meanings are escaped."""
    made = with_words(body, "guides/a/b/index.html", TERMS)
    assert made.startswith(body)
    for term, means in zip(TERMS.values(), ("It stands out.", "One direction &lt;only&gt;."), strict=True):
        assert (means in made) == (means in explained), term
    assert ('href="../../../glossary.html"' in made) == bool(explained)
