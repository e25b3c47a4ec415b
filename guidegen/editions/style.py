"""The look of the root's pages: that of the site, without its theme, so that they need no file and no script."""

from __future__ import annotations

import re
from functools import cache
from importlib import resources

from guidegen.site.drawings.colours import palette

_DRAWN = re.compile(r"^\.gd-[^{}]*\{[^{}]*\}$", re.M)
"""Rules of drawings.css that stand on a line: what lines, areas and words of a drawing look like."""


@cache
def root_style(drawn: bool) -> str:
    """The rules for a page's head: the site's own colours, light and dark, and what `drawn` pages need for drawings."""
    light, dark = (_variables(palette(scheme)) for scheme in ("light", "dark"))
    rules = [
        f":root{{color-scheme:light dark;{light}}}",
        f"@media screen and (prefers-color-scheme:dark){{:root{{{dark}}}}}",
        _text("guidegen.editions", "templates/root.css"),
    ]
    if drawn:
        rules += _DRAWN.findall(_text("guidegen.site.web", "assets/drawings.css"))
    return "\n".join(rules)


def mark() -> str:
    """The site's mark, drawn in the colour of the text beside it."""
    return re.sub(r"<style>.*?</style>", "", _text("guidegen.site.web", "assets/mark.svg"), flags=re.DOTALL).strip()


def _variables(colours: dict[str, str]) -> str:
    return "".join(f"{name}:{value};" for name, value in colours.items())


def _text(package: str, name: str) -> str:
    return resources.files(package).joinpath(name).read_text(encoding="utf-8")
