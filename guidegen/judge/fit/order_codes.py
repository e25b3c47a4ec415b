"""The codes of what can be wrong with an order text that somebody sent."""

from __future__ import annotations

from guidegen.problems import Explained


class OrderCode(Explained):
    """One code per kind of mistake, in the manner of :class:`guidegen.problems.Code`. T: the text of an order."""

    NO_ORDER = "T01", "The text is no order that the self-check wrote, or its beginning is missing."
    CUT_OFF = "T02", "The end of the order is missing; what was to be sent is not known."
    GARBLED = "T03", "A line that the self-check does not write, or writes once only."
    UNKNOWN_EDITION = "T04", "The order names an edition that this workshop never published."
    UNKNOWN_PAIR = "T05", "The order names a variant or a kit that the edition does not have."
    OTHER_RULES = "T06", "The rules that the order was made with are not those of the edition that it names."
    BAD_ANSWER = "T07", "An answer that cannot be read, is missing, or is not asked after the other answers."
    EDITED = "T08", "The order says something else than the rules give for its answers: somebody changed it."
    OVERTAKEN = "T09", "By the rules of today the same answers end otherwise. Do not carry the order out as it is."
