"""Random edits of random documents: nothing outside an edit changes, and another reader finds what was intended."""

from __future__ import annotations

from typing import Any

import pytest
import yaml
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from guidegen.problems import CatalogueError, Code
from guidegen.workshop.editor import EditedFile
from tests.unit.workshop.documents import KEYS, TEXTS, documents, nests, values
from tests.whole import examples

pytestmark = pytest.mark.slow

MANY = settings(max_examples=examples(150, 5), deadline=None, suppress_health_check=[HealthCheck.filter_too_much])
Loc = tuple[str | int, ...]


def read(data: bytes) -> Any:
    """What PyYAML's loader in pure Python makes of the bytes, every scalar as text, None for a plain `null`."""
    return constructed(composed(data))


def composed(data: bytes) -> yaml.Node:
    """The nodes, each with its marks; another scanner than the editor's."""
    return yaml.compose(seen(data), Loader=yaml.BaseLoader)


def seen(data: bytes) -> str:
    """The characters without the mark at the start, every line break as one."""
    return data.decode("utf-8-sig").replace("\r\n", "\n")


def constructed(node: yaml.Node) -> Any:
    """Data of nodes."""
    if isinstance(node, yaml.MappingNode):
        return {key.value: constructed(value) for key, value in node.value}
    if isinstance(node, yaml.SequenceNode):
        return [constructed(item) for item in node.value]
    return None if node.value == "null" and node.style is None else node.value


def below(node: yaml.Node, loc: Loc = (), behind: int = 0) -> list[tuple[Loc, yaml.Node, int]]:
    """Every node, the whole first, with its loc and the character behind its key or behind the item before it."""
    found = [(loc, node, behind)]
    if isinstance(node, yaml.MappingNode):
        for key, value in node.value:
            found += below(value, (*loc, key.value), key.end_mark.index)
    elif isinstance(node, yaml.SequenceNode):
        behind = node.start_mark.index
        for index, item in enumerate(node.value):
            found += below(item, (*loc, index), behind)
            behind = item.end_mark.index
    return found


def changed(data: Any, loc: Loc, change: Any) -> Any:
    """Data in which the part at a loc went through `change`."""
    if not loc:
        return change(data)
    made = dict(data) if isinstance(data, dict) else list(data)
    made[loc[0]] = changed(made[loc[0]], loc[1:], change)
    return made


def same(one: Any, other: Any) -> bool:
    """Equal, with keys in the same order."""
    if isinstance(one, dict) and isinstance(other, dict):
        return list(one) == list(other) and all(same(one[key], other[key]) for key in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(same, one, other))
    return one == other


def begun(data: bytes) -> EditedFile:
    """A document to edit; those that no editor would take are left out."""
    try:
        return EditedFile.of("a.yml", data)
    except CatalogueError:
        assume(False)
        raise


def tried(edit: Any) -> EditedFile:
    """The edit, or the example is left out where a form stands in its way, and for nothing else."""
    try:
        made: EditedFile = edit()
    except CatalogueError as error:
        if {one.code for one in error.problems} <= {Code.NOT_EDITABLE.value, Code.TOO_DEEP.value}:
            assume(False)
        raise
    return made


def is_insertion(before: bytes, after: bytes) -> bool:
    """Return whether `after` is `before` with something put in at one place."""
    start = 0
    while start < len(before) and before[start] == after[start]:
        start += 1
    rest = len(before) - start
    return len(after) >= len(before) and (rest == 0 or after[-rest:] == before[-rest:])


def behind_line(text: str, node: yaml.Node) -> str:
    """What stands after the line on which a scalar, or a collection in braces, ends."""
    return text[node.end_mark.index :].partition("\n")[2]


@MANY
@given(documents(), values(), st.data())
def test_another_value(data: bytes, value: Any, more: st.DataObject) -> None:
    """What stands before the value's key and after its lines stays; the rest of the data too; and back again."""
    file = begun(data)
    loc, node, behind = more.draw(st.sampled_from(below(composed(data))[1:]))
    made = tried(lambda: file.set(loc, value))
    assert same(read(made.after), changed(read(data), loc, lambda old: value))
    before, after = seen(data), seen(made.after)
    assert after.startswith(before[:behind].rstrip())
    # A block collection ends, for this scanner, where the next thing begins.
    is_block = isinstance(node, yaml.CollectionNode) and not node.flow_style
    assert after.endswith(before[node.end_mark.index :].lstrip("\n ") if is_block else behind_line(before, node))
    assert made.after.startswith(b"\xef\xbb\xbf") == data.startswith(b"\xef\xbb\xbf")
    assert made.after.endswith(b"\n") == data.endswith(b"\n")


