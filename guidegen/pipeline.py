"""The whole story on one screen: load, assess, draw and render, engine, bind, finish, write.

Everything a command does to a workshop goes through here. The stages know nothing of each other; each gets what
the one before it made.
"""

from __future__ import annotations

import logging
from collections.abc import Callable, Iterator, Sequence, Sized
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from guidegen import language, trade
from guidegen.assess import DRAWS, Assessor, guiding, sizes
from guidegen.assess.kept import Kept
from guidegen.assess.progress import PairsLeft
from guidegen.assess.records_kept import KeptRecords
from guidegen.assess.reference import reference
from guidegen.assess.resting import resting
from guidegen.assess.sanity import NotComputed
from guidegen.assess.workers import Workers, make_ahead
from guidegen.editions import anew, around, publishing
from guidegen.editions.edition import Edition
from guidegen.editions.publishing import Order, Published
from guidegen.editions.since import pages_with_changes
from guidegen.problems import CatalogueError, Problem, one_per_cause
from guidegen.record import Assessment
from guidegen.site import bind, engine, finish, handwritten, output, pages
from guidegen.site.pages.paper.press import Press
from guidegen.trade import Catalogue
from guidegen.writing import lock

Progress = Callable[[str], None]

log = logging.getLogger(__name__)

EDITION = "next"
"""The draft's name; `publish` builds again under a name of its own."""


@dataclass(frozen=True)
class Checked:
    """What `check` found where there was no error; `sizes` are printed with `-v`."""

    summary: str
    warnings: tuple[Problem, ...]
    sizes: tuple[str, ...] = ()


@dataclass(frozen=True)
class Built:
    """What `build` made."""

    folder: Path
    summary: str
    changes: output.Changes
    warnings: tuple[Problem, ...]
    left_out: tuple[Problem, ...] = ()
    """Why pairs are not in it; every other pair is."""


def quiet(stage: str) -> None:
    """Progress that nobody watches."""


def counted(things: Sized, name: str) -> str:
    """How many there are, for the terminal.

    >>> counted("a", "kit"), counted("ab", "kit"), counted("", "kit")
    ('1 kit', '2 kits', '0 kits')
    """
    return f"{len(things)} {name}" if len(things) == 1 else f"{len(things)} {name}s"


def build(
    root: Path, engine_name: str = "mkdocs", progress: Progress = quiet, draws: int = DRAWS, workers: Workers = 1
) -> Built:
    """Build the draft of the site into `site/next/`. Raises CatalogueError where the data have mistakes.

    A pair whose numbers cannot be computed is left out of it, and said. `workers` is in how many processes records are
    made, or the address of a cluster; with more than one, what calls this must be a module that can be imported.
    """
    folder = root / "site" / EDITION
    progress("reading the catalogue")
    with lock(root), trade.opened(root) as known:
        records, left_out = judge_all(known, root, progress, draws, workers)
        if not records:
            raise CatalogueError(left_out)
        warnings = refuse_unsafe(records, known)
        shown_otherwise = engine.warnings(root)
        files = site_files(root, known, records, engine_name, progress)
        changes = output.OutputTree(folder, output.manifest_path(root, EDITION), durable=False).write(files)
        around.refresh(root)
        progress("")
    summary = f"{counted(records, 'guide')} for {counted(known.machines, 'variant')}, {counted(files, 'file')}"
    return Built(folder, summary, changes, (*known.warnings, *warnings, *shown_otherwise), left_out)


