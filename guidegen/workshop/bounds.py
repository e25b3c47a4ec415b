"""How far a number of an act may go: what a workshop may be stricter than, and never laxer."""

from __future__ import annotations

from guidegen.workshop.base import Line, Model


class Widening(Model):
    """How the upper bound of one number grows with another, `of`: by `more` for each whole `per` above `above`.

    It never grows beyond `most`.
    """

    of: Line
    above: Line
    per: Line
    more: Line
    most: Line


class Bounds(Model):
    """The least and the most that a number of an act may be, the ends of its tolerance included.

    With `tolerance` the number has one, of at most this width, and comes from a document: of its maker, or a standard.
    """

    at_least: Line | None = None
    at_most: Line | None = None
    wider: Widening | None = None
    tolerance: Line | None = None
