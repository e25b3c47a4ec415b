"""What is printed of an older edition where today's record has something that its records lack."""

from __future__ import annotations

from guidegen.language import gettext
from guidegen.record import GivenWords


def lacking() -> GivenWords:
    """The words, in the language in use."""
    return GivenWords(
        not_computed=gettext("not computed in this edition"), not_stated=gettext("not stated in this edition")
    )
