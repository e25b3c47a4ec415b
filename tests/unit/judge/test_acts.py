"""Acts: one row, one sentence; what the kernel asks and sets whatever the sentence; what is refused."""

from __future__ import annotations

import re

import pytest

from guidegen.judge.acts.compiled import compiled
from guidegen.judge.acts.effects import ROLES
from guidegen.judge.acts.examples import made
from guidegen.judge.acts.kernel import EFFECTS
from guidegen.judge.acts.row import rows
from guidegen.judge.acts.sentence import listed
from guidegen.judge.acts.things import Thing, Things
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
    thing("sensor", "sensor", "the sensor"),
    Thing("all", "lead", "all leads on the boiler", "all leads", ("lead", "sensor")),
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


def test_a_seat_is_seen_where_its_device_is_named() -> None:
    """A photograph of all leads shows no seat, whatever else the group holds."""
    (one,) = steps(act="photograph", of="all")
    assert one.records == ("lead",)
    (one,) = steps(act="photograph-seat", of="sensor")
    assert one.records == ("sensor",)


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
    assert step.uses.consumables == ("tissue",)  # a seal is taken in hand when the joint is made


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
    ({"act": "bond", "of": "bond", "at": "boiler"}, "`bond` needs torque"),
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
    is_statement = way.place in ("symptom", "cause")  # type: ignore[attr-defined]
    assert is_imperative(say) is not is_statement, say
    assert say.endswith(".") is not is_statement, say
    assert len(re.sub(r"\[|\]", "", say).split()) <= 20, say
    hold = way.hold  # type: ignore[attr-defined]
    if hold is None:
        return
    is_step = way.place == "step"  # type: ignore[attr-defined]
    assert (bool(hold.goto) != bool(hold.stop)) is is_step, name  # beside the steps nothing is held up
    assert bool(hold.stop) == bool(hold.help), name
    assert sum(map(bool, (hold.none, hold.some, hold.at_most, hold.at_least, hold.within))) == 1, name


@pytest.mark.parametrize(("written", "says"), [
    ({"act": "no-power"}, "Do not switch the machine on again."),
    ({"act": "hang-sign"}, "Hang a sign on it."),
    ({"act": "find-feed"}, "Do not go on until the circuit that feeds it is found, switched off and locked."),
    ({"act": "no-fit", "of": ("boiler",)}, "Do not fit the boiler. The machine stays {work.off}."),
    ({"act": "look-joint", "of": ("hose", "pipe")},
     "Look at the feed hose and the steam pipe for drops and white traces of dried water."),
    ({"act": "flush-away"}, "Flush {flush.volume} through the group and pour it away before the next drink."),
    ({"act": "wait-longer", "amount": "30 min"}, "Wait 30 min longer once, and compare."),
    ({"act": "leak", "of": ("pipe",)}, "a leak at the steam pipe"),
    ({"act": "off-seat", "of": ("sensor",)}, "The sensor has left its seat"),
])  # fmt: skip
def test_what_stands_around_the_steps_is_said_so(written: dict[str, object], says: str) -> None:
    """Sentences and statements written out by hand."""
    (step,) = steps(**written)
    assert step.do == says


def test_work_inside_the_machine_is_for_a_skilled_person_whatever_its_row_says() -> None:
    """Every row of that effect, with the mains off and cool; nothing else around the steps asks for anybody."""
    inside = [name for name, row in rows().items() if row.effect == "care-inside"]
    assert {"look-joint", "look-seat", "press-joint", "remake-damp", "replace-same", "seat-again"} <= {*inside}
    for name, row in rows().items():
        if row.place == "care":
            assert (made(name).steps[0].role == "electrically-skilled") is (name in inside), name
            assert (made(name).steps[0].requires == {"mains": "off", "temperature": "cool"}) is (name in inside), name


ALWAYS_STOP = {"drop", "trip", "smell", "runaway", "stays-cold", "leaks-at", "came-loose", "shock"}
"""Symptoms at which nobody uses a machine on, written down here a second time on purpose."""


def test_what_stops_the_use_is_just_this() -> None:
    """A drop, a trip, a smell and a runaway stand in every guide; each of all says what is done first."""
    symptoms = {name: row for name, row in rows().items() if row.place == "symptom"}
    assert {name for name, row in symptoms.items() if row.effect == "symptom-stops"} == ALWAYS_STOP
    assert {name for name, row in symptoms.items() if row.listed} == {"drop", "trip", "smell", "runaway"}
    for name in ALWAYS_STOP:
        assert {*symptoms[name].first} & {"cut-at-once", "leave-off"}, name
        assert {rows()[act].effect for act in symptoms[name].first} == {"care"}, name


REMEDIES_WITH_ENDS = ("make-safe", "no-water", "still-live", "vessel-fails")


def test_every_end_that_a_failed_act_asks_for_is_of_an_act_that_leads_to_a_remedy() -> None:
    """And says who can help."""
    for name, row in rows().items():
        for act in row.ends:
            hold = rows()[act].ways[0].hold
            assert hold is not None
            assert hold.goto, (name, act)
            assert row.help, name
    asked = {act for row in rows().values() for act in row.ends}
    ended = {name for name, row in rows().items() if row.hold and row.hold.goto in REMEDIES_WITH_ENDS}
    assert asked == ended


def test_every_effect_sets_and_needs_values_that_a_state_has() -> None:
    """And nobody less skilled than the least."""
    for effect in EFFECTS.values():
        for variable, value in (*effect.needs.items(), *effect.sets.items()):
            assert value in CHAINS[variable]
        assert effect.role in ROLES


GOOD = {
    "mains": {"off": {"cut-by-plug", "cut-by-disconnector", "still-locked"}, "proved_dead": {"prove-dead"}},
    "temperature": {"cool": {"wait-until-cool", "measure-cool"}},
    "pressure": {"released": {"release-pressure"}},
    "water": {"drained": {"drain"}},
    "enclosure": {"closed": {"close-cover"}},
    "earth": {"tested": {"earth-test-closed"}},
    "leak": {"bench_ok": {"bench-record"}, "cold_ok": {"leak-cold"}, "hot_ok": {"leak-cooled", "as-found"}},
    "primed": {"yes": {"prime", "as-found"}},
}
"""Which effects alone make something safe, written down here a second time on purpose."""
WORSE = {("mains", "live"), ("mains", "pump_only"), ("enclosure", "open"), ("pressure", "unknown"), ("water", "full")}
"""What is set that makes nothing safe."""


def test_only_these_acts_let_anything_off() -> None:
    """What nothing presses on any more follows from them alone: a tap, a hand pump's valve, a loosened joint."""
    found = {name for name, row in rows().items() if any(way.release for way in row.ways)}
    assert found == {"open-tap", "open-tap-cold", "let-off-by-hand", "loosen-joint"}


def test_only_these_effects_make_anything_safe() -> None:
    """A new effect that sets a good state is seen here."""
    found: dict[str, dict[str, set[str]]] = {}
    for name, effect in EFFECTS.items():
        for variable, value in effect.sets.items():
            if (variable, value) in WORSE:
                continue
            found.setdefault(variable, {}).setdefault(value, set()).add(name)
    assert found == GOOD
