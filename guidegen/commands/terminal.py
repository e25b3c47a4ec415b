"""What the terminal sees: problems, progress, closing lines. A pipe gets no colour and no progress."""

from __future__ import annotations

import argparse
import io
import logging
import os
import sys
import time
from collections.abc import Callable, Sequence
from typing import Any, TextIO

from guidegen.problems import Problem
from guidegen.visible import visible, visible_lines

BOLD, RED, YELLOW, PLAIN = "\033[1m", "\033[31m", "\033[33m", "\033[0m"
CLEAR_LINE = "\r\033[K"


def write_utf8() -> None:
    """Write UTF-8 whatever the locale says; a terminal that cannot show a sign gets its code, never an error."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            encoding = None if stream.isatty() else "utf-8"
            stream.reconfigure(encoding=encoding, errors="backslashreplace")


def is_able() -> bool:
    """Whether problems and progress go to a terminal that understands more than text."""
    return sys.stderr.isatty() and os.environ.get("TERM") != "dumb"


def report(problems: Sequence[Problem]) -> None:
    """Print problems on the terminal's error stream, sorted by place, with a count at the end."""
    clear_progress()
    coloured = is_able() and not os.environ.get("NO_COLOR")
    for problem in sorted(problems):
        text = str(problem)  # Visible already, part by part.
        if coloured:
            place, _, rest = text.partition(" ")
            text = f"{BOLD}{place}{PLAIN} {RED if problem.severity == 'error' else YELLOW}{rest}{PLAIN}"
        print(text, file=sys.stderr)
    errors = sum(problem.severity == "error" for problem in problems)
    if errors:
        print(f"{errors} {'problem' if errors == 1 else 'problems'} to fix", file=sys.stderr)


def print_error(text: str) -> None:
    """Print one sentence on the error stream."""
    clear_progress()
    out(f"guidegen: {text}", sys.stderr)


def say(arguments: argparse.Namespace, text: str) -> None:
    """Print a closing line unless the user asked for quiet."""
    if not arguments.quiet:
        out(text)


def out(text: str, stream: TextIO | None = None, end: str = "\n", flush: bool = False) -> None:
    """Print a text of one line or several: the one way by which anything gets to the terminal or into a pipe."""
    print(visible_lines(text), file=stream or sys.stdout, end=end, flush=flush)


class VisibleFormatter(logging.Formatter):
    """Formats what is logged in the same way."""

    def format(self, record: logging.LogRecord) -> str:
        """The line, or the lines of a traceback."""
        return visible_lines(super().format(record))


class VisibleParser(argparse.ArgumentParser):
    """Prints what is wrong with the words of a command in the same way."""

    def _print_message(self, message: str, file: Any = None) -> None:
        super()._print_message(visible_lines(message), file)


def progress_of(arguments: argparse.Namespace) -> Callable[[str], None]:
    """Show each stage on a terminal, overwriting one line; nothing in a pipe."""
    if arguments.quiet or not is_able():
        return lambda stage: None
    return lambda stage: print(f"{CLEAR_LINE}{visible(stage)}", end="", file=sys.stderr, flush=True)


def timed_progress_of(
    arguments: argparse.Namespace, share: float, clock: Callable[[], float] = time.monotonic
) -> Callable[[str], None]:
    """The same for what takes minutes: with the time that has passed, and about how long it takes in all.

    `share`: how much of the whole lies between the first stage and the second.
    """
    show, begun = progress_of(arguments), list[float]()

    def shown(stage: str) -> None:
        begun.append(clock())
        passed = begun[-1] - begun[0]
        whole = f", about {minutes_of((begun[1] - begun[0]) / share)} in all" if len(begun) > 1 else ""
        show(f"{stage} ({minutes_of(passed)}{whole})" if stage else "")

    return shown


def minutes_of(seconds: float) -> str:
    """A time as somebody who waits wants it.

    >>> minutes_of(12.4), minutes_of(300.0)
    ('12 s', '5 min')
    """
    return f"{seconds:.0f} s" if seconds < 100.0 else f"{seconds / 60.0:.0f} min"


def clear_progress() -> None:
    """Take the line that shows progress away before something else is printed there."""
    if is_able():
        print(CLEAR_LINE, end="", file=sys.stderr, flush=True)
