"""What a style looks like where no browser reads the style sheet: read off the very style sheets that pages have."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from importlib import resources

_VARIABLE = re.compile(r"(--gg-[\w-]+):\s*(#[0-9a-f]{6});")
_RULE = re.compile(r"^((?:\.gd-[\w-]+(?:, )?)+) \{([^}]*)\}", re.M)
_PROPERTY = re.compile(r"([\w-]+):\s*([^;]+);")
_MIX = re.compile(r"color-mix\(in srgb, var\((--gg-[\w-]+)\) ([0-9]+)%, var\((--gg-[\w-]+)\)\)")
_NAME = re.compile(r"var\((--gg-[\w-]+)\)")
DARK = '[data-md-color-scheme="slate"]'


@dataclass(frozen=True)
class Paint:
    """Colours as `#rrggbb`, None for none; width and dashes in units of the drawing."""

    stroke: str | None
    fill: str | None
    width: float
    dashes: tuple[float, ...] = ()


@cache
def paints(scheme: str = "light") -> dict[str, Paint]:
    """Every style by its name, in the light or the dark scheme of the site, or as it is printed on paper."""
    colours = palette(scheme)
    made: dict[str, Paint] = {}
    for names, body in _RULE.findall(_sheet("drawings.css")):
        found = dict(_PROPERTY.findall(body))
        if "stroke" in found or "fill" in found:
            paint = Paint(
                _colour(found.get("stroke", "none"), colours),
                _colour(found.get("fill", "none"), colours),
                float(found.get("stroke-width", "1")),
                tuple(map(float, found.get("stroke-dasharray", "").split())),
            )
            made |= {name.removeprefix(".gd-"): paint for name in names.split(", ")}
    return made


@cache
def palette(scheme: str = "light") -> dict[str, str]:
    """The site's colours by their variable; those of the scheme `paper` are the light ones on white."""
    light, _, dark = _sheet("base.css").partition(DARK)
    colours = dict(_VARIABLE.findall(light))
    match scheme:
        case "dark":
            return colours | dict(_VARIABLE.findall(dark))
        case "paper":
            return colours | {"--gg-paper": "#ffffff"}
        case _:
            return colours


def _colour(text: str, colours: dict[str, str]) -> str | None:
    if mixed := _MIX.fullmatch(text):
        share = int(mixed[2]) / 100
        one, other = (bytes.fromhex(colours[mixed[place]][1:]) for place in (1, 3))
        return "#" + bytes(round(a * share + b * (1 - share)) for a, b in zip(one, other, strict=True)).hex()
    if named := _NAME.fullmatch(text):
        return colours[named[1]]
    return None


def _sheet(name: str) -> str:
    return (resources.files("guidegen.site.web") / "assets" / name).read_text(encoding="utf-8")
