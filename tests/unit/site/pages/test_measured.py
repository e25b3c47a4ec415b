"""What was measured is printed as its whole interval says, with what disagrees, and never as more than it is."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from html import unescape
from typing import Any

import pytest

from guidegen.record import Assessment
from guidegen.record.measured import BeforeAfter, Measured, MeasuredCurve, MeasuredFigure, MeasuredInterval
from guidegen.site.charts.measured import measured_chart
from guidegen.site.pages.downloads import file_at, paths
from guidegen.site.pages.pair import pair_page
from guidegen.site.pages.replies import reply
from guidegen.site.pages.sentences import basis, measured_on, status
from guidegen.site.pages.site import Site
from tests.fixtures.records import record, shared
from tests.fixtures.records import site as site_of

SHOWN = ("overview", "charts", "numbers")


def before_after(less: tuple[float, float, float], error: float | None = 0.2) -> BeforeAfter:
    """Six pairs with a difference of so many K, and a ratio of 0.4."""
    return BeforeAfter(
        pairs=6, less_k=MeasuredInterval(value=less[0], low=less[1], high=less[2]),
        ratio=MeasuredInterval(value=0.4, low=0.35, high=0.45), by_chance=0.03125, normalised_error=error,
    )  # fmt: skip


def with_logs(**changes: Any) -> Assessment:
    """A record in which nothing disagrees, changed."""
    one = record()
    assert one.measured is not None
    figures = tuple(each.model_copy(update={"normalised_error": 0.5}) for each in one.measured.figures)
    usual = {"before_after": before_after((3.0, 2.5, 3.5)), "shots": 12, "figures": figures}
    return one.model_copy(update={"measured": one.measured.model_copy(update={**usual, **changes}), "builds": ()})


def words(one: Assessment, kind: str = "overview", shown: Callable[[Assessment], Site] = site_of) -> str:
    """A page without markup."""
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", pair_page(one, kind, shown(one)).body)).split())


def test_the_head_says_measured_only_where_before_and_after_are_compared() -> None:
    """Else the pair is calculated, whatever was logged."""
    one = with_logs(invented=False)
    assert measured_on(one) == "measured on one machine, 12 shots"
    assert status(one) == "measured on one machine, 12 shots; not yet carried out on this variant"
    assert "The dip was measured on one machine, 12 shots; every other number is computed." in basis(one)
    refused = with_logs(before_after=None, refused=("other-feed",))
    assert measured_on(refused) == ""
    assert status(refused) == "calculated, not yet carried out on this variant"
    assert "The water was not as warm before as after" in words(refused)


@pytest.mark.parametrize("kind", SHOWN)
def test_invented_logs_are_called_so_on_every_page_that_shows_them(kind: str) -> None:
    """In its head and where they stand; logs that somebody measured are not."""
    some = with_logs().measured
    assert some is not None
    real = tuple(one.model_copy(update={"invented": False}) for one in some.runs)
    assert "measured on one machine, 12 shots, all of them invented" in words(with_logs(invented=True), kind)
    assert "These logs are invented for the demonstration" in words(with_logs(invented=True), kind)
    assert "logs are invented" not in words(with_logs(invented=False, runs=real), kind)
    assert "Some of these logs are invented" in words(with_logs(invented=False, runs=(*real, *some.runs[:1])), kind)


@pytest.mark.parametrize(
    ("less", "says"),
    [
        ((3.0, 2.5, 3.5), r"With the kit the dip was 3\.00 °C .*\) ?: about 60 % smaller \(55 to 65 %\)\."),
        ((-3.0, -3.5, -2.5), r"With the kit the dip was 3\.00 °C .* larger on this machine"),
        (
            (1.0, -2.0, 4.0),
            "These shots do not show what the kit does to the dip; on this machine it may be about 60 %",
        ),
    ],
)
def test_the_words_follow_the_whole_interval(less: tuple[float, float, float], says: str) -> None:
    """Smaller or larger where both ends say so, and nothing where they do not."""
    printed = words(with_logs(before_after=before_after(less)))
    assert re.search(says, printed)
    assert (" smaller on this machine" in printed, " larger on this machine" in printed) == (less[1] > 0, less[2] < 0)
    assert "By chance alone so large a difference would come in 3.1 of 100 cases." in printed


def test_a_ratio_without_ends_says_nothing() -> None:
    """Fieller's interval has none where the dip without the kit may be nothing (Fieller 1954)."""
    bare = MeasuredInterval(value=0.4, low=None, high=None)
    open_ended = before_after((3.0, 2.5, 3.5)).model_copy(update={"ratio": bare})
    assert re.search(r"\) ?: anything\.", words(with_logs(before_after=open_ended)))


@pytest.mark.parametrize(("chance", "says"), [(2 / 2**12, "in fewer than 0.1 of 100"), (0.0006, "in 0.1 of 100"),
                                              (None, None)])  # fmt: skip
