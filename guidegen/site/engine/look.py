"""The maker's own look: colours, font, logo of `mkdocs.yml`, as a style sheet, and what of it is shown otherwise.

Nothing is dropped in silence: what cannot be read is shown in the nearest tone that can, what cannot be shown at all
is left out, and both are reported with their line. What colours mean in charts and drawings stays.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath
from typing import Any

import yaml

from guidegen.problems import Problem, nearest
from guidegen.reading import bytes_of
from guidegen.site.codes import SiteCode
from guidegen.site.drawings.colours import palette
from guidegen.site.engine.tones import NAMED, READABLE, colour_of, on, readable, worst

SHEET = "assets/guidegen/maker.css"
SCHEMES = {"default": "light", "slate": "dark"}
"""The theme's schemes, and what they are called here."""
SELECTORS = {"default": ':root,\n[data-md-color-scheme="default"]', "slate": '[data-md-color-scheme="slate"]'}
FONT_FILES = {".woff2": "woff2", ".woff": "woff", ".ttf": "truetype", ".otf": "opentype"}
ON_MOST_MACHINES = frozenset({
    "arial", "courier new", "georgia", "helvetica", "helvetica neue", "segoe ui", "times new roman", "trebuchet ms",
    "verdana",
})  # fmt: skip
"""Fonts that come with common systems (from memory): nobody needs to be told that they are not sent along."""
GENERIC = frozenset({"system-ui", "serif", "sans-serif", "monospace", "ui-serif", "ui-sans-serif", "ui-monospace"})
_FAMILY = re.compile(r"[\w][\w .-]{0,60}")
_PLAIN = re.compile(r"[^a-z0-9]+")

OVERRULED = {
    "docs_dir": "pages are read from content/pages",
    "site_dir": "the site is written to site/",
    "use_directory_urls": "pages end in .html, so that they can be opened from a folder",
    "theme.custom_dir": "templates of your own are read from content/theme",
}
"""Settings that the program decides itself, and how."""

THEME = ("name", "custom_dir", "language", "direction", "features", "palette", "font", "logo", "favicon", "icon",
         "static_templates")  # fmt: skip
"""Settings of `theme:` that mean something here; its engine takes any other, and shows nothing of it."""
PALETTE = ("media", "scheme", "primary", "accent", "toggle")


@dataclass
class Appearance:
    """What the shell is given: a style sheet, empty where nothing is the maker's own, and what has to be said."""

    css: str = ""
    problems: list[Problem] = field(default_factory=list)


Place = tuple[str | int, ...]
"""The keys under which a setting stands, places of lists among them."""
Say = Callable[[Place, str, str], None]


def look_of(settings: Mapping[str, Any], text: str, files: Collection[str], language: str) -> Appearance:
    """The look that the settings ask for.

    Parameters:
        settings: mkdocs.yml as it was read.
        text: the same as it is written, for lines and columns.
        files: what lies in content/pages, as posix paths.
        language: code of the workshop's language, which is that of the theme as well.
    """
    made = Appearance()
    tree = yaml.compose(text, Loader=yaml.SafeLoader) if text.strip() else None

    def say(place: Place, words: str, fix: str) -> None:
        line, column = _place(tree, place)
        name = ".".join(str(one) for one in place if isinstance(one, str))
        made.problems.append(Problem("mkdocs.yml", line, column, SiteCode.LOOK, f"{name}: {words}", fix, "warning"))

    theme = settings.get("theme")
    theme = theme if isinstance(theme, dict) else {}
    made.css = "".join((*_colours(theme, say), *_fonts(theme, files, say)))
    _logo(theme, files, say)
    _unknown(theme, ("theme",), THEME, say)
    for place, how in OVERRULED.items():
        keys = tuple(place.split("."))
        if keys[-1] in (theme if len(keys) > 1 else settings):
            say(keys, f"is not used: {how}", "delete the line")
    if theme.get("language") not in (None, language):
        say(
            ("theme", "language"), f"is not used: the site is in the workshop's language, {language}", "delete the line"
        )
    for at, name in enumerate(theme.get("features") or ()):
        if str(name).startswith("navigation.instant"):
            why = f"{name} is left out: it would keep scripts of another page alive"
            say(("theme", "features", at), why, "delete the line")
    return made


