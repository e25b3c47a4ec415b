"""Finished assessments kept between runs, by a hash of all that went into them.

The key covers the inputs, the sources of every module that takes part, and the versions of the numerical
libraries: where any of them changed the entry is simply never found again. A damaged entry counts as absent.
"""

from __future__ import annotations

import hashlib
import os
import tempfile
from collections.abc import Callable
from functools import cache
from importlib import metadata
from pathlib import Path

from pydantic import ValidationError

from guidegen.record import Assessment

_PACKAGE = Path(__file__).parents[1]
_SOURCES = ("units.py", "unit_table.py", "record", "assess", "workshop", "trade", "heat", "judge")
_LIBRARIES = ("numpy", "scipy", "numba", "pydantic")


@cache
def code_hash() -> str:
    """A hash of the sources and library versions that an assessment depends on."""
    digest = hashlib.sha256()
    for name in _SOURCES:
        place = _PACKAGE / name
        for path in sorted(place.rglob("*.py")) if place.is_dir() else [place] * place.exists():
            digest.update(path.relative_to(_PACKAGE).as_posix().encode() + b"\0" + path.read_bytes())
    for library in _LIBRARIES:
        digest.update(f"{library}=={metadata.version(library)}\n".encode())
    return digest.hexdigest()


class Cache:
    """Assessments in `.guidegen/assessments/`, one file each, written in one piece."""

    def __init__(self, root: Path) -> None:
        self.folder = root / ".guidegen" / "assessments"

    def find(self, inputs: bytes) -> Assessment | None:
        """The assessment of these inputs where it is kept."""
        try:
            return Assessment.model_validate_json(self._path(inputs).read_bytes())
        except (OSError, ValidationError):
            return None

    def get(self, inputs: bytes, make: Callable[[], Assessment]) -> Assessment:
        """The assessment of these inputs: kept, or made and kept."""
        found = self.find(inputs)
        if found is not None:
            return found
        made, path = make(), self._path(inputs)
        self.folder.mkdir(parents=True, exist_ok=True)
        handle, temporary = tempfile.mkstemp(dir=self.folder)
        with os.fdopen(handle, "wb") as file:
            file.write(made.to_json().encode())
        Path(temporary).replace(path)
        return made

    def _path(self, inputs: bytes) -> Path:
        return self.folder / f"{hashlib.sha256(code_hash().encode() + inputs).hexdigest()[:32]}.json"
