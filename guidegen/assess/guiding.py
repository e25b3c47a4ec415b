"""The procedure of a pair: resolved for its machine, linted, and ready for the record and the terminal."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import asdict, dataclass, replace

from guidegen.assess import leaning, pictures
from guidegen.assess.adapt import (
    avoided_words,
    facts_of,
    first_heat_value,
    flush_value,
    kit_side,
    machine_side,
    wait_value,
)
from guidegen.assess.builds import carried_out
from guidegen.assess.gaps import gap
from guidegen.assess.proving import BAR
from guidegen.assess.verdict import OnPaper
from guidegen.heat.temperature import ZERO_CELSIUS
from guidegen.judge.logic import Truth
from guidegen.judge.safety.facts import Facts, Gap, Value, holds, word
from guidegen.judge.safety.guide import NOT_YET, Guide, Paper
from guidegen.judge.safety.lint import Finding, lint
from guidegen.judge.safety.record import finding_record, procedure_record
from guidegen.judge.safety.report import StateRow, state_rows, states_report
from guidegen.judge.safety.resolve import resolve
from guidegen.language import gettext
from guidegen.problems import Code, Problem, Severity
from guidegen.record import Assessment
from guidegen.record.closed_coil import ClosedCoil
from guidegen.record.computed import CoilPart, CoolDownSide, WarmUp
from guidegen.record.drinks import Display
from guidegen.record.finding import LintFinding
from guidegen.record.procedure import Instruction
from guidegen.record.stated import Fit, KitNote, Missing
from guidegen.trade import Catalogue
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine
from guidegen.units import parse
from guidegen.workshop.when import names_in

DAY_S = 24 * 3600.0
OF_THE_COIL = (
    "coil.layers", "coil.turns", "coil.height", "coil.length", "coil.held", "relief.pushed_out", "locked.rise",
    "locked.yields", "locked.warms",
)  # fmt: skip
"""Computed values that a step may print, and that take a coil that is wound."""


@dataclass(frozen=True)
class Guided:
    """The resolved procedure and what the lint found, as the record keeps them; nothing where there is no guide.

    `withheld` says that an instruction is not published because of what is `missing`: facts that nobody knows.
    `before_fitting` and `before_restoring` speak of other kits.
    """

    procedure: Instruction | None = None
    lint: tuple[LintFinding, ...] = ()
    withheld: str | None = None
    missing: tuple[Missing, ...] = ()
    before_fitting: tuple[KitNote, ...] = ()
    before_restoring: tuple[KitNote, ...] = ()


def guide(
    known: Catalogue,
    machine: Machine,
    kit: Kit,
    fit: Fit,
    pair: OnPaper,
    values: Mapping[str, Value],
    edition: str,
) -> Guided:
    """The guide of a pair. A kit that does not fit has none.

    What nobody knows of the variant can make steps impossible to choose or to write. Then the instruction is withheld
    until somebody has looked, and what the lint finds in the steps that are left is no mistake of the author. A name
    that no machine has is one, and so is whatever the lint finds where everything that the steps ask is known. What it
    would find however the facts turn out is said already, without blocking.
    """
    facts = facts_for(known, machine, kit, fit, pair, values)
    made = _made(known, machine, kit, fit, pair, facts, edition)
    if made is None:
        return Guided()
    findings = lint(made)
    asked = {name: gaps for one in findings for name in one.asks if (gaps := facts.get(name).gaps)}
    missing = _missing(made, machine, kit, facts, [gap for gaps in asked.values() for gap in gaps])
    if missing and any(finding.blocks for finding in findings):
        known_names = {name for name, _ in made.resolved.gaps} | set(asked)
        misnamed = [finding for finding in findings if not known_names.issuperset(finding.asks)]
        besides = (replace(one, blocks=False) for one in findings if one.whatever_is_missing)
        words = gettext("The fitting instruction cannot be written before these are known:")
        return Guided(None, tuple(map(_finding, (*misnamed, *besides))), words, missing)
    procedure = Instruction.model_validate(procedure_record(made))
    procedure = pictures.with_steps(known, machine, kit, made, procedure)
    near = tuple(known.kits[name] for name in facts.near)
    return Guided(
        procedure,
        tuple(map(_finding, findings)),
        before_fitting=tuple(leaning.before_fitting(machine, kit, near, kits_before(known, kit, fit))),
        before_restoring=tuple(leaning.before_restoring(kit, near)) if procedure.restoring is not None else (),
    )


def _finding(one: Finding) -> LintFinding:
    return LintFinding.model_validate(finding_record(one))


def _missing(made: Guide, machine: Machine, kit: Kit, facts: Facts, judged: Iterable[Gap]) -> tuple[Missing, ...]:
    """What nobody knows and a step, one of the kit's lists, or a rule (`judged`) asks for: each fact once.

    A list of what the factory used has no line of its own; then the variant's file stands for it.
    """
    lists = (one for many in (kit.tools, kit.parts, kit.consumables) for one in many)
    asked = (name for one in lists if holds(one.when, facts) is Truth.UNKNOWN for name in names_in(one.when))
    found = [gap for _, gap in made.resolved.gaps]
    found += [gap for name in asked for gap in facts.get(name).gaps]
    found += judged
    file = {"place": str(machine.places[()])}
    return tuple(Missing(**asdict(gap) | ({} if gap.place else file)) for gap in dict.fromkeys(found))


def kits_before(known: Catalogue, kit: Kit, fit: Fit) -> tuple[Kit, ...]:
    """The kits that have to be on before this one: those that it needs, and each only remedy of what is not met."""
    unmet = {reason.id for reason in fit.reasons if reason.met is False}
    wanted = [one.unmet[0].kit for one in kit.requirements if one.id in unmet and len(one.unmet) == 1]
    needed = (one.id for one in known.first(kit.id))
    return tuple(known.kits[name] for name in dict.fromkeys((*needed, *wanted)) if name and name in known.kits)


def facts_for(
    known: Catalogue, machine: Machine, kit: Kit, fit: Fit, pair: OnPaper, values: Mapping[str, Value]
) -> Facts:
    """What the procedure may ask: of the machine as it is once the kits that come first are fitted."""
    first = kits_before(known, kit, fit)
    given = {name: _stated(text, known.table.dimension(name)) for one in first for name, text in one.gives.items()}
    computed = {**_not_wound(machine, kit), **values, **pair.numbers, **_room(pair), **pair.ways}
    facts = facts_of(machine, kit, computed, pair.decisions, known.acts, known.first(kit.id)).having(given)
    return leaning.looking(known, facts, machine, kit, first)


def _stated(text: str, dimension: str | None) -> Value:
    """A fact as a kit gives it: a word, or a quantity with its ends."""
    if dimension is None:
        return word(text)
    given = parse(text, dimension)
    return Value(text, given.value, dimension, ends=(given.low, given.high))


def _room(pair: OnPaper) -> dict[str, Value]:
    """The least room over the bolts' heads with which a key reaches them: of the usual key, or of the short one."""
    names = {"usual": "bolts.key_room", "short-key": "bolts.short_key_room"}
    way = pair.ways.get("bolts.way")
    wanted = [pair.numbers[name] for key, name in names.items()
              if way and key in (way.options or (way.text,)) and name in pair.numbers]  # fmt: skip
    return {"bolts.room": min(wanted, key=lambda one: float(one.value or 0.0))} if wanted else {}


