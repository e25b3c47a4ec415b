"""What several builds say together, worked by hand."""

from __future__ import annotations

import random
import statistics

from guidegen.record import carried_out
from guidegen.record.carried_out import MinutesTaken
from guidegen.record.stated import Build, BuildFact, BuildFailure, BuildPhase


def build(number: str, minutes: dict[str, float], passed: bool = True, failed: tuple[str, ...] = ()) -> Build:
    """A build with minutes by phase, and with failures at some steps."""
    return Build(
        date="2026-01-01",
        role="the owner",
        minutes=sum(minutes.values()),
        findings="",
        number=number,
        passed=passed,
        phases=tuple(BuildPhase(phase=name, took=took) for name, took in minutes.items()),
        failures=tuple(BuildFailure(step=step, number="1.1", reading=None, helped="again") for step in failed),
        facts=(BuildFact(fact="boiler.mass", title="boiler", stated=None, outside=False, **{"is": f"{number} g"}),),
    )


BUILDS = (
    build("1", {"open": 41, "wrap": 20}, failed=("wrap/look", "open/look")),
    build("2", {"open": 74}, failed=("wrap/look",)),
    build("3", {"open": 47, "wrap": 31}),
    build("4", {"open": 3, "wrap": 1}, passed=False, failed=("wrap/look",)),
)


def test_least_median_and_most_by_hand() -> None:
    """Of 41, 47 and 74 the middle one; of 20 and 31 the mean 25.5. What was not carried out does not count."""
    assert carried_out.phase_spreads(BUILDS) == {
        "open": MinutesTaken(3, 41, 47, 74),
        "wrap": MinutesTaken(2, 20, 25.5, 31),
    }
    assert carried_out.spread([]) is None
    assert carried_out.spread([9]) == MinutesTaken(1, 9, 9, 9)
    assert carried_out.spread([50, 41, 74, 47]) == MinutesTaken(4, 41, 48.5, 74)


def test_the_median_is_that_of_the_standard_library() -> None:
    """For odd and even numbers of builds, in any order; and half of them lie on either side."""
    chance = random.Random(5)
    for count in range(1, 30):
        minutes = [float(chance.randrange(1, 200)) for _ in range(count)]
        found = carried_out.spread(minutes)
        assert found is not None
        assert found.median == statistics.median(minutes)
        assert sum(one < found.median for one in minutes) <= count / 2 >= sum(one > found.median for one in minutes)
        assert (found.least, found.most, found.count) == (min(minutes), max(minutes), count)


def test_failures_are_counted_by_step_with_the_most_frequent_first() -> None:
    """Also those of work that was not finished: they help the next owner as much."""
    found = carried_out.failures(BUILDS)
    assert [(step, [one.number for one, _ in many]) for step, many in found.items()] == [
        ("wrap/look", ["1", "2", "4"]),
        ("open/look", ["1"]),
    ]


def test_what_was_measured_comes_with_its_build() -> None:
    """In the order of the builds."""
    found = carried_out.measured(BUILDS)["boiler.mass"]
    assert [(one.number, fact.is_) for one, fact in found] == [(n, f"{n} g") for n in "1234"]