def site_files(
    root: Path,
    known: Catalogue,
    records: Sequence[Assessment],
    engine_name: str,
    progress: Progress = quiet,
    edition: Edition | None = None,
    folder: str | None = None,
) -> dict[str, bytes]:
    """Every file of the site for these records: the draft's, or those of an edition under its name.

    `folder` is where they will lie in the site, and so part of their addresses, where it is not called as the edition.
    """
    progress("writing the guides")
    shared = reference(known)
    # Pages that are made anew say so in their main part. A sheet has no such part, so there it is left out.
    press = Press(root) if folder is None else None
    guides = pages.render(records, shared, around.address(root, edition), press)
    if press is not None:
        press.prune()
    complete = pages_with_changes(root, guides.pages, records, edition)
    # Nobody hands on a link to the draft, so nobody waits for its pictures.
    complete, previews = pages.with_previews(complete, records if edition else ())
    progress(f"making the shell with {engine_name}")
    name = edition.edition if edition else EDITION
    context = pages.shell_context(records, shared, {page.path for page in complete})
    shell = engine.run(root, engine_name, context, name, folder)
    progress("binding")
    bound = bind.bind(complete, shell)
    shown = dict(pages.pictures_on(bound, shared.shelf))
    known.album.prune()
    files, problems = finish.finish({**bound, **guides.files, **shown, **previews})
    if problems:
        raise CatalogueError(handwritten.locate(root, problems))
    return files


def publish(
    root: Path,
    order: Order,
    engine_name: str = "mkdocs",
    progress: Progress = quiet,
    draws: int = DRAWS,
    workers: Workers = 1,
) -> tuple[Published, tuple[Problem, ...]]:
    """Freeze what the workshop says today as an edition, or say why that cannot be; and what it warns of."""
    warned: list[Problem] = []
    with lock(root), trade.opened(root) as known:

        def judge() -> tuple[Assessment, ...]:
            records = assess_all(known, root, progress, draws, workers)
            refuse_unsafe(records, known)
            warned.extend(resting(known, records))
            return records

        def render(records: Sequence[Assessment], edition: Edition) -> dict[str, bytes]:
            return site_files(root, known, records, engine_name, progress, edition)

        done = publishing.publish(root, order, judge, render)
        progress("")
        shown_otherwise = engine.warnings(root)
    return done, (*sorted(warned), *shown_otherwise)


def make_anew(root: Path, edition: str, engine_name: str = "mkdocs", progress: Progress = quiet) -> Path:
    """Make the lost pages of an edition anew from its snapshot, marked as such."""
    with lock(root), trade.opened(root) as known:

        def render(records: Sequence[Assessment], facts: Edition) -> dict[str, bytes]:
            return site_files(root, known, records, engine_name, progress, facts, anew.folder_of(facts.edition))

        folder = anew.make(root, edition, render)
        progress("")
    return folder


def refresh(root: Path) -> None:
    """Bring what follows from the editions up to date, at the root of the site."""
    with lock(root):
        around.refresh(root)


def check(root: Path, progress: Progress = quiet) -> Checked:
    """Read and cross-check all data and lint every procedure, without building anything.

    Raises CatalogueError with all that is wrong; what can be judged beside a mistake is judged in the same run.
    """
    progress("reading the catalogue")
    read, found = trade.look(root)
    wrong = any(one.severity == "error" for one in found)
    known = trade.sound_part(read, found) if wrong else read
    if known is None:
        raise CatalogueError(found)
    with language.in_language(known.workshop.language, root):
        records, refused, left_out = _judged(known, root, progress, draws=0)
        warnings = one_per_cause([*found, *refused, *left_out, *_said_of(records, known), *engine.warnings(root)])
    progress("")
    if any(one.severity == "error" for one in warnings):
        raise CatalogueError(warnings)
    summary = f"{counted(known.machines, 'variant')}, {counted(known.kits, 'kit')}, {counted(records, 'pair')}"
    summary += f", {sizes.largest_self_check(records)}{language.lacking(known.workshop.language, root)}"
    each = (*sizes.self_check_sizes(records), sizes.identification_size(known))
    return Checked(summary, warnings, each)


def assess_one(root: Path, variant: str, kit: str, draws: int = DRAWS) -> Assessment:
    """The record of one pair of the workshop at `root`, kept between runs where nothing changed."""
    with trade.opened(root) as known:
        return assess_kept(known, root, variant, kit, draws)


