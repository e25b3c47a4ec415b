"""Acts: one row, one sentence; what the kernel asks and sets whatever the sentence; what is refused."""

from __future__ import annotations

import re

import pytest

from guidegen.judge.acts.compiled import compiled
from guidegen.judge.acts.effects import ROLES
from guidegen.judge.acts.kernel import EFFECTS
from guidegen.judge.acts.row import rows
from guidegen.judge.acts.sentence import listed
from guidegen.judge.acts.things import Thing, Things
from guidegen.judge.safety.measure import measured
from guidegen.judge.safety.state import CHAINS
from guidegen.judge.safety.verbs import is_imperative
from guidegen.workshop.acts import WrittenAct
from guidegen.workshop.steps import Step

WAYS = [(name, way) for name, row in rows().items() for way in row.ways]


def thing(name: str, kind: str, say: str, **more: object) -> Thing:
    """A thing of the tests."""
    return Thing(name, kind, say, say.removeprefix("the "), (name,), f"thing.{name}", **more)  # type: ignore[arg-type]


THINGS = Things({one.id: one for one in (
    thing("hose", "joint", "the feed hose", tools=("spanner-17",), takes=(("consumables", "seal"),)),
    thing("pipe", "joint", "the steam pipe"),
    thing("inlet", "place", "the inlet"),
    thing("lead", "lead", "the live lead", heats=True),
    thing("bond", "lead", "the bond"),
    thing("tabs", "terminals", "their tabs"),
    thing("tap", "tap", "the steam tap"),
    thing("boiler", "boiler", "the boiler"),
    thing("spanner-17", "tool", "the 17 mm spanner", listed="tools"),
    thing("seal", "consumable", "the seal", listed="consumables"),
)})  # fmt: skip


def steps(**written: object) -> tuple[Step, ...]:
    """The steps of an act; it has no fault."""
    made = compiled(WrittenAct.model_validate({"id": "a", **written}), THINGS)
    assert made.faults == ()
    return made.steps


def faults(**written: object) -> list[str]:
    """What is wrong with an act."""
    return [one.message for one in compiled(WrittenAct.model_validate({"id": "a", **written}), THINGS).faults]


def test_a_sentence_names_its_things() -> None:
    """Written out by hand: with and without the place, one thing and several."""
    (step,) = steps(act="undo-joint", of="hose", at="inlet")
    assert step.do == "Undo the feed hose at the inlet."
    (step,) = steps(act="undo-joint", of=("hose", "pipe"))
    assert step.do == "Undo the feed hose and the steam pipe."
    assert listed(["a", "b", "c"]) == "a, b and c"


def test_a_joint_asks_what_a_wet_joint_asks_whatever_its_author_says() -> None:
    """Pressure off, water out, cool: undoing it needs all three, and its own spanner."""
    (step,) = steps(act="undo-joint", of="hose")
    assert step.requires == {"pressure": "released", "water": "drained", "temperature": "cool"}
    assert step.removes is not None
    assert step.removes.joints == ("hose",)
    assert step.uses.tools == ("spanner-17",)
    assert step.uses.consumables == ()  # a seal is taken in hand when the joint is made


def test_a_lead_of_the_heater_goes_back_on_a_tight_and_filled_boiler_only() -> None:
    """Any other lead asks for the mains alone."""
    (heater,) = steps(act="push-leads", of="lead", at="tabs")
    assert heater.requires == {"mains": "off", "leak": "cold_ok", "primed": "yes"}
    (other,) = steps(act="push-leads", of="bond", at="tabs")
    assert other.requires == {"mains": "off"}


def test_in_mains_work_a_conductor_is_proved_dead_first() -> None:
    """Not only cut off."""
    made = compiled(WrittenAct.model_validate({"id": "a", "act": "pull-leads", "of": "bond", "at": "tabs"}), THINGS,
                    dead="proved_dead")  # fmt: skip
    assert made.steps[0].requires == {"mains": "proved_dead"}


def test_the_machine_decides_how_the_mains_is_cut() -> None:
    """One act, and of its two ways each has its condition and who may do it."""
    plug, wired = steps(act="cut-mains")
    assert (plug.when, plug.role) == ({"mains.connection": "corded"}, "anyone")
    assert (wired.when, wired.role) == ({"mains.connection": "hard-wired"}, "electrically-skilled")
    assert plug.sets == wired.sets == {"mains": "off"}


