"""A file of procedures whose steps in words become acts, entry by entry; whatever is no single act stays as it is."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from guidegen.judge.acts.convert.around import AroundInWords
from guidegen.judge.acts.convert.matching import Match, NoAct, Written, match
from guidegen.judge.acts.convert.vocabulary import Vocabulary
from guidegen.judge.acts.row import rows
from guidegen.judge.acts.things import Things
from guidegen.problems import CatalogueError, Problem
from guidegen.workshop.base import Document, Loc, Place
from guidegen.workshop.editor import EditedFile
from guidegen.workshop.explain import validated
from guidegen.workshop.nodes import Mapping as MappingNode
from guidegen.workshop.nodes import Node, Scalar
from guidegen.workshop.nodes import Sequence as SequenceNode
from guidegen.workshop.reader import read
from guidegen.workshop.steps import Step

ITEM_KINDS = {"safety_devices": "device", "boiler.bolts": "bolt", "boiler.protrusions": "protrusion"}
"""What a step is repeated over, by the list that it names."""
DERIVED: tuple[Loc, ...] = (("brings",), ("restore", "out_at_start"))
"""What procedures of the old form declared, and the inventories and acts say now."""


class LoneStep(Step, Document):
    """A step that is read by itself, wherever it stands."""


@dataclass(frozen=True)
class AuthorNote:
    """One line for the author: where, which step, and what."""

    place: Place
    step: str
    words: str

    def __str__(self) -> str:
        """Return `path:line:column: step: words`."""
        return f"{self.place}: {self.step}: {self.words}"


@dataclass(frozen=True)
class ConvertedFile:
    """A file with its acts, how many steps in words became one, what is to be decided, and what is said no more."""

    file: EditedFile
    done: int
    undecided: tuple[AuthorNote, ...]
    unsaid: tuple[AuthorNote, ...]


@dataclass(frozen=True)
class _Found:
    """A step in words: where, its line, its model, what it is repeated over."""

    loc: Loc
    place: Place
    step: Step
    item_kind: str | None


def converted(file: EditedFile, pairs: Sequence[Things]) -> ConvertedFile:
    """Every step of a file that is one act, written as that act.

    `pairs` are the things of each machine with each kit that the file is for. Raises `CatalogueError` where a step
    cannot be read.
    """
    root = read(file.after, file.path)
    dead = "proved_dead" if root.text("mains_work") == "true" else "off"
    by_kind = {kind: Vocabulary(pairs, kind) for kind in (None, *ITEM_KINDS.values())}
    matched = [(one, match(one.step, by_kind[one.item_kind], dead)) for one in _steps_in_words(root)]
    undecided = [_open(one, made.reason) for one, made in matched if isinstance(made, NoAct)]
    unsaid = [
        AuthorNote(one.place, one.step.id, f"{field}: {text}")
        for one, made in matched if isinstance(made, Match) for field, text in made.unsaid
    ]  # fmt: skip
    done, around = 0, AroundInWords(file.data, by_kind[None]).rewritings()
    for together in reversed(list(_together(matched))):
        (one, made), also = together[0], len(together) - 1
        act = _unconditional(made.act) if also else made.act
        try:
            file = file.rewrite(one.loc, _value(act), also)
            done += len(together)
        except CatalogueError as error:
            undecided.append(_open(one, error.problems[0].message))
    for other in around:
        if other.reason:
            undecided.append(AuthorNote(other.place, other.name, other.reason))
            continue
        file = file.remove(other.loc) if other.value is None else file.set(other.loc, _value(other.value))
        unsaid += [AuthorNote(other.place, other.name, f"{key}: {text}") for key, text in other.unsaid]
        done += 1
    words = "the acts and the inventories say it now"
    unsaid += [AuthorNote(_place(root, loc), ".".join(map(str, loc)), words) for loc in DERIVED if file.has(loc)]
    file = without_derived(file)
    return ConvertedFile(file, done, tuple(sorted(undecided, key=_line)), tuple(sorted(unsaid, key=_line)))


def readable(file: EditedFile) -> EditedFile:
    """A file without what keeps the program from reading it: what it derives now, and words around the steps."""
    file = without_derived(file)
    for one in AroundInWords(file.data, Vocabulary(())).rewritings():
        if file.has(one.loc):
            end = {"stop": "stays-off"} if one.loc[-1] == "then" else None
            top = one.loc if end or one.loc[0] == "stop_use" else one.loc[:-1]
            file = file.set(top, end) if end else file.remove(top) if file.has(top) else file
    return file


def without_derived(file: EditedFile) -> EditedFile:
    """A file without what procedures of the old form declared and the program derives now."""
    for loc in DERIVED:
        if file.has(loc):
            file = file.remove(loc)
    return file


def _open(one: _Found, reason: str) -> AuthorNote:
    return AuthorNote(one.place, one.step.id, f'"{one.step.do}" {reason}')


def _line(note: AuthorNote) -> Place:
    return note.place


def _steps_in_words(root: MappingNode) -> list[_Found]:
    found: list[_Found] = []
    problems: list[Problem] = []
    for loc, node, kind in _entries(root, (), None):
        if "do" not in node.entries or "act" in node.entries:
            continue
        step = validated(LoneStep, node, problems)
        if step is not None:
            found.append(_Found(loc, node.keys["do"], step, kind))
    if problems:
        raise CatalogueError(problems)
    return found


def _entries(node: Node, loc: Loc, kind: str | None) -> Iterator[tuple[Loc, MappingNode, str | None]]:
    """Every entry of every list of steps, in the order of the file."""
    if isinstance(node, SequenceNode):
        for index, item in enumerate(node.items):
            yield from _entries(item, (*loc, index), kind)
    elif isinstance(node, MappingNode):
        kind = ITEM_KINDS.get(node.text("each") or "", kind)
        for name, inner in node.entries.items():
            if name == "steps" and isinstance(inner, SequenceNode):
                for index, item in enumerate(inner.items):
                    if isinstance(item, MappingNode):
                        yield (*loc, name, index), item, kind
            if not isinstance(inner, Scalar):
                yield from _entries(inner, (*loc, name), kind)


def _together(matched: Sequence[tuple[_Found, Match | NoAct]]) -> Iterator[list[tuple[_Found, Match]]]:
    """Converted steps, those together that are the ways of one act: neighbours, one for each machine's way."""
    pairs = [(one, made) for one, made in matched if isinstance(made, Match)]
    while pairs:
        count = pairs[0][1].ways
        together = pairs[:count] if _is_one_act(pairs[:count]) else pairs[:1]
        yield together
        pairs = pairs[len(together) :]


