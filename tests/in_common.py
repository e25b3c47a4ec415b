"""What all tests of a run have in common: numbers by their question, and printed sheets by their data.

Both are known by all that they are made of, the sources included. Processes of their own, as where two builds are
compared, share nothing of it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from guidegen import pipeline
from guidegen.assess import assessor
from guidegen.assess.kept import Kept
from guidegen.assess.numbers import Numbers, Studies, compute
from guidegen.assess.question import PairQuestion
from guidegen.site.pages.paper.press import Press


@contextmanager
def in_common(folder: Path) -> Iterator[None]:
    """Everything inside looks there before it computes, and before it sets a sheet."""
    numbers, sheets = Kept(folder), Press(folder)

    def once(asked: PairQuestion, studies: Studies) -> Numbers:
        found = numbers.find(asked)
        if found is None:
            found = compute(asked, studies)
            numbers.keep(asked, found)
        return found

    class SharedPress(Press):
        """A press that asks the common one."""

        def get(self, template: str, data: Any, make: Callable[[str, Any], bytes]) -> bytes:
            """The bytes of a sheet: of this workshop, else the common ones."""

            def common(template: str, data: Mapping[str, Any]) -> bytes:
                return sheets.get(template, data, make)

            return super().get(template, data, common)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(assessor, "compute", once)
        patch.setattr(pipeline, "Press", SharedPress)
        yield
