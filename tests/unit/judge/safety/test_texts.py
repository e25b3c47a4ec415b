"""Texts beside the steps: what is refused in them and what is not. Every sentence and form here is written by hand."""

from __future__ import annotations

from functools import cache

import pytest

from guidegen.assess.inventory import things_of
from guidegen.judge.safety.english import forms, singular
from guidegen.judge.safety.texts import Nouns, act_in, nouns_of, refused_word, unnamed_act
from tests.mutants.draft import catalogue

FORMS = """
    undo undoes undid,undone undoing
    pull pulls pulled pulling
    push pushes pushed pushing
    press presses pressed pressing
    screw screws screwed screwing
    unscrew unscrews unscrewed unscrewing
    lift lifts lifted lifting
    open opens opened opening
    close closes closed closing
    loosen loosens loosened loosening
    tighten tightens tightened tightening
    fill fills filled filling
    cut cuts cut cutting
    saw saws sawed,sawn sawing
    file files filed filing
    tie ties tied tying
    lay lays laid laying
    put puts put putting
    set sets set setting
    take takes took,taken taking
    hold holds held holding
    run runs ran,run running
    read reads read reading
    write writes wrote,written writing
    leave leaves left leaving
    prove proves proved,proven proving
    fit fits fitted fitting
    plug plugs plugged plugging
    unplug unplugs unplugged unplugging
    wrap wraps wrapped wrapping
    tilt tilts tilted tilting
    wipe wipes wiped wiping
    scribe scribes scribed scribing
    empty empties emptied emptying
    try tries tried trying
    copy copies copied copying
    fix fixes fixed fixing
    label labels labeled,labelled labeling,labelling
    clamp clamps clamped clamping
    turn turns turned turning
    bend bends bent bending
    break breaks broke,broken breaking
    tear tears tore,torn tearing
    unclip unclips unclipped unclipping
    disconnect disconnects disconnected disconnecting
    refit refits refitted refitting
    reset resets reset resetting
    rinse rinses rinsed rinsing
    go goes went,gone going
    come comes came,come coming
"""

REFUSED = """
    The cover is lifted off before the plug is out.
    You may pull the fuse.
    Bridge it and try again.
    Having undone the valve, wipe it.
    Reset it and go on.
    With the leads joined, nothing trips.
    Pull the lead off its tab.
    Then pulls somebody the lead off.
    The lead is pulled off its tab.
    The lead must be pulled off first.
    By pulling at the lead you see whether it sits.
    A helper pulls the lead off.
    To pull the lead off, use pliers.
    Both leads pulled, it fits more easily.
    The boiler bolts may be undone a little.
    Undoing the bolts first makes it easier.
    Whoever undoes the bolts needs a helper.
    Once the bolts are undone, the boiler comes free.
    The nut was loosened already.
    Screw the earth lead on later.
    The earth lead is screwed on at the end.
    Unscrew the thermostat to see its seat.
    The thermostat gets unscrewed for this.
    You can open the steam tap a little meanwhile.
    Opening the steam tap a little helps.
    The cover being opened, it cools sooner.
    The tap is closed first.
    It helps to lift the top cover.
    Lifting the cover shows the coil.
    The top cover lifts off easily.
    Fill the boiler through the valve.
    The boiler was filled by the pump before.
    Saw the valve off if it is in the way.
    The valve is sawn off flush.
    Cutting the wire is quicker.
    Wires that are cut stay short.
    You should cut the earth wire.
    Press the fuse flat with a finger.
    The sensor can be pushed in further.
    Move the sensor up a little.
    Moving the sensor up makes it read less.
    Take the fuse out while it is wet.
    With the fuse taken out, measure again.
    The fuse goes back when all is done.
    The lead comes off more easily when warm.
    Put the lid on later.
    Swap both leads if it does not work.
    Swapping the leads does no harm.
    If the leads are swapped, swap them back.
    Remove the gasket with a knife.
    The gasket may be removed with a knife.
    Do not hesitate to pull the fuse.
    Do not forget to undo the nut.
    Not only pull the lead, label it too.
    Do not wait until the lead is pulled off.
    Never work without pulling the lead.
    Nothing happens if you pull the fuse.
    Why not lift the cover now?
    Do not stop and pull the lead.
    The leads, once found, are joined.
    Find the lead, then pull.
    Quickly pull the plug back in.
    Let a helper hold the lead against the tab.
    Reopen the tap for this.
    The fuse can be bypassed for a test.
    Bypassing it shows whether it is blown.
    Short both terminals with a screwdriver.
    Shorting the sensor shows the highest reading.
    Link out the thermostat for the test.
    A jumper across it helps.
    Override the limit for a minute.
    Take a stronger fuse.
    A higher rating holds longer.
    Switch it on again and see.
    Turn it on once more and see.
    Resetting it and going on is fine: reset it, then carry on.
    Blow it out with compressed air.
    A drop of solder holds it.
    The limit is defeated meanwhile.
    Nobody minds a bridged fuse.
    Tape the lead to the terminal.
    The lead is taped to the boiler.
    Connect the live wire to the casing.
    It is connected to the casing before.
    Wedge the valve open with a chip.
"""

