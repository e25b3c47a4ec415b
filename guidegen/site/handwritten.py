"""Hand-written pages: Jinja first, so that they can name guides and numbers; Markdown is the engine's part.

What comes out of ``{{ … }}`` is text: characters that HTML or Markdown would read as markup are written as
character references, because a name in a variant file may come from a stranger. Only values that are marked
as HTML by the code that made them (``markupsafe.Markup``) pass as they are.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import jinja2
from markupsafe import Markup, escape

from guidegen.problems import CatalogueError, Problem
from guidegen.reading import bytes_of
from guidegen.site.codes import SiteCode
from guidegen.site.output import EMPTY, PLAIN, walked
from guidegen.site.pages.page import rel
from guidegen.site.sandbox import PageEnvironment

MOST_OF_A_PAGE = 1_000_000
"""Bytes of one hand-written page."""

_MARKUP = re.compile(r"""[&<>"'\\`*_{}\[\]()#+.!|~^=:$-]""")


def plain(value: object) -> object:
    """``value`` as it may stand in Markdown: HTML stays HTML, everything else becomes nothing but text."""
    if hasattr(value, "__html__") or isinstance(value, jinja2.Undefined):
        return value
    return Markup(_MARKUP.sub(lambda found: f"&#{ord(found.group())};", str(value)))


def render(folder: Path, context: Mapping[str, Any], shown_as: str = "content/pages") -> dict[str, bytes]:
    """Every file under ``folder`` by its posix path; ``.md`` files with their templates filled in.

    ``context`` holds the names that pages may use. Its ``guides`` map ``(variant, kit)`` to the text of a link, for
    ``{{ guide("variant", "kit") }}``; its ``pictures`` make the figure of each photograph, for ``{{ picture("id") }}``;
    its ``figures`` print a number with its range, for ``{{ figure("variant", "kit", "warm_up.added") }}``.
    Also given: ``page_path`` (the page's own place in the site) and ``rel`` (a link to a place in the site).
    All pages are tried before the problems of all of them are raised together.
    """
    files: dict[str, bytes] = {}
    problems: list[Problem] = []
    for name in files_of(folder, shown_as, problems):
        files[name] = _filled(folder / name, name, f"{shown_as}/{name}", context, problems)
    if problems:
        raise CatalogueError(tuple(sorted(problems)))
    return files


def _filled(path: Path, name: str, shown: str, context: Mapping[str, Any], problems: list[Problem]) -> bytes:
    """One file as the engine gets it; what is wrong with a page goes to `problems`."""
    if path.suffix != ".md":
        return bytes_of(path)
    place, words, fix = 1, "", "correct the line"
    code = SiteCode.TEMPLATE
    try:
        source = bytes_of(path, MOST_OF_A_PAGE).decode("utf-8-sig").replace("\r\n", "\n")
        return PageEnvironment(plain).from_string(source).render(_names(name, context)).encode("utf-8")
    except UnicodeDecodeError as fault:
        words, fix = f"not UTF-8: {fault.reason}", "save it as UTF-8"
    except jinja2.TemplateSyntaxError as fault:
        place, words = fault.lineno, fault.message or "template mistake"
    except (jinja2.UndefinedError, UnknownGuide, UnknownPicture, UnknownFigure) as fault:
        code, place, words = SiteCode.UNKNOWN_NAME, _line_of(fault), str(fault)
        used = sorted([*({*context} - {"pictures", "figures"}), "figure", "guide", "picture", "rel", "page_path"])
        fix = f"pages may use: {', '.join(used)}" if isinstance(fault, jinja2.UndefinedError) else fault.fix
    except OSError as fault:
        words, fix = f"cannot be read: {fault.strerror}", "look at the file"
    except Exception as fault:
        # Whatever goes wrong inside a template is written there; nothing of ours runs in it but what counts.
        place, words = _line_of(fault), str(fault) or type(fault).__name__
    problems.append(_problem(code, shown, place, words, fix))
    return b""


def files_of(folder: Path, shown_as: str, problems: list[Problem]) -> list[str]:
    """The posix path of every file below a folder that may be published; what may not goes to `problems`.

    Hidden files stay where they are.
    """
    if folder.is_symlink():
        problems.append(_problem(SiteCode.NOT_PUBLISHABLE, shown_as, 1, "a link", "copy the folder here instead"))
        return []
    found: dict[str, str] = {}
    for name, what in sorted(walked(folder)) if folder.is_dir() else ():
        if any(part.startswith(".") for part in name.split("/")) or what == EMPTY:
            continue
        other = found.setdefault(name.casefold(), name)
        if what != PLAIN:
            words, fix = what, "copy the file here instead"
        elif not name.isprintable() or "\\" in name:
            words, fix = "a name with a sign that cannot be printed, or a backslash", "rename the file"
        elif other != name:
            words, fix = f"{name} and {other} differ by case only", "rename one of them"
        else:
            continue
        del found[name.casefold()]
        problems.append(_problem(SiteCode.NOT_PUBLISHABLE, f"{shown_as}/{name}", 1, words, fix))
    return list(found.values())


