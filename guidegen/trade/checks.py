"""One part of the catalogue against another: whatever one file says about what stands in a second one."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from functools import partial
from pathlib import Path

from guidegen.language import catalogues
from guidegen.problems import Code, Problem, nearest, one_of
from guidegen.trade.catalogue import Catalogue
from guidegen.trade.check_acts import check_acts
from guidegen.trade.check_builds import check_builds
from guidegen.trade.check_first import check_first
from guidegen.trade.check_inventory import check_kit_things, check_machine_things, check_used
from guidegen.trade.check_kit import check_kit
from guidegen.trade.check_marks import check_marks
from guidegen.trade.check_offers import check_offers
from guidegen.trade.check_positions import check_positions
from guidegen.trade.check_questions import check_questions
from guidegen.trade.check_runs import check_run
from guidegen.trade.contradiction import problem, unknown_variant
from guidegen.trade.machine import Machine, ThermostatControl
from guidegen.trade.pictures import check_pictures
from guidegen.trade.plausible import documents
from guidegen.trade.shop import Drinks, Sources, Workshop
from guidegen.workshop.base import Document, Loc
from guidegen.workshop.files import Files
from guidegen.workshop.memory import Memory
from guidegen.workshop.procedures import Procedure, SharedBlocks
from guidegen.workshop.steps import Step
from guidegen.workshop.walk import everything

DAY = 24 * 3600.0


def check(known: Catalogue, files: Files, root: Path, problems: list[Problem], memory: Memory) -> None:
    """Add every contradiction between the parts of a catalogue to `problems`."""
    for document in documents(known):
        found = memory.of("check", (document, known.sources), partial(_document, document, known.sources))
        problems.extend(found)
    for machine in known.machines.values():
        problems.extend(check_machine_things(machine))
        relatives = [one for one in known.machines.values() if one.family == machine.family]
        problems.extend(check_positions(machine, relatives))
        problems.extend(check_marks(machine, relatives))
    for kit in known.kits.values():
        problems.extend(check_kit(kit, files.kits, files.procedures, known.table))
        problems.extend(check_first(known, kit))
        problems.extend(check_kit_things(kit, known.machines.values(), known.first(kit.id)))
        if kit.id in known.procedures:
            problems.extend(check_used(kit, known.procedures[kit.id], known.shared))
    problems.extend(_kit_rings(known))
    problems.extend(_drinks(known))
    problems.extend(_terms(known))
    problems.extend(_procedures(known, files))
    problems.extend(check_acts(known))
    problems.extend(_language(known, root))
    problems.extend(_records(known, files, root))
    problems.extend(check_questions(known, files.procedures))
    problems.extend(check_pictures(known, files.procedures, root))
    problems.extend(check_offers(known, files.kits))


def _document(document: Document, sources: Sources | None) -> list[Problem]:
    """What is wrong in one document and the list of sources, without the others."""
    problems: list[Problem] = []
    # Steps of a procedure that exclude each other by `when` share an id; the lint looks after those.
    if isinstance(document, Procedure | SharedBlocks):
        problems.extend(_steps_in_words(document))
    else:
        problems.extend(_ids_once(document))
    if sources is not None:
        problems.extend(_sources(document, sources.sources))
    if isinstance(document, Machine):
        problems.extend(_machine(document))
    return problems


def _language(known: Catalogue, root: Path) -> Iterator[Problem]:
    if known.workshop is not None and not catalogues.known(name := known.workshop.language, root):
        words = f"the interface has no words in {name}"
        yield problem(known.workshop, ("language",), Code.LANGUAGE, words, catalogues.fix(name, root))


def _ids_once(document: Document) -> Iterator[Problem]:
    for loc, value in everything(document):
        if isinstance(value, tuple):
            seen: dict[str, Loc] = {}
            for index, item in enumerate(value):
                name = getattr(item, "id", None)
                if not isinstance(name, str):
                    continue
                here = (*loc, index, "id")
                if name in seen:
                    words = f'the id "{name}" stands here and in line {document.places[seen[name]].line}'
                    yield problem(document, here, Code.DUPLICATE_ID, words, "give it another id")
                seen.setdefault(name, here)


def _steps_in_words(document: Procedure | SharedBlocks) -> Iterator[Problem]:
    for loc, value in everything(document):
        if isinstance(value, Step):
            fix = "write it as an act; `guidegen convert` does most of it"
            yield problem(document, (*loc, "do"), Code.OLD_FORM, "a step in words, not an act", fix, key=True)


def _sources(document: Document, keys: Collection[str]) -> Iterator[Problem]:
    for loc, value in everything(document):
        source = getattr(value, "source", None)
        if loc and isinstance(source, str) and source not in keys:
            near = nearest(source, keys)
            fix = f"write {near}" if near else "add it to content/sources.yml"
            yield problem(document, (*loc, "source"), Code.UNKNOWN_SOURCE, f'no source "{source[:60]}"', fix)


def _machine(machine: Machine) -> Iterator[Problem]:
    devices = {device.id for device in machine.safety_devices}
    wall = machine.boiler.straight_wall
    for index, protrusion in enumerate(machine.boiler.protrusions):
        loc: Loc = ("boiler", "protrusions", index)
        carries = protrusion.carries
        if carries.word is not None and carries.word != "nothing" and carries.word not in devices:
            near = nearest(carries.word, (*devices, "nothing"))
            fix = f"write {near}" if near else "write nothing, or add it to safety_devices"
            words = f'no safety device "{carries.word[:60]}"'
            yield problem(machine, (*loc, "carries"), Code.UNKNOWN_DEVICE, words, fix)
        start, end = protrusion.band.from_, protrusion.band.to
        if start.quantity and end.quantity and end.quantity.value <= start.quantity.value:
            words = f"the band ends at {end.text}, below its start at {start.text}"
            yield problem(machine, (*loc, "band", "to"), Code.BAND, words, "swap the ends")
        elif end.quantity and wall.quantity and end.quantity.low > wall.quantity.high:
            words = f"the band ends at {end.text}, above the straight wall of {wall.text}"
            yield problem(machine, (*loc, "band", "to"), Code.BAND, words, "measure both from the wall's lower edge")
    yield from _seats(machine)
    yield from _control(machine)


def _seats(machine: Machine) -> Iterator[Problem]:
    """A seat is described in words, or it is the id of a protrusion, which then carries the device."""
    carried = {one.carries.word: one.id for one in machine.boiler.protrusions if one.carries.word}
    for index, device in enumerate(machine.safety_devices):
        seat = device.seat.word
        if device.id in carried and seat is not None and seat != carried[device.id]:
            words = f'{carried[device.id]} carries {device.id}, but the seat is "{seat[:60]}"'
            fix = f"write {carried[device.id]}"
            yield problem(machine, ("safety_devices", index, "seat"), Code.UNKNOWN_SEAT, words, fix)


def _control(machine: Machine) -> Iterator[Problem]:
    control = machine.control
    if not isinstance(control, ThermostatControl):
        if machine.sensor.kind.word == "thermostat":
            words = "electronic control reads a sensor, but the sensor is a thermostat"
            yield problem(machine, ("sensor", "kind"), Code.NO_CONTROL, words, "correct sensor.kind or control.kind")
        return
    kinds = [device.kind for device in machine.safety_devices if device.class_ == "control"]
    if "thermostat" not in kinds:
        words = "a thermostat controls, but no thermostat in safety_devices has the class control"
        yield problem(machine, ("control",), Code.NO_CONTROL, words, "class the brew thermostat as control")
    opens, closes = control.opens.quantity, control.closes.quantity
    if opens and closes and closes.value >= opens.value:
        words = f"closes at {closes.text}, not below {opens.text} where it opens"
        yield problem(machine, ("control", "closes"), Code.NO_CONTROL, words, "swap the two")


def _kit_rings(known: Catalogue) -> Iterator[Problem]:
    """Kits that need each other in a ring; each ring is reported once, at its first kit."""
    needs: dict[str, dict[str, Loc]] = {
        name: {
            **{way.kit: ("requirements", index, "unmet") for index, one in enumerate(kit.requirements)
               for way in one.unmet if way.kit},
            **({kit.needs: ("needs",)} if kit.needs is not None else {}),
        }
        for name, kit in known.kits.items()
    }  # fmt: skip
    reported: set[frozenset[str]] = set()
    for start in needs:
        stack: list[tuple[str, ...]] = [(start,)]
        while stack:
            way = stack.pop()
            for need in needs.get(way[-1], ()):
                if need == start and frozenset(way) not in reported:
                    reported.add(frozenset(way))
                    loc = needs[start][(*way, start)[1]]
                    words = f"a ring of kits: {' → '.join((*way, start))}"
                    yield problem(known.kits[start], loc, Code.KIT_CYCLE, words, "break the ring")
                elif need not in way:
                    stack.append((*way, need))


def _drinks(known: Catalogue) -> Iterator[Problem]:
    if known.drinks is None or known.workshop is None:
        return
    drinks = {drink.id for drink in known.drinks.drinks}
    named: list[tuple[Loc, str]] = [(("main_drink",), known.workshop.main_drink)]
    named += [(("usage", "drinks", index), name) for index, name in enumerate(known.workshop.usage.drinks)]
    yield from _times(known.workshop, known.drinks)
    for loc, name in named:
        if name not in drinks:
            near = nearest(name, drinks)
            fix = f"write {near}" if near else f"use one of {one_of(drinks)}"
            yield problem(known.workshop, loc, Code.UNKNOWN_DRINK, f'no drink "{name}"', fix)


def _times(workshop: Workshop, drinks: Drinks) -> Iterator[Problem]:
    """Drinks and sessions that take no time, no water, or more time than there is."""
    for index, drink in enumerate(drinks.drinks):
        if drink.time.low <= 0:
            words, fix = f"a drink in {drink.time.text} has no flow", "state how long it takes"
            yield problem(drinks, ("drinks", index, "time"), Code.NO_DAY, words, fix)
        if drink.time.high > workshop.usage.on_for.value:
            words = f"a drink of {drink.time.text} does not end in a session of {workshop.usage.on_for.text}"
            yield problem(drinks, ("drinks", index, "time"), Code.NO_DAY, words, "correct one of the two")
        if drink.beverage.low <= 0:
            words, fix = f"a drink of {drink.beverage.text} may be no drink", "state how much is in the cup"
            yield problem(drinks, ("drinks", index, "beverage"), Code.NO_DAY, words, fix)
    usage = workshop.usage
    if not 0 < usage.on_for.value * usage.sessions_per_day <= DAY:
        words = f"{usage.sessions_per_day} sessions of {usage.on_for.text} do not make a day"
        yield problem(workshop, ("usage", "on_for"), Code.NO_DAY, words, "correct one of the two")


def _terms(known: Catalogue) -> Iterator[Problem]:
    terms = known.glossary.terms if known.glossary is not None else {}
    for key, term in terms.items():
        for index, name in enumerate(term.see):
            if name not in terms:
                near = nearest(name, terms)
                fix = f"write {near}" if near else "add the term, or delete this"
                yield problem(known.glossary, ("terms", key, "see", index), Code.UNKNOWN_TERM, f'no term "{name}"', fix)


def _procedures(known: Catalogue, files: Files) -> Iterator[Problem]:
    for name, procedure in known.procedures.items():
        if name not in files.kits:
            near = nearest(name, files.kits)
            fix = f"rename it to {near}.yml" if near else "write the kit, or delete the procedure"
            yield problem(procedure, (), Code.UNKNOWN_KIT, f'a procedure for a kit "{name}" that is not there', fix)


def _records(known: Catalogue, files: Files, root: Path) -> Iterator[Problem]:
    variants = {f"{family}-{stem}" for family, stems in files.variants.items() for stem in stems}
    for builds in known.builds.values():
        yield from check_builds(builds, variants, files.kits, known.table)
    for path, run in known.runs.items():
        if run.variant not in variants:
            yield unknown_variant(run, ("variant",), run.variant, variants)
        yield from check_run(run, (root / path).parent, root, files.kits, known.drinks)
