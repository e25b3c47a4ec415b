"""Reads a whole workshop: every file once, every mistake reported, then one frozen catalogue or none."""

from __future__ import annotations

import gc
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from types import MappingProxyType
from typing import Any, TypeVar

from guidegen.problems import CatalogueError, Code, Problem, nearest
from guidegen.runs.document import LoggedRun
from guidegen.trade import checks, plausible
from guidegen.trade.builds import Builds
from guidegen.trade.catalogue import Catalogue
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine, machine_with
from guidegen.trade.paths import known_facts
from guidegen.trade.pictures import album_of
from guidegen.trade.shop import Drinks, Glossary, Sources, Workshop
from guidegen.trade.size import sized
from guidegen.workshop.base import Document
from guidegen.workshop.explain import validated
from guidegen.workshop.facts import EVIDENCE
from guidegen.workshop.files import Files, find
from guidegen.workshop.inherit import OWN, joined
from guidegen.workshop.memory import Memory
from guidegen.workshop.nodes import Mapping
from guidegen.workshop.offers import WrittenOffers
from guidegen.workshop.own_facts import FILE, OwnFacts, without_undeclared
from guidegen.workshop.pictures.written import Pictures
from guidegen.workshop.procedures import Hazards, Procedure, SharedBlocks
from guidegen.workshop.questions import Questions
from guidegen.workshop.reader import bytes_of, read
from guidegen.workshop.rows import OwnActs
from guidegen.workshop.texts import ReadTexts

D = TypeVar("D", bound=Document)
Defaults = dict[str, tuple[str, str | None]]
Edited = dict[str, bytes]


def load(root: Path, memory: Memory | None = None, edited: Edited | None = None) -> Catalogue:
    """Return the catalogue of the workshop at `root`, or raise `CatalogueError` with all that is wrong.

    With the memory of an earlier look only what changed since is read and checked again. `edited` are files, by path,
    that are read as they would be, before anyone writes them.
    """
    with _without_collecting():
        known, problems = look(root, memory, edited)
    errors = [problem for problem in problems if problem.severity == "error"]
    if known is None or errors:
        raise CatalogueError(problems)
    return replace(known, warnings=tuple(sorted(set(problems))))


@contextmanager
def _without_collecting() -> Iterator[None]:
    """Keep the garbage collector from searching, again and again, what all stays alive."""
    was_enabled = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_enabled:
            gc.enable()


def look(
    root: Path, memory: Memory | None = None, edited: Edited | None = None
) -> tuple[Catalogue | None, list[Problem]]:
    """Return what can be read and all problems, warnings included; None where the frame itself is missing."""
    memory = Memory() if memory is None else memory
    problems: list[Problem] = []
    files = find(root, problems, edited or ())
    reading = _Reading(root, files, problems, memory, edited or {})
    facts = reading.content("facts", OwnFacts)
    unread = facts is None and "facts" in files.content
    reading.machine_model = machine_with(None if unread else facts.facts if facts is not None else ())
    workshop = reading.content("workshop", Workshop)
    drinks = reading.content("drinks", Drinks)
    sources = reading.content("sources", Sources)
    glossary = reading.content("glossary", Glossary)
    hazards = reading.content("hazards", Hazards)
    questions = reading.content("questions", Questions)
    acts = reading.content("acts", OwnActs)
    pictures = reading.content("pictures", Pictures)
    known = Catalogue(
        workshop=workshop,  # type: ignore[arg-type]
        drinks=drinks,  # type: ignore[arg-type]
        sources=sources,  # type: ignore[arg-type]
        glossary=glossary,  # type: ignore[arg-type]
        hazards=hazards,
        questions=questions,
        acts=acts,
        facts=facts,
        read=reading.content("read", ReadTexts),
        machines=MappingProxyType(reading.machines(sources)),
        kits=MappingProxyType(reading.kits()),
        procedures=MappingProxyType(reading.procedures()),
        shared=reading.document(files.procedures.get("shared"), SharedBlocks),
        builds=MappingProxyType(reading.builds()),
        runs=MappingProxyType(reading.runs()),
        families=MappingProxyType(dict(reading.family_names)),
        pictures=pictures,
        offers=reading.content("offers", WrittenOffers),
        album=album_of(root, pictures, memory, problems),
        root=root,
    )
    checks.check(known, files, root, problems, memory)
    if unread:
        problems = without_undeclared(problems)
    problems.extend(plausible.warnings(known, memory, whole=not problems))
    memory.end()
    complete = workshop and drinks and sources and glossary
    return (known if complete else None), problems


