"""What stock themes leave to fix before everybody can use the page: names, labels, keyboard, skip link.

Each fix is one small change to HTML text that does nothing where there is nothing to fix, so the pass may
run over any engine's pages, and twice. Words come from the page itself, and so are in the page's language.
"""

from __future__ import annotations

import html
import re
from collections.abc import Callable

from guidegen.site.finish.stacking import stack_tables
from guidegen.units import UNITS

Fix = Callable[[str], str]

_BOX = 'class="gg-scroll"'
_TAGS = re.compile(r"<[^>]*>")
_AS_WRITTEN = re.compile(
    r"<!--.*?-->|<(script|style|pre|code|textarea|title|template)(?![a-z0-9])[^>]*+>.*?</\1(?![a-z0-9])", re.DOTALL
)
"""Comments, and elements whose text is read by a program, or copied."""
_WORDS = ("V~", "V⎓", "turn", "turns", "millimetre", "millimetres")
_MEASURES = "|".join(
    re.escape(unit) for unit in sorted({*_WORDS, *(u for of in UNITS.values() for u in of if u)}, key=len)[::-1]
)
_TOGETHER = re.compile(
    rf"[0-9±HGR] (?:(?<=[0-9] )(?=(?:{_MEASURES})(?!\w))|(?<=± )(?=[0-9])|(?<=\bpH )(?=[0-9])|(?<=\b[GR] )(?=[0-9]))"
)
_NAVIGATIONS = re.compile(r'(<nav\b[^>]*?)aria-label="([^"]*)"')
_NAVIGATION = re.compile(r'<nav\b[^>]*?aria-label="([^"]*)"')
_SCRIPT = re.compile(r'<script src="([^"]*)"></script>')
_SWITCH = re.compile(r'<input\b(?=[^>]*\btype="(?:checkbox|radio)")[^>]*>')
_ID = re.compile(r"""<(?:h1|div)\b[^>]*\bid=["']?([^"'\s>]+)""")


def name_language(page: str) -> str:
    """The page says which language it is in, also where the theme has no words of its own in that language."""
    language = _word(page, "language", "")
    return re.sub(r'<html lang="[^"]*"', f'<html lang="{language}"', page, count=1) if language else page


def name_search_dialog(page: str) -> str:
    """The search dialog gets its field's label as its name."""
    words = _label(page, r'class="md-search__input"')
    return re.sub(
        r'(<div class="md-search"(?![^>]*aria-label)[^>]*role="dialog")',
        rf'\1 aria-label="{words}"',
        page,
        count=1,
    )


def name_search_results(page: str) -> str:
    """The list of results scrolls and takes the focus, so it is a region with the name of the search field."""
    words = _label(page, r'class="md-search__input"')
    return re.sub(
        r'(<div class="md-search__scrollwrap"(?![^>]*role=))', rf'\1 role="region" aria-label="{words}"', page, count=1
    )


def complete_no_switch(page: str) -> str:
    """A box to tick takes no `autocomplete` (HTML, 4.10.18.7): nothing is typed into it."""
    return _SWITCH.sub(lambda found: found[0].replace(' autocomplete="off"', ""), page)


def label_what_is_there(page: str) -> str:
    """A title that was made as a label of a switch is plain text where the theme left the switch out."""
    if 'id="__toc"' in page:
        return page
    label = r'<label( class="md-nav__title") for="__toc">(.*?)</label>'
    return re.sub(label, r"<div\1>\2</div>", page, flags=re.DOTALL)


def name_tag_navigation(page: str) -> str:
    """A list of tags in a ``nav`` gets a name of its own, to distinguish it from the other navigations."""
    words = _word(page, "tags", "Tags")
    return re.sub(r'<nav class="md-tags"(?![^>]*aria-label)', f'<nav class="md-tags" aria-label="{words}"', page)


def name_navigations_apart(page: str) -> str:
    """The menu repeats the contents of its page; there they are named after the menu, so that each name stands once."""
    menu = _label(page, r'class="md-nav md-nav--primary[^"]*"')
    names = _NAVIGATION.findall(page)
    seen: set[str] = set()

    def apart(found: re.Match[str]) -> str:
        name = found.group(2)
        if name in seen or names.count(name) < 2:
            return found.group()
        seen.add(name)
        return f'{found.group(1)}aria-label="{menu}: {name}"'

    return _NAVIGATIONS.sub(apart, page)


