"""Turns a template and plain data into the bytes of a PDF, the same each time, and keeps what was made.

A text of the data reaches the typesetter as a string and never as markup: templates print it, and evaluate nothing.
"""

from __future__ import annotations

import hashlib
import json
import logging
import os
import re
from collections.abc import Callable, Mapping
from contextlib import suppress
from functools import cache
from importlib import metadata
from pathlib import Path
from typing import TYPE_CHECKING, Any

from guidegen.reading import bytes_of
from guidegen.writing import clear_unfinished, write_atomically

if TYPE_CHECKING:
    import typst

FOLDER = Path(__file__).parent
TEMPLATES = FOLDER / "typ"
LEAST_KEPT, TIMES_KEPT = 400, 3
"""So many sheets always stay, and so many times those that a run used; one is some 50 kB."""
NOT_IN_FONT = "\ufffd"
_MISSING = re.compile(r'the text `"(.+?)"` could not be displayed')

log = logging.getLogger(__name__)
Data = Mapping[str, Any]


class BadSheet(RuntimeError):
    """A template of ours that the typesetter refuses, or warns of."""


class Typeset:
    """One document being set: how many pages it has can be asked before its bytes are made."""

    def __init__(self, template: str, data: Data) -> None:
        self._template, self._text = template, json.dumps(data, ensure_ascii=False, sort_keys=True)
        self._compiler = self._begun()

    def _begun(self) -> typst.Compiler:
        import typst

        path, data = str(TEMPLATES / f"{self._template}.typ"), {"data": self._text}
        return typst.Compiler(path, root=str(TEMPLATES), font_paths=[], ignore_system_fonts=True, sys_inputs=data)

    def asked(self, label: str) -> list[Any]:
        """What the template notes under a label, in order."""
        found: list[Any] = json.loads(self._compiler.query(f"<{label}>", field="value"))
        return found

    def pdf(self) -> bytes:
        """The bytes. A character that no shipped font has is printed as the sign for one, and said in the log."""
        import typst

        for _ in range(len(self._text)):
            try:
                made, warnings = self._compiler.compile_with_warnings(format="pdf", pdf_standards=["ua-1"])
            except typst.TypstError as error:
                found = _MISSING.search(str(error))
                if found is None:
                    raise BadSheet(f"{error}") from error
                self._leave_out(found[1])
                continue
            if warnings or not isinstance(made, bytes):
                raise BadSheet("; ".join(one.message for one in warnings) or "several files")
            return made
        raise BadSheet("no font has any of these characters")

    def _leave_out(self, shown: str) -> None:
        code = re.fullmatch(r"\\u\{([0-9a-f]+)\}", shown)
        sign = chr(int(code[1], 16)) if code else shown
        log.warning("no shipped font has %r: a sheet prints %s in its place", sign, NOT_IN_FONT)
        written = json.dumps(sign, ensure_ascii=False)[1:-1]
        if written not in self._text or sign == NOT_IN_FONT:
            raise BadSheet(f"a template prints {sign!r}, which no shipped font has")
        self._text = self._text.replace(written, NOT_IN_FONT)
        self._compiler = self._begun()


class Press:
    """Makes sheets, and keeps them in a folder by all that they are made of; without a folder in memory."""

    def __init__(self, root: Path | None = None) -> None:
        self.folder = None if root is None else root / ".guidegen" / "paper"
        self._held: dict[str, bytes] = {}
        self._used: set[str] = set()

    def get(self, template: str, data: Data, make: Callable[[str, Data], bytes]) -> bytes:
        """The bytes of a sheet, made where they are not kept."""
        digest = hashlib.sha256(f"{source_hash()} {template} ".encode())
        digest.update(json.dumps(data, ensure_ascii=False, sort_keys=True).encode())
        key = digest.hexdigest()
        self._used.add(key)
        found = self._find(key)
        if found is None:
            found = make(template, data)
            self._keep(key, found)
        return found

    def _find(self, key: str) -> bytes | None:
        if self.folder is None:
            return self._held.get(key)
        path = self._path(key)
        try:
            said, _, data = bytes_of(path).partition(b"\n")
        except OSError:
            return None
        if said != _sum(key, data):
            return None
        with suppress(OSError):
            os.utime(path)
        return data

    def _keep(self, key: str, data: bytes) -> None:
        if self.folder is None:
            self._held[key] = data
            return
        with suppress(OSError):
            write_atomically(self._path(key), _sum(key, data) + b"\n" + data, durable=False)

    def _path(self, key: str) -> Path:
        assert self.folder is not None
        return self.folder / key[:2] / key

    def prune(self) -> None:
        """Remove what was not used for longest, beyond what is worth keeping, and what is half written."""
        if self.folder is None or not self.folder.is_dir():
            return
        with suppress(OSError):
            clear_unfinished(self.folder.iterdir())
            kept = sorted(self.folder.glob("*/*"), key=lambda path: -path.stat().st_mtime)
            for path in kept[max(LEAST_KEPT, TIMES_KEPT * len(self._used)) :]:
                if path.name not in self._used:
                    path.unlink()


def _sum(key: str, data: bytes) -> bytes:
    return hashlib.sha256(key.encode() + b"\n" + data).hexdigest().encode()


@cache
def source_hash() -> str:
    """A hash of the templates, of what fills and fits them, and of the typesetter's version."""
    digest = hashlib.sha256(metadata.version("typst").encode())
    for path in sorted((*TEMPLATES.glob("*.typ"), *FOLDER.glob("*.py"))):
        digest.update(path.name.encode() + b"\0" + path.read_bytes())
    return digest.hexdigest()
