"""Each fix of the engine's markup, twice, and on a page that has nothing to fix."""

from __future__ import annotations

import re

import pytest

from guidegen.site.finish.fixes import (
    FIXES,
    Fix,
    add_skip_link,
    complete_no_switch,
    keep_units,
    label_task_boxes,
    label_what_is_there,
    let_scripts_wait,
    name_language,
    name_navigations_apart,
    name_search_dialog,
    name_search_results,
    open_by_button,
    post_process,
)
from guidegen.site.finish.fixes import name_tag_navigation as name_tags

SEARCH = (
    '<div class="md-search" data-md-component="search" role="dialog">'
    '<input type="text" class="md-search__input" name="query" aria-label="Suche" placeholder="Suche">'
    '<div class="md-search__output"><div class="md-search__scrollwrap" tabindex="0" data-md-scrollfix></div></div>'
    "</div>"
)
LONE = '<label class="md-nav__title" for="__toc">\n  On this page\n</label>'
DRAWER = '<input class="md-toggle" data-md-toggle="drawer" type="checkbox" id="__drawer" autocomplete="off">'
HEADER = (
    '<label class="md-header__button md-icon" for="__drawer"><svg/></label>'
    '<label class="md-header__button md-icon" for="__search"><svg/></label>'
    + SEARCH
    + '<nav class="md-nav md-nav--primary md-nav--lifted" aria-label="Wegweiser" data-md-level="0"></nav>'
)


def test_a_page_says_its_language_where_the_theme_cannot() -> None:
    """The shell knows the workshop's language, the theme one that it has words in."""
    page = '<html lang="en" class="no-js"><template class="words" data-language="eo" data-skip="x"></template>'
    assert name_language(page).startswith('<html lang="eo" class="no-js">')
    assert name_language('<html lang="en">') == '<html lang="en">'


def test_search_dialog_takes_the_name_of_its_field() -> None:
    """In the page's own language."""
    assert '<div class="md-search" data-md-component="search" role="dialog" aria-label="Suche">' in post_process(SEARCH)


def test_what_scrolls_and_takes_the_focus_is_a_named_region() -> None:
    """The list of results, by the name of the field that fills it."""
    wanted = '<div class="md-search__scrollwrap" role="region" aria-label="Suche" tabindex="0" data-md-scrollfix>'
    assert wanted in name_search_results(SEARCH)


def test_only_what_is_typed_into_is_completed() -> None:
    """HTML, 4.10.18.7: `autocomplete` does not apply to a check box; a search field keeps it."""
    field = '<input type="text" class="x" autocomplete="off">'
    assert complete_no_switch(DRAWER + field) == DRAWER.replace(' autocomplete="off"', "") + field


def test_a_label_without_its_switch_is_plain_text() -> None:
    """With the switch it stays what it was."""
    assert label_what_is_there(LONE) == '<div class="md-nav__title">\n  On this page\n</div>'
    assert label_what_is_there(f'<input id="__toc">{LONE}') == f'<input id="__toc">{LONE}'


def test_menu_and_search_open_by_named_buttons() -> None:
    """A label cannot be reached by the keyboard; a button can."""
    page = open_by_button(HEADER)
    assert 'data-opens="__drawer" aria-label="Wegweiser"><svg/></button>' in page
    assert 'data-opens="__search" aria-label="Suche"><svg/></button>' in page
    assert "<label" not in page


@pytest.mark.parametrize(
    "before",
    [
        '<li class="task-list-item"><input type="checkbox" disabled/> Drain <em>all</em> &amp; dry</li>',
        '<li class="task-list-item"><p><input type="checkbox" disabled/> Drain <em>all</em> &amp; dry</p></li>',
        '<li class="task-list-item"><label class="task-list-control"><input type="checkbox" disabled/>'
        '<span class="task-list-indicator"></span></label> Drain <em>all</em> &amp; dry</li>',
        '<li class="task-list-item"><input type="checkbox" disabled/> Drain <em>all</em> &amp; dry'
        "<ul><li>x</li></ul></li>",
    ],
)
def test_task_box_is_named_by_its_text(before: str) -> None:
    """Whether the list is tight or loose, plain or styled, alone or with a list below."""
    assert re.search(r'<input aria-label="Drain all &amp; dry" type="checkbox"', label_task_boxes(before))


def test_tag_navigation_gets_a_name_and_keeps_one_it_has() -> None:
    """Two navigations without names cannot be distinguished."""
    assert name_tags('<nav class="md-tags" >') == '<nav class="md-tags" aria-label="Tags" >'
    named = '<nav class="md-tags" aria-label="Schlagworte">'
    assert name_tags(named) == named


def test_what_the_menu_repeats_is_named_after_the_menu() -> None:
    """The first of two navigations of one name lies in the menu; what stands once keeps its name."""
    page = (
        HEADER + '<nav aria-label="Inhalt"></nav><nav class="b" aria-label="Inhalt"></nav><nav aria-label="Pfad"></nav>'
    )
    made = name_navigations_apart(page)
    assert re.findall(r'<nav[^>]* aria-label="([^"]*)"', made) == ["Wegweiser", "Wegweiser: Inhalt", "Inhalt", "Pfad"]