def label_task_boxes(page: str) -> str:
    """A task list's box is named by the text that follows it."""

    def labelled(found: re.Match[str]) -> str:
        text = " ".join(html.unescape(_TAGS.sub(" ", found.group("text"))).split())
        label = f' aria-label="{html.escape(text)}"'
        return found.group("before") + label + found.group("after") + found.group("text")

    return re.sub(
        r'(?P<before><li class="task-list-item"[^>]*>\s*(?:<p>\s*)?(?:<label[^>]*>\s*)?<input(?![^>]*aria-label))'
        r"(?P<after>[^>]*>)(?P<text>.*?(?=</li>|<ul|<ol))",
        labelled,
        page,
        flags=re.DOTALL,
    )


def open_by_button(page: str) -> str:
    """What opens menu and search becomes a button, which the keyboard reaches; ``keys.js`` presses the toggle."""
    for field, words in (
        ("__drawer", _label(page, r'class="md-nav md-nav--primary[^"]*"')),
        ("__search", _label(page, r'class="md-search__input"')),
    ):
        page = re.sub(
            rf'<label class="md-header__button md-icon" for="{field}">(.*?)</label>',
            rf'<button type="button" class="md-header__button md-icon" data-opens="{field}" '
            rf'aria-label="{words}">\1</button>',
            page,
            flags=re.DOTALL,
        )
    return page


def add_skip_link(page: str) -> str:
    """Where the theme found no heading to skip to, the link leads to the article."""
    if 'class="md-skip"' in page:
        return page
    place = page.find("<article")
    target = _ID.search(page, place) if place >= 0 else None
    if not target:
        return page
    words = _word(page, "skip", "Skip to content")
    link = f'<a href="#{target.group(1)}" class="md-skip">{words}</a>'
    return re.sub(r'(<div data-md-component="skip">)', rf"\1{link}", page, count=1)


def let_tables_scroll(page: str) -> str:
    """A table of a hand-written page stands in a box that scrolls and takes the focus, named by its heading.

    Of several below one heading the second and later ones have a number, so that no two have one name.
    """
    if all(_BOX in page[max(0, one.start() - 200) : one.start()] for one in re.finditer("<table>", page)):
        return page
    heading, count = "", 0
    out: list[str] = []
    for piece in re.split(r"(<h[1-6]\b.*?</h[1-6]>|<table>.*?</table>)", page, flags=re.DOTALL):
        if piece.startswith("<h"):
            heading, count = " ".join(html.unescape(_TAGS.sub("", piece)).split()), 0
        elif piece.startswith("<table>") and _BOX not in "".join(out[-1:])[-200:]:
            count += 1
            name = html.escape(f"{heading} ({count})" if count > 1 else heading)
            piece = f'<div {_BOX} tabindex="0" role="region" aria-label="{name}">{piece}</div>'
        out.append(piece)
    return "".join(out)


def keep_units(page: str) -> str:
    """A number stays on the line of its unit, as a thread's letter and a tolerance's sign stay with theirs.

    >>> keep_units("<b title='8 mm'>8 mm</b> of 10 parts").replace("\xa0", "_")
    "<b title='8 mm'>8_mm</b> of 10 parts"
    """
    out: list[str] = []
    at = 0
    spans = [one.span() for one in _AS_WRITTEN.finditer(page)]
    for found in _TOGETHER.finditer(page):
        start = found.end() - 1
        while spans and spans[0][1] <= start:
            spans.pop(0)
        # Within a tag the nearest sign of one before is where it begins.
        if not (spans and spans[0][0] < start) and page.rfind("<", 0, start) <= page.rfind(">", 0, start):
            out += (page[at:start], "\xa0")
            at = start + 1
    return "".join((*out, page[at:]))


def let_scripts_wait(page: str) -> str:
    """The theme's script runs once the page is there, after those that were asked to wait before it."""
    head, end, body = page.partition("</head>")
    return head + end + _SCRIPT.sub(r'<script src="\1" defer></script>', body)


FIXES: tuple[Fix, ...] = (
    name_language,
    let_tables_scroll,
    stack_tables,
    name_search_dialog,
    name_search_results,
    complete_no_switch,
    label_what_is_there,
    name_tag_navigation,
    name_navigations_apart,
    label_task_boxes,
    open_by_button,
    add_skip_link,
    keep_units,
    let_scripts_wait,
)


def post_process(page: str) -> str:
    """The page with every fix applied."""
    for change in FIXES:
        page = change(page)
    return page


def _word(page: str, name: str, fallback: str) -> str:
    """A word that the shell's template left for this pass, as written."""
    found = re.search(rf'<template class="words"[^>]*\bdata-{name}="([^"]*)"', page)
    return (found.group(1) if found else fallback).replace("\\", r"\\")


def _label(page: str, where: str) -> str:
    """The ``aria-label`` of the element whose tag contains ``where``, as written."""
    found = re.search(rf'<[^>]*{where}[^>]*\baria-label="([^"]*)"', page)
    return found.group(1).replace("\\", r"\\") if found else "Open"