def _unknown(written: Mapping[str, Any], place: Place, known: Collection[str], say: Say) -> None:
    """Say what is written and means nothing, as a setting whose name has a slip."""
    for name in written:
        if name not in known:
            near = nearest(str(name), known)
            fix = f"write {near}" if near else f"delete the line; what means something is {', '.join(known)}"
            say((*place, name), "is no setting that the site knows, so nothing is shown of it", fix)


# --- colours ---------------------------------------------------------------------------------------------


def _colours(theme: Mapping[str, Any], say: Say) -> Iterator[str]:
    """The variables of each scheme in which the maker chose a colour."""
    written = theme.get("palette")
    several = isinstance(written, list)
    found: dict[str, dict[str, str]] = {}
    for at, entry in enumerate(written if isinstance(written, list) else [written]):
        if not isinstance(entry, dict):
            continue
        place = ("theme", "palette", *((at,) if several else ()))
        _unknown(entry, place, PALETTE, say)
        scheme = entry.get("scheme")
        if scheme not in (None, *SCHEMES):
            words = f"{scheme} is none of the schemes that the site has; it is shown in light colours"
            say((*place, "scheme"), words, f"write one of {', '.join(SCHEMES)}")
        # One palette for all, without a scheme, is that of the light and of the dark pages.
        for one in [scheme] if scheme in SCHEMES else [*SCHEMES] if scheme is None and not several else ["default"]:
            found.setdefault(one, {}).update(_variables(entry, one, place, say))
    for scheme in SCHEMES:
        if found.get(scheme):
            lines = "".join(f"  {name}: {value};\n" for name, value in found[scheme].items())
            rule = f"{SELECTORS[scheme]} {{\n{lines}}}\n"
            yield f"@media screen {{\n{rule}}}\n" if scheme == "slate" else rule


def _variables(entry: Mapping[str, Any], scheme: str, place: Place, say: Say) -> Iterator[tuple[str, str]]:
    """The head's colour as it is, with what can be read on it; the accent so that it can be read on the pages."""
    primary = _colour(entry, "primary", place, say)
    if primary:
        yield "--gg-maker-head", primary
        yield "--gg-maker-on-head", on(primary)
    accent = _colour(entry, "accent", place, say)
    if accent:
        colours = palette(SCHEMES[scheme])
        papers = [colours["--gg-paper"], colours["--gg-sheet"]]
        tone = readable(accent, papers)
        if tone != accent:
            words = (
                f"{entry['accent']} cannot be read on {SCHEMES[scheme]} pages, its contrast is "
                f"{worst(accent, papers):.1f} where {READABLE} is wanted; {tone} is shown in its place"
            )
            say((*place, "accent"), words, f'leave it so, or write "{tone}" or another tone')
        yield "--gg-maker-accent", tone


def _colour(entry: Mapping[str, Any], name: str, place: Place, say: Say) -> str | None:
    if entry.get(name) is None:
        return None
    colour = colour_of(str(entry[name]))
    if colour is None:
        words = f"{entry[name]} is no colour that the site knows, so it is left out"
        say((*place, name), words, f'write it as "#0b5cad", or one of {", ".join(NAMED)}')
    return colour


# --- fonts -----------------------------------------------------------------------------------------------