def _not_wound(machine: Machine, kit: Kit) -> dict[str, Value]:
    """What cannot be computed of a coil before the boiler is measured round which it is wound."""
    sizes = {"boiler.diameter": machine.boiler.diameter, "boiler.straight_wall": machine.boiler.straight_wall}
    gaps = tuple(gap(name, fact) for name, fact in sizes.items() if not fact.known)
    if kit.coil is None or not gaps:
        return {}
    return {name: Value("unknown", None, gaps=gaps) for name in OF_THE_COIL}


def made_guide(
    known: Catalogue, machine: Machine, kit: Kit, fit: Fit, pair: OnPaper, values: Mapping[str, Value], edition: str
) -> Guide | None:
    """The resolved guide with all that the rules look at."""
    return _made(known, machine, kit, fit, pair, facts_for(known, machine, kit, fit, pair, values), edition)


def _made(
    known: Catalogue, machine: Machine, kit: Kit, fit: Fit, pair: OnPaper, facts: Facts, edition: str
) -> Guide | None:
    procedure = known.procedures.get(kit.id)
    if procedure is None or known.shared is None or known.hazards is None or fit.refused:
        return None
    paper = Paper(
        edition=edition,
        contact=known.workshop.contact,
        language=known.workshop.language,
        notice=gettext(NOT_YET),
        builds=carried_out(known, machine, kit),
    )
    resolved = resolve(procedure, known.shared, facts)
    sides = machine_side(machine, pair.decisions, known.first(kit.id)), kit_side(kit, facts)
    read = known.read.hashes if known.read else frozenset()
    return Guide(resolved, known.hazards, *sides, paper, avoided_words(known.glossary), read)


