"""What the browser's own print says on each sheet: which machine, kit and edition, and where the guide in force is."""

from __future__ import annotations

import re

from guidegen.language import gettext
from guidegen.record import Assessment
from guidegen.site.charts.axes import edition
from guidegen.site.pages.place import whole_short_address

ON_SHEETS = ("fit", "install", "brief", "restore")
"""Pages that are taken to the bench, or sent, on paper."""


def foot(record: Assessment, root: str) -> str:
    """The style of a page's foot, which every printed sheet carries; `root` is the site's address in full, or empty."""
    kit = gettext("{name}, revision {revision}").format(name=record.kit.name, revision=record.kit.revision)
    short = whole_short_address(record.kit.id, record.kit.revision, record.variant.id, root)
    where = short.removeprefix("https://")
    words = " · ".join(filter(None, (record.variant.name, kit, edition(record), where)))
    return f'<style media="print">@page{{@bottom-left{{content:{_string(words)};font-size:8pt}}}}</style>'


def _string(words: str) -> str:
    """Words as a string of CSS (CSS Syntax Module Level 3, 4.3.7) that ends no element of HTML.

    >>> print(_string('a "b" </style>'))
    "a \\22 b\\22  \\3c /style>"
    """
    return '"' + re.sub(r'["\\<\n\r\f]', lambda found: f"\\{ord(found[0]):x} ", words) + '"'
