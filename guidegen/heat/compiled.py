"""How the kernels are compiled: once, kept on disk, and never mixed with those of other sources.

The compiler's own cache looks at the file of a function, not at the files of what it calls; a change in one module
would leave another's compiled code with the old one inside. So the cache has a folder per state of all sources here.
"""

from __future__ import annotations

import hashlib
import os
import re
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numba
from numba.core.caching import UserProvidedCacheLocator

_HERE = Path(__file__).parent
_COMPILED = re.compile(rb"^@(kernel|part)$", re.M)


def sources() -> list[Path]:
    """The modules that compiled code is made of: those with kernels, this one, the air, and where everything stands."""
    every = sorted(_HERE.rglob("*.py"))
    return [path for path in every if path.stem in ("air", "compiled", "layout") or _COMPILED.search(path.read_bytes())]


def cache_folder() -> Path:
    """The folder for compiled code of these sources, which belongs to the user alone: it is loaded and run.

    Never beside the sources: an installed package is nobody's to write into.
    """
    digest = hashlib.sha256()
    for path in sources():
        digest.update(f"{path.parent.name}/{path.name}".encode() + b"\0" + path.read_bytes())
    name = f"kernels-{digest.hexdigest()[:16]}"
    wanted = os.environ.get("NUMBA_CACHE_DIR")
    places = [Path(wanted)] if wanted else _own_places()
    for place in places:
        folder = place / name
        try:
            folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        except OSError:
            continue
        if os.access(folder, os.W_OK) and _is_own(folder):
            return folder
    return Path(tempfile.mkdtemp(prefix="guidegen-")) / name


def is_kept() -> bool:
    """Whether code that these sources compile to is kept already, so that nothing has to be compiled first."""
    return any(KEPT_IN.rglob("*.nbi"))


def _own_places() -> list[Path]:
    cache = os.environ.get("XDG_CACHE_HOME")
    try:
        home = Path(cache) if cache else Path.home() / ".cache"
    except RuntimeError:
        return []
    return [home / "guidegen"]


def _is_own(folder: Path) -> bool:
    """Whether nobody else could have put code there; always, where a system knows no owners."""
    return not hasattr(os, "getuid") or folder.stat().st_uid == os.getuid()


class ByContent(UserProvidedCacheLocator):
    """Where compiled code of these sources is kept, wherever they lie: the folder's name says what is in them."""

    @classmethod
    def from_function(cls, py_func: Callable[..., Any], py_file: str) -> Any:
        """The place of one function; None for those of others, whose places the compiler chooses."""
        if _HERE not in Path(py_file).parents:
            return None
        return super().from_function(py_func, py_file)  # type: ignore[no-untyped-call]

    @classmethod
    def get_suitable_cache_subpath(cls, py_file: str) -> str:
        """The folder within: that of the module, without where the package is installed."""
        return Path(py_file).parent.name

    def get_source_stamp(self) -> str:
        """Nothing but what the folder's name says: when a file was written does not matter."""
        return ""


KEPT_IN = cache_folder()
# The compiler's settings are not declared.
setattr(numba.config, "CACHE_DIR", str(KEPT_IN))  # noqa: B010
setattr(numba.config, "CACHE_LOCATOR_CLASSES", f"{__name__}.ByContent,InTreeCacheLocator,UserWideCacheLocator")  # noqa: B010


def part(function: Callable[..., Any]) -> Callable[..., Any]:
    """Compile a function as `kernel` does, and always put it into its callers: a part of an equation, or of a step."""
    return kernel(function, forceinline=True)


def kernel(function: Callable[..., Any], **more: bool) -> Callable[..., Any]:
    """Compile a function: kept on disk, without the interpreter's lock, in strict IEEE arithmetic.

    Kernels allocate nothing; their callers lend them every array. So arrays need no counting of references inside
    (`_nrt`), which would take two thirds of the time: each count is an atomic operation.
    """
    options: dict[str, Any] = {"error_model": "numpy", "no_cfunc_wrapper": True, "_nrt": False, **more}
    compiled: Callable[..., Any] = numba.njit(cache=True, nogil=True, fastmath=False, **options)(function)
    return compiled
