"""The notebook runs as it stands, cell after cell, on what a site publishes; no notebook program is asked for it."""

from __future__ import annotations

import contextlib
import io
import json
from pathlib import Path

import pytest

from guidegen.site.pages import downloads
from tests.fixtures.records import record, site

REPOSITORY = Path(__file__).parents[2]
NOTEBOOKS = sorted((REPOSITORY / "examples").glob("*.ipynb"))


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: str(path.name))
def test_a_notebook_runs_on_a_sites_files(path: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """It is kept without what an earlier run printed, and says what the record says."""
    for name, data in downloads.files(site(record())):
        target = tmp_path / "site" / "next" / name
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(data)
    monkeypatch.chdir(tmp_path)
    book = json.loads(path.read_text(encoding="utf-8"))
    assert (book["nbformat"], len({cell["id"] for cell in book["cells"]})) == (4, len(book["cells"]))
    names: dict[str, object] = {"__name__": "__main__"}
    printed = io.StringIO()
    for number, cell in enumerate(book["cells"], 1):
        if cell["cell_type"] == "code":
            assert (cell["outputs"], cell["execution_count"]) == ([], None)
            with contextlib.redirect_stdout(printed):
                exec(compile("".join(cell["source"]), f"{path.name}, cell {number}", "exec"), names)
    ratio = record().drinks[record().main_drink].drop_ratio.sensor
    assert f"{ratio.value:.2f} ({ratio.low:.2f} to {ratio.high:.2f})" in printed.getvalue()


def test_there_is_a_notebook() -> None:
    """So that the test above is about something."""
    assert NOTEBOOKS
