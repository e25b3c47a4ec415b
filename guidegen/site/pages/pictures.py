"""Photographs on a page: a figure with its numbers, caption, and the variant that it was taken on.

Copies lie in `pictures/` under names made from their content. The browser takes the width that it needs, as WebP where
it can; on paper the middle one is printed. Where nobody has the photograph any more its words stand in its place.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping

from markupsafe import Markup

from guidegen.language import translated
from guidegen.record.pictures import Picture, PictureCopy, PictureShelf
from guidegen.record.stated import Mark, VariantPart
from guidegen.site.pages.page import rel
from guidegen.site.pages.sentences import sentence
from guidegen.site.pages.template import render

FOLDER = "pictures"
TYPES = {"webp": "image/webp", "jpg": "image/jpeg"}
BEHIND = "jpg"
"""What every browser reads."""
SIZES = "(min-width: 60em) 36rem, 100vw"
_NAMED = re.compile(rb"pictures/([0-9a-f]{20}-[0-9]+\.(?:webp|jpg))")


def figures(pictures: Iterable[Picture], shelf: PictureShelf, page: str, variant: str = "") -> Markup:
    """The figures of some photographs beside each other; nothing where there are none.

    `page` is the page's place in the site. `variant` is the id of the variant that the page is about, where it is about
    one: what was not taken on it says so.
    """
    made = [figure(one, shelf, page, variant) for one in pictures]
    return Markup('<div class="gg-pictures">{}</div>').format(Markup("").join(made)) if made else Markup("")


def of_marks(variant: VariantPart) -> Iterator[Picture]:
    """The photographs of a variant's outside marks."""
    return captioned(variant.marks)


def captioned(marks: Iterable[Mark]) -> Iterator[Picture]:
    """The photographs of outside marks, each captioned by its mark where it has no caption of its own."""
    for mark in marks:
        for one in mark.pictures:
            words = sentence(f"{mark.look}: {mark.see.rstrip('.')}.")
            yield one if one.caption else one.model_copy(update={"caption": words})


def figure(picture: Picture, shelf: PictureShelf, page: str, variant: str = "") -> Markup:
    """One photograph with its numbers and what there is to say of it."""
    copies = shelf.copies(picture.digest) if picture.digest else ()
    made = render(
        "picture.html",
        picture=picture,
        image=_image(copies, page),
        sources=[_source(kind, copies, page) for kind in TYPES if kind != BEHIND],
        sizes=SIZES,
        stamp=stamp(picture, variant),
    )
    # Markdown ends a block of HTML at an empty line.
    return Markup("\n".join(line for line in made.splitlines() if line.strip()))


def stamp(picture: Picture, variant: str) -> Markup | None:
    """On which variant it was taken, where that is not the one that the page is about."""
    if picture.taken_on is None or picture.taken_on == variant:
        return None
    return translated("Taken on {variant}.", variant=picture.taken_on_name or picture.taken_on)


def _middle(copies: Iterable[PictureCopy], kind: str) -> PictureCopy | None:
    mine = [one for one in copies if one.kind == kind]
    return mine[len(mine) // 2] if mine else None


def _image(copies: Iterable[PictureCopy], page: str) -> dict[str, object] | None:
    middle = _middle(copies, BEHIND)
    if middle is None:
        return None
    return {
        "src": _at(middle, page),
        "srcset": _set(BEHIND, copies, page),
        "width": middle.width,
        "height": middle.height,
    }


def _source(kind: str, copies: Iterable[PictureCopy], page: str) -> dict[str, str]:
    middle = _middle(copies, kind)
    printed = {"printed": f"{_at(middle, page)} {middle.width}w", "printed_wide": f"{middle.width}px"} if middle else {}
    return {"type": TYPES[kind], "srcset": _set(kind, copies, page), "printed": "", "printed_wide": "", **printed}


def _set(kind: str, copies: Iterable[PictureCopy], page: str) -> str:
    return ", ".join(f"{_at(one, page)} {one.width}w" for one in copies if one.kind == kind)


def _at(copy: PictureCopy, page: str) -> str:
    return rel(page, f"{FOLDER}/{copy.name}")


def on_pages(pages: Mapping[str, bytes], shelf: PictureShelf) -> Iterator[tuple[str, bytes]]:
    """Every copy that finished pages show, with its place in the site; what no page shows is not published."""
    named = {name.decode() for path, data in pages.items() if path.endswith(".html") for name in _NAMED.findall(data)}
    for name in sorted(named):
        data = shelf.copy_bytes(name)
        if data is not None:
            yield f"{FOLDER}/{name}", data
