"""The types of fields that state a fact: quantities, choices and words, each with its evidence.

A fact is written in one of four ways:

* `520 g ± 10 g`, a value;
* `{is: 520 g ± 10 g, evidence: measured, source: bench-12, note: ...}`, a value and where it comes from;
  `{is: 2, from: 1, to: 10}` states the ends where they do not lie evenly around the value;
* `unknown`, when nobody has looked yet: the field's plausible range stands in, marked as assumed;
* `some units`, or `{some_units: [straight, banjo]}`, when the factory used more than one: always asked.

How a quantity is drawn for the ranges follows from what was written, as JCGM 101 (6.4) assigns distributions to what is
known: a value measured with its ± is normal, the ± being 95 % of it (6.4.7); a value between ends is triangular, and
where one end is more than five times the other, its logarithm is; any other ±, or a range that stands in for a value,
is rectangular (6.4.2). `drawn: rectangular`, `triangular`, `log-triangular` or `normal` beside the value says
otherwise.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any, cast

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler, ValidationInfo
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from guidegen.problems import Code, nearest, one_of
from guidegen.unit_table import UNITS
from guidegen.units import Quantity, UnitError, parse
from guidegen.workshop.base import Place, Text, quoted, refused
from guidegen.workshop.facts import DRAWN, EVIDENCE, SOME_UNITS, UNKNOWN
from guidegen.workshop.facts import Choice as Choice
from guidegen.workshop.facts import Evidence as Evidence
from guidegen.workshop.facts import Fact as Fact
from guidegen.workshop.facts import Spec as Spec

_A_SOURCE = "add source: with a key of content/sources.yml"
Schema = dict[str, Any]
_KEYS = ("is", "from", "to", "drawn", "some_units", "evidence", "source", "note")


@dataclass(frozen=True)
class _Reader:
    """Reads the four ways of writing a fact; the two subclasses read what `is` holds."""

    def read(self, value: Any, info: ValidationInfo) -> Any:
        place = value.place if isinstance(value, Text) else None
        default, source = _file_default(place, info)
        if isinstance(value, str):
            word = str(value)
            if not word.strip():
                raise refused(Code.EMPTY_VALUE, "has no value", f"write it like {self.example()}, or unknown")
            if word == UNKNOWN:
                return self.make(word, place, known=False)
            if word == SOME_UNITS:
                return self.make(word, place, known=False, spread=True)
            return self.make(word, place, word=word, evidence=default, source=source)
        if value is None:
            raise refused(Code.EMPTY_VALUE, "has no value", f"write it like {self.example()}, or unknown")
        if not isinstance(value, dict):
            raise refused(Code.WRONG_TYPE, f"got {quoted(value)}, one value is wanted", self.fix())
        return self._read_mapping(value, default, source, info)

    def _read_mapping(self, value: dict[str, Any], default: Evidence, source: str | None, info: ValidationInfo) -> Any:
        _refuse_unknown_keys(value)
        given = value.get("is", value.get("some_units"))
        if given is None:
            raise refused(Code.MISSING_KEY, "`is` is missing", f"add is:, as in is: {self.example()}")
        if isinstance(given, Text):
            default, source = _file_default(given.place, info)
        beside: dict[str, Any] = {"source": _beside(value, "source") or source}
        if "note" in value:
            beside["note"] = _beside(value, "note")
        own = _evidence(value, default)
        if "some_units" in value:
            options = self._options(given)
            return self.make(SOME_UNITS, _place(given), known=False, spread=True, options=options, **beside)
        if not isinstance(given, str):
            raise refused(Code.WRONG_TYPE, f"got {quoted(given)}, one value is wanted", self.fix(), ("is",))
        text = str(given)
        if text in (UNKNOWN, SOME_UNITS):
            return self.make(text, _place(given), known=False, spread=text == SOME_UNITS, **beside)
        if own not in ("assumed", "calculated") and beside["source"] is None:
            where = ("evidence",) if "evidence" in value else ("is",)
            raise refused(Code.EVIDENCE, f"{own}, but without a source", _A_SOURCE, where)
        if "drawn" in value:
            beside["drawn"] = _drawn(value["drawn"])
        try:
            return self.make(text, _place(given), word=text, evidence=own, ends=self._ends(value), **beside)
        except PydanticCustomError as error:
            raise _deeper(error, "is") from None

    def _options(self, given: Any) -> tuple[str, ...]:
        if not isinstance(given, tuple) or len(given) < 2 or not all(isinstance(item, str) for item in given):
            raise refused(Code.WRONG_TYPE, f"got {quoted(given)}, a list of two or more values is wanted",
                           f"write some_units: [{self.example()}, …]", ("some_units",))  # fmt: skip
        return tuple(map(str, given))

    def _ends(self, value: dict[str, Any]) -> tuple[str, str] | None:
        if ("from" in value) != ("to" in value):
            given = ("from",) if "from" in value else ("to",)
            raise refused(Code.MISSING_KEY, "a range has two ends: `from` and `to`", "add the other end", given)
        if "from" not in value:
            return None
        return str(value["from"]), str(value["to"])

    def make(self, text: str, place: Place | None, **known: Any) -> Any:
        raise NotImplementedError

    def example(self) -> str:
        raise NotImplementedError

    def fix(self) -> str:
        return f"write it like {self.example()}"


@dataclass(frozen=True)
class Dimension(_Reader):
    """Makes a field read a quantity of one dimension."""

    dimension: str

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Read with the closed table of units."""
        return core_schema.with_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> Schema:
        """Refer to the definition of a quantity that the schema writer adds."""
        return {"x-fact": self.dimension}

    def example(self) -> str:
        """Return a value of this dimension, for a fix."""
        return f"12 {next(iter(UNITS[self.dimension]))}".strip()

    def make(self, text: str, place: Place | None, **known: Any) -> Fact:
        """Parse what was written."""
        word = known.pop("word", None)
        ends = known.pop("ends", None)
        options = tuple(self._parse(option, ("some_units",)) for option in known.pop("options", ()))
        quantity = self._parse(word) if word is not None else None
        if ends:
            first, last = self._parse(ends[0], ("from",)).value, self._parse(ends[1], ("to",)).value
            if quantity is not None and not first <= quantity.value <= last:
                words = f"{word} does not lie between {ends[0]} and {ends[1]}"
                raise refused(Code.BAD_UNCERTAINTY, words, "correct the ends", ("from",))
            known["ends"] = (first, last)
        self._check_drawn(known.get("drawn"), quantity, known.get("ends"))
        known.update(dimension=self.dimension, quantity=quantity, options=options)
        return Fact(text=text, place=place, **known)

    def _check_drawn(self, drawn: str | None, quantity: Quantity | None, ends: tuple[float, float] | None) -> None:
        if drawn is None or quantity is None:
            return
        if ends is None and not quantity.plus_minus:
            words = f"drawn as {drawn}, but no end is stated"
            raise refused(Code.BAD_UNCERTAINTY, words, "add from: and to:, or delete drawn", ("drawn",))
        if drawn == "log-triangular" and min(ends or (quantity.low,)) <= 0:
            words = "a lower end of zero or below has no logarithm"
            raise refused(Code.BAD_UNCERTAINTY, words, "write triangular, or a lower end above zero", ("drawn",))

    def _parse(self, text: str, inner: tuple[str, ...] = ()) -> Quantity:
        try:
            return parse(text, self.dimension)
        except UnitError as error:
            raise refused(error.code, error.message, error.fix, inner) from None


