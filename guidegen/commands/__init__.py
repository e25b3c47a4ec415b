"""The command line: each command a few lines over `pipeline` and the catalogue.

Exit codes: 0 all well, 1 a mistake in the workshop's data, 2 wrong usage, 3 something missing on this machine,
4 refused by a rule with nothing changed, 70 a fault of guidegen itself. Heavy libraries are imported by the command
that needs them, so that `--help` answers immediately.
"""

from __future__ import annotations

import argparse
import logging
import sys
import traceback
from collections.abc import Sequence
from pathlib import Path

from guidegen import __version__
from guidegen.commands.parsing import parser
from guidegen.commands.streams import say_nothing_more, stand_in_for_closed
from guidegen.commands.terminal import VisibleFormatter, print_error, report, write_utf8
from guidegen.problems import CatalogueError, EnvironmentProblem, FaultsFound, RefusedProblem, UsageProblem

__all__ = ["main", "parser"]

OK, AUTHOR, USAGE, ENVIRONMENT, REFUSED, OURS = 0, 1, 2, 3, 4, 70
INTERRUPTED = 130
"""As the shell has it for a program that ends on Ctrl-C: 128 and the number of the signal."""

PATHS = ("root", "folder", "file", "read")
"""Arguments that name a file or a folder."""

SAID = {FaultsFound: AUTHOR, UsageProblem: USAGE, RefusedProblem: REFUSED, EnvironmentProblem: ENVIRONMENT}
"""What is said in a sentence and needs no traceback, and the code that the command ends with."""


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code."""
    stand_in_for_closed()
    try:
        try:
            return _run(argv)
        finally:
            sys.stdout.flush()
            sys.stderr.flush()
    except BrokenPipeError:
        say_nothing_more()
        return OK
    except OSError:
        # Not even what went wrong can be said, as where the output goes to a full disk.
        say_nothing_more()
        return ENVIRONMENT


def _run(argv: Sequence[str] | None) -> int:
    write_utf8()
    arguments = parser().parse_args(argv)
    logging.basicConfig()
    for handler in logging.getLogger().handlers:
        handler.setFormatter(VisibleFormatter("%(levelname)s %(name)s: %(message)s"))
    logging.getLogger("guidegen").setLevel(logging.DEBUG if arguments.verbose else logging.WARNING)
    root = Path(arguments.root)
    try:
        refuse_no_text(arguments)
        code: int = arguments.run(arguments, root)
        sys.stdout.flush()
        return code
    except BrokenPipeError:
        # The reader of a pipe went away; say nothing more, not even at exit.
        say_nothing_more()
        return OK
    except KeyboardInterrupt:
        print_error("stopped; every file is whole, and what was computed is kept")
        return INTERRUPTED
    except CatalogueError as error:
        report(error.problems)
        return AUTHOR
    except (FaultsFound, UsageProblem, RefusedProblem, EnvironmentProblem) as error:
        print_error(str(error))
        return next(code for kind, code in SAID.items() if isinstance(error, kind))
    except OSError as error:
        # Whatever the system refuses, it is nothing that guidegen or the data could fix.
        logging.getLogger("guidegen").debug("refused by the system", exc_info=True)
        print_error(f"{error.filename or 'a file'}: {error.strerror or error}")
        return ENVIRONMENT
    except Exception as error:
        return own_fault(root, error)


def refuse_no_text(arguments: argparse.Namespace) -> None:
    """Refuse bytes on the command line that are no UTF-8, as of an old terminal; paths may be of any bytes."""
    for name, value in vars(arguments).items():
        texts = value if isinstance(value, list | tuple) else [value]
        if name not in PATHS and any(isinstance(one, str) and not _is_text(one) for one in texts):
            raise UsageProblem(f"what stands for {name} is not UTF-8; write it in a terminal that sends UTF-8")


def _is_text(text: str) -> bool:
    return not any("\ud800" <= sign <= "\udfff" for sign in text)


def own_fault(root: Path, error: Exception) -> int:
    """Keep the traceback of a fault of ours where it can be sent to us, and say where and what in one line."""
    text = traceback.format_exc()
    note = root / ".guidegen" / "last-error.txt"
    try:
        note.parent.mkdir(exist_ok=True)
        note.write_text(f"guidegen {__version__}\n{text}", encoding="utf-8")
        message = " ".join(str(error).split())[:200] or type(error).__name__
        print_error(f"a fault of guidegen itself: {message}; the details are in {note.as_posix()}")
    except OSError:
        print_error(f"a fault of guidegen itself:\n{text}")
    return OURS