def test_page_without_a_skip_link_gets_one_to_its_article() -> None:
    """It leads to the first id that the article offers."""
    page = '<div data-md-component="skip"></div><h1 id="wrong"></h1><article class="x"><div id="guide"><h1 id="t">'
    assert '<div data-md-component="skip"><a href="#guide" class="md-skip">' in add_skip_link(page)


def test_table_of_a_hand_written_page_scrolls_in_a_named_box_and_others_stay() -> None:
    """Its name is the heading above; a table that is in such a box already stays as it is."""
    table = "<table>\n<thead></thead></table>"
    box = '<div class="gg-scroll" tabindex="0" role="region" aria-label="Words &amp; more">'
    assert post_process(f'<h2 id="w">Words &amp; <em>more</em></h2><p>x</p>{table}').endswith(
        f"<p>x</p>{box}{table}</div>"
    )
    boxed = f'<div class="gg-scroll" tabindex="0" role="region" aria-label="Parts">\n{table}</div>'
    assert post_process(boxed) == boxed


def test_words_come_from_the_shell_where_it_left_some() -> None:
    """So that they are in the site's language."""
    words = '<template class="words" data-skip="Zum Inhalt" data-tags="Schlagworte"></template>'
    page = post_process(words + '<div data-md-component="skip"></div><nav class="md-tags"></nav><article><h1 id="t">')
    assert '<a href="#t" class="md-skip">Zum Inhalt</a>' in page
    assert '<nav class="md-tags" aria-label="Schlagworte">' in page


def test_skip_link_of_the_theme_is_kept() -> None:
    """One is enough."""
    page = '<div data-md-component="skip"><a href="#x" class="md-skip">Skip</a></div><article><h1 id="x">'
    assert add_skip_link(page) == page


@pytest.mark.parametrize("change", FIXES, ids=lambda change: change.__name__)
def test_a_second_pass_changes_nothing(change: Fix) -> None:
    """The pass may run over its own result."""
    page = '<html lang="en"><template class="words" data-language="en-GB"></template>' + HEADER + DRAWER + LONE
    page += '<nav aria-label="On this page"></nav><nav aria-label="On this page"></nav>'
    page += '<nav class="md-tags"></nav><div data-md-component="skip"></div><article><h1 id="a">A</h1>'
    page += '<li class="task-list-item"><input type="checkbox"/> x</li><table></table><p>8 mm</p>'
    head = "".join(f'<th scope="col">{name}</th>' for name in "ABC")
    page += f'<table class="wide"><thead><tr>{head}</tr></thead><tr><td>1</td></tr></table></article>'
    page = f'<head></head>{page}<script src="theme.js"></script>'
    assert change(page) != page
    assert change(change(page)) == change(page)


@pytest.mark.parametrize("page", ["", "<p>x</p>", '<article><h1 id="a">A</h1></article>'])
def test_page_of_another_theme_is_left_as_it_is(page: str) -> None:
    """Nothing to fix, nothing changed."""
    assert post_process(page) == page
    assert name_search_dialog(page) == page


@pytest.mark.parametrize(
    ("text", "kept"),
    [
        ("8 N·m ± 0.5 N·m", "8_N·m ±_0.5_N·m"),
        ("at 40 °C, 5 % or 230 V~", "at 40_°C, 5_% or 230_V~"),
        ("10 × 14 × 1.5 mm", "10 × 14 × 1.5_mm"),
        ("3/4 turn at pH 6, G 1/8", "3/4_turn at pH_6, G_1/8"),
        ("2 males in step 4 missing", "2 males in step 4 missing"),
    ],
)
def test_a_number_stays_with_its_unit(text: str, kept: str) -> None:
    """ISO 80000-1, 7.1.4: a space stands between number and unit; that no line ends there is common practice."""
    assert keep_units(f"<p>{text}</p>").replace("\xa0", "_") == f"<p>{kept}</p>"


def test_what_a_program_reads_keeps_its_spaces() -> None:
    """Scripts, code to copy, and whatever stands in a tag."""
    page = '<script type="application/json">["8 mm"]</script><pre><code>wall: 8 mm</code></pre><p title="8 mm">x</p>'
    assert keep_units(page) == page


def test_scripts_of_a_body_wait_and_those_of_a_head_do_not() -> None:
    """What says in which units numbers show has to run before the first paint (HTML, 4.12.1: defer keeps the order)."""
    head = '<head><script src="units.js"></script></head>'
    body = '<script>1</script><script type="application/json">{}</script><script src="a.js" data-x="1" defer></script>'
    assert let_scripts_wait(f'{head}{body}<script src="b.js"></script>') == (
        f'{head}{body}<script src="b.js" defer></script>'
    )