def test_what_chance_does_is_never_said_to_be_nothing(chance: float | None, says: str | None) -> None:
    """Twelve pairs all alike come about in 2 of 4096 exchanges; of more than forty pairs nobody counts them."""
    printed = words(with_logs(before_after=before_after((3.0, 2.5, 3.5)).model_copy(update={"by_chance": chance})))
    assert says in printed if says else "By chance alone" not in printed


def test_what_disagrees_is_named_on_each_page_and_in_a_letter() -> None:
    """And where nothing does, that is said."""
    assert "No measured value disagrees with the computed one." in words(with_logs())
    measured = with_logs().measured
    assert measured is not None
    bad = tuple(each.model_copy(update={"normalised_error": 1.5}) for each in measured.figures[1:])
    one = with_logs(figures=(*measured.figures[:1], *bad), before_after=before_after((3.0, 2.5, 3.5), -1.2))
    for kind in SHOWN:
        assert "Measured and computed disagree in: Sensor drop ratio; Sensor drop, with the kit." in words(one, kind)
    assert "−1.2 disagrees" in words(one, "numbers")
    for topic in ("gain", "sure"):
        assert "Measured and computed disagree in: Sensor drop ratio" in reply(one, topic).text
        assert "measured on one machine, 12 shots" in reply(one, topic).text.lower()


def test_a_figure_without_value_says_why() -> None:
    """As a recovery that no log lasted for."""
    place = "drinks.double.with.sensor_recovery_s"
    none = MeasuredFigure(place=place, value=None, reason="not every log lasts until then", shots=6)
    assert "not every log lasts until then" in words(with_logs(figures=(none,)), "numbers")


def test_logs_are_offered_where_their_bytes_are_here() -> None:
    """Else the sum stands there, and the site has no such file."""
    one = with_logs()
    data = b"t,sensor\n0,93.0\n"

    def here(*records: Assessment) -> Site:
        return Site.of(
            {(each.variant.id, each.kit.id): each for each in records}, replace(shared(), logs=lambda _: data)
        )

    measured = one.measured
    assert measured is not None
    path = f"data/{one.variant.id}/runs/{measured.runs[0].id}.csv"
    assert f'href="../../../{path}"' in pair_page(one, "charts", here(one)).body
    assert path in paths(here(one))
    assert file_at(path, here(one)) == data
    assert path not in paths(site_of(one))
    assert file_at(path, site_of(one)) is None
    assert "SHA-256" in words(one, "charts")


def test_nothing_is_said_where_nobody_logged() -> None:
    """No section, and the words of before."""
    one = record().model_copy(update={"measured": None, "builds": ()})
    assert all("Measured on a machine" not in words(one, kind) for kind in SHOWN)
    assert "These numbers are computed, not measured" in reply(one, "gain").text


def test_a_record_of_before_has_nothing_measured() -> None:
    """The key may be missing."""
    kept = record().model_dump(mode="json", by_alias=True)
    del kept["measured"]
    assert Assessment.model_validate(kept).measured is None


def test_what_disagrees_is_beyond_one_whole_uncertainty() -> None:
    """At exactly one it is not yet."""

    def at(error: float | None) -> Measured:
        found = with_logs(before_after=before_after((3.0, 2.5, 3.5), error)).measured
        assert found is not None
        return found

    assert [bool(at(error).disagreeing) for error in (None, 1.0, -1.0, 1.01, -1.01)] == [
        False,
        False,
        False,
        True,
        True,
    ]


def test_where_there_are_no_charts_the_logs_stand_with_the_numbers() -> None:
    """Of a variant of which too little is known nothing is held against the computation, and nothing is hidden."""
    unknown = [one.model_copy(update={"stated": False, "id": name}) for one, name in
               zip(record().inputs, ("boiler.mass", "group.mass"), strict=True)]  # fmt: skip
    one = with_logs().model_copy(update={"inputs": tuple(unknown)})
    body = pair_page(one, "overview", site_of(one)).body
    assert 'href="numbers.html#measured"' in body
    assert "charts.html" not in body
    assert "disagree" not in words(one)
    assert "With the kit the dip was 3.00 °C" in words(one)
    assert 'id="logs"' in pair_page(one, "numbers", site_of(one)).body


def test_the_words_of_a_curve_are_of_the_minute_that_is_drawn() -> None:
    """85 °C in the first minute and 70 °C at two: the drawing's words say the first."""
    one = with_logs()
    assert one.measured is not None
    values = (93.0, 85.0, 90.0, 70.0)
    curve = MeasuredCurve(time_s=(0.0, 30.0, 60.0, 120.0), mean_degc=values, low_degc=values, high_degc=values)
    drawn = measured_chart(
        one.model_copy(update={"measured": one.measured.model_copy(update={"with_": curve})}), "with"
    )
    assert "starts at 93.0 degrees and falls to 85.0." in str(drawn)
