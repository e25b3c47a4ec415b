"""Beginnings: a new workshop, a new variant, a new kit.

Each writes files that pass `check` as they are and says what to do next. Nothing that exists is ever written over.
"""

from __future__ import annotations

import json
import re
import shutil
import unicodedata
import zipfile
from collections.abc import Callable, Iterable, Iterator, Mapping
from pathlib import Path

from guidegen import trade
from guidegen.problems import CatalogueError, Code, Problem, RefusedProblem, UsageProblem
from guidegen.trade import Catalogue
from guidegen.trade.kit import Kit
from guidegen.trade.new_variant import ASKED, VariantDraft, draft
from guidegen.trade.paths import known_facts
from guidegen.workshop.base import ID
from guidegen.workshop.explain import validated
from guidegen.workshop.reader import read
from guidegen.writing import clear_unfinished, digest_of_name, lock, write_atomically

STARTER = Path(__file__).parents[1] / "starter"
EXAMPLE = Path(__file__).parents[1] / "example.zip"
"""The demonstration as `tests/starter_copies.py` packs it, so that a wheel has it without a second copy to keep."""
SKELETON = "content/kits/first-kit.yml"
"""The starter's kit; a new kit begins as the same text under its own name."""

RENAMED = {"gitattributes": ".gitattributes", "gitignore": ".gitignore"}
"""Files that could not lie in the package under their own name without taking effect there."""

BEGUN = ".guidegen-new"
"""Where a new workshop is laid down before it has its name."""
LISTED = 12
"""So many measurements are listed when no kit asks for them; the rest is counted."""

Ask = Callable[[str], str]
Report = Callable[[str], None]


def new_workshop(folder: Path, example: bool = False) -> str:
    """Lay down a workshop in a folder that does not exist yet or is empty; it is there whole or not at all.

    The starter, or the whole demonstration as an `example`: its machines, kits, instructions, logs and pictures.
    """
    if folder.is_symlink() or (folder.exists() and not folder.is_dir()):
        raise UsageProblem(f"{folder.as_posix()} is there and is no folder; choose another name")
    target = folder.absolute()
    there = target.is_dir()
    # By its name the next run knows what a killed one left.
    made = target / BEGUN if there else target.with_name(f"{BEGUN}-{digest_of_name(target)}")
    if there and any(path != made for path in target.iterdir()):
        raise UsageProblem(f"{folder.as_posix()} is not empty; choose a new folder, nothing is ever written over")
    if made.is_dir() and not made.is_symlink():
        shutil.rmtree(made)
    made.mkdir(mode=0o700, parents=True)
    try:
        for place, data in _example() if example else _starter():
            write_atomically(made / place.with_name(RENAMED.get(place.name, place.name)), data)
        made.chmod(0o755)
        if there:
            _move_into(target, made)
        else:
            made.rename(target)
    except BaseException:
        shutil.rmtree(made, ignore_errors=True)
        raise
    shown, what = folder.as_posix(), "the demonstration, all of it invented," if example else "a workshop"
    quoted = f'"{shown}"' if re.search(r"[^\w./-]", shown) else shown
    go = "" if target.samefile(Path.cwd()) else f"cd {quoted}, "
    more = "" if example else "; its README.md says more"
    return f"made {what} in {shown}\nnext: {go}guidegen check, guidegen build{more}"


def _starter() -> Iterator[tuple[Path, bytes]]:
    for source in sorted(STARTER.rglob("*")):
        if source.is_file() and source.suffix != ".pyc":
            yield source.relative_to(STARTER), source.read_bytes()


def _example() -> Iterator[tuple[Path, bytes]]:
    """The demonstration without its editions: an edition is what somebody published, and nobody publishes this copy."""
    yield from ((Path(name), (STARTER / name).read_bytes()) for name in RENAMED)
    with zipfile.ZipFile(EXAMPLE) as packed:
        yield from ((Path(name), packed.read(name)) for name in packed.namelist())


def _move_into(target: Path, made: Path) -> None:
    """Everything in `made`, or nothing. The folder itself stays, because a terminal may stand in it."""
    moved: list[Path] = []
    try:
        for source in sorted(made.iterdir()):
            moved.append(target / source.name)
            source.rename(moved[-1])
        made.rmdir()
    except BaseException:
        for path in moved:
            shutil.rmtree(path) if path.is_dir() else path.unlink(missing_ok=True)
        raise


# --- a variant ---------------------------------------------------------------------------------------


def new_variant(root: Path, stem: str | None, family: str, given: Mapping[str, str]) -> str:
    """Write the file of a new variant, and its family's where there is none yet; say what to measure next."""
    known = trade.load(root)
    stem = stem or stem_from(given.get("name", ""), family)
    made = draft(known, family, stem, given)
    if "based_on" in given:
        trade.load(root, edited={path: text.encode() for path, text in made.files.items()})
    _write_new(root, made.files)
    kits = {kit.id: kit.name for kit in known.kits.values()}
    return "\n".join((*(f"wrote {path}" for path in sorted(made.files)), *_next(made, kits, f"{family}-{stem}")))


