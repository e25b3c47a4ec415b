"""What a heading says by itself, and what is asked, with the option that answers it."""

from __future__ import annotations

import pytest

from guidegen.problems import CatalogueError
from guidegen.runs.asking import Answers, Columns, asked
from guidegen.runs.dialect import head_of

PROBES, LAGS = {"T1": "type-k 1"}, {"T1": "unknown"}


def known(text: str, answers: Answers) -> Columns:
    """What the columns of a file are."""
    return asked("log.csv", head_of(text.encode(), "log.csv", {}), answers)


def questions(text: str, **given: dict[str, str] | str) -> list[tuple[int, str, str]]:
    """Column, code and fix of each question."""
    with pytest.raises(CatalogueError) as left:
        known(text, Answers(**given))  # type: ignore[arg-type]
    return [(one.column, one.code, one.fix) for one in left.value.problems]


def test_names_and_units_are_read_off_the_headings() -> None:
    """Each heading is the name of a place or a quantity, with its unit in brackets, behind it, or in a line below."""
    text = "Time (ms),Outlet [°F],pressure_bar,Mass,Pump\n,,,g,\n0,77.0,0.1,0,off\n500,78.0,9.0,1,on\n"
    probe = {"Outlet [°F]": "platinum AA"}
    found = known(text, Answers(probes=probe, lags={"Outlet [°F]": "1 s"}))
    assert [(one.meaning, one.unit) for one in found.columns] == [
        ("time", "ms"), ("outlet", "°F"), ("pressure", "bar"), ("mass", "g"), ("pump", ""),
    ]  # fmt: skip


def test_the_only_column_of_stamps_is_the_time_and_words_are_ignored() -> None:
    """Whatever they are called; the day is that of the first stamp."""
    text = "Zeit;T1;Note\n2026-03-31T10:00:00+02:00;93,1;ok\n2026-03-31T10:00:01+02:00;93,2;ok\n"
    found = known(text, Answers({"T1": "sensor °C"}, PROBES, LAGS))
    assert [(one.name, one.meaning, one.said) for one in found.columns] == [
        ("Zeit", "time", False), ("T1", "sensor", True), ("Note", "ignored", False),
    ]  # fmt: skip
    assert found.day == "2026-03-31"


NUMBERS = "\n0,93.1\n1,93.2\n"
ASKED = {
    "where": (f"t (s),T1{NUMBERS}", {},
              (7, "L03", "--column 'T1=sensor °C', another place or quantity, or 'T1=ignored'")),
    "where, with a unit": (f"t (s),T1 [°C]{NUMBERS}", {},
                           (7, "L03", "--column 'T1 [°C]=sensor', another place or quantity, or 'T1 [°C]=ignored'")),
    "boiler is not the sensor": (f"t (s),Boiler °C{NUMBERS}", {},
                                 (7, "L03", "--column 'Boiler °C=sensor', another place or quantity, or "
                                            "'Boiler °C=ignored'")),
    "unit": (f"t (s),T1{NUMBERS}", {"columns": {"T1": "sensor"}},
             (7, "L03", "--column 'T1=sensor °C' or 'T1=sensor °F' or 'T1=sensor K'")),
    "s or ms": (f"t,T1{NUMBERS}", {"columns": {"T1": "sensor °C"}},
                (1, "L03", "--column 't=time s' or --column 't=time ms'")),
    "zone": ("t,T1\n2026-03-31 10:00:00,93.1\n2026-03-31 10:00:01,93.2\n", {"columns": {"T1": "sensor °C"}},
             (1, "L03", "--zone +02:00, as the logger's clock was set")),
    "no such column": (f"t (s),T1{NUMBERS}", {"columns": {"T2": "sensor °C", "T1": "sensor °C"}},
                       (1, "L06", "there are T1, t (s)")),
    "no such place": (f"t (s),T1{NUMBERS}", {"columns": {"T1": "outlt °C"}}, (7, "L06", "write outlet")),
    "no such unit": (f"t (s),T1{NUMBERS}", {"columns": {"T1": "sensor bar"}}, (7, "L06", "write one of °C, °F, K")),
    "twice": ("t (s),T1,T2\n0,1.5,2\n1,1.5,2\n", {"columns": {"T1": "cup °C", "T2": "cup °C"}},
              (10, "L03", "--column 'T2=ignored', or say what it is")),
    "nothing left": (f"t (s),T1{NUMBERS}", {"columns": {"T1": "ignored"}}, (1, "L03", "--column 'T1=sensor °C'")),
    "no time": (f"a,T1{NUMBERS}", {"columns": {"a": "ignored", "T1": "sensor °C"}},
                (1, "L03", "--column 'NAME=time s'")),
    "lag": (f"t (s),T1{NUMBERS}", {"columns": {"T1": "sensor °C"}, "probes": PROBES},
            (7, "L03", "--lag 'T1=0.8 s ± 0.2 s', or 'T1=unknown'")),
    "uncertainty": (f"t (s),T1{NUMBERS}", {"columns": {"T1": "sensor °C"}, "probes": {"T1": "other"}, "lags": LAGS},
                    (7, "L03", "--uncertainty 'T1=1 K'")),
    "time in words": ("time,T1\nMon 10,93.1\nMon 11,93.2\n", {"columns": {"T1": "sensor °C"}}, None),
}  # fmt: skip


@pytest.mark.parametrize(("text", "given", "expected"), ASKED.values(), ids=ASKED)
def test_what_is_ambiguous_is_asked(
    text: str, given: dict[str, dict[str, str]], expected: tuple[int, str, str] | None
) -> None:
    """Exactly one question is left, at its column. A table needs two columns that are read; one of words is none."""
    if expected is None:
        with pytest.raises(CatalogueError, match="L02"):
            known(text, Answers(**given))
        return
    assert questions(text, **given) == [expected]


def test_all_questions_come_at_once() -> None:
    """Nobody wants to be asked five times."""
    assert [column for column, _, _ in questions("a,b,c\n1,2.5,3\n2,2.5,3\n")] == [1, 3, 5]
