"""The photographs of a workshop: their files looked at, and what each shows held against the catalogue."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import replace
from functools import cached_property
from pathlib import Path
from types import MappingProxyType

from guidegen.problems import Code, Problem, nearest, one_of
from guidegen.reading import bytes_of
from guidegen.trade.catalogue import Catalogue
from guidegen.trade.contradiction import problem
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine
from guidegen.trade.named_things import members_of, names_of
from guidegen.workshop.acts import WrittenAct
from guidegen.workshop.base import Loc
from guidegen.workshop.memory import Memory
from guidegen.workshop.pictures.album import Album, Photograph, digest_of
from guidegen.workshop.pictures.photograph import MOST_BYTES, PictureFault, look
from guidegen.workshop.pictures.written import FOLDER, Pictures, PictureSubject
from guidegen.workshop.steps import Step
from guidegen.workshop.walk import everything

PAGES = "content/pages"


def album_of(root: Path, written: Pictures | None, memory: Memory, problems: list[Problem]) -> Album:
    """The photographs that are listed; what is wrong with a file goes to `problems`, at the line that lists it."""
    found: dict[str, Photograph] = {}
    refused: set[str] = set()
    for index, one in enumerate(written.pictures if written else ()):
        assert written is not None
        if one.file in found or one.file in refused:
            continue
        wrong, photograph = _looked_at(root, written, ("pictures", index, "file"), one.file, memory)
        problems += wrong
        if photograph is None:
            refused.add(one.file)
        else:
            found[one.file] = photograph
    return Album(root, MappingProxyType(found))


def _looked_at(
    root: Path, written: Pictures, loc: Loc, name: str, memory: Memory
) -> tuple[list[Problem], Photograph | None]:
    path = root / FOLDER / name
    if "\\" in name or name.startswith("/") or any(part in ("", ".", "..") for part in name.split("/")):
        words, fix = f'"{name[:60]}" is no path below {FOLDER}/', f"name a file in {FOLDER}/"
        return [problem(written, loc, Code.PATH_OUTSIDE, words, fix)], None
    if any(part.is_symlink() for part in (path, *path.parents) if part != root and part.is_relative_to(root)):
        words = f'"{name[:60]}" is a link, or lies behind one'
        return [problem(written, loc, Code.LINK_OUT, words, "copy the file here instead")], None
    if not path.exists():
        near = nearest(name, files_of(root))
        fix = f"write {near}" if near else f"put the file into {FOLDER}/, or correct the name"
        return [problem(written, loc, Code.FILE_MISSING, f'no file "{name[:60]}" in {FOLDER}/', fix)], None
    try:
        state = path.stat()
        seen = f"{path} {state.st_mtime_ns} {state.st_size} {state.st_ino}"
        photograph = memory.of("photograph", (seen,), lambda: _photograph(path, name))
    except PictureFault as fault:
        code = Code.PICTURE_TOO_LARGE if fault.large else Code.PICTURE_UNREADABLE
        return [problem(written, loc, code, f'"{name[:60]}": {fault.message}', fault.fix)], None
    except OSError as error:
        words = f'"{name[:60]}" cannot be opened: {error.strerror}'
        return [problem(written, loc, Code.UNREADABLE, words, "look at its permissions")], None
    if not photograph.has_place:
        return [], photograph
    words = f'"{name[:60]}" says where on earth it was taken; no page carries that'
    fix = "take the place out of the file before you give the workshop or its history to anybody"
    return [replace(problem(written, loc, Code.PICTURE_PLACE, words, fix), severity="warning")], photograph


def _photograph(path: Path, name: str) -> Photograph:
    if path.stat().st_size > MOST_BYTES:
        raise PictureFault(f"more than {MOST_BYTES / 1e6:g} MB", "export it smaller", large=True)
    data = bytes_of(path, MOST_BYTES)
    seen = look(data)
    return Photograph(name, path, digest_of(data), seen.width, seen.height, seen.has_place)


def files_of(root: Path) -> list[str]:
    """Every plain file below the folder of pictures, hidden ones aside, as content/pictures.yml names it."""
    folder = root / FOLDER
    if folder.is_symlink() or not folder.is_dir():
        return []
    paths = (path.relative_to(folder) for path in folder.rglob("*") if path.is_file() and not path.is_symlink())
    return sorted(path.as_posix() for path in paths if not any(part.startswith(".") for part in path.parts))


def check_pictures(known: Catalogue, procedures: Collection[str], root: Path) -> Iterator[Problem]:
    """What a picture shows is there, by its id; so is the variant that was in front of the camera.

    `procedures` are the files of instructions that there are, whether they could be read or not.
    """
    if known.pictures is None:
        return
    looking = _Looking(known, procedures, root)
    for index, one in enumerate(known.pictures.pictures):
        loc: Loc = ("pictures", index)
        yield from looking.shown((*loc, "shows"), one.shows)
        if one.taken_on is not None:
            yield from looking.variant((*loc, "taken_on"), one.taken_on)
        for number, callout in enumerate(one.callouts):
            if callout.of is not None:
                yield from looking.thing((*loc, "callouts", number, "of"), callout.of, looking.all_of(one.shows))


class _Looking:
    """What ids there are, each table made when it is first asked for."""

    def __init__(self, known: Catalogue, procedures: Collection[str], root: Path) -> None:
        assert known.pictures is not None
        self.known, self.root, self.written, self.procedures = known, root, known.pictures, procedures

    def shown(self, loc: Loc, shows: PictureSubject) -> Iterator[Problem]:
        """What is wrong with one `shows`; an id that is not there is reported once."""
        wrong = [*self._around(loc, shows)]
        yield from wrong
        if wrong:
            return
        if shows.mark is not None and shows.variant is not None:
            marks = [mark.id for mark in self.known.machines[shows.variant].marks]
            yield from self._one_of(loc, "mark", shows.mark, marks, f"{shows.variant} has no mark")
        if shows.part is not None:
            yield from self.thing((*loc, "part"), shows.part, self.all_of(shows))
        if shows.act is not None:
            yield from self._act(loc, shows, shows.act)
        if shows.page is not None:
            yield from self._one_of(loc, "page", shows.page, self.pages, f"{PAGES}/ has no page")

    def _around(self, loc: Loc, shows: PictureSubject) -> Iterator[Problem]:
        if shows.variant is not None:
            yield from self.variant((*loc, "variant"), shows.variant)
        if shows.kit is not None and shows.kit not in self.known.kits:
            near = nearest(shows.kit, self.known.kits)
            fix = f"write {near}" if near else f"use one of {one_of(self.known.kits)}"
            yield problem(self.written, (*loc, "kit"), Code.UNKNOWN_KIT, f'no kit "{shows.kit}"', fix)

    def variant(self, loc: Loc, name: str) -> Iterator[Problem]:
        """A variant of the workshop."""
        if name not in self.known.machines:
            near = nearest(name, self.known.machines)
            fix = f"write {near}" if near else f"use one of {one_of(self.known.machines)}"
            yield problem(self.written, loc, Code.UNKNOWN_FAMILY, f'no variant "{name}"', fix)

    def thing(self, loc: Loc, name: str, among: Iterable[Machine | Kit]) -> Iterator[Problem]:
        """A thing that one of these has."""
        names = {each for one in among for each in names_of(one)}
        if name not in names:
            near = nearest(name, names)
            fix = f"write {near}" if near else "use the id of a thing of an inventory or of a kit's list"
            words = f'nothing is called "{name[:60]}"'
            yield problem(self.written, loc, Code.UNKNOWN_THING, words, fix)

    def all_of(self, shows: PictureSubject) -> list[Machine | Kit]:
        """The machines and kits that a picture may be about; what is not there leaves all of its kind."""
        machines, kits = self.known.machines, self.known.kits
        machine, kit = machines.get(shows.variant or ""), kits.get(shows.kit or "")
        return [*([machine] if machine else machines.values()), *([kit] if kit else kits.values())]

    def _act(self, loc: Loc, shows: PictureSubject, act: str) -> Iterator[Problem]:
        acts, documents = self.acts(shows.kit), self.all_of(shows)
        if not self.all_acts_known:
            return
        if act not in acts:
            yield from self._one_of(loc, "act", act, acts, "no procedure has an act")
            return
        done = {each for one in acts[act] for each in (one, *members_of(documents, one))}
        for index, name in enumerate(shows.of):
            if {name, *members_of(documents, name)} & done:
                continue
            if any("{" in one for one in done):
                # An act that is repeated names what machines have by `{item.id}`.
                yield from self.thing((*loc, "of", index), name, documents)
                continue
            near = nearest(name, done)
            fix = f"write {near}" if near else f"use {one_of(done)}" if done else "delete of:"
            words = f'no step does {act} to "{name[:60]}"'
            yield problem(self.written, (*loc, "of", index), Code.PICTURE_SHOWS, words, fix)

    def acts(self, kit: str | None) -> Mapping[str, set[str]]:
        """The acts of procedures and shared blocks, of one kit's where it is named, and what each names."""
        known = self.known
        documents = [one for name, one in known.procedures.items() if kit in (None, name)]
        found: dict[str, set[str]] = {}
        for document in (*documents, *([known.shared] if known.shared else ())):
            for _, one in everything(document):
                if isinstance(one, WrittenAct):
                    found.setdefault(one.act, set()).update((*one.of, *one.at, *one.to))
        return found

    @cached_property
    def all_acts_known(self) -> bool:
        """Whether every procedure could be read, and none has steps in words; either is reported already."""
        documents = {**self.known.procedures, "shared": self.known.shared}
        if any(documents.get(name) is None for name in self.procedures):
            return False
        read = (document for document in documents.values() if document is not None)
        return not any(isinstance(one, Step) for document in read for _, one in everything(document))

    @cached_property
    def pages(self) -> list[str]:
        """The hand-written pages, without their ending."""
        folder = self.root / PAGES
        paths = folder.rglob("*.md") if folder.is_dir() and not folder.is_symlink() else ()
        return sorted(path.relative_to(folder).with_suffix("").as_posix() for path in paths)

    def _one_of(self, loc: Loc, key: str, name: str, names: Collection[str], words: str) -> Iterator[Problem]:
        if name not in names:
            near = nearest(name, names)
            fix = f"write {near}" if near else f"use one of {one_of(names)}" if names else "delete the line"
            yield problem(self.written, (*loc, key), Code.PICTURE_SHOWS, f'{words} "{name[:60]}"', fix)