def locate(root: Path, problems: Iterable[Problem]) -> list[Problem]:
    """Problems of finished pages, led back to the line of the Markdown that somebody wrote, where there is one."""
    return [_located(root, problem) for problem in problems]


def _located(root: Path, problem: Problem) -> Problem:
    shown = f"content/pages/{problem.path.removesuffix('.html')}.md"
    if not problem.path.endswith(".html") or not (root / shown).is_file():
        return problem
    lines = bytes_of(root / shown).decode("utf-8-sig").split("\n")
    quoted = re.findall(r'"([^"]+)"', problem.message)
    wanted = [text for word in quoted for text in (word, word.replace(".html", ".md"))]
    found = (number for word in wanted for number, text in enumerate(lines, 1) if word in text)
    return replace(problem, path=shown, line=next(found, 1))


class UnknownGuide(LookupError):
    """A page names a guide that is not made."""

    def __init__(self, variant: str, kit: str, known: Mapping[tuple[str, str], str]) -> None:
        super().__init__(f'there is no guide for "{variant}" with "{kit}"')
        names = [f"{a} {b}" for a, b in known]
        near = difflib.get_close_matches(f"{variant} {kit}", names, n=1, cutoff=0.0)
        self.fix = 'write guide("{}", "{}")'.format(*near[0].split()) if near else "no guides are made yet"


class UnknownPicture(LookupError):
    """A page shows a photograph that content/pictures.yml does not list."""

    def __init__(self, name: str, known: Iterable[str]) -> None:
        super().__init__(f'there is no picture "{name}"')
        near = difflib.get_close_matches(name, known, n=1, cutoff=0.6)
        self.fix = f'write picture("{near[0]}")' if near else "list it in content/pictures.yml"


class UnknownFigure(LookupError):
    """A page prints a number that no guide has."""

    def __init__(self, name: str, known: Iterable[str]) -> None:
        super().__init__(f'no number is called "{name}"')
        near = difflib.get_close_matches(name, [*known], n=1, cutoff=0.5)
        self.fix = f'write "{near[0]}"' if near else "`guidegen assess VARIANT KIT --json` has the names of all numbers"


def _names(name: str, context: Mapping[str, Any]) -> dict[str, Any]:
    """The names of one page: the caller's, and those that depend on where the page lies."""
    page_path = name.removesuffix(".md") + ".html"
    guides: Mapping[tuple[str, str], str] = context.get("guides", {})

    def guide(variant: str, kit: str, text: str | None = None) -> Markup:
        if (variant, kit) not in guides:
            raise UnknownGuide(variant, kit, guides)
        href = rel(page_path, f"guides/{variant}/{kit}/index.html")
        return Markup(f'<a href="{escape(href)}">{escape(text or guides[variant, kit])}</a>')

    pictures: Mapping[str, Callable[[str], Markup]] = context.get("pictures", {})

    def picture(wanted: str) -> Markup:
        if wanted not in pictures:
            raise UnknownPicture(wanted, pictures)
        return pictures[wanted](page_path)

    figures: Mapping[tuple[str, str], Callable[[str, str], Markup | list[str]]] = context.get("figures", {})

    def figure(variant: str, kit: str, wanted: str) -> Markup:
        if (variant, kit) not in figures:
            raise UnknownGuide(variant, kit, guides)
        shown = figures[variant, kit](page_path, wanted)
        if isinstance(shown, list):
            raise UnknownFigure(wanted, shown)
        return shown

    return {
        "guides": guides,
        **{key: value for key, value in context.items() if key not in ("pictures", "figures")},
        "figure": figure,
        "picture": picture,
        "page_path": page_path,
        "guide": guide,
        "rel": lambda to: Markup(escape(rel(page_path, to))),
    }


def _line_of(fault: BaseException) -> int:
    """The template's line: the innermost traceback entry that lies in a template, not in our code."""
    line, entry = 1, fault.__traceback__
    while entry is not None:
        if entry.tb_frame.f_code.co_filename == "<template>":
            line = entry.tb_lineno
        entry = entry.tb_next
    return line


def _problem(code: SiteCode, path: str, line: int, message: str, fix: str) -> Problem:
    return Problem(path, line, 1, code, message, fix)