def own_facts(root: Path) -> OwnFacts | None:
    """Return a workshop's own facts; None where it declares none, or nobody can read how."""
    return (
        None
        if not (root / FILE).is_file()
        else _Reading(root, find(root, []), [], Memory(), {}).content("facts", OwnFacts)
    )


class _Reading:
    """The files of one run, each read once."""

    def __init__(self, root: Path, files: Files, problems: list[Problem], memory: Memory, edited: Edited) -> None:
        self.root, self.files, self.problems, self.memory, self.edited = root, files, problems, memory, edited
        self.family_names: dict[str, str] = {}
        self.machine_model: type[Machine] = Machine
        """With the workshop's own facts, once these are read."""

    def node(self, path: str | None) -> Mapping | None:
        """Return the root of a file, or None after reporting why not."""
        if path is None:
            return None
        try:
            data = self.edited[path] if path in self.edited else bytes_of(self.root / path, path)
            return self.memory.of("node", (path, data), lambda: read(data, path))
        except CatalogueError as error:
            self.problems.extend(error.problems)
            return None

    def document(self, path: str | None, model: type[D]) -> D | None:
        """Return a file as its model, or None after reporting why not."""
        node = self.node(path)
        return None if node is None else self._validated(model, (node,), lambda found: node, {})

    def _validated(
        self, model: type[D], nodes: tuple[Mapping, ...], whole: Callable[[list[Problem]], Mapping], evidence: Defaults
    ) -> D | None:
        """Return the document of some nodes, with what is wrong with it added to the problems."""

        table = known_facts(self.machine_model)

        def make() -> tuple[D | None, list[Problem]]:
            found: list[Problem] = []
            made = validated(model, whole(found), found, {"evidence": evidence, "facts": table})
            return sized(made) if isinstance(made, Machine) else made, found  # type: ignore[return-value]

        document, problems = self.memory.of("document", (model, self.machine_model, repr(evidence), *nodes), make)
        self.problems.extend(problems)
        return document

    def content(self, name: str, model: type[D]) -> D | None:
        """Return content/<name>.yml."""
        return self.document(self.files.content.get(name), model)

    def kits(self) -> dict[str, Kit]:
        """Return the kits by id."""
        found = {}
        for name, path in sorted(self.files.kits.items()):
            kit = self.document(path, Kit)
            if kit is not None:
                kit._id = name
                found[name] = kit
        return found

    def procedures(self) -> dict[str, Procedure]:
        """Return the procedures by the id of their kit."""
        named = {
            name: self.document(path, Procedure)
            for name, path in sorted(self.files.procedures.items())
            if name != "shared"
        }
        return {name: procedure for name, procedure in named.items() if procedure is not None}

    def builds(self) -> dict[str, Builds]:
        """Return the recorded builds by family."""
        named = {name: self.document(path, Builds) for name, path in sorted(self.files.builds.items())}
        return {name: builds for name, builds in named.items() if builds is not None}

    def runs(self) -> dict[str, LoggedRun]:
        """Return what the logged runs are, by the path of their description."""
        named = {path: self.document(path, LoggedRun) for path in self.files.runs}
        return {path: run for path, run in named.items() if run is not None}

    def machines(self, sources: Sources | None) -> dict[str, Machine]:
        """Return the variants, joined with their families, by id."""
        found: dict[str, Machine] = {}
        for family, variants in sorted(self.files.variants.items()):
            base = self.node(self.files.families.get(family))
            if base is None:
                continue
            name = base.text("name")
            if not name:
                self._problem(Code.MISSING_KEY, base, "name: is missing", "add name: with the family's name")
            self.family_names[family] = name or family
            nodes = {stem: self.node(path) for stem, path in sorted(variants.items())}
            read = {stem: node for stem, node in nodes.items() if node is not None}
            defaults = self._defaults(base, read, sources)
            for stem in read:
                chain = self._chain(stem, read)
                machine = None
                if chain is not None:
                    machine = self._machine(base, [read[one] for one in chain], defaults)
                if machine is not None:
                    machine._id, machine._family = f"{family}-{stem}", family
                    machine._family_name = self.family_names[family]
                    found[machine.id] = machine
        return found

    def _chain(self, stem: str, read: dict[str, Mapping]) -> list[str] | None:
        """Return the variants from the deepest base to the variant itself; None where they form a ring."""
        chain = [stem]
        while True:
            node = read[chain[0]]
            base = node.text("based_on")
            if base is None:
                return chain
            if base in chain:
                ring = " → ".join([*reversed(chain), base]) if base == stem else f"{chain[0]} → {base}"
                self._problem(Code.CYCLE, node.entries["based_on"], f"based_on: a ring: {ring}", "break the ring")
                return None
            if base in self.files.variants[node.place.path.split("/")[1]] and base not in read:
                # The base has mistakes of its own, which are reported already.
                return None
            if base not in read:
                near = nearest(base, set(read) - {stem})
                fix = f"write {near}" if near else "name a variant of this family by its file, or delete the line"
                words = f'based_on: this family has no variant "{base[:60]}"'
                self._problem(Code.BASE_MISSING, node.entries["based_on"], words, fix)
                return None
            chain.insert(0, base)

    def _machine(self, base: Mapping, chain: list[Mapping], defaults: Defaults) -> Machine | None:
        def whole(found: list[Problem]) -> Mapping:
            made = base
            for node in chain:
                inherited = {key: value for key, value in made.entries.items() if key not in OWN}
                keys = {key: place for key, place in made.keys.items() if key not in OWN}
                made = joined(node, Mapping(inherited, keys, made.place), found)
            return made

        paths = (base.place.path, *(node.place.path for node in chain))
        return self._validated(self.machine_model, (base, *chain), whole, {path: defaults[path] for path in paths})

    def _defaults(self, base: Mapping, read: dict[str, Mapping], sources: Sources | None) -> Defaults:
        """Return evidence and source per file: its own, else the family's, else `assumed`."""
        family = self._default(base, sources)
        made: Defaults = {base.place.path: family or ("assumed", None)}
        for node in read.values():
            made[node.place.path] = self._default(node, sources) or made[base.place.path]
        return made

    def _default(self, node: Mapping, sources: Sources | None) -> tuple[str, str | None] | None:
        evidence, source = node.text("evidence"), node.text("source")
        if source is not None and sources is not None and source not in sources.sources:
            near = nearest(source, sources.sources)
            fix = f"write {near}" if near else "add it to content/sources.yml"
            words = f'source: no source "{source[:60]}"'
            self._problem(Code.UNKNOWN_SOURCE, node.entries["source"], words, fix)
        if evidence is None:
            return None
        if evidence not in EVIDENCE:
            near = nearest(evidence, EVIDENCE)
            fix = f"write {near}" if near else f"use one of {', '.join(EVIDENCE)}"
            words = f'evidence: got "{evidence[:60]}", no kind of evidence'
            self._problem(Code.WRONG_CHOICE, node.entries["evidence"], words, fix)
            return None
        if evidence not in ("assumed", "calculated") and source is None:
            words = f"evidence: {evidence}, but without a source"
            fix = "add source: with a key of content/sources.yml"
            self._problem(Code.EVIDENCE, node.entries["evidence"], words, fix)
        return evidence, source

    def _problem(self, code: Code, node: Any, message: str, fix: str) -> None:
        place = node.place
        self.problems.append(Problem(place.path, place.line, place.column, code, message, fix))