def computed(
    coil: CoilPart | None, closed: ClosedCoil | None, cooling: CoolDownSide, display: Display, warm_up: WarmUp
) -> Iterator[tuple[str, Value]]:
    """The computed values that a step may print."""
    sides = (warm_up.without.boiler_ready_s, warm_up.with_.boiler_ready_s)
    ready = [end for one in sides if (end := one.high if one.high is not None else one.value) is not None]
    if ready:
        yield "first_heat.limit", first_heat_value(max(ready))
    touch = cooling.touch_s.value
    yield "cool_down.wait", wait_value(touch if touch is not None else DAY_S / 4)
    if display.before_degc.value is not None and display.lowest_degc.value is not None:
        low = display.lowest_degc.low if display.lowest_degc.low is not None else display.lowest_degc.value
        high = display.before_degc.high if display.before_degc.high is not None else display.before_degc.value
        yield "display.low", _calculated(f"{low:.0f} °C", low + ZERO_CELSIUS, "temperature")
        yield "display.high", _calculated(f"{high:.0f} °C", high + ZERO_CELSIUS, "temperature")
    yield "flush.volume", flush_value((coil.held_ml.value or 0.0) if coil is not None else 0.0)
    if coil is None:
        return
    turns, height, length, held = (coil.turns.value, coil.height_mm.value, coil.length_m.value, coil.held_ml.value)
    yield "coil.layers", _calculated(str(coil.layers), float(coil.layers), "count")
    if turns is not None:
        yield "coil.turns", _calculated(f"{turns:.1f}", turns, "count")
    if height is not None:
        yield "coil.height", _calculated(f"{height:.0f} mm", height / 1e3, "length")
    if length is not None:
        yield "coil.length", _calculated(f"{length:.2f} m", length, "length")
    if held is not None:
        yield "coil.held", _calculated(f"{held:.0f} ml", held / 1e6, "volume")
    if closed is not None:
        yield from _closed(closed)


def _closed(closed: ClosedCoil) -> Iterator[tuple[str, Value]]:
    """What a warm-up pushes out; and of locked water the pressure that a kelvin adds, and when the tube gives way."""
    pushed = closed.pushed_out_ml.with_.value
    if pushed is not None:
        yield "relief.pushed_out", _calculated(f"{pushed:.0f} ml", pushed / 1e6, "volume")
    rise, yields, warms = (closed.rise_bar.value, closed.yields_bar.value, closed.yields_after_k.value)
    if rise is not None and yields is not None and warms is not None:
        yield "locked.rise", _calculated(f"{rise:.0f} bar", rise * BAR, "pressure")
        yield "locked.yields", _calculated(f"{yields:.0f} bar", yields * BAR, "pressure")
        yield "locked.warms", _calculated(f"{warms:.0f} °C", warms, "temperature_difference")


def _calculated(text: str, value: float, dimension: str) -> Value:
    return Value(text, value, dimension, "calculated")


def states(
    known: Catalogue, machine: Machine, kit: Kit, fit: Fit, pair: OnPaper, values: Mapping[str, Value], edition: str
) -> str:
    """The state after every step, for `guidegen check --states`."""
    made = made_guide(known, machine, kit, fit, pair, values, edition)
    title = f"{machine.name} with {kit.name}"
    return states_report(made.resolved, title) if made is not None else f"{title}: no guide\n"


def rows(
    known: Catalogue, machine: Machine, kit: Kit, fit: Fit, pair: OnPaper, values: Mapping[str, Value], edition: str
) -> tuple[StateRow, ...]:
    """The same as rows, to compare with another guide's; none where there is no guide."""
    made = made_guide(known, machine, kit, fit, pair, values, edition)
    return state_rows(made.resolved) if made is not None else ()


def problems(*records: Assessment) -> Iterator[Problem]:
    """What the lint found in these records, as the terminal shows it, and what keeps an instruction from being written.

    A rule that blocks is an error; what nobody knows is none.
    """
    for record in records:
        yield from _found(record)
    yield from unknown((f"{record.variant.id} with {record.kit.id}", record.missing) for record in records)


def unknown(pairs_missing: Iterable[tuple[str, Iterable[Missing]]]) -> Iterator[Problem]:
    """What keeps instructions from being written: each fact once, at its line, with the pairs that want it."""
    wanting: dict[Missing, list[str]] = {}
    for pair, missing in pairs_missing:
        for one in missing:
            wanting.setdefault(one, []).append(pair)
    for one, pairs in wanting.items():
        path, line, column = one.place.rsplit(":", 2)
        state = f"{one.stated} is assumed, and life and limb hang on it" if one.stated else "not known"
        words = f"{one.name}: {state}, so no instruction is made for {', '.join(pairs)}"
        then = "write it below" if one.absent else "write what it is"
        then = "write evidence: and source: beside it" if one.stated else then
        fix = f"{one.settles}, and {then}" if one.settles else ""
        yield Problem(path, int(line), int(column), Code.WITHHELD, words, fix, "warning")


def _found(record: Assessment) -> Iterator[Problem]:
    for one in record.lint:
        path, line, column = one.place.rsplit(":", 2)
        severity: Severity = "error" if one.blocks else "warning"
        yield Problem(path, int(line), int(column), one.rule, one.message, one.fix, severity)
