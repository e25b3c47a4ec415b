"""content/pictures.yml: which photographs there are, what each shows, and what somebody hears who cannot see it.

A photograph is listed once, by what it shows: a variant, an outside mark of one, a part, an act with its object, a kit,
or a hand-written page. Where it appears follows from that. The file lies below `content/pictures/`.
"""

from __future__ import annotations

import datetime
import re
from typing import Annotated, Any

from pydantic import BeforeValidator, Field, model_validator

from guidegen.problems import Code
from guidegen.workshop.acts import ThingNames
from guidegen.workshop.base import Document, Id, Line, Model, quoted, refused

FOLDER = "content/pictures"
SUBJECTS = ("mark", "part", "act", "page")
"""What a picture can show beside a variant or a kit as a whole: one of these."""


def relative(value: Any) -> float:
    """Read a place along a side of the picture, from 0 (left, top) to 1 (right, bottom), or in %.

    >>> relative("40 %"), relative(0.4)
    (0.4, 0.4)
    """
    text = str(value).strip()
    found = re.fullmatch(r"([0-9]+(?:\.[0-9]+)?|\.[0-9]+) ?(%?)", text)
    share = float(found[1]) / (100 if found[2] else 1) if found else 2.0
    if not 0 <= share <= 1:
        words = f"got {quoted(value)}, no place in the picture"
        raise refused(Code.OUT_OF_BOUNDS, words, "write 0 to 1, from the left or the top, or 0 % to 100 %")
    return share


Relative = Annotated[float, BeforeValidator(relative), Field(json_schema_extra={"type": ["number", "string"]})]


class WrittenCallout(Model):
    """A number in the picture, and beside it in a list. `at` is how far from the left and from the top, 0 to 1 or in %.

    `of` is the id of a thing of an inventory or of a kit's list, whose name stands in the list; `says` other words.
    """

    at: tuple[Relative, Relative]
    of: Id | None = None
    says: Line | None = None

    @model_validator(mode="after")
    def _something(self) -> WrittenCallout:
        if self.of is None and self.says is None:
            raise refused(Code.MISSING_KEY, "a number without words", "add of: with the id of a thing, or says:")
        return self


class PictureSubject(Model):
    """What a picture shows. `variant` or `kit` alone: the whole of it; beside a part or an act: only there.

    `mark` is an outside mark of the `variant`; `part` a thing of an inventory or a kit's list; `act` the name of an act
    in a procedure, `of` what it is done to; `page` a page of `content/pages/`, without its ending.
    """

    variant: Id | None = None
    mark: Id | None = None
    part: Id | None = None
    act: Id | None = None
    of: ThingNames = ()
    kit: Id | None = None
    page: Line | None = None

    @model_validator(mode="before")
    @classmethod
    def _one_is_a_list(cls, data: Any) -> Any:
        if isinstance(data, dict) and isinstance(data.get("of"), str):
            return {**data, "of": (data["of"],)}
        return data

    @model_validator(mode="after")
    def _one_subject(self) -> PictureSubject:
        given = [name for name in SUBJECTS if getattr(self, name) is not None]
        if not given and self.variant is None and self.kit is None:
            raise refused(Code.PICTURE_SHOWS, "shows nothing", "write variant, mark, part, act, kit or page")
        if len(given) > 1:
            words = f"shows {given[0]} and {given[1]}"
            raise refused(Code.PICTURE_SHOWS, words, "list the file twice, under two ids", (given[1],))
        if self.mark is not None and self.variant is None:
            raise refused(Code.PICTURE_SHOWS, "a mark of which variant?", "add variant:", ("mark",))
        if self.of and self.act is None:
            raise refused(Code.PICTURE_SHOWS, "`of` says what an act is done to", "write part: for it", ("of",))
        if self.mark is not None and self.kit is not None:
            raise refused(Code.PICTURE_SHOWS, "a mark is seen without a kit", "delete kit:", ("kit",))
        if self.page is not None and (self.variant is not None or self.kit is not None):
            raise refused(
                Code.PICTURE_SHOWS, "a page stands alone", "delete page:, or what stands beside it", ("page",)
            )
        return self

    @property
    def is_whole(self) -> bool:
        """Return whether it is the variant or the kit as a whole."""
        return all(getattr(self, name) is None for name in SUBJECTS)


class WrittenPicture(Model):
    """One photograph. `words` say what it shows to those who cannot see it, `caption` what is printed below it.

    `taken_on` is the variant that was in front of the camera: on the page of another one the picture says so. `date` is
    the day, `by` whose picture it is.
    """

    id: Id
    file: Line
    shows: PictureSubject
    words: Line
    by: Line
    caption: Line | None = None
    taken_on: Id | None = None
    date: datetime.date | None = None
    callouts: tuple[WrittenCallout, ...] = Field(default=(), max_length=20)


class Pictures(Document):
    """content/pictures.yml: the photographs that pages show, each with what it shows."""

    pictures: tuple[WrittenPicture, ...] = ()
