"""What is wrong with a logged file: what refuses it, and what leaves rows of it out."""

from __future__ import annotations

from guidegen.problems import Explained


class RunCode(Explained):
    """L01 to L09 refuse a file, because nobody can say what it means. From L11 on rows are left out, never altered.

    L31 to L37 refuse to compare before and after; each run still says what it says by itself.
    """

    ENCODING = "L01", "Bytes of which nobody can say which letters were meant. Save the file as UTF-8."
    NO_TABLE = "L02", "No table was found: rows of numbers with the same separator in each."
    AMBIGUOUS = "L03", "What can be read in two ways, or says too little. The fix is the option that answers it."
    FIELDS = "L04", "The line of names has another number of columns than the lines of values."
    MIXED_DECIMALS = "L05", "Some numbers have a decimal point and some a comma, or their thousands are grouped."
    ANSWER = "L06", "An answer on the command line that names no column, no place or quantity, or no unit of it."
    UNREADABLE_TIME = (
        "L07",
        "The column of time holds what cannot be read in the way in which it is said to be written.",
    )
    TOO_LARGE = "L08", "More bytes, columns or wrong rows than a log of a machine has. Cut it, or look at the logger."
    CANNOT_BE = "L09", "Most values of a column lie where no machine is: its unit or its place is another one."

    CLOCK_BACK = "L11", "The clock goes back; rows are left out until it has passed where it was."
    CLOCK_TWICE = "L12", "A row with the time of the row before."
    MISSING = "L13", "An empty cell, or a word or number by which loggers say that there is no value."
    NO_NUMBER = "L14", "A cell that is no number, or a row with another number of cells."
    OUTSIDE = "L15", "A value that no machine has."
    TOO_FAST = "L16", "A step that the probe, with its lag, cannot have followed."
    STUCK = "L17", "A value that stays the same to its last digit while another probe moves."
    SATURATED = "L18", "A flat top or bottom that is entered and left steeply: the logger's range ended there."

    GAP = "L21", "A gap of the clock in a shot."
    SLOW = "L22", "Rows come more slowly than half the lag of the probe: what it saw cannot be worked out."
    NOT_SETTLED = "L23", "The temperature was still moving when the shot began."

    UNPAIRED = "L31", "Before and after are compared within blocks: one run without the kit and one with it in each."
    FEW_PAIRS = "L32", "Fewer than five blocks: nobody can say how much of the difference is chance."
    OTHER_MACHINE = "L33", "Runs of two machines, or of one that nobody named: their difference is not the kit's."
    OTHER_FEED = (
        "L34",
        "Water of another temperature, or of one that nobody wrote down: colder feed makes a larger dip.",
    )
    OTHER_PROBE = "L35", "Another kind or class of probe before than after: each may be off in its own way."
    OTHER_SETPOINT = "L36", "Another setpoint before than after: it moves the dip by itself."
    INVENTED_AND_REAL = "L37", "Runs that nobody measured beside runs that somebody did: they say nothing together."
