"""A variant joined with its family: mappings merge, lists merge by `id`, an explicit `null` removes.

Nodes keep the place where they were written, so after joining each leaf still knows its file. Two kinds of
mapping start afresh instead of merging: a value with its evidence (`is: ...`), because the evidence of the old
value does not hold for the new one, and a mapping whose `kind` changes, because its fields mean something else.
One item of a list is removed by `- drain-boss: null`.
"""

from __future__ import annotations

from guidegen.problems import Code, Problem, nearest
from guidegen.workshop.base import Place
from guidegen.workshop.nodes import Mapping, Node, Scalar, Sequence

#: What a variant never takes from its family or from the variant it is based on.
OWN = ("name", "status", "based_on", "evidence", "source")


def joined(over: Mapping, base: Mapping, problems: list[Problem]) -> Mapping:
    """Return `over` laid over `base`; the two inputs stay as they are."""
    entries = dict(base.entries)
    keys = dict(base.keys)
    for key, node in over.entries.items():
        place = over.keys[key]
        if isinstance(node, Scalar) and node.is_null:
            if key in entries:
                del entries[key], keys[key]
            else:
                near = nearest(key, entries)
                fix = f"write {near}: null" if near else "delete the line"
                problems.append(_problem(Code.NOTHING_TO_REMOVE, place, f"nothing is inherited as {key}", fix))
            continue
        entries[key] = _one(node, base.entries.get(key), problems)
        keys[key] = place
    return Mapping(entries, keys, over.place)


def _one(node: Node, inherited: Node | None, problems: list[Problem]) -> Node:
    if inherited is None or isinstance(node, Scalar):
        if isinstance(node, Scalar) and isinstance(inherited, Sequence | Mapping) and not _is_fact(inherited):
            shape = "list" if isinstance(inherited, Sequence) else "mapping"
            words = f"the family has a {shape} here (line {inherited.place.line} of {inherited.place.path})"
            problems.append(_problem(Code.SHAPE_CHANGE, node.place, words, f"write a {shape}, or null to remove it"))
            return inherited
        return without_nulls(node, problems)
    if isinstance(node, Mapping):
        if _is_fact(node) or _is_fact(inherited) or isinstance(inherited, Scalar):
            return without_nulls(node, problems)
        if isinstance(inherited, Mapping):
            kind, was = node.text("kind"), inherited.text("kind")
            if kind is not None and was is not None and kind != was:
                return without_nulls(node, problems)
            return joined(node, inherited, problems)
    elif isinstance(inherited, Sequence):
        return _lists(node, inherited, problems)
    words = f"a list and a mapping do not merge (line {inherited.place.line} of {inherited.place.path})"
    problems.append(_problem(Code.SHAPE_CHANGE, node.place, words, "write it in the shape of the family"))
    return inherited


def without_nulls(node: Node, problems: list[Problem]) -> Node:
    """Return a node that inherits nothing; a `null` in it has nothing to remove."""
    if isinstance(node, Mapping):
        return joined(node, Mapping({}, {}, node.place), problems)
    if isinstance(node, Sequence):
        return Sequence([without_nulls(item, problems) for item in node.items], node.place)
    if node.is_null:
        problems.append(_problem(Code.NOTHING_TO_REMOVE, node.place, "null has nothing to remove here", "delete it"))
    return node


def _is_fact(node: Node) -> bool:
    return isinstance(node, Mapping) and ("is" in node.entries or "some_units" in node.entries)


def _lists(over: Sequence, base: Sequence, problems: list[Problem]) -> Node:
    """Return the list joined by id; lists without ids, as of words, are replaced whole."""
    if not any(isinstance(item, Mapping) for item in (*over.items, *base.items)):
        return without_nulls(over, problems)
    order: dict[str, Node] = {}
    for item in base.items:
        name = item.text("id") if isinstance(item, Mapping) else None
        if name is not None:
            order[name] = item
    for item in over.items:
        removed = _removed(item)
        if removed:
            name, place = removed
            if name in order:
                del order[name]
            else:
                near = nearest(name, order)
                fix = f"write {near}: null" if near else "delete the line"
                problems.append(_problem(Code.NOTHING_TO_REMOVE, place, f"no inherited item has the id {name}", fix))
            continue
        name = item.text("id") if isinstance(item, Mapping) else None
        if name is None or not isinstance(item, Mapping):
            words = "an item without an id cannot be matched with the inherited list"
            problems.append(_problem(Code.LIST_WITHOUT_ID, item.place, words, "add id:"))
            continue
        inherited = order.get(name)
        if isinstance(inherited, Mapping) and inherited.place.path != item.place.path:
            order[name] = joined(item, inherited, problems)
        elif inherited is not None:
            words = f'the id "{name}" stands here and in line {inherited.place.line}'
            problems.append(_problem(Code.DUPLICATE_ID, item.place, words, "give it another id"))
        else:
            order[name] = without_nulls(item, problems)
    return Sequence(list(order.values()), over.place)


def _removed(item: Node) -> tuple[str, Place] | None:
    """Return the id that an item such as `drain-boss: null` removes."""
    if isinstance(item, Mapping) and len(item.entries) == 1:
        (name, value), (place,) = next(iter(item.entries.items())), item.keys.values()
        if isinstance(value, Scalar) and value.is_null:
            return name, place
    return None


def _problem(code: Code, place: Place, message: str, fix: str) -> Problem:
    return Problem(place.path, place.line, place.column, code, message, fix)