def _fonts(theme: Mapping[str, Any], files: Collection[str], say: Say) -> Iterator[str]:
    """Font faces of the files that lie in the workshop, and which of them text and code take first."""
    written = theme.get("font")
    if written is None or written is False:
        return
    if not isinstance(written, dict):
        say(("theme", "font"), "is not understood, so it is left out", "write font: {text: NAME, code: NAME}")
        return
    variables = []
    for kind in ("text", "code"):
        if written.get(kind) is None:
            continue
        name = str(written[kind]).strip()
        if not _FAMILY.fullmatch(name):
            say(("theme", "font", kind), "is no name of a font, so it is left out", "write letters, digits and spaces")
            continue
        own = [*_files_of(name, files)]
        yield from (_face(name, one) for one in own)
        if not own and name.lower() not in ON_MOST_MACHINES | GENERIC:
            words = f"content/pages has no file of the font {name}, so only readers who have it see it"
            say(("theme", "font", kind), words, f"put {_plain(name)}.woff2 into content/pages/fonts; none is fetched")
        variables.append(f"  --gg-maker-{kind}-font: {name if name in GENERIC else _quoted(name)};\n")
    if variables:
        yield f":root {{\n{''.join(variables)}}}\n"


def _files_of(name: str, files: Collection[str]) -> Iterator[str]:
    """The font's files: those called by its name, whatever follows: `kettle-sans-bold.woff2`."""
    for one in sorted(files):
        path = PurePosixPath(one)
        stem = _plain(path.stem)
        if path.suffix.lower() in FONT_FILES and (stem == _plain(name) or stem.startswith(f"{_plain(name)}-")):
            yield one


def _face(name: str, path: str) -> str:
    words = _plain(PurePosixPath(path).stem).removeprefix(_plain(name)).split("-")
    weight = "100 900" if "variable" in words else "700" if "bold" in words else "400"
    style = "italic" if "italic" in words else "normal"
    kind = FONT_FILES[PurePosixPath(path).suffix.lower()]
    address = "../" * SHEET.count("/") + path
    return (
        f"@font-face {{\n  font-family: {_quoted(name)};\n  font-style: {style};\n  font-weight: {weight};\n"
        f"  font-display: swap;\n  src: url({_quoted(address)}) format({_quoted(kind)});\n}}\n"
    )


def _plain(name: str) -> str:
    return _PLAIN.sub("-", name.lower()).strip("-")


def _quoted(text: str) -> str:
    """A text as CSS writes one; none of these holds a sign that could end it."""
    return '"' + re.sub(r'["\\\n]', "", text) + '"'


# --- logo ------------------------------------------------------------------------------------------------


def _logo(theme: Mapping[str, Any], files: Collection[str], say: Say) -> None:
    """A picture that is not there is left out; what the theme calls an icon is no file of the workshop."""
    for name in ("logo", "favicon"):
        if theme.get(name) is not None and not is_there(theme, name, files):
            words = f"content/pages has no file {theme[name]}, so the site's own mark stands there"
            say(("theme", name), words, "write its path as seen from content/pages")


def is_there(theme: Mapping[str, Any], name: str, files: Collection[str]) -> bool:
    """Whether the picture that a setting names lies among the pages."""
    return str(theme.get(name) or "") in files


# --- where it is written ---------------------------------------------------------------------------------


def look_at(root: Path, settings: Mapping[str, Any], files: Collection[str], language: str) -> Appearance:
    """The look of the workshop at `root`, whose settings were read already."""
    text = bytes_of(root / "mkdocs.yml").decode("utf-8-sig")
    return look_of(settings, text, files, language)


def _place(node: yaml.Node | None, keys: Place) -> tuple[int, int]:
    """Line and column of the value under these keys, as far as they lead."""
    line = column = 1
    for key in keys:
        found: yaml.Node | None = None
        if isinstance(node, yaml.MappingNode):
            found = next((value for name, value in node.value if name.value == key), None)
        elif isinstance(node, yaml.SequenceNode) and isinstance(key, int) and key < len(node.value):
            found = node.value[key]
        if found is None:
            break
        node, line, column = found, found.start_mark.line + 1, found.start_mark.column + 1
    return line, column