def assess_pair(known: Catalogue, variant: str, kit: str, draws: int = DRAWS) -> Assessment:
    """The record of one pair of a catalogue."""
    return Assessor(known, EDITION, draws).assess(known.machine(variant), known.kit(kit))


def assess_kept(known: Catalogue, root: Path, variant: str, kit: str, draws: int = DRAWS) -> Assessment:
    """The same, its numbers kept between runs."""
    return Assessor(known, EDITION, draws, Kept(root)).assess(known.machine(variant), known.kit(kit))


def assess_all(
    known: Catalogue, root: Path, progress: Progress = quiet, draws: int = DRAWS, workers: Workers = 1
) -> tuple[Assessment, ...]:
    """Every variant with every kit, in the order of their ids; numbers are kept between runs where nothing changed.

    Raises CatalogueError with all that cannot be judged or computed, of every pair.
    """
    records, left_out = judge_all(known, root, progress, draws, workers)
    if left_out:
        raise CatalogueError(left_out)
    return records


def judge_all(
    known: Catalogue, root: Path, progress: Progress = quiet, draws: int = DRAWS, workers: Workers = 1
) -> tuple[tuple[Assessment, ...], tuple[Problem, ...]]:
    """The records of all pairs whose numbers can be computed, and what is wrong with the others.

    Raises CatalogueError where a pair cannot be judged, with all that is wrong with any.
    """
    records, refused, not_computed = _judged(known, root, progress, draws, workers)
    if refused:
        raise CatalogueError([*refused, *not_computed])
    return records, not_computed


def _judged(
    known: Catalogue, root: Path, progress: Progress, draws: int, workers: Workers = 1
) -> tuple[tuple[Assessment, ...], tuple[Problem, ...], tuple[Problem, ...]]:
    """The records of all pairs that have one, what cannot be judged of the others, and what cannot be computed."""
    make_ahead(known, root, EDITION, draws, workers, progress)
    kept = Kept(root)
    made = KeptRecords(root, Assessor(known, EDITION, draws, kept))
    left = PairsLeft(len(known.machines) * len(known.kits), kept)
    records: list[Assessment] = []
    problems: list[Problem] = []
    not_computed: list[Problem] = []
    for machine, kit in ((one, other) for one in known.machines.values() for other in known.kits.values()):
        progress(left.words(f"{machine.id} with {kit.id}"))
        try:
            records.append(made.record(machine, kit))
        except NotComputed as error:
            not_computed += error.problems
        except CatalogueError as error:
            problems += error.problems
    log.info("records of %d pairs: %d kept, %d made", len(records), made.found, made.made)
    log.info("numbers of %d pairs: %d kept, %d computed", made.made, kept.found, kept.computed)
    made.prune()
    kept.prune(besides=made.found)
    return tuple(records), tuple(problems), tuple(sorted(set(not_computed)))


def records_of_today(root: Path, progress: Progress = quiet, draws: int = DRAWS) -> list[dict[str, Any]]:
    """What the workshop says today, as plain data, to compare with an edition's snapshot."""
    progress("reading the catalogue")
    with trade.opened(root) as known:
        records = assess_all(known, root, progress, draws)
    progress("")
    return [one.model_dump(mode="json", by_alias=True) for one in records]


def refuse_unsafe(records: Sequence[Assessment], known: Catalogue) -> tuple[Problem, ...]:
    """Raise where a rule of the lint blocks; return its other findings."""
    found = one_per_cause(_said_of(records, known))
    if any(problem.severity == "error" for problem in found):
        raise CatalogueError(found)
    return found


def _said_of(records: Sequence[Assessment], known: Catalogue) -> Iterator[Problem]:
    """What the lint found, what withholds instructions, and which verdicts rest on what nobody measured."""
    yield from guiding.problems(*records)
    yield from resting(known, records)
