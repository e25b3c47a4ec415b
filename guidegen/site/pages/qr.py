"""An address as a QR code, drawn into the page."""

from __future__ import annotations

import io

import segno
from markupsafe import Markup


def qr(text: str, title: str, scale: int = 4) -> Markup:
    """The text as a QR code, drawn as SVG; a quarter of it may be soiled or torn. scale: units a module."""
    drawn = io.BytesIO()
    made = segno.make_qr(text, error="q")
    made.save(drawn, kind="svg", xmldecl=False, svgns=True, border=4, scale=scale, nl=False, light="#fff", title=title)
    return Markup(drawn.getvalue().decode())
