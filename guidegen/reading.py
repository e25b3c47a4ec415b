"""Reading what others wrote: plain files only, and never more than a stated size, whatever lies there.

A pipe would keep a command waiting, a device would fill the memory. Both are refused as a file that cannot be opened
is, by an OSError that says why.
"""

from __future__ import annotations

import errno
import os
import stat
from collections.abc import Iterator
from contextlib import contextmanager
from io import BufferedReader
from pathlib import Path
from typing import IO

MOST_BYTES = 100_000_000
"""Any one file; more than a page, a picture or the records of a large workshop ever take."""


def bytes_of(path: Path, most: int = MOST_BYTES, plain: bool = True) -> bytes:
    """What stands in a file of at most so many bytes; without `plain` also what comes through a pipe.

    Raises OSError, for a file that is too large or no plain one as well.
    """
    if not plain:
        with path.open("rb") as file:
            return bytes_from(file, path.as_posix(), most)
    with opened(path) as file:
        return bytes_from(file, path.as_posix(), most)


def bytes_from(file: IO[bytes], called: str, most: int = MOST_BYTES) -> bytes:
    """What comes out of an open file or stream; raises OSError as soon as it is more than so many bytes."""
    data = file.read(most + 1)
    if len(data) > most:
        raise OSError(errno.EFBIG, f"more than {most / 1e6:g} MB", called)
    return data


@contextmanager
def opened(path: Path) -> Iterator[BufferedReader]:
    """A plain file, open; a pipe is not waited for."""
    descriptor = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    mode = os.fstat(descriptor).st_mode
    if not stat.S_ISREG(mode):
        os.close(descriptor)
        number = errno.EISDIR if stat.S_ISDIR(mode) else errno.EINVAL
        raise OSError(number, "a folder" if stat.S_ISDIR(mode) else "no plain file", path.as_posix())
    with os.fdopen(descriptor, "rb") as file:
        yield file
