"""A recipe is applied exactly as it is written, or not at all; and every one of DEVELOPERS.md is cheap."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.recipes.apply import MOST_FILES, MOST_LINES, apply, recipes

TEXT = """# Other things

## Recipes

Words about recipes.

### Add a thing

First this:

```diff
+++ a/list.py
@@ def things
 one
-two
+zwei
+drei

 four
@@
+first
 zero
```

and a file of its own:

```diff
+++ a/new/thing.py
@@
+made = 1
```

### Add another

```diff
+++ a/list.py
@@
-four
+4
```

## Style

### Not a recipe
"""
LIST = "zero\none\ntwo\n\nfour\n"


def laid(root: Path, text: str = LIST) -> Path:
    """A folder with the file that the recipes edit."""
    (root / "a").mkdir()
    (root / "a" / "list.py").write_text(text, encoding="utf-8")
    return root


def test_recipes_are_read_by_their_headings() -> None:
    """Only those under the heading, each with its files and the number of lines that it changes."""
    found = recipes(TEXT)
    assert {name: list(one.files) for name, one in found.items()} == {
        "Add a thing": ["a/list.py", "a/new/thing.py"],
        "Add another": ["a/list.py"],
    }
    assert found["Add a thing"].changed("a/list.py") == 4


def test_a_recipe_is_applied_as_written(tmp_path: Path) -> None:
    """Lines go and come at their place, a new file is made, and everything else stays."""
    apply(recipes(TEXT)["Add a thing"], laid(tmp_path))
    assert (tmp_path / "a/list.py").read_text(encoding="utf-8") == "first\nzero\none\nzwei\ndrei\n\nfour\n"
    assert (tmp_path / "a/new/thing.py").read_text(encoding="utf-8") == "made = 1\n"


@pytest.mark.parametrize("text", ["zero\none\n2\n\nfour\n", LIST + LIST], ids=["not there", "there twice"])
def test_a_hunk_that_does_not_fit_once_is_refused(tmp_path: Path, text: str) -> None:
    """So a recipe that the code has outgrown fails by name."""
    with pytest.raises(ValueError, match=r"a/list\.py: what a hunk keeps and takes out stands there \d times"):
        apply(recipes(TEXT)["Add a thing"], laid(tmp_path, text))


def test_a_new_file_writes_over_nothing(tmp_path: Path) -> None:
    """A hunk that only adds makes a file, and does not replace one."""
    apply(recipes(TEXT)["Add a thing"], laid(tmp_path))
    (tmp_path / "a/list.py").write_text(LIST, encoding="utf-8")
    with pytest.raises(ValueError, match=r"a/new/thing\.py exists"):
        apply(recipes(TEXT)["Add a thing"], tmp_path)


@pytest.mark.parametrize("name", recipes())
def test_what_a_recipe_costs(name: str) -> None:
    """At most five files by hand, at most sixty changed lines in each."""
    recipe = recipes()[name]
    assert 0 < len(recipe.files) <= MOST_FILES
    assert all(recipe.changed(path) <= MOST_LINES for path in recipe.files)