def test_an_author_may_ask_for_more_skill_and_never_for_less() -> None:
    """The earth test stays with the skilled person; labelling can be given to him."""
    (earth,) = steps(act="earth-test", of="boiler", limit="0.2 Ω", role="anyone")
    assert earth.role == "electrically-skilled"
    (label,) = steps(act="label", of="bond", role="electrically-skilled")
    assert label.role == "electrically-skilled"


@pytest.mark.parametrize(("written", "message"), [
    ({"act": "bridge-device", "of": "lead"}, "there is no act `bridge-device`"),
    ({"act": "close-tap", "of": "tep"}, "neither machine nor kit has a `tep`"),
    ({"act": "close-tap", "of": "boiler"}, "`boiler` is a boiler; `close-tap` takes tap"),
    ({"act": "close-tap"}, "`close-tap` does not say of what"),
    ({"act": "cut-mains", "of": "tap"}, "`cut-mains` takes nothing under of:"),
    ({"act": "earth-test", "of": "boiler"}, "`earth-test` needs limit"),
    ({"act": "close-tap", "of": "tap", "limit": "1 Ω"}, "`close-tap` takes no limit"),
    ({"act": "press"}, "`press` needs amount"),
    ({"act": "rinse-look", "of": "boiler"}, "`rinse-look` needs back_to"),
    ({"act": "undo-joint", "of": "hose", "with": "hammer"}, "nothing in the kit's lists is called `hammer`"),
])  # fmt: skip
def test_what_cannot_be_done_is_refused(written: dict[str, object], message: str) -> None:
    """With the name as written; the fix stands beside it."""
    assert faults(**written) == [message]


@pytest.mark.parametrize(("name", "way"), WAYS, ids=[name for name, _ in WAYS])
def test_a_row_is_whole(name: str, way: object) -> None:
    """One imperative of at most 20 words; the effect exists; the failing side leads somewhere; the bound is read."""
    assert way.effect in EFFECTS  # type: ignore[attr-defined]
    say = way.say  # type: ignore[attr-defined]
    assert is_imperative(say), say
    assert len(re.sub(r"\[|\]", "", say).split()) <= 20, say
    hold = way.hold  # type: ignore[attr-defined]
    if hold is None:
        return
    assert bool(hold.goto) != bool(hold.stop), name
    assert bool(hold.stop) == bool(hold.help), name
    assert sum(map(bool, (hold.none, hold.some, hold.at_most, hold.at_least, hold.within))) == 1, name
    if hold.bound and "{" not in hold.bound:
        read = measured(hold.bound)
        assert read is not None
        assert read.dimension == hold.at_most or read.dimension == hold.at_least, name


def test_every_effect_sets_and_needs_values_that_a_state_has() -> None:
    """And nobody less skilled than the least."""
    for effect in EFFECTS.values():
        for variable, value in (*effect.needs.items(), *effect.sets.items()):
            assert value in CHAINS[variable]
        assert effect.role in ROLES


GOOD = {
    "mains": {"off": {"cut-by-plug", "cut-by-disconnector"}, "proved_dead": {"prove-dead"}},
    "temperature": {"cool": {"wait-until-cool", "measure-cool"}},
    "pressure": {"released": {"release-pressure"}},
    "water": {"drained": {"drain"}},
    "enclosure": {"closed": {"close-cover"}},
    "earth": {"tested": {"earth-test-closed"}},
    "leak": {"bench_ok": {"bench-record"}, "cold_ok": {"leak-cold"}, "hot_ok": {"leak-cooled", "as-found"}},
    "primed": {"yes": {"prime", "as-found"}},
}
"""Which effects alone make something safe, written down here a second time on purpose."""


def test_only_these_effects_make_anything_safe() -> None:
    """A new effect that sets a good state is seen here."""
    found: dict[str, dict[str, set[str]]] = {}
    for name, effect in EFFECTS.items():
        for variable, value in effect.sets.items():
            if (variable, value) in {("mains", "live"), ("mains", "pump_only"), ("enclosure", "open")}:
                continue
            found.setdefault(variable, {}).setdefault(value, set()).add(name)
    assert found == GOOD
