"""The engine's settings: what the workshop wrote in ``mkdocs.yml``, and what must be so for guides to be bound in."""

from __future__ import annotations

import importlib.util
import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import yaml

from guidegen.language import SOURCE, gettext, marked, translation
from guidegen.problems import CatalogueError, Problem
from guidegen.reading import bytes_of
from guidegen.site.bind import frame_path
from guidegen.site.codes import SiteCode
from guidegen.site.engine.look import SHEET, is_there

MOST_OF_SETTINGS = 1_000_000
"""Bytes of one mkdocs.yml."""

WORDS = {
    "units": marked("Units"),
    "metric": marked("Metric"),
    "imperial": marked("Imperial"),
    "both": marked("Both"),
    "contents": marked("On this page"),
    "breadcrumbs": marked("Where you are"),
    "skip": marked("Skip to content"),
    "tags": marked("Tags"),
    "not_found": marked("This page is not here"),
    "not_found_help": marked("It may have moved with a newer edition. Search for the machine or the kit."),
    "home": marked("Go to the home page"),
}
"""The shell's own words. Its templates are the engine's, which knows no catalogue, so they are given to it."""

SCRIPT_WORDS = {
    "notices": {
        "notice": marked("Notice since this edition"),
        "withdrawn": marked("Withdrawn"),
        "newest": marked("The newest edition of this guide"),
        "as-of": marked("Offline: notices as of {date}."),
        "not-asked": marked("Offline: this device has no notices about this edition. Look for them before you begin."),
        "no-answer": marked("The site cannot say now how this guide stands. Look for notices again before you begin."),
    },
    "offers": {
        "price": marked("Price {price}"),
        "stock": marked("{count} in stock"),
        "none": marked("none in stock"),
        "lead": marked("leaves the workshop within {days} days"),
        "until": marked("Valid until {date}."),
        "between": marked("Valid from {first} until {last}."),
        "delivery": marked("Delivery {to}: {price}."),
        "delivery-days": marked("Delivery {to}: {price}, {days} days on the way."),
    },
}
"""What scripts of the shell say, by script: attributes of the element that loads it."""

_LIGHT, _DARK = marked("Use light colours"), marked("Use dark colours")


def _palette() -> list[dict[str, Any]]:
    """Light and dark as the reader's system is set, and a switch."""
    return [
        {
            "media": f"(prefers-color-scheme: {name})",
            "scheme": scheme,
            "toggle": {"icon": icon, "name": gettext(switch)},
        }
        for name, scheme, icon, switch in (
            ("light", "default", "material/weather-night", _DARK),
            ("dark", "slate", "material/white-balance-sunny", _LIGHT),
        )
    ]


_LIST, _TEXT = (list, "a list"), (str, "a text")
SHAPES: dict[str, tuple[type | tuple[type, ...], str]] = {
    "site_name": _TEXT,
    "site_url": _TEXT,
    "not_in_nav": _TEXT,
    "nav": _LIST,
    "hooks": _LIST,
    "plugins": ((list, dict), "a list"),
    "theme": ((dict, str), "a name or a mapping"),
    "theme.features": _LIST,
}
"""What the settings that are read here must be; the engine says what is wrong with the others."""


class _Lenient(yaml.SafeLoader):
    """Reads any mkdocs.yml for the few keys needed here; tags that only an engine knows become nothing."""


_Lenient.add_multi_constructor("", lambda loader, suffix, node: None)


def read_settings(path: Path) -> dict[str, Any]:
    """The workshop's own settings; a file that cannot be read is reported with its line."""
    fault, line, column = "", 1, 1
    try:
        text = bytes_of(path, MOST_OF_SETTINGS).decode("utf-8-sig")
        settings = yaml.load(text, _Lenient)
        if not isinstance(settings, dict):
            fault = "it holds no settings"
        elif wrong := _misshapen(settings):
            key, wanted = wrong
            fault = f"{key} is not {wanted}"
            line = _line_of(key.rpartition(".")[2], text)
        else:
            return settings
    except FileNotFoundError:
        fault = "the file is not there"
    except UnicodeDecodeError:
        fault = "it is not UTF-8"
    except OSError as error:
        fault = f"it cannot be read: {error.strerror}"
    except yaml.MarkedYAMLError as error:
        fault = error.problem or "not YAML"
        if error.problem_mark:
            line, column = error.problem_mark.line + 1, error.problem_mark.column + 1
    except RecursionError:
        fault = "it is nested too deeply"
    except (yaml.YAMLError, ValueError) as error:
        fault = f"not YAML: {' '.join(str(error).split())[:80]}"
    fix = "a workshop laid down by `guidegen new workshop` has one to look at"
    raise CatalogueError((Problem(path.name, line, column, SiteCode.SETTINGS, f"mkdocs.yml: {fault}", fix),))


def _misshapen(settings: Mapping[str, Any]) -> tuple[str, str] | None:
    """The first setting that is read here and has a wrong shape, and which it must have; None where all are right."""
    theme = settings.get("theme")
    within = {f"theme.{key}": value for key, value in theme.items()} if isinstance(theme, dict) else {}
    for key, (kinds, wanted) in SHAPES.items():
        value = within.get(key) if key.startswith("theme.") else settings.get(key)
        if value is not None and not isinstance(value, kinds):
            return key, wanted
    return None


