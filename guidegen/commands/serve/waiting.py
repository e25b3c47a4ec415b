"""What is shown where no page can be shown yet: without the site's shell, because that may be what is wrong."""

from __future__ import annotations

import html
from collections.abc import Sequence

from guidegen.problems import Problem


def mistakes_page(problems: Sequence[Problem]) -> bytes:
    """A page that says what is to be fixed; it is reloaded as soon as there is something to show."""
    rows = "".join(f"<pre>{html.escape(str(one))}</pre>" for one in problems)
    title = "To be fixed" if problems else "One moment"
    body = rows or "<p>The pages are being made.</p>"
    return (
        f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{title}</title></head>'
        f"<body><h1>{title}</h1>{body}</body></html>"
    ).encode()
