"""Reading is bounded: plain files only, up to a stated size, whatever lies there."""

from __future__ import annotations

import datetime
import os
import subprocess
import sys
import threading
from pathlib import Path

import pytest

from guidegen.commands.actions import received_bytes
from guidegen.problems import CatalogueError
from guidegen.reading import bytes_of
from guidegen.units import UnitError, parse
from guidegen.workshop.base import _day, _decimal, _whole
from guidegen.workshop.reader import MAX_BYTES


def test_a_file_is_read_up_to_its_most(tmp_path: Path) -> None:
    """The last byte that may be, and one more."""
    path = tmp_path / "a"
    path.write_bytes(b"x" * 10)
    assert bytes_of(path, 10) == b"x" * 10
    with pytest.raises(OSError, match="more than"):
        bytes_of(path, 9)


def test_what_is_no_plain_file_is_refused_at_once(tmp_path: Path) -> None:
    """A pipe that nobody writes to, a folder, a device, a link to one, nothing."""
    os.mkfifo(tmp_path / "pipe")
    (tmp_path / "zero").symlink_to("/dev/zero")
    (tmp_path / "self").symlink_to("self")
    for name in ("pipe", "zero", "self", "gone", "."):
        with pytest.raises(OSError, match=r"."):
            bytes_of(tmp_path / name)


def test_a_pipe_that_somebody_named_is_read_to_its_end(tmp_path: Path) -> None:
    """`guidegen fit --read <(…)` of a shell."""
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    thread = threading.Thread(target=pipe.write_bytes, args=(b"an order",))
    thread.start()
    assert received_bytes(str(pipe)) == (str(pipe), b"an order")
    thread.join()


def test_what_never_ends_is_refused_when_it_is_too_much() -> None:
    """Both ways in which something can be handed over; the memory stays what it was."""
    with pytest.raises(CatalogueError, match="R12"):
        received_bytes("/dev/zero")
    code = (
        "import resource, sys\nfrom guidegen.commands import main\n"
        "resource.setrlimit(resource.RLIMIT_DATA, (1_000_000_000, 1_000_000_000))\n"
        "sys.exit(main(['--root', sys.argv[1], 'fit', '--read', '-']))"
    )
    root = Path(__file__).parents[1] / "fixtures" / "catalogue_min"
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
    with Path("/dev/zero").open("rb") as zero:
        done = subprocess.run(
            [sys.executable, "-c", code, str(root)], stdin=zero, capture_output=True, text=True, env=environment
        )
    assert done.returncode == 1
    assert f"more than {MAX_BYTES / 1e6:g} MB" in done.stderr


@pytest.mark.parametrize("digits", ["٣", "３", "३", "𝟛", "²"])
def test_digits_are_those_of_ascii(digits: str) -> None:
    """Of Arabic, full width, Devanagari, mathematics, and raised: none is a number here."""
    with pytest.raises(UnitError):
        parse(f"{digits} °C", "temperature")
    assert _whole(digits) == digits
    assert _decimal(f"{digits}.5") == f"{digits}.5"
    assert _day(f"202{digits}-01-01") == f"202{digits}-01-01"
    assert _day("2025-01-01") == datetime.date(2025, 1, 1)
