"""The codes of what can be wrong with a build report that somebody sent."""

from __future__ import annotations

from guidegen.problems import Explained


class BuildCode(Explained):
    """One code per kind of mistake, in the manner of :class:`guidegen.problems.Code`. B: the text of a build report."""

    NO_REPORT = "B01", "The text is no build report, or its beginning is missing."
    CUT_OFF = "B02", "The end of the report is missing: its last line is always the same."
    GARBLED = "B03", "A line that a build report does not have, or has once only."
    UNKNOWN_EDITION = "B04", "The report names an edition that this workshop never published."
    UNKNOWN_PAIR = "B05", "The report names a variant, a kit or a revision that the edition has no instruction for."
    OTHER_STEPS = "B06", "The report speaks of a case, a phase or a hold point that the edition's instruction lacks."
    HOLD_MISSING = "B07", "The report leaves out a hold point of its case. What was not done is written as not done."
    NO_READING = "B08", "The reading of a hold point is missing, or cannot be compared with its limit."
    NOT_SO = "B09", "A hold point is called passed or failed, and its reading says otherwise: it is not believed."
    BAD_FACT = "B10", "A fact that no machine has, or a value that cannot be read as one."
    PRIVATE = "B11", "A line looks like a name, an address or a telephone number. A build report holds none."
    BAD_DAY = "B12", "The work ended before the edition existed, or on a day that has not come yet."