def _line_of(key: str, text: str) -> int:
    """The line where a key is written."""
    lines = enumerate(text.split("\n"), 1)
    return next((number for number, line in lines if line.strip().startswith(f"{key}:")), 1)


def refuse_what_it_drops(settings: Mapping[str, Any]) -> None:
    """Zensical drops plugins and hooks without a word; the site would differ and nobody would know."""
    plugins = settings.get("plugins") or []
    names = [name for entry in plugins for name in (entry if isinstance(entry, dict) else [entry])]
    dropped = [str(name) for name in names if name != "search"] + [f"hook {h}" for h in settings.get("hooks") or []]
    if dropped:
        message = f"zensical would leave out without a word: {', '.join(dropped)}"
        fix = "build with --engine mkdocs, or take them out"
        raise CatalogueError((Problem("mkdocs.yml", 1, 1, SiteCode.SETTINGS, message, fix),))


def config(
    settings: Mapping[str, Any], docs: Mapping[str, bytes], engine: str, edition: str = "", folder: str = ""
) -> str:
    """The engine's own settings file: what must be so for guides to be bound in, over what the workshop set.

    `folder` is the one of the site in which the pages of this `edition` lie: their addresses name it.
    """
    frames = frame_path(0).replace(".html", ".md")
    quiet = {
        "not_found": "ignore",
        "anchors": "ignore",
        "absolute_links": "ignore",
        "unrecognized_links": "ignore",
    }
    made: dict[str, Any] = {
        "INHERIT": "../mkdocs.yml",
        "docs_dir": "engine/docs",
        "site_dir": "engine/site",
        "use_directory_urls": False,
        "not_in_nav": "\n".join([str(settings.get("not_in_nav") or ""), frames]).strip(),
        # Links are checked once, in the finished HTML, whichever engine made it.
        "validation": {"links": quiet, "nav": {"omitted_files": "ignore", "not_found": "warn"}},
        "theme": _theme(settings, engine),
        "extra": {
            "generator": False,
            "guidegen": {**_language_settings(), "edition": edition, "look": _look(settings, docs)},
        },
    }
    if edition:
        # The theme's selector reads the versions.json above the edition's folder; "mike" is what it calls that format.
        made["extra"]["version"] = {"provider": "mike", "default": "latest"}
    if folder and settings.get("site_url"):
        made["site_url"] = f"{str(settings['site_url']).rstrip('/')}/{folder}/"
    if not settings.get("nav"):
        made["nav"] = [name for name in sorted(docs) if name.endswith(".md") and not name.endswith(frames)]
    return json.dumps(made, indent=2, ensure_ascii=False, sort_keys=True) + "\n"


def _look(settings: Mapping[str, Any], docs: Mapping[str, bytes]) -> dict[str, str]:
    """The workshop's own style sheet, logo and icon, each where there is one."""
    theme = settings.get("theme")
    own = theme if isinstance(theme, dict) else {}
    pictures = {name: str(own[name]) for name in ("logo", "favicon") if is_there(own, name, docs)}
    return {**pictures, **({"sheet": SHEET} if SHEET in docs else {})}


def _language_settings() -> dict[str, Any]:
    """The language and its words, for the shell's templates and scripts."""
    return {
        "language": translation().code,
        "words": {name: gettext(text) for name, text in WORDS.items()},
        "script_words": {
            script: {name: gettext(text) for name, text in words.items()} for script, words in SCRIPT_WORDS.items()
        },
    }


def theme_language(engine: str) -> str:
    """The language of the theme's own words, which come with it: ours, or English where it has none.

    Nothing of the engine is imported for it: its package is only found.
    """
    package = importlib.util.find_spec("zensical" if engine == "zensical" else "material")
    places = package.submodule_search_locations if package else None
    folders = [Path(place, "templates", "partials", "languages") for place in places or ()]
    code = translation().code
    there = (one for one in (code, code.partition("-")[0]) for folder in folders if (folder / f"{one}.html").is_file())
    return next(there, SOURCE)


def _theme(settings: Mapping[str, Any], engine: str) -> dict[str, Any]:
    """The theme's settings: the workshop's own, but for what the shell cannot do without."""
    own = settings.get("theme") or {}
    own = own if isinstance(own, dict) else {"name": own}
    if own.get("name", "material") != "material":
        message = f"theme.name: the shell is made for material, not for {own['name']}"
        raise CatalogueError((Problem("mkdocs.yml", 1, 1, SiteCode.SETTINGS, message, "write material"),))
    # The tabs are the only navigation of wide screens; instant navigation would keep scripts of another page alive.
    features = [name for name in own.get("features") or [] if not str(name).startswith("navigation.instant")]
    theme = {
        "name": "material",
        "custom_dir": "engine/theme",
        "font": False,
        "language": theme_language(engine),
        "features": list(dict.fromkeys([*features, "navigation.tabs"])),
    }
    palette = own.get("palette")
    if not palette:
        theme["palette"] = _palette()
    elif isinstance(palette, dict) and "scheme" not in palette:
        # Colours without a scheme are those of both, and the switch between them stays.
        theme["palette"] = [{**one, **palette} for one in _palette()]
    if engine == "zensical":
        theme["variant"] = "classic"
    return theme