@dataclass(frozen=True)
class Choices(_Reader):
    """Makes a field read one of a few words; without words, any words of one line."""

    words: tuple[str, ...] = ()

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Read one of the words."""
        return core_schema.with_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> Schema:
        """Refer to the definition of a choice that the schema writer adds."""
        return {"x-choice": list(self.words)}

    def example(self) -> str:
        """Return one of the words, for a fix."""
        return self.words[0] if self.words else "words"

    def make(self, text: str, place: Place | None, **known: Any) -> Choice:
        """Check what was written."""
        word, options = known.pop("word", None), known.pop("options", ())
        if known.pop("ends", None):
            raise refused(Code.WRONG_TYPE, "a range is given, but words have none", "delete from and to", ("from",))
        if known.pop("drawn", None):
            raise refused(Code.WRONG_TYPE, "words are not drawn, only quantities are", "delete drawn", ("drawn",))
        for option in options:
            self._check(option, ("some_units",))
        if word is not None:
            self._check(word)
        return Choice(text=text, place=place, word=word, options=options, **known)

    def _check(self, word: str, inner: tuple[str, ...] = ()) -> None:
        if len(word) > 300 or "\n" in word:
            words = f"got {quoted(word)}, one line of at most 300 characters is wanted"
            raise refused(Code.OUT_OF_BOUNDS, words, "shorten it", inner)
        if self.words and word not in self.words:
            near = nearest(word, self.words)
            fix = f"write {near}" if near else f"use one of {', '.join(self.words)}"
            raise refused(Code.WRONG_CHOICE, f"got {quoted(word)}, not one of the words known here", fix, inner)


def _refuse_unknown_keys(value: dict[str, Any]) -> None:
    for key in value:
        if key not in _KEYS:
            near = nearest(key, _KEYS)
            fix = f"write {near}" if near else f"use {one_of(_KEYS)}"
            raise refused(Code.UNKNOWN_KEY, f"no field {quoted(key)} beside a value", fix, (key,))


def _drawn(word: Any) -> str:
    if word not in DRAWN:
        near = nearest(str(word), DRAWN)
        fix = f"write {near}" if near else f"use {one_of(DRAWN)}"
        raise refused(Code.WRONG_CHOICE, f"got {quoted(word)}, not a known distribution", fix, ("drawn",))
    return str(word)


def _beside(value: dict[str, Any], key: str) -> str | None:
    """Return a text that stands beside a value; None where there is none."""
    if key not in value:
        return None
    if not isinstance(value[key], str):
        raise refused(Code.WRONG_TYPE, f"got {quoted(value[key])}, text is wanted", "", (key,))
    return str(value[key])


def _evidence(value: dict[str, Any], default: Evidence) -> Evidence:
    own = value.get("evidence", default)
    if own not in EVIDENCE:
        near = nearest(str(own), EVIDENCE)
        fix = f"write {near}" if near else f"use one of {one_of(EVIDENCE)}"
        raise refused(Code.WRONG_CHOICE, f"got {quoted(own)}, no kind of evidence", fix, ("evidence",))
    return cast(Evidence, own)


def _place(value: Any) -> Place | None:
    return value.place if isinstance(value, Text) else None


def _file_default(place: Place | None, info: ValidationInfo) -> tuple[Evidence, str | None]:
    """Return evidence and source that the file of this place sets for all of its values."""
    defaults = (info.context or {}).get("evidence", {})
    return cast(tuple[Evidence, str | None], defaults.get(place.path if place else None, ("assumed", None)))


def _deeper(error: PydanticCustomError, key: str) -> PydanticCustomError:
    context = dict(error.context or {})
    context["inner"] = context.get("inner") or (key,)
    return PydanticCustomError(error.type, error.message_template, context)


Mass = Annotated[Fact, Dimension("mass")]
Volume = Annotated[Fact, Dimension("volume")]
Length = Annotated[Fact, Dimension("length")]
Temperature = Annotated[Fact, Dimension("temperature")]
TemperatureDifference = Annotated[Fact, Dimension("temperature_difference")]
Power = Annotated[Fact, Dimension("power")]
Energy = Annotated[Fact, Dimension("energy")]
Pressure = Annotated[Fact, Dimension("pressure")]
Torque = Annotated[Fact, Dimension("torque")]
Area = Annotated[Fact, Dimension("area")]
Time = Annotated[Fact, Dimension("time")]
Voltage = Annotated[Fact, Dimension("voltage")]
Current = Annotated[Fact, Dimension("current")]
Resistance = Annotated[Fact, Dimension("resistance")]
Conductance = Annotated[Fact, Dimension("conductance")]
HeatCapacity = Annotated[Fact, Dimension("heat_capacity")]
Conductivity = Annotated[Fact, Dimension("conductivity")]
SpecificHeat = Annotated[Fact, Dimension("specific_heat")]
IntegralGain = Annotated[Fact, Dimension("integral_gain")]
DerivativeGain = Annotated[Fact, Dimension("derivative_gain")]
RotationalSpeed = Annotated[Fact, Dimension("speed")]
Flow = Annotated[Fact, Dimension("flow")]
Ratio = Annotated[Fact, Dimension("ratio")]
Count = Annotated[Fact, Dimension("count")]
Words = Annotated[Choice, Choices()]
Material = Annotated[Choice, Choices(("brass", "aluminium", "copper", "stainless"))]
