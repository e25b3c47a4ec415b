"""What the record holds of a kit that has to be on the machine before this one."""

from __future__ import annotations

from guidegen.record.base import Record
from guidegen.record.stated import Downside, Restore


class FirstKit(Record):
    """A kit that this one goes onto: without this kit means a machine with that one.

    Its downsides come on top for whoever has neither; those with a figure have it in its own record.
    """

    id: str
    name: str
    downsides: tuple[Downside, ...]
    restore: Restore