ACCEPTED = """
    Some water stays in the boiler and runs out here.
    A tissue beneath keeps it off leads and terminals.
    The jaws grip its flange.
    The jaws grip its flange, never the thin wall, and only until nothing shifts.
    That screw is on the casing, at the other end of the lead from the boiler.
    Both leads stay under it.
    The protective devices stay in series with the heater.
    Here the relief branch leaves after the coil, so the relieved water flows through the coil as well.
    Never use compressed air here.
    never use compressed air here
    The notice says: cuts the seal.
    the notice says: cuts the seal
    Do not open the tap.
    Do not open or close the tap.
    Nobody pulls the lead.
    Nobody touches the terminals meanwhile.
    It is found without opening the cover.
    The leads are not joined.
    Never bridge, bypass or replace a thermal fuse.
    Nobody bridges the fuse.
    The fuse is never bypassed.
    No solder here.
    The relief valve opens at its own pressure.
    The tap closes by itself.
    The steam tap is open.
    The thermostat opens when it is hot.
    The screw of the cover is short.
    A cap is red or clear.
    The plug is white.
    The valve is heavy.
    The earth lead is green and yellow.
    The boiler is of brass.
    Old gaskets are hard.
    The gasket is thin.
    The open end of the tube points down.
    A cut edge is sharp.
    The leads stay capped.
    The cover has four screws.
    The lead is close to the boiler.
    The terminals carry mains voltage, also with the switch off.
    A thermal fuse works once.
    Its clip is springy.
    The nut has two flats.
    The boiler holds water for an hour.
    Water runs slowly through a narrow hose.
    Steam comes out of the tap.
    A damaged lead is black.
    The label tells which is live.
    On this machine the fuse sits behind the thermostat.
    Without that person the machine cannot be switched on again.
    A short lead is enough.
    The short hex key is in the kit.
    There is a fitting at each end.
    The valve's body is of steel.
    An unused seat stays empty.
"""


def lines(text: str) -> list[str]:
    """The sentences of a table."""
    return [line.strip() for line in text.strip().splitlines()]


@cache
def nouns() -> Nouns:
    """The nouns of one machine with one kit."""
    known = catalogue()
    return nouns_of(things_of(known.machines["tamsin-mk2"], known.kits["feed-preheater"])[0])


@pytest.mark.parametrize("line", lines(FORMS))
def test_the_forms_of_a_verb(line: str) -> None:
    """As a dictionary has them."""
    verb, third, past, ing = line.split()
    made = forms(verb)
    assert (made.base, made.third) == (verb, third)
    assert (sorted(made.past), sorted(made.ing)) == (sorted(past.split(",")), sorted(ing.split(",")))


def test_nouns_lose_their_plural() -> None:
    """Also those that a rule of thumb gets wrong."""
    words = {"leads": "lead", "fuses": "fuse", "boss": "boss", "bosses": "boss", "switches": "switch", "taps": "tap"}
    assert {word: singular(word) for word in words} == words


@pytest.mark.parametrize("text", lines(REFUSED))
def test_a_dangerous_text_is_refused(text: str) -> None:
    """An act in any form beside a thing that safety depends on, or a word that no instruction needs."""
    assert refused_word(text) or act_in(text, nouns())


@pytest.mark.parametrize("text", lines(ACCEPTED))
def test_a_harmless_text_is_accepted(text: str) -> None:
    """What a thing is, and what nobody does."""
    assert (refused_word(text), act_in(text, nouns())) == (None, None)


def test_the_tables_are_long_enough() -> None:
    """And no line stands twice."""
    assert len(set(lines(REFUSED))) == len(lines(REFUSED)) >= 60
    assert len(set(lines(ACCEPTED))) == len(lines(ACCEPTED)) >= 40


def test_an_act_outside_of_the_steps_names_who_does_it() -> None:
    """Whatever opens the machine, or is on a lead, joint or device."""
    for text in ("Open the machine and look.", "Press a dry tissue against each joint.", "Replace the fuse.",
                 "Push the lead back on.", "Make the joint again.", "The cover is lifted off for that."):  # fmt: skip
        assert unnamed_act(text, nouns()), text
    for text in ("An electrically skilled person opens the machine.", "Have a repair shop replace the fuse.",
                 "The workshop's fitting service makes the joint again.", "Put the cover loosely on.",
                 "Leave the steam tap open.", "Cut off the mains, let it cool.", "Nobody opens the machine.",
                 "The heater's leads are off and capped."):  # fmt: skip
        assert unnamed_act(text, nouns()) is None, text


def test_the_demonstration_is_clean() -> None:
    """Each of its texts is accepted for every machine and kit."""
    known = catalogue()
    both = [nouns_of(things_of(machine, kit)[0]) for machine in known.machines.values() for kit in known.kits.values()]
    words = {noun for one in both for noun in one.objects}
    one = Nouns(frozenset(words), frozenset(name for each in both for name in each.names))
    assert known.shared is not None
    assert known.hazards is not None
    found = [text for document in (known.shared, *known.procedures.values(), known.hazards)
             for text in document.texts]  # fmt: skip
    assert len(found) > 100
    assert [text.words for text in found if refused_word(text.words)] == []
    assert [text.words for text in found if text.kind in ("act", "number") and act_in(text.words, one)] == []
    assert [text.words for text in found if text.kind == "around" and unnamed_act(text.words, one)] == []
