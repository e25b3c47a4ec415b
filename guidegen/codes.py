"""What each kind of mistake is called, and what it means."""

from __future__ import annotations

from enum import StrEnum
from typing import Self


class Explained(StrEnum):
    """Codes that bring what they mean: each member is a value and an explanation, and prints as its value."""

    explanation: str

    def __new__(cls, value: str, explanation: str) -> Self:
        """Keep the explanation beside the value."""
        member = str.__new__(cls, value)
        member._value_ = value
        member.explanation = explanation
        member.__doc__ = explanation
        return member


class Code(Explained):
    """One code per kind of mistake. The value is what is printed, the text says what it means.

    R: how the file is written. F: files, folders, ids. S: the shape of a document. Q: quantities.
    I: inheritance. X: one part of the catalogue against another. G: photographs. M: money.
    P: plausible, but worth a second look.
    """

    NOT_UTF8 = "R01", "The bytes are not UTF-8; nobody can say which letters were meant. Save the file as UTF-8."
    NOT_YAML = "R02", "The text is not YAML: a quote or bracket is open, or lines are indented unevenly."
    TAB = "R03", "A tab where YAML wants spaces: editors show tabs at different widths. Use spaces."
    CONTROL_CHARACTER = (
        "R04",
        "A character that cannot be seen or printed, or that turns the direction of the text. "
        "It could hide what the text says. Delete it.",
    )
    DUPLICATE_KEY = "R05", "A key stands twice in one mapping; one of the two would be lost. Keep one."
    MERGE_KEY = "R06", "The merge key `<<` hides where a value comes from. Write it out, or use the family."
    TAG = "R07", "A tag such as `!!python` or `!!str` asks the reader to build things. Write the plain value."
    SECOND_DOCUMENT = "R08", "A file holds one document. Make a second file."
    KEY_NOT_TEXT = "R09", "A key is a list, a mapping or empty. Keys are words."
    TOO_DEEP = "R10", "More than 20 levels of nesting. No document of a catalogue needs that."
    TOO_MANY_ALIASES = "R11", "Aliases would blow the document up beyond every need. Write the values out."
    TOO_LARGE = "R12", "The file is larger than a document can be. Logged runs belong into CSV files."
    UNKNOWN_ALIAS = "R13", "An alias (`*name`) whose anchor (`&name`) does not stand before it."
    EMPTY_FILE = "R14", "The file holds nothing. Write it or delete it."
    NOT_A_MAPPING = "R15", "The document does not start with `key: value`. Every document is a mapping."

    BAD_ID = "F01", "An id is at most 40 small letters, digits and hyphens: it becomes part of an address."
    CASE_CLASH = "F02", "Two names differ by upper and lower case only: one file on some computers."
    LINK_OUT = "F03", "A symbolic link that leaves the workshop's folder or leads nowhere. Copy the file."
    FILE_MISSING = "F04", "A file that every workshop has is not there."
    UNEXPECTED_FILE = "F05", "A YAML file where nothing reads it. Rename, move or delete it."
    UNREADABLE = "F06", "The file cannot be opened."
    PATH_OUTSIDE = "F07", "A path that leads out of the workshop's folder. Write it from the workshop's root."
    NOT_EDITABLE = "F08", "A form that cannot be changed without changing more than was asked. Edit the file by hand."

    UNKNOWN_KEY = "S01", "No field of that name here. The nearest valid name is given."
    MISSING_KEY = "S02", "A field that must be there is not. Where nobody knows its value, write `unknown`."
    WRONG_TYPE = "S03", "Text where a list or a mapping is wanted, or the other way round."
    WRONG_CHOICE = "S04", "The field takes one of a few words."
    NOT_A_NUMBER = "S05", "A plain number is wanted here."
    NOT_TRUE_FALSE = "S06", "The field takes `true` or `false` only; `yes`, `no`, `on`, `off` are words."
    OUT_OF_BOUNDS = "S07", "A number or a text that is too small, too large or too long for the field."
    EMPTY_VALUE = "S08", "The field has no value. Write one, `unknown`, or delete the line."
    NOT_A_DATE = "S09", "A date is written year-month-day: 2026-03-31."

    OLD_FORM = (
        "S10",
        "A step in words of its own. The program reads no sentences: it would not know what the step does to the "
        "machine. Write it as an act.",
    )

    NO_NUMBER = "Q01", "A quantity starts with a number."
    UNKNOWN_UNIT = "Q02", "A unit that is not in the closed table of units."
    MISSING_UNIT = "Q03", "A number without a unit. Nobody can tell grams from ounces afterwards."
    WRONG_DIMENSION = "Q04", "A unit of another dimension, as a length where a mass is wanted."
    BAD_UNCERTAINTY = "Q05", "What follows `±` is not a quantity of the same dimension, or it is negative."
    NEGATIVE = "Q06", "A quantity that cannot be negative is, or a temperature lies below absolute zero."
    NOT_FINITE = "Q07", "Infinity and not-a-number are no measurements. Write `unknown`."
    TOO_BIG = "Q08", "A size that nothing on a workbench has. Look at the unit and the decimal point."
    VOLTAGE_KIND = "Q09", "A voltage says whether it alternates (`V~`) or not (`V⎓`)."
    DECIMAL_SIGN = "Q10", "The decimal sign is a point; thousands are not separated; fractions are written out."
    EVIDENCE = "Q11", "Evidence other than `assumed` or `calculated` names its source."

    FAMILY_MISSING = "I01", "The folder of a variant has no family.yml."
    CYCLE = "I02", "Documents that are based on each other in a ring."
    BASE_MISSING = "I03", "`based_on` names no variant of this family."
    NOTHING_TO_REMOVE = "I04", "`null` removes an inherited value, but nothing of that name is inherited."
    LIST_WITHOUT_ID = "I05", "Lists are merged by `id`; an item without one cannot be matched."
    SHAPE_CHANGE = "I06", "A variant turns an inherited list into a mapping, or the other way round."

    UNKNOWN_SOURCE = "X01", "No such key in content/sources.yml."
    UNKNOWN_KIT = "X02", "No such kit in content/kits/."
    UNKNOWN_FACT = "X03", "A requirement asks for a fact that machines do not have."
    UNKNOWN_DEVICE = "X04", "A protrusion carries a safety device that the machine does not list."
    DUPLICATE_ID = "X05", "Two items of one list have the same id."
    COMPARISON = "X06", "A requirement compares what cannot be compared, as a material with a length."
    UNKNOWN_PART = "X07", "A requirement or a wetted surface names a part that the kit does not list."
    UNKNOWN_SEAT = "X08", "A safety device sits on a protrusion that the boiler does not have."
    UNKNOWN_FAMILY = "X09", "No such family or variant in machines/."
    UNKNOWN_DRINK = "X10", "No such drink in content/drinks.yml."
    UNKNOWN_TERM = "X11", "A glossary entry refers to a term that has no entry."
    KIT_CYCLE = "X12", "Kits that need each other in a ring: nobody could start."
    FORMAT = "X13", "The workshop's catalogue format is not one that this program reads."
    BAND = "X14", "A band that ends below its start, or lies outside the wall it is on."
    NO_CONTROL = "X15", "The machine's control and its list of thermostats contradict each other."
    NOT_JUDGED = "X16", "A requirement, or the `when` of a part, cannot be judged on a machine as it is written."
    SELF_CHECK_TOO_LARGE = (
        "X17",
        "A self-check with more questions, steps or remedies than anybody would go through. "
        "Settle facts in the variant's data, or ask for fewer.",
    )
    OWN_ACT = (
        "X20",
        "An act of the workshop's own that cannot be done as it is written: a name in braces, a hazard or a look "
        "that is not there, or a thing that is named in words alone.",
    )
    WRITTEN_TWICE = "X19", "Something is written that the program adds up from another file. Two numbers would differ."
    CIRCUIT = (
        "X22",
        "A device that guards against too much heat is not in the heater's circuit, is taken for one that controls, or "
        "a kit takes its place: nothing would guard.",
    )
    UNKNOWN_THING = "X21", "An inventory or a picture names a thing that neither machine, kit nor its lists have."
    LOCKED_COIL = (
        "X24",
        "A kit with a coil that does not ask where the check valve is. Water locked in a coil bursts it when it warms.",
    )
    NO_WATER = "X27", "A joint of an inventory ends at a thing that no water passes: nobody can say what it locks in."
    UNUSED_THING = (
        "X25",
        "A thing in a kit's inventory that no act of its procedure names, nor one of a shared block that it includes. "
        "A joint that nobody makes leaks, a lead that nobody fixes hangs loose.",
    )
    METALS = (
        "X26",
        "A kit with copper in the water that lets it stand before aluminium, or whose coil is of another metal than it "
        "declares. Copper upstream of aluminium pits it.",
    )
    THREADS = (
        "X28",
        "The two sides of a joint cannot be screwed together: both are male or both female, their threads differ, or "
        "only one says what it is.",
    )
    CONTRADICTED = (
        "X29",
        "Two facts of a machine that cannot both be true: a rating beside what is stated elsewhere, or a current that "
        "the device would not carry.",
    )
    POSITION = "X30", "A thing that cannot be where it is said to be: beyond wall or plate, or in the place of another."
    LOG = "X31", "A logged run whose description and file do not belong together, or that describes what cannot be."
    DOWNSIDES = "X32", "A kit that does not speak of everything that a buyer has to know before ordering."
    LANGUAGE = (
        "X18",
        "The interface has no words in the workshop's language: nobody has translated them yet, or their catalogue "
        "cannot be read.",
    )

    NOTHING = (
        "N01",
        "A quantity that is nothing or less, or may be, where some of it is needed; or a share of more than all.",
    )
    NOT_HELD = "N02", "A heater that cannot hold what it is set to, or that never has to heat."
    BOILS = "N03", "Water that would boil or be ice at the temperature and pressure that are stated."
    TOO_LONG = "N04", "A machine that answers so fast that nobody could wait for the steps that it takes in time."
    NO_FORMULA = "N05", "A value for which a formula of the computation does not hold."
    NO_DAY = "N06", "Sessions or drinks that take no time, or more than there is in a day."

    PICTURE_UNREADABLE = (
        "G01",
        "The program cannot read a picture: another format than JPEG, PNG or WebP, an animation, or a damaged file.",
    )
    PICTURE_TOO_LARGE = "G02", "A picture with more bytes or pixels than any page needs. Make it smaller."
    PICTURE_SHOWS = "G03", "A picture of what is not there: no such mark, act or page; or of two things at once."
    PICTURE_PLACE = (
        "G04",
        "A picture's file says where on earth it was taken. The pages do not carry that, the workshop's history does.",
    )

    NOT_MONEY = "M01", "A sum of money is an amount and the code of its currency by ISO 4217, as 84.50 EUR."
    CURRENCY = "M02", "A price in another currency than the workshop's, or than `currency` of the offers."
    NO_TERMS = "M03", "A price without terms of sale: whoever reads the one must find the other."
    OFFER_DAYS = "M04", "Prices that end before they begin."

    IMPLAUSIBLE = "P01", "A value outside the range that such machines have. It may be right: look again."
    WIDE = "P02", "An uncertainty wider than the value. It may be right: look again."
    OUTER = (
        "P06",
        "A value at the very end of its own range. What was stated and what was meant by it are then far apart: look "
        "again.",
    )
    MARK_UNSAID = (
        "P07",
        "A variant does not say what it shows where others of its family have a mark: write it, or `unknown`.",
    )
    FOUND_OTHERWISE = "P08", "Owners measured something outside of what the variant states. It may be two variants."
    SAID_TWICE = "P09", "A downside that says how long something takes, beside the computed time: they may differ."
    RESTS_ON_ASSUMED = (
        "P10",
        "A kit is said to fit because of a fact that nobody measured on this variant, and no question asks an owner "
        "for it.",
    )
    IDLE_LOOK = "P11", "`looked_at` speaks of a warning that there is not, or of another value than stands there now."
    NO_MASS = "P12", "A kit whose effects say nothing of what its parts weigh."
    UNWRITTEN = "P13", "Words of a skeleton that nobody replaced, in a kit with an instruction: readers would see them."
    SOURCE_UNUSED = "P03", "A source that nothing cites."
    NOT_MARKED = "P04", "The workshop is marked as invented, but this machine or kit is not."
    WITHHELD = (
        "P05",
        "Nobody knows a fact without which a fitting instruction cannot be written. That instruction is withheld, and "
        "its guide says what is missing; everything else is built.",
    )
