"""A safe stop says how the machine is left, and follows what the steps before it do."""

from __future__ import annotations

from guidegen.judge.safety.safe_stops import stop_words
from tests.mutants.draft import Draft, draft
from tests.mutants.edits import drop, phase

PAIR = ("tamsin-mk2", "feed-preheater")
NAMED = ("blind filter", "steam tap")


def stop(one: Draft, name: str) -> str:
    """What the stop at the end of a phase of the fitting says."""
    guide = one.guide()
    course = guide.resolved.fitting
    (found,) = [each for each in course.phases if each.id == name]
    return stop_words(guide, course, found)


def test_it_says_how_the_machine_is_left() -> None:
    """Read off the steps by hand: after draining, and with the boiler back and its heater's leads still off.

    By then the boiler that was trimmed has been filled by hand for its proof.
    """
    assert stop(draft(*PAIR), "cool") == (
        "The machine is unplugged, closed, cool, without pressure and drained. The steam tap is open, and "
        "stays so. Leave the plug in sight."
    )
    assert stop(draft(*PAIR), "put-back") == (
        "The machine is unplugged, open, cool and without pressure. Not in place: the live lead of the heater and the "
        "neutral lead of the heater. Put the cover on loosely. Leave the plug in sight."
    )


def test_it_changes_with_the_steps() -> None:
    """Without draining it is not drained; without the tap there is no word of pressure."""
    one = draft(*PAIR)
    drop("cool/", "+drain")(one)
    assert "drained" not in stop(one, "cool")
    two = draft(*PAIR)
    drop("cool/", "+release")(two)
    assert "without pressure" not in stop(two, "cool")


def test_a_hot_machine_under_pressure_keeps_its_blind_filter() -> None:
    """Whoever took it out would be sprayed with hot water; cooled and let off, nothing of it is said any more."""
    words = stop(draft(*PAIR), "heat")
    assert "It may be hot inside, and under pressure." in words
    assert "The blind filter is in the group, and stays there until the pressure is off." in words
    assert "pressure." not in stop(draft(*PAIR), "trim")
    assert not {"blind filter", "steam tap"} & {name for name in NAMED if name in stop(draft(*PAIR), "cooled")}


def test_a_tap_that_some_leave_open_is_not_called_open() -> None:
    """Whoever trims the boiler has closed it for the proof; whoever exchanges it has not."""
    assert "steam tap" not in stop(draft(*PAIR), "put-back")
    assert "The steam tap is open, and stays so." in stop(draft("tamsin-mk3", "feed-preheater"), "put-back")


def test_a_hard_wired_machine_keeps_its_padlock() -> None:
    """Nobody can leave a plug in sight that is not there."""
    words = stop(draft("bracken-a", "banjo-feed"), "cool")
    assert words.startswith("The machine is locked off, closed,")
    assert words.endswith("Leave the padlock on.")


def test_an_author_may_add_a_sentence() -> None:
    """Behind what follows from the steps."""
    one = draft(*PAIR)
    phase("cool", "stop.say", "The room is locked.")(one)
    assert stop(one, "cool").endswith("Leave the plug in sight. The room is locked.")