def _is_one_act(pairs: Sequence[tuple[_Found, Match]]) -> bool:
    """Return whether neighbours are the ways of one act, each under just the condition of its way."""
    first, act = pairs[0][0].loc, _unconditional(pairs[0][1].act)
    ways = rows()[act["act"]].ways
    return sorted(made.way for _, made in pairs) == list(range(len(ways))) and all(
        one.loc == (*first[:-1], first[-1] + number)  # type: ignore[operator]
        and _unconditional(made.act) == act
        and one.step.when == ways[made.way].when
        for number, (one, made) in enumerate(pairs)
    )


def _unconditional(act: Written) -> Written:
    return {name: value for name, value in act.items() if name != "when"}


def _value(value: Any) -> Any:
    """What the editor writes: texts, lists and mappings."""
    if isinstance(value, Mapping):
        return {name: _value(one) for name, one in value.items()}
    if isinstance(value, tuple | list):
        return [_value(one) for one in value]
    if isinstance(value, bool):
        return "true" if value else "false"
    return f"{value:g}" if isinstance(value, float | int) else str(value)


def _place(root: MappingNode, loc: Loc) -> Place:
    node: Any = root
    for part in loc[:-1]:
        node = node.entries[part]
    place: Place = node.keys[loc[-1]]
    return place
