"""From a written act to the steps that it is: one, or one for each way in which machines let it be done."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from guidegen.judge.acts.effects import LOOKS, Doing, least_role
from guidegen.judge.acts.kernel import EFFECTS
from guidegen.judge.acts.row import ActTable, TableRow, frozen
from guidegen.judge.acts.sentence import SentenceWords
from guidegen.judge.acts.things import Thing, Things, WatchedThings, item
from guidegen.language import translation
from guidegen.language.forms import Forms, MissingForm
from guidegen.problems import nearest, one_of
from guidegen.workshop.acts import WrittenAct
from guidegen.workshop.rows import SLOTS, RowHold
from guidegen.workshop.steps import Names, Step, StepOrder

ITEM, SPANNER, UNSETTLED = "{item.id}", "spanner", "unsettled"
MOST_KEPT = 1000
"""Acts of one pair that stay compiled; a guide has some three hundred."""


@dataclass(frozen=True)
class ActFault:
    """What is wrong with a written act: the field, the message, the fix."""

    field: str
    message: str
    fix: str


@dataclass(frozen=True)
class Compiled:
    """The steps of an act, unfilled, and what is wrong with it; with faults there are no steps.

    `formless` are, for each step, the names that the language in use lacks in a form that its words ask for.
    """

    steps: tuple[Step, ...] = ()
    faults: tuple[ActFault, ...] = ()
    formless: tuple[tuple[MissingForm, ...], ...] = ()


def compiled(act: WrittenAct, things: Things, item_kind: str | None = None, dead: str = "off",
             table: ActTable | None = None) -> Compiled:  # fmt: skip
    """The steps of an act on a machine with a kit.

    `item_kind` is the kind of what the step is repeated over, `dead` what the mains must be before a conductor is
    touched, `table` the acts of the workshop. Facts in braces are left to be filled.
    """
    known = (table or ActTable()).rows
    row = known.get(act.act)
    if row is None:
        near = nearest(act.act, known)
        fix = f"write {near}" if near else "`guidegen check --acts` lists them"
        return Compiled(faults=(ActFault("act", f"there is no act `{act.act}`", fix),))
    found: dict[str, tuple[Thing, ...]] = {}
    faults = list(_of_the_row(act, row))
    for slot in SLOTS:
        found[slot], wrong = _things(act, row, slot, things, item_kind)
        faults += wrong
    faults += _unlisted(act, things)
    if faults:
        return Compiled(faults=tuple(faults))
    steps, formless = [], []
    for way in row.ways:
        taken, forms = _tools(act, way, found["of"], things), Forms()
        words = replace(_words(act, way, found, things, taken), form=forms)
        steps.append(_step(act, way, words, found, things, taken, dead))
        formless.append(tuple(forms.missing))
    return Compiled(tuple(steps), formless=tuple(formless))


def compiled_once(act: WrittenAct, things: Things, item_kind: str | None, dead: str, table: ActTable) -> Compiled:
    """The same, compiled once in a language for all who ask with the same things, as far as the act looks at them."""
    key = (id(act), item_kind, dead, translation().fingerprint, id(table.own))
    made: Compiled
    for watched, made, *_ in things.made.get(key, ()):
        # How bad an own act may be is found by a look at all things.
        if watched.by_id is things.by_id or (not table.is_own(act.act) and watched.alike(things)):
            return made
    made = compiled(act, watched := WatchedThings(things.by_id, first=things.first), item_kind, dead, table)
    if len(things.made) >= MOST_KEPT:  # of a procedure that was edited many times in the preview
        things.made.clear()
    if not made.faults:  # act and table are held on to, as they are known by their identity
        things.made.setdefault(key, []).append((watched, made, act, table))
    return made


def _unlisted(act: WrittenAct, things: Things) -> Iterator[ActFault]:
    for name in act.with_:
        if things.get(name) is None and name != ITEM:
            fix = "write the id of a tool, part or consumable"
            yield ActFault("with", f"nothing in the kit's lists is called `{name}`", fix)


def _of_the_row(act: WrittenAct, row: TableRow) -> Iterator[ActFault]:
    """What the row asks for and the act does not have, or the other way round; things apart."""
    hold = row.hold
    for name, wanted, given in (
        ("amount", row.amount is not None, act.amount is not None),
        ("limit", hold is not None and hold.asks_limit, act.limit is not None),
        ("back_to", hold is not None and hold.goto == "back", act.back_to is not None),
        ("torque", row.torqued, act.torque is not None),
    ):
        if wanted and not given:
            yield ActFault("act", f"`{act.act}` needs {name}", f"write {name}:")
        elif given and not wanted:
            yield ActFault(name, f"`{act.act}` takes no {name}", "leave it out")


def _things(
    act: WrittenAct, row: TableRow, slot: str, things: Things, item_kind: str | None
) -> tuple[tuple[Thing, ...], list[ActFault]]:
    """The things of a slot, and what is wrong with them."""
    names, kinds = getattr(act, slot), row.kinds(slot)
    if not kinds:
        return (), [ActFault(slot, f"`{act.act}` takes nothing under {slot}:", "leave it out")] if names else []
    if not names and not optional(row, slot):
        return (), [ActFault("act", f"`{act.act}` does not say {slot} what", f"write {slot}: with {_kinds(kinds)}")]
    found, wrong = [], []
    for name in names:
        thing = item(item_kind) if name == ITEM and item_kind else things.get(name)
        if thing is None:
            near = nearest(name, things.by_id)
            owners = " nor ".join(("machine", "kit", *things.first))
            wrong.append(ActFault(slot, f"neither {owners} has a `{name}`", f"write {near}" if near else
                                  "add it to the inventory of the machine or the kit"))  # fmt: skip
        elif "any" not in kinds and thing.kind not in kinds and thing.known:
            wrong.append(ActFault(slot, f"`{name}` is a {thing.kind}; `{act.act}` takes {_kinds(kinds)}",
                                  "take the act for this kind of thing"))  # fmt: skip
        else:
            found.append(thing)
    return tuple(found), wrong


def optional(row: TableRow, slot: str) -> bool:
    """Whether an act may leave a slot empty: its sentence names it in brackets, and nowhere else."""
    say, named = row.ways[0].say or "", f"{{{slot}}}"
    outside = "".join(part.split("]")[-1] for part in say.split("["))
    return named in say and named not in outside


def _kinds(kinds: Any) -> str:
    return "anything" if "any" in kinds else one_of(kinds)


def _tools(act: WrittenAct, row: TableRow, of: tuple[Thing, ...], things: Things) -> tuple[str, ...]:
    """The ids of what is taken in hand, as the kit calls it: of the row; a joint's own spanners, or the author's."""
    usual = tuple(map(things.tool, row.tools))
    own = act.with_ or tuple(dict.fromkeys(tool for thing in of for tool in thing.tools))
    if act.with_:
        return (*usual[:-1], *own)
    spanners = {things.tool(tool) for tool in row.tools if tool.startswith(SPANNER)}
    closing = tuple(tool for thing in of for tool in thing.closed_with if EFFECTS[row.effect or ""].joins)
    return (*(tool for tool in usual if tool not in spanners or not own), *(own if spanners else ()), *closing)


def _step(act: WrittenAct, row: TableRow, words: SentenceWords, found: dict[str, tuple[Thing, ...]], things: Things,
          tools: tuple[str, ...], dead: str) -> Step:  # fmt: skip
    effect = EFFECTS[row.effect or ""]
    doing = Doing(**found, says=_beside(row, words, tools), dead=dead, for_good=act.for_good, things=things)
    more = effect.fields(doing)
    needs = _needs(row, {**effect.needs, **more.pop("requires", {})})
    least = least_role(effect, row.role, act.role, more.pop("role", "anyone"))
    conditions = [one for one in (row.when, act.when) if one]
    data = {
        "id": act.id,
        "do": words.fill(row.say or ""),
        "why": act.why or (row.why and words.fill(row.why)),
        "notes": tuple(filter(None, (row.note and words.fill(row.note), *more.pop("notes", ()), act.how))),
        "when": {"all": tuple(conditions)} if len(conditions) > 1 else conditions[0] if conditions else None,
        "only_if": act.only_if,
        "requires": needs,
        "sets": dict(effect.sets),
        "hazards": row.hazards,
        "uses": _uses(row, found, things, tools, more.pop("consumables", ())),
        "role": least,
        "minutes": (row.minutes or 0) if act.minutes is None else act.minutes,
        "reversible": effect.reversible,
        "figure": act.figure,
        "touches": effect.touches,
        "acts": effect.acts,
        "act": act.act,
        "order": _order(row, found["of"]),
        "names": [name for slot in SLOTS for thing in found[slot] for name in thing.members],
        "only_looks": row.effect in LOOKS,
        **{name: getattr(row, name) for name in ("looks", "asks", "shows")},
        "turn": act.amount if row.amount == "turn" else None,
        "hold": row.hold and _hold(act, row.hold, words, tools, found, things),
        "bounds": tuple(_bounded(act, row, words)),
        "torque": act.torque,
        **more,
    }
    return Step.model_validate(frozen({name: value for name, value in data.items() if value is not None}))


def _order(row: TableRow, of: tuple[Thing, ...]) -> dict[str, Any]:
    """What the act asks of others; a joint whose seal settles is to be tightened once more."""
    settles = EFFECTS[row.effect or ""].joins and any(thing.settles for thing in of)
    asked = {name: value for name in StepOrder.model_fields if (value := getattr(row, name))}
    return {**asked, "puts": (*row.puts, UNSETTLED)} if settles else asked


def _needs(row: TableRow, needs: dict[str, str]) -> dict[str, str]:
    """What must be true before: what the effect needs, and what the row asks beside it, never less."""
    own = row.needs.given()
    dead = {"mains": own["mains"]} if own.get("mains") == "proved_dead" and needs.get("mains") == "off" else {}
    return {**own, **needs, **dead}


def _words(
    act: WrittenAct, row: TableRow, found: dict[str, tuple[Thing, ...]], things: Things, tools: tuple[str, ...]
) -> SentenceWords:
    names: dict[str, list[str]] = {slot: [thing.say for thing in found[slot]] for slot in SLOTS}
    names["with"] = [thing.say if (thing := things.get(name)) else name for name in act.with_ or tools[:1]]
    plain = {"amount": act.amount, "limit": act.limit or (row.hold.limit if row.hold else None)}
    own = {slot for slot in SLOTS if found[slot]} | ({"with"} if act.with_ else set())
    facts = {slot: found[slot][0].facts for slot in SLOTS if found[slot]}
    words = SentenceWords(names, {}, facts, frozenset(own))
    return SentenceWords(names, {name: words.fill(text) for name, text in plain.items() if text}, facts, frozenset(own))


def _beside(row: TableRow, words: SentenceWords, tools: tuple[str, ...]) -> dict[str, Any]:
    """What the row says beside its sentence, filled."""
    said: dict[str, Any] = {"tools": tools}
    for name in ("control", "restraint"):
        if text := getattr(row, name):
            said[name] = words.fill(text)
    for name in ("release", "seat"):
        if part := getattr(row, name):
            said[name] = {key: words.fill(text) for key, text in part.model_dump().items()}
    return said


def _uses(
    row: TableRow, found: dict[str, tuple[Thing, ...]], things: Things, tools: tuple[str, ...], more: Names
) -> dict[str, list[str]]:
    """What is taken in hand, by the kit's lists: tools, consumables, and whatever of the things stands on a list."""
    taken: dict[str, list[str]] = {"tools": [], "parts": [], "consumables": [*row.consumables, *more]}
    for name in tools:
        thing = things.get(name)
        taken[thing.listed if thing is not None and thing.listed else "tools"].append(name)
    for thing in (one for slot in SLOTS for one in found[slot] if row.handles):
        if thing.listed:
            taken[thing.listed].append(thing.id)
        for kind, name in thing.takes if EFFECTS[row.effect or ""].joins else ():
            taken[kind].append(name)
    return {kind: list(dict.fromkeys(names)) for kind, names in taken.items()}


