"""A small workshop for the engine, and what is said where it cannot be built."""

from __future__ import annotations

from pathlib import Path

import pytest

from guidegen.problems import CatalogueError
from guidegen.site import engine

SETTINGS = """site_name: Bench & Works
site_url: https://site.example/sub/
theme:
  name: material
  features: [navigation.tabs]
plugins: [search]
markdown_extensions:
  - toc: {permalink: false}
"""


def workshop(root: Path, settings: str = SETTINGS, **pages: str) -> Path:
    """A folder with settings and hand-written pages."""
    (root / "content" / "pages").mkdir(parents=True)
    (root / "mkdocs.yml").write_text(settings, encoding="utf-8")
    for name, text in {"index": "# Home\n\n## Second\n\ntext\n", **pages}.items():
        (root / "content" / "pages" / f"{name}.md").write_text(text, encoding="utf-8")
    return root


def problem_of(root: Path, name: str = "mkdocs") -> str:
    """What is reported when the engine cannot build the workshop."""
    with pytest.raises(CatalogueError) as caught:
        engine.run(root, name)
    return str(caught.value.problems[0])
