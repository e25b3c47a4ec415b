"""Records as they are downloaded: nothing is lost, what is equal is one file, and older forms are still read."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from guidegen import record_at
from guidegen.record import Assessment, apart
from tests.fixtures.records import record


def laid(folder: Path, one: Assessment) -> Path:
    """A record in a folder, as a site has it."""
    own, parts = apart.parted(one)
    path = folder / "data" / one.variant.id / f"{one.kit.id}.json"
    for where, data in {path.relative_to(folder).as_posix(): own, **parts}.items():
        (folder / where).parent.mkdir(parents=True, exist_ok=True)
        (folder / where).write_bytes(data)
    return path


def test_the_record_comes_back_whole(tmp_path: Path) -> None:
    """Every field of one with everything in it; and of one that has no instruction."""
    for one in (record(), record().model_copy(update={"procedure": None})):
        assert record_at(laid(tmp_path, one)) == one


def test_a_part_that_two_records_share_is_one_file() -> None:
    """Another revision of a variant's name changes the record and none of its parts."""
    one = record()
    renamed = one.model_copy(update={"variant": one.variant.model_copy(update={"name": "Another"})})
    first, second = apart.parted(one), apart.parted(renamed)
    assert first[0] != second[0]
    assert first[1] == second[1]
    held = json.loads(first[0])
    assert len(first[1]) == len({held[key]["$ref"] for key in apart.APART}) > 1


def test_a_record_of_before_is_read_as_it_lies(tmp_path: Path) -> None:
    """Indented and with everything in it, as editions have it that were published before there were parts."""
    path = tmp_path / "feed-preheater.json"
    path.write_text(record().to_json(), encoding="utf-8")
    assert record_at(path) == record()


def test_a_part_is_looked_for_among_the_parts_alone(tmp_path: Path) -> None:
    """A record may come from a stranger; it opens no other file."""
    path = laid(tmp_path, record())
    held = json.loads(path.read_bytes())
    (tmp_path / "data" / "secret.json").write_text("{}", encoding="utf-8")
    path.write_text(json.dumps({**held, "scene": {"$ref": "../secret.json"}}), encoding="utf-8")
    with pytest.raises(ValueError, match=r"scene does not lead to a part of the record: \.\./secret\.json"):
        record_at(path)