def _bounded(act: WrittenAct, row: TableRow, words: SentenceWords) -> Iterator[dict[str, Any]]:
    """Each number of the act that the row bounds, as it is stated, with its bounds."""
    stated = {"amount": act.amount, "limit": act.limit or (row.hold and row.hold.limit)}
    for name, bounds in row.bounds.items():
        text = stated.get(name, f"{{{name}}}")
        ends = {end: words.fill(value) if isinstance(value, str) else value
                for end, value in bounds.model_dump(exclude_none=True).items()}  # fmt: skip
        yield {"name": name, "is": words.fill(text or ""), "bounds": ends}


def _hold(
    act: WrittenAct,
    hold: RowHold,
    words: SentenceWords,
    tools: tuple[str, ...],
    found: dict[str, tuple[Thing, ...]],
    things: Things,
) -> dict[str, Any]:
    if hold.read_with in found:
        instrument = found[hold.read_with][0].id
    else:
        instrument = things.tool(hold.read_with) if hold.read_with else tools[0] if tools else "sight"
    accept: dict[str, Any] = {"instrument": instrument}
    if hold.none or hold.some:
        sense, text = ("at_most", f"0 {hold.none}") if hold.none else ("at_least", hold.some)
        accept |= {sense: text, "evidence": "common-practice"}
    elif hold.sense:
        accept[hold.sense] = act.limit or words.fill(hold.limit or "")
        if not (act.limit or hold.limit or "").startswith("{"):
            accept["evidence"] = "common-practice"
    goto = {"itself": act.id, "back": act.back_to}.get(hold.goto or "", hold.goto)
    way = (
        {"goto": goto}
        if goto
        else {"stop": hold.stop and words.fill(hold.stop), "who_can_help": hold.help and words.fill(hold.help)}
    )
    says = [words.fill(text) for text in hold.says]
    filled = {name: words.fill(text) for name in ("method", "record") if (text := getattr(hold, name))}
    return {
        "criterion": " ".join(says),
        "looks": says if hold.looks else (),
        **filled,
        "accept": accept,
        "on_fail": way,
    }
