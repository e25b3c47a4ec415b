"""The figure of a photograph: what a browser, a printer and a screen reader get of it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import html5lib
import pytest

from guidegen.record.pictures import Picture, PictureCallout
from guidegen.record.stated import Mark
from guidegen.site.pages.pictures import captioned, figure, figures, on_pages

NAMES = {(width, kind): f"{width:020x}-{width}.{kind}" for width in (480, 960, 1600) for kind in ("webp", "jpg")}
PAGE = "guides/tamsin-mk2/feed-preheater/install.html"


@dataclass(frozen=True)
class MadeUp:
    """A copy that nobody made."""

    name: str
    kind: str
    width: int
    height: int


class Shelf:
    """One photograph in three widths."""

    def copies(self, digest: str) -> Sequence[MadeUp]:
        """Of the one that there is."""
        made = [MadeUp(name, kind, width, width // 2) for (width, kind), name in NAMES.items()]
        return made if digest == "here" else ()

    def copy_bytes(self, name: str) -> bytes | None:
        """Its own name."""
        return name.encode() if name in NAMES.values() else None

    def names(self) -> Iterator[str]:
        """All of them."""
        yield from NAMES.values()


def picture(**more: object) -> Picture:
    """A photograph with two numbers."""
    numbers = (
        PictureCallout(number=1, at=(0.4, 0.3), says="feed hose", of="feed-hose"),
        PictureCallout(number=2, at=(1.0, 0.0), says="the nut"),
    )
    blank: dict[str, object] = {"id": "hose", "digest": "here", "words": "A <black> hose.", "caption": "It comes off.",
                                "by": "A & B", "date": "2026-02-11", "taken_on": "tamsin-mk1",
                                "taken_on_name": "Tamsin Mark 1", "callouts": numbers}  # fmt: skip
    return Picture.model_validate(blank | more)


def element(text: str, path: str) -> list[object]:
    """The elements of a figure at a path."""
    return html5lib.parseFragment(text, namespaceHTMLElements=False).findall(path)  # type: ignore[no-any-return]


def test_a_browser_gets_three_widths_and_loads_none_that_nobody_sees() -> None:
    """WebP first, JPEG behind it, the middle one where no width is chosen; with its size, so that nothing jumps."""
    (image,) = element(figure(picture(), Shelf(), PAGE), ".//img")
    get = image.attrib  # type: ignore[attr-defined]
    up = "../../../pictures/"
    assert get["src"] == f"{up}{NAMES[960, 'jpg']}"
    assert get["srcset"] == ", ".join(f"{up}{NAMES[width, 'jpg']} {width}w" for width in (480, 960, 1600))
    assert (get["width"], get["height"], get["loading"]) == ("960", "480", "lazy")
    assert get["alt"] == "A <black> hose."
    sources = [one.attrib for one in element(figure(picture(), Shelf(), PAGE), ".//source")]  # type: ignore[attr-defined]
    assert [(one.get("media"), one["type"]) for one in sources] == [("print", "image/webp"), (None, "image/webp")]
    assert (sources[0]["srcset"], sources[0]["sizes"]) == (f"{up}{NAMES[960, 'webp']} 960w", "960px")


def test_numbers_lie_over_the_picture_and_their_words_below_it() -> None:
    """Whoever hears the page gets them once, from the list; the same numbers lead from one to the other."""
    made = figure(picture(), Shelf(), PAGE)
    over = element(made, ".//span[@class='gg-callout']")
    assert [(one.text, one.attrib["style"], one.attrib["aria-hidden"]) for one in over] == [  # type: ignore[attr-defined]
        ("1", "left: 40%; top: 30%", "true"),
        ("2", "left: 100%; top: 0%", "true"),
    ]
    below = element(made, ".//ol/li")
    assert [(one.attrib["value"], one.text) for one in below] == [("1", "Feed hose"), ("2", "The nut")]  # type: ignore[attr-defined]


@pytest.mark.parametrize(("variant", "stamped"), [("tamsin-mk1", False), ("tamsin-mk2", True), ("", True)])
def test_what_was_taken_on_another_variant_says_so(variant: str, stamped: bool) -> None:
    """On the page of the very variant nothing has to be said; a page of no variant says it always."""
    assert ("Taken on Tamsin Mark 1." in figure(picture(), Shelf(), PAGE, variant)) is stamped
    assert "Taken on" not in figure(picture(taken_on=None, taken_on_name=None), Shelf(), PAGE, variant)


def test_a_photograph_that_is_gone_leaves_its_words() -> None:
    """In pages that are made anew of an edition whose photograph nobody has any more."""
    made = figure(picture(digest="lost"), Shelf(), PAGE)
    assert element(made, ".//img") == []
    assert "The picture is not here. It showed: A &lt;black&gt; hose." in made
    assert "Feed hose" in made


def test_whose_it_is_and_when_it_was_taken_stand_below_it() -> None:
    """After the caption."""
    assert "Picture: A &amp; B, 2026-02-11." in figure(picture(), Shelf(), PAGE)
    assert "Picture: A &amp; B." in figure(picture(date=None), Shelf(), PAGE)


def test_a_figure_is_one_block_for_markdown() -> None:
    """An empty line would end it, and what follows would be read as Markdown."""
    assert "\n\n" not in figure(picture(), Shelf(), "about.html")
    assert figures((), Shelf(), PAGE) == ""


def test_a_mark_is_the_caption_of_its_picture() -> None:
    """Where the picture has none of its own."""
    marks = [Mark(look="the plate", see="MK2", pictures=(picture(caption=None), picture()))]
    assert [one.caption for one in captioned(marks)] == ["The plate: MK2.", "It comes off."]


def test_only_what_a_page_shows_is_published() -> None:
    """And nothing that another file than a page names, nor a name that nobody has."""
    shown = figure(picture(), Shelf(), PAGE).encode()
    files = dict(on_pages({PAGE: shown, "data/x.json": b"pictures/00000000000000000000-1.jpg"}, Shelf()))
    assert {*files} == {f"pictures/{name}" for name in NAMES.values()}
    assert dict(on_pages({"a.html": b'src="pictures/0123456789abcdef0123-480.jpg"'}, Shelf())) == {}
    assert not re.search(r"\d+w, *\Z", shown.decode())
