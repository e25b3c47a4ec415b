"""The photographs of a workshop as files: looked at once, noticed when they change, and never read through a link."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from guidegen import trade
from guidegen.problems import CatalogueError
from guidegen.site.pages.downloads import file_at
from guidegen.trade import pictures
from guidegen.trade.named_things import members_of, names_of
from guidegen.trade.pictures import files_of
from guidegen.workshop.memory import Memory
from tests.editions_workshop import list_picture
from tests.fixtures.photographs import as_jpeg, image
from tests.fixtures.records import record, site
from tests.mutants.draft import catalogue

FIXTURE = Path(__file__).parents[2] / "fixtures" / "catalogue_min"


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """The small catalogue with one photograph of its kit."""
    made = Path(shutil.copytree(FIXTURE, tmp_path / "workshop"))
    list_picture(made, as_jpeg(place=False))
    return made


def said(root: Path) -> list[str]:
    """What is wrong with the workshop, without the places."""
    with pytest.raises(CatalogueError) as caught:
        trade.load(root)
    return [f"{one.code} {one.message}" for one in caught.value.problems]


def test_a_photograph_is_looked_at_once(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As long as its file stays as it was; another one under the same name is another photograph."""
    memory = Memory()
    before = trade.load(root, memory)
    monkeypatch.setattr(pictures, "look", lambda data: pytest.fail("looked at again"))
    assert trade.load(root, memory).album.photographs == before.album.photographs
    monkeypatch.undo()
    list_picture(root, as_jpeg(image(80, 60), place=False))
    after = trade.load(root, memory)
    assert after.album.digest != before.album.digest
    assert (after.album.photographs["a.jpg"].width, before.album.photographs["a.jpg"].width) == (80, 64)


def test_no_link_is_followed(root: Path, tmp_path: Path) -> None:
    """Neither a picture that is one, nor a folder on the way, nor the folder of all pictures."""
    folder = root / "content" / "pictures"
    elsewhere = Path(shutil.copytree(folder, tmp_path / "elsewhere"))
    (folder / "a.jpg").unlink()
    (folder / "a.jpg").symlink_to(elsewhere / "a.jpg")
    leaves = "F03 a symbolic link that leaves the workshop or leads nowhere"
    wanted = 'F03 pictures.coil.file: "a.jpg" is a link, or lies behind one'
    assert sorted(said(root)) == [leaves, wanted]
    shutil.rmtree(folder)
    folder.symlink_to(elsewhere)
    assert sorted(said(root)) == [leaves, wanted]
    assert files_of(root) == []


def test_one_file_may_be_listed_twice(root: Path) -> None:
    """Under two ids, for two things; it is one photograph."""
    path = root / "content" / "pictures.yml"
    text = path.read_text(encoding="utf-8")
    again = text.partition("\n")[2].replace("id: coil", "id: lamp").replace(
        "{kit: collar}", "{variant: plain-one, mark: lamp}")  # fmt: skip
    path.write_text(text + again, encoding="utf-8")
    known = trade.load(root)
    assert known.pictures is not None
    assert [one.id for one in known.pictures.pictures] == ["coil", "lamp"]
    assert list(known.album.photographs) == ["a.jpg"]
    path.write_text(text + text.partition("\n")[2], encoding="utf-8")
    assert said(root) == ['X05 pictures.coil.id: the id "coil" stands here and in line 2']


def test_hidden_files_are_nobodys_pictures(root: Path) -> None:
    """What a file manager leaves there."""
    (root / "content" / "pictures" / ".thumbs").write_bytes(b"x")
    (root / "content" / "pictures" / "more").mkdir()
    shutil.copy(root / "content" / "pictures" / "a.jpg", root / "content" / "pictures" / "more" / "b.jpg")
    assert files_of(root) == ["a.jpg", "more/b.jpg"]


def test_things_are_named_as_lists_name_them() -> None:
    """Of a machine its inventory, devices and what stands out of its boiler; of a kit its lists."""
    machine, kit = catalogue().machines["tamsin-mk2"], catalogue().kits["feed-preheater"]
    assert names_of(machine)["feed-hose"] == "feed hose"
    assert names_of(machine)["drain-boss"] == "drain boss"
    assert names_of(machine)["fuse"] == "thermal fuse"
    assert names_of(kit)["calliper"] == "calliper"
    assert set(members_of([machine], "feed-ends")) == {"feed-inlet", "feed-pump"}
    assert members_of([catalogue().machines["tamsin-mk1"]], "control-thermostat") == ("brew-thermostat",)
    assert members_of([machine, kit], "nothing") == ("nothing",)


def test_the_preview_serves_a_copy_by_its_name() -> None:
    """It has no folder of finished files."""
    shown = site(record())
    name = next(shown.reference.shelf.names())
    assert file_at(f"pictures/{name}", shown) == shown.reference.shelf.copy_bytes(name)
    assert file_at("pictures/nothing.jpg", shown) is None