def stem_from(name: str, family: str) -> str:
    """The name of a variant's file, from the variant's name without that of its family.

    >>> stem_from("Tamsin Mark 4 é", "tamsin")
    'mark-4-e'
    """
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    stem = "-".join(re.findall(r"[a-z0-9]+", plain))
    return stem.removeprefix(f"{family}-")


def asked_variant(
    root: Path, family: str | None, given: Mapping[str, str], ask: Ask, report: Report
) -> tuple[str, dict[str, str]]:
    """Ask for what must be given and was not, then for whatever else is known; each answer is checked immediately.

    `ask` shows a question and returns the answer, `report` shows a sentence. An empty line ends the list of facts.
    """
    known = trade.load(root)
    answers = dict(given)
    while not family:
        there = ", ".join(sorted(known.families)) or "none yet"
        found = ask(f"Id of the family ({there}): ").strip()
        if ID.fullmatch(found):
            family = found
        else:
            report("an id is at most 40 small letters, digits and hyphens")
    for name, question in ASKED.items():
        while not answers.get(name, "").strip():
            answers |= _tried(known, name, ask(f"{question}: "), report)
    report("Whatever else is known, a fact per line, as boiler.mass: 520 g ± 10 g. An empty line ends.")
    while line := ask("> ").strip():
        name, colon, value = line.partition(":")
        if colon and value.strip():
            answers |= _tried(known, name.strip(), value, report)
        else:
            report("write it as name: value")
    return family, answers


_STAND_IN = {"name": "x", "years.from": "2000", "mains.voltage": "230 V~", "control.kind": "pid"}


def _tried(known: Catalogue, name: str, value: str, report: Report) -> dict[str, str]:
    """The answer, if a variant with it could be written; else nothing, and what is wrong with it is reported."""
    kinds = {"control.opens", "control.closes", "control.lag"}
    stand_in = {**_STAND_IN, "control.kind": "thermostat" if name in kinds else "pid"}
    try:
        draft(known, "a-family", "a-variant", {**stand_in, name: value.strip()})
    except CatalogueError as error:
        for problem in error.problems:
            report(f"{problem.message}; {problem.fix}" if problem.fix else problem.message)
        return {}
    return {name: value.strip()}


def _next(made: VariantDraft, kits: Mapping[str, str], variant: str) -> Iterable[str]:
    """The measurements that decide whether a kit fits, then some of the others."""
    deciding = [one for one in made.next if one.needed_by]
    others = [one for one in made.next if not one.needed_by]
    if deciding:
        yield "what decides whether a kit fits, to find out first:"
        for one in deciding:
            yield f"  {one.name}: {one.how} ({', '.join(kits[kit] for kit in one.needed_by)})"
    if others:
        yield "then:" if deciding else "what to find out next:"
        yield from (f"  {one.name}: {one.how}" for one in others[:LISTED])
    if len(others) > LISTED:
        yield f"  and {len(others) - LISTED} more; the file itself says how to find out each"
    yield f"`guidegen show {variant}` lists everything"


# --- a kit -------------------------------------------------------------------------------------------


def new_kit(root: Path, kit: str, name: str | None = None) -> str:
    """Write the skeleton of a kit, a draft that passes `check`."""
    known = trade.load(root)
    if not ID.fullmatch(kit):
        words, fix = f'"{kit[:60]}" is no id', "at most 40 small letters, digits and hyphens"
        raise CatalogueError([_problem(Code.BAD_ID, words, fix)])
    if kit in known.kits:
        raise CatalogueError([_problem(Code.DUPLICATE_ID, f"there is a kit {kit} already", "give it another name")])
    path = f"content/kits/{kit}.yml"
    title = " ".join((name or kit.replace("-", " ").title()).split())
    text = (STARTER / SKELETON).read_text(encoding="utf-8")
    lines = "name: " + json.dumps(title, ensure_ascii=False) + ("\ninvented: true" if known.workshop.invented else "")
    text = text.replace("name: First Kit", lines, 1)
    problems: list[Problem] = []
    validated(Kit, read(text.encode(), path), problems, {"facts": known_facts()})
    if problems:
        raise CatalogueError(problems)
    _write_new(root, {path: text})
    return (
        f"wrote {path}\n"
        f"next: replace what stands in it, its effects first\n"
        f"then `guidegen new procedure {kit}` lays down how it is fitted\n"
        f"until then its guides have no install page"
    )


def _write_new(root: Path, files: Mapping[str, str]) -> None:
    taken = [path for path in files if (root / path).exists()]
    if taken:
        raise RefusedProblem(f"{taken[0]} is there already; nothing is ever written over")
    with lock(root):
        clear_unfinished((root / path).parent for path in files)
        for path, text in files.items():
            write_atomically(root / path, text.encode())


def _problem(code: Code, message: str, fix: str) -> Problem:
    return Problem("what was given", 1, 1, code, message, fix)
