"""The settings of the engine: read with their place in messages, and completed with what the shell needs."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from guidegen.site import engine
from tests.unit.site.engine_workshop import SETTINGS, problem_of, workshop


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("site_name: [a\n", "mkdocs.yml:2:1: W03 mkdocs.yml: expected ',' or ']'"),
        ("just text\n", "mkdocs.yml:1:1: W03 mkdocs.yml: it holds no settings"),
        ("", "mkdocs.yml:1:1: W03 mkdocs.yml: it holds no settings"),
    ],
)
def test_settings_that_cannot_be_read_are_reported_with_their_place(tmp_path: Path, text: str, message: str) -> None:
    """Before any engine is started."""
    assert problem_of(workshop(tmp_path, text)).startswith(message)


def test_missing_settings_are_reported(tmp_path: Path) -> None:
    """With where to find an example."""
    root = workshop(tmp_path)
    (root / "mkdocs.yml").unlink()
    assert problem_of(root).startswith("mkdocs.yml:1:1: W03 mkdocs.yml: the file is not there")


def test_settings_with_an_engines_own_tags_are_read(tmp_path: Path, starts: list[list[str]]) -> None:
    """Such tags are for the engine; nothing is built from them here."""
    tagged = SETTINGS + "markdown_extensions:\n  - x:\n      f: !!python/name:os.system\n      e: !ENV [A, b]\n"
    engine.run(workshop(tmp_path, tagged))
    assert len(starts) == 1


def written(root: Path) -> dict[str, Any]:
    """The settings that the engine was given."""
    return json.loads((root / ".guidegen" / "mkdocs.yml").read_text(encoding="utf-8"))


@pytest.mark.parametrize("theme", ["", "theme: material\n", "theme:\n  language: de\n"])
def test_theme_that_is_hardly_set_gets_what_the_shell_needs(
    tmp_path: Path, starts: list[list[str]], theme: str
) -> None:
    """Its name, both colour schemes, the tabs; and never a font from elsewhere."""
    engine.run(workshop(tmp_path, "site_name: A\n" + theme))
    given = written(tmp_path)["theme"]
    assert given["name"] == "material"
    assert [one["scheme"] for one in given["palette"]] == ["default", "slate"]
    assert given["features"] == ["navigation.tabs"]
    assert given["font"] is False


def test_workshops_own_theme_settings_are_kept(tmp_path: Path, starts: list[list[str]]) -> None:
    """But instant navigation, under which scripts would outlive their page, is not."""
    theme = (
        "theme:\n  name: material\n  palette: {scheme: slate}\n  features: [toc.follow, navigation.instant.progress]\n"
    )
    engine.run(workshop(tmp_path, "site_name: A\nnot_in_nav: drafts/\n" + theme))
    given = written(tmp_path)
    assert given["theme"]["features"] == ["toc.follow", "navigation.tabs"]
    assert "palette" not in given["theme"], "the engine takes it from the workshop's file"
    assert given["not_in_nav"] == "drafts/\nguidegen-frame.md"


def test_site_without_a_nav_lists_its_pages_and_no_frame(tmp_path: Path, starts: list[list[str]]) -> None:
    """Sorted by file."""
    engine.run(workshop(tmp_path, about="# About"))
    assert written(tmp_path)["nav"] == ["about.md", "index.md"]


def test_another_theme_is_refused(tmp_path: Path) -> None:
    """Our templates stand on the blocks of one theme."""
    message = problem_of(workshop(tmp_path, "site_name: A\ntheme: readthedocs\n"))
    assert "W03 theme.name: the shell is made for material" in message