@MANY
@given(documents(), st.one_of(st.just("a"), st.none(), nests()), st.data())
def test_another_value_and_the_old_one_again(data: bytes, value: Any, more: st.DataObject) -> None:
    """A plain scalar one space behind its key comes back byte for byte, whatever stood in its place meanwhile."""
    file = begun(data)
    text = seen(data)
    plain = [
        (loc, node)
        for loc, node, _ in below(composed(data))
        if isinstance(node, yaml.ScalarNode)
        and node.style is None
        and node.start_mark.index < node.end_mark.index
        and text[: node.start_mark.index].rpartition("\n")[2].strip(" -")
        and not text[: node.start_mark.index].endswith("  ")
    ]
    assume(plain)
    loc, node = more.draw(st.sampled_from(plain))
    old = constructed(node)
    assert tried(lambda: file.set(loc, value)).set(loc, old).after == data


@MANY
@given(documents(), KEYS, values(), st.data())
def test_a_key_more_and_a_key_less(data: bytes, key: str, value: Any, more: st.DataObject) -> None:
    """One piece is put in, the data has one key more at its place, and taking it out gives the old bytes."""
    file = begun(data)
    places = [one for one in below(composed(data)) if isinstance(one[1], yaml.MappingNode)]
    loc, node, _ = more.draw(st.sampled_from(places))
    names = list(constructed(node))
    assume(key not in names)
    after = more.draw(st.sampled_from([None, *names]))
    made = tried(lambda: file.add(loc, key, value, after))
    index = len(names) if after is None else names.index(after) + 1

    def with_key(old: dict[str, Any]) -> dict[str, Any]:
        return dict([*list(old.items())[:index], (key, value), *list(old.items())[index:]])

    assert same(read(made.after), changed(read(data), loc, with_key))
    assert is_insertion(data, made.after) or not names
    if names:
        assert made.remove((*loc, key)).after == data


@MANY
@given(documents(), values(), st.data())
def test_an_item_more_and_an_item_less(data: bytes, value: Any, more: st.DataObject) -> None:
    """The same for the end of a list."""
    file = begun(data)
    places = [one for one in below(composed(data)) if isinstance(one[1], yaml.SequenceNode)]
    assume(places)
    loc, node, _ = more.draw(st.sampled_from(places))
    if isinstance(value, dict):
        assume("id" not in value)
    made = tried(lambda: file.append(loc, value))
    assert same(read(made.after), changed(read(data), loc, lambda old: [*old, value]))
    if node.value:
        assert is_insertion(data, made.after)
        assert made.remove((*loc, len(node.value))).after == data


@MANY
@given(documents(), st.data())
def test_a_key_or_item_less(data: bytes, more: st.DataObject) -> None:
    """One piece is taken out, and the data lacks that key or item alone; the last one leaves empty braces."""
    file = begun(data)
    loc, _, _ = more.draw(st.sampled_from(below(composed(data))[1:]))
    made = tried(lambda: file.remove(loc))

    def without(old: Any) -> Any:
        if isinstance(old, dict):
            return {key: one for key, one in old.items() if key != loc[-1]}
        return [one for index, one in enumerate(old) if index != loc[-1]]

    assert same(read(made.after), changed(read(data), loc[:-1], without))
    left = changed(read(data), loc[:-1], without)
    for part in loc[:-1]:
        left = left[part]
    assert is_insertion(made.after, data) or not left


@settings(max_examples=examples(150, 5), deadline=None)
@given(TEXTS, TEXTS)
def test_every_text_can_be_written_wherever_it_may_stand(text: str, other: str) -> None:
    """As a value, in braces, in brackets and as a key, for two independent scanners."""
    file = EditedFile.of("a.yml", b"a: 1\nb: {c: 1, d: 1}\ne: [1]\n")
    made = file.set(("a",), text).set(("b", "c"), text).append(("e",), text).add((), "f", {"g": [text, other]})
    if text not in ("a", "b", "e", "f"):
        made = made.add((), text, other).add(("b",), text, other) if text not in ("c", "d") else made
    found = read(made.after)
    assert (found["a"], found["b"]["c"], found["e"][1], found["f"]["g"]) == (text, text, text, [text, other])
