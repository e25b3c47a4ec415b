"""`guidegen read`: the texts that nobody has confirmed, and confirming exactly their words."""

from __future__ import annotations

import argparse
import datetime
import sys
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from guidegen.commands.actions import workshop_at
from guidegen.commands.given import day_of
from guidegen.commands.terminal import out, say
from guidegen.problems import UsageProblem

if TYPE_CHECKING:
    from guidegen.trade import Catalogue
    from guidegen.workshop.texts import ReadText

OK = 0
PATH = "content/read.yml"
HEAD = (
    "# Texts that somebody has read and confirmed, by the hash of their words. Written by `guidegen read --confirm`.\n"
)
YES, LEAVE = ("y", "yes"), ("q", "quit")
Add = Callable[[Any, str, Any, str], argparse.ArgumentParser]


@dataclass(frozen=True)
class TextToRead:
    """Words that somebody reads once, and every place where they stand."""

    hash: str
    words: str
    places: tuple[str, ...]

    def shown(self) -> str:
        """As the terminal prints it: its places, then the words."""
        return "\n".join((*self.places, f"  {self.words}"))


def add(group: Any, command: Add) -> None:
    """Add the command to the parser."""
    one = command(group, "read", run, "print the texts of procedures and hazards that nobody has confirmed")
    one.add_argument("--confirm", action="store_true", help="ask for each text whether you confirm exactly its words")
    one.add_argument("--role", metavar="ROLE", help="with --confirm: in what role you read, as maker")
    one.add_argument("--date", metavar="DAY", help="with --confirm: the day, as 2026-11-28 (default: today)")
    one.add_argument("--all", action="store_true", help="with --confirm: print all texts and confirm them unasked")


def run(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen read [--confirm --role ROLE [--date DAY] [--all]]`."""
    day = _checked(arguments)
    workshop_at(root)
    from guidegen import trade

    known = trade.load(root)
    before = {one.text: one for one in known.read.read} if known.read else {}
    texts = texts_to_read(known)
    unread = [one for one in texts if one.hash not in before]
    if not arguments.confirm:
        for one in unread:
            out(one.shown())
        say(
            arguments, f"{len(unread)} of {len(texts)} texts are not confirmed" if unread else "every text is confirmed"
        )
        return OK
    confirmed = {one.hash for one in (_shown(unread) if arguments.all else _asked(unread))}
    lines = _entries(texts, before, confirmed, arguments.role.strip(), day)
    if _written(root, lines):
        gone = len(before.keys() - {one.hash for one in texts})
        dropped = f", {gone} that no longer exist dropped" if gone else ""
        say(arguments, f"wrote {PATH}: {len(confirmed)} texts confirmed{dropped}")
    left = len(unread) - len(confirmed)
    say(arguments, f"{left} texts are not confirmed" if left else "every text is confirmed")
    return OK


def texts_to_read(known: Catalogue) -> list[TextToRead]:
    """Every text of the workshop once, in the order of files and lines."""
    places: dict[str, tuple[str, list[str]]] = {}
    documents = (known.shared, *known.procedures.values(), known.hazards, known.acts)
    for document in (one for one in documents if one is not None):
        for one in document.to_read:
            places.setdefault(one.hash, (one.words, []))[1].append(str(document.places[one.loc]))
    return [TextToRead(found, words, tuple(many)) for found, (words, many) in places.items()]


def _checked(arguments: argparse.Namespace) -> str:
    """The day of reading; refuses options that do not go together."""
    if not arguments.confirm:
        if arguments.role or arguments.date or arguments.all:
            raise UsageProblem("--role, --date and --all go with --confirm")
        return ""
    if not (arguments.role or "").strip():
        raise UsageProblem("--confirm wants --role: in what role you read, as maker")
    try:
        return (day_of(arguments.date) if arguments.date else datetime.date.today()).isoformat()
    except argparse.ArgumentTypeError as error:
        raise UsageProblem(f"--date: {error}") from None


def _shown(unread: Iterable[TextToRead]) -> list[TextToRead]:
    shown = list(unread)
    for one in shown:
        out(one.shown())
    return shown


def _asked(unread: Iterable[TextToRead]) -> list[TextToRead]:
    waiting = list(unread)
    if waiting and not sys.stdin.isatty():
        raise UsageProblem("nothing was confirmed; --all prints the texts and confirms them unasked")
    confirmed = []
    for one in waiting:
        out(one.shown())
        try:
            answer = input("confirm exactly these words? [y/N/q] ").strip().lower()
        except EOFError:
            break
        if answer in LEAVE:
            break
        if answer in YES:
            confirmed.append(one)
    return confirmed


def _entries(
    texts: Iterable[TextToRead], before: Mapping[str, ReadText], confirmed: set[str], role: str, day: str
) -> list[str]:
    """The lines of the file: what was confirmed before keeps its role and day, what is gone is left out."""
    from guidegen.workshop.write_yaml import flow

    lines = []
    for one in texts:
        old = before.get(one.hash)
        if old is not None:
            lines.append(flow({"text": one.hash, "role": str(old.role), "date": old.date.isoformat()}))
        elif one.hash in confirmed:
            lines.append(flow({"text": one.hash, "role": role, "date": day}))
    return lines


def _written(root: Path, lines: list[str]) -> bool:
    """Write the file whole; the comment at its start stays. Whether anything changed."""
    from guidegen.workshop.editor import EditedFile
    from guidegen.workshop.plan import Plan
    from guidegen.workshop.reader import bytes_of
    from guidegen.writing import clear_unfinished, lock, write_atomically

    target = root / PATH
    old = bytes_of(target, PATH) if target.exists() else None
    head = HEAD if old is None else _head(old.decode("utf-8-sig"))
    body = "".join(f"  - {line}\n" for line in lines)
    new = (head + ("read:\n" + body if body else "read: []\n")).encode()
    if new == old:
        return False
    if old is None:
        with lock(root):
            clear_unfinished([target.parent])
            write_atomically(target, new)
    else:
        Plan((EditedFile(PATH, old, new),)).apply(root)
    return True


def _head(text: str) -> str:
    lines = text.splitlines(keepends=True)
    return "".join(lines[: next((number for number, line in enumerate(lines) if not line.startswith("#")), 0)])
