"""Input, output and errors of a program that nobody speaks to or listens to."""

from __future__ import annotations

import contextlib
import os
import sys


def stand_in_for_closed() -> None:
    """Open what the caller closed, as some schedulers do, onto nothing.

    Else the next file that is opened, here or by the site engine, would take the place, and what is printed go into it.
    """
    for number, (name, mode) in enumerate((("stdin", "r"), ("stdout", "w"), ("stderr", "w"))):
        try:
            os.fstat(number)
        except OSError:
            # The lowest number that is free is the one that was closed.
            os.set_inheritable(os.open(os.devnull, os.O_RDWR), True)
        if getattr(sys, name) is None:
            setattr(sys, name, os.fdopen(number, mode, encoding="utf-8", closefd=False))


def say_nothing_more() -> None:
    """Let whatever is still to be printed go nowhere, so that not even the end of the program complains."""
    nothing = os.open(os.devnull, os.O_WRONLY)
    for stream in (sys.stdout, sys.stderr):
        with contextlib.suppress(OSError, ValueError):
            os.dup2(nothing, stream.fileno())
    os.close(nothing)
