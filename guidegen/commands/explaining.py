"""`guidegen explain NAME`: what a field of the YAML is, how it is measured, an example, and what depends on it."""

from __future__ import annotations

import argparse
import textwrap
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

from guidegen.commands.terminal import out
from guidegen.problems import UsageProblem, nearest

if TYPE_CHECKING:
    from guidegen.record.fields import FieldPart, FieldSection
    from guidegen.trade import Catalogue

OK = 0
WIDTH, LABEL = 100, 15
LISTED = 12
"""So many machines are listed with what they state."""
SHOWN_NAMES = 3
"""So many names that end in what was asked are offered in its place."""
Add = Callable[[Any, str, Any, str], argparse.ArgumentParser]


def add(group: Any, command: Add) -> None:
    """Add the command to the parser."""
    one = command(group, "explain", run, "say what a field of the YAML is, how to measure it, and what depends on it")
    text = "as boiler.clearance or kit.effects; a name with fields below it lists them; without NAME the kinds of files"
    one.add_argument("name", metavar="NAME", nargs="?", help=text)


def run(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen explain [NAME]`, in a workshop with what depends on it there."""
    from guidegen.assess.fields import fields

    known = _workshop(root)
    sections = fields(known)
    out("\n".join(_explained(sections, known, (arguments.name or "").strip().removeprefix("machine."))))
    return OK


def _workshop(root: Path) -> Catalogue | None:
    """The workshop as far as it can be read; in another folder there is none."""
    if not (root / "content").is_dir():
        return None
    from guidegen import trade

    return trade.look(root)[0]


def _explained(sections: tuple[FieldSection, ...], known: Catalogue | None, name: str) -> Iterator[str]:
    if not name or name in {"machine"}:
        yield from _kinds(sections) if not name else _below(sections[0], "")
        return
    places = {one.name: (section, one) for section in sections for one in section.fields}
    if name in places:
        yield from _one(*places[name], known)
    below = [one for one in places if one.startswith(f"{name}.")]
    if below:
        section = places[below[0]][0]
        yield from ("", "below it:") if name in places else (f"{name} ({section.where}): {section.about}", "")
        yield from _below(section, f"{name}.")
    elif name not in places:
        near = nearest(name, places)
        ending = [one for one in places if one.endswith(f".{name}")][:SHOWN_NAMES]
        other = f"; did you mean {near or ' or '.join(ending)}?" if near or ending else ""
        raise UsageProblem(f'no field is called "{name[:60]}"{other}')


def _kinds(sections: tuple[FieldSection, ...]) -> Iterator[str]:
    yield "The kinds of files. `guidegen explain KIND` lists the fields of one; a field is called as boiler.clearance."
    yield ""
    for section in sections:
        yield from _labelled(section.kind, f"{section.about} ({section.where})")


def _below(section: FieldSection, prefix: str) -> Iterator[str]:
    """The fields right below a name, each in a sentence; what is deeper is counted."""
    for one in section.fields:
        rest = one.name.removeprefix(prefix)
        if one.name.startswith(prefix) and "." not in rest:
            deeper = sum(other.name.startswith(f"{one.name}.") for other in section.fields)
            yield from _labelled(one.name, one.says + (f" ({deeper} below)" if deeper else ""), 34)
    tags = dict.fromkeys(
        one.name.removeprefix(prefix).split(".")[0] for one in section.fields if one.name.startswith(prefix)
    )
    plain = {one.name for one in section.fields}
    for tag in tags:
        if f"{prefix}{tag}" not in plain:
            yield from _labelled(f"{prefix}{tag}", f"`guidegen explain {prefix}{tag}` lists its fields", 34)


def _one(section: FieldSection, one: FieldPart, known: Catalogue | None) -> Iterator[str]:
    from guidegen.site.drawings.measuring import WAYS
    from guidegen.site.pages.place import FIELDS

    yield f"{one.name} ({section.where})"
    yield from textwrap.wrap(one.says, WIDTH)
    yield ""
    if one.title:
        yield from _labelled("on pages", one.title)
    fact = one.title is not None
    yield from _labelled("written", one.written + ("; or unknown, or some units" if fact else ""))
    yield from _labelled("example", one.example)
    if one.plausible:
        yield from _labelled("plausible", " to ".join(one.plausible))
    if one.settles:
        yield from _labelled("found out by", one.settles)
    if one.name in WAYS:
        yield from _labelled("measured so", f"{WAYS[one.name][1]} It is drawn on {FIELDS}#{one.name} of your site.")
    if one.vital:
        words = "a matter of life and limb: measured, or the maker's document, and nothing else settles it"
        yield from _labelled("", words)
    for index, line in enumerate(one.needed_by):
        yield from _labelled("what depends" if index == 0 else "", f"- {line}")
    yield from _stated(one.name, known)


def _stated(name: str, known: Catalogue | None) -> Iterator[str]:
    """What the workshop's machines say of it, and where."""
    if known is None:
        return
    rows = []
    for machine in known.machines.values():
        fact = machine.fact(name)
        place = getattr(fact, "place", None)
        if fact is not None and place is not None:
            evidence = f", {fact.evidence}" if fact.known else ""
            rows.append(f"{machine.id}: {fact.text}{evidence} ({place.path}:{place.line})")
    for index, row in enumerate(rows[:LISTED]):
        yield from _labelled("your machines" if index == 0 else "", row)
    if len(rows) > LISTED:
        yield from _labelled("", f"and {len(rows) - LISTED} more")


def _labelled(label: str, text: str, width: int = LABEL) -> Iterator[str]:
    lead = f"{label:<{width}} "
    indent = " " * (width + 1)
    yield from textwrap.wrap(text, WIDTH, initial_indent=lead, subsequent_indent=indent, break_on_hyphens=False)
