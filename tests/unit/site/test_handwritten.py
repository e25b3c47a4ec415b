"""Hand-written pages: names are filled in as text, mistakes are reported with file and line."""

from __future__ import annotations

from pathlib import Path

import markdown
import pytest
from hypothesis import given
from hypothesis import strategies as st
from markupsafe import Markup

from guidegen.problems import CatalogueError, Problem
from guidegen.site.handwritten import locate, plain, render

GUIDES = {("tamsin-mk2", "feed-preheater"): "Tamsin Mark 2 with <Feed Preheater>"}


def page(tmp_path: Path, text: str, name: str = "index.md", **context: object) -> str:
    """One page, filled in."""
    (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
    (tmp_path / name).write_text(text, encoding="utf-8")
    return render(tmp_path, {"guides": GUIDES, **context})[name].decode()


def refused(tmp_path: Path, text: str, **context: object) -> str:
    """What is said about a page with one mistake."""
    with pytest.raises(CatalogueError) as caught:
        page(tmp_path, text, **context)
    (problem,) = caught.value.problems
    return str(problem)


def test_guide_becomes_a_link_relative_to_the_page(tmp_path: Path) -> None:
    """From a page in a folder the link goes up first; the text is escaped."""
    text = '{{ guide("tamsin-mk2", "feed-preheater") }} {{ guide("tamsin-mk2", "feed-preheater", "this one") }}'
    assert page(tmp_path, text, "more/about.md") == (
        '<a href="../guides/tamsin-mk2/feed-preheater/index.html">Tamsin Mark 2 with &lt;Feed Preheater&gt;</a> '
        '<a href="../guides/tamsin-mk2/feed-preheater/index.html">this one</a>'
    )


def test_page_knows_its_own_place(tmp_path: Path) -> None:
    """For links to generated pages that have no name of their own."""
    assert page(tmp_path, '{{ rel("machines.html#a") }}', "more/about.md") == "../machines.html#a"


def test_unknown_guide_is_reported_with_line_and_the_nearest(tmp_path: Path) -> None:
    """Line 3, and the name to write instead."""
    assert refused(tmp_path, '# A\n\n{{ guide("tamsin-mk1", "feed-preheater") }}\n') == (
        'content/pages/index.md:3:1: W02 there is no guide for "tamsin-mk1" with "feed-preheater"\n'
        '  fix: write guide("tamsin-mk2", "feed-preheater")'
    )


def test_unknown_name_is_reported_with_line_and_known_names(tmp_path: Path) -> None:
    """A gap on a page would not be seen by anybody but the reader."""
    printed = refused(tmp_path, "a\n\nb {{ kitts }}\n", kits=3)
    assert printed.startswith("content/pages/index.md:3:1: W02 'kitts' is undefined")
    assert "kits" in printed.splitlines()[1]


@pytest.mark.parametrize(
    ("text", "line"), [("a\n{{ x \n", 2), ("{% if %}", 1), ("a\n\n{% endfor %}", 3), ("\n{{ 1 + 'a' }}", 2)]
)
def test_template_mistake_is_reported_with_its_line(tmp_path: Path, text: str, line: int) -> None:
    """No traceback, one code, the right line."""
    assert refused(tmp_path, text).startswith(f"content/pages/index.md:{line}:1: W01 ")


def test_file_that_is_not_utf8_is_reported(tmp_path: Path) -> None:
    """Letters of another encoding would come out as others."""
    (tmp_path / "index.md").write_bytes(b"caf\xe9")
    with pytest.raises(CatalogueError, match="W01 not UTF-8"):
        render(tmp_path, {})


def test_all_mistakes_of_all_pages_come_together(tmp_path: Path) -> None:
    """Sorted by file."""
    (tmp_path / "b.md").write_text("{{ x }}", encoding="utf-8")
    (tmp_path / "a.md").write_text("{{ y }}", encoding="utf-8")
    with pytest.raises(CatalogueError) as caught:
        render(tmp_path, {})
    assert [problem.path for problem in caught.value.problems] == ["content/pages/a.md", "content/pages/b.md"]


def test_windows_files_and_marks_at_the_start_are_read(tmp_path: Path) -> None:
    """Line ends become plain, and the mark goes."""
    (tmp_path / "index.md").write_bytes("\ufeff# A\r\n\r\nB\r\n".encode())
    assert render(tmp_path, {})["index.md"] == b"# A\n\nB\n"


def test_other_files_are_taken_as_they_are_and_hidden_ones_left(tmp_path: Path) -> None:
    """A picture is not a template."""
    (tmp_path / "a.svg").write_bytes(b"<svg>{{ x }}</svg>")
    (tmp_path / ".swap.md").write_bytes(b"{{ x }}")
    assert render(tmp_path, {}) == {"a.svg": b"<svg>{{ x }}</svg>"}


def test_html_made_by_code_passes(tmp_path: Path) -> None:
    """Only what is marked as HTML is HTML."""
    assert page(tmp_path, "{{ a }} {{ b }}", a=Markup("<b>x</b>"), b="<b>x</b>") == (
        "<b>x</b> &#60;b&#62;x&#60;/b&#62;"
    )


@given(st.text(alphabet=st.characters(codec="utf-8", exclude_categories=("Cc", "Zl", "Zp", "Cs")), min_size=1))
def test_no_text_of_a_stranger_becomes_markup(text: str) -> None:
    """Whatever a name holds, a paragraph with it is that paragraph of text and nothing else."""
    html = markdown.markdown(f"start {plain(text)} end", extensions=["attr_list", "md_in_html", "footnotes", "tables"])
    assert html.startswith("<p>start ")
    assert html.endswith(" end</p>")
    assert "<" not in html.removeprefix("<p>").removesuffix("</p>")


@pytest.mark.parametrize(
    "text", ["[x](javascript:alert(1))", "<script>", "`code`", "![x](y)", "*x*", "__x__", "&lt;", "{: .c }", "a\\*b"]
)
def test_known_markup_stays_text(text: str) -> None:
    """The reader sees the signs as they were written."""
    import html

    shown = markdown.markdown(str(plain(text)), extensions=["attr_list"])
    assert html.unescape(shown) == f"<p>{text}</p>"


def test_problem_of_a_finished_page_is_led_back_to_its_markdown(tmp_path: Path) -> None:
    """A link is looked for as written in HTML and as written in Markdown; other pages stay as they are."""
    (tmp_path / "content" / "pages").mkdir(parents=True)
    (tmp_path / "content" / "pages" / "a.md").write_text("# A\n\n[x](gone.md#b)\n", encoding="utf-8")
    of_page = Problem("a.html", 1, 1, "W05", '"gone.html#b" leads to gone.html')
    of_guide = Problem("guides/x.html", 1, 1, "W05", '"gone.html" leads to gone.html')
    assert [(one.path, one.line) for one in locate(tmp_path, [of_page, of_guide])] == [
        ("content/pages/a.md", 3),
        ("guides/x.html", 1),
    ]


def test_a_link_among_the_pages_is_refused_whatever_it_leads_to(tmp_path: Path) -> None:
    """A letter outside, a customer's unit inside the workshop, a folder, itself: each would be published or read."""
    pages, units = tmp_path / "content" / "pages", tmp_path / "units"
    pages.mkdir(parents=True)
    units.mkdir()
    (units / "K-1.json").write_text("a customer", encoding="utf-8")
    (pages / "index.md").write_text("# A\n", encoding="utf-8")
    (pages / "leak.txt").symlink_to(units / "K-1.json")
    (pages / "leak.md").symlink_to(units / "K-1.json")
    (pages / "more").symlink_to(units)
    (pages / "ring").symlink_to(pages)
    (pages / "self").symlink_to("self")
    with pytest.raises(CatalogueError) as caught:
        render(pages, {})
    assert [str(one).partition("\n")[0] for one in caught.value.problems] == [
        f"content/pages/{name}:1:1: W10 a link" for name in ("leak.md", "leak.txt", "more", "ring", "self")
    ]


def test_pages_that_are_a_link_themselves_are_refused(tmp_path: Path) -> None:
    """The whole folder of units would be published."""
    (tmp_path / "units").mkdir()
    (tmp_path / "pages").symlink_to(tmp_path / "units")
    with pytest.raises(CatalogueError, match="content/pages:1:1: W10 a link"):
        render(tmp_path / "pages", {})


@pytest.mark.parametrize(
    ("names", "said"),
    [
        (("a\nb.txt",), "a sign that cannot be printed"),
        (("a\x1b[2J.md",), "a sign that cannot be printed"),
        (("a\\b.txt",), "a backslash"),
        (("A.md", "a.md"), "differ by case only"),
    ],
)
def test_a_name_that_no_site_can_have_is_refused(tmp_path: Path, names: tuple[str, ...], said: str) -> None:
    """It would break the list of sums, or stand for another file on another computer."""
    for name in names:
        (tmp_path / name).write_text("a", encoding="utf-8")
    with pytest.raises(CatalogueError, match=said):
        render(tmp_path, {})


def test_a_picture_is_shown_by_its_id(tmp_path: Path) -> None:
    """Its figure is made for the page that asks, and passes as HTML."""
    context = {"pictures": {"hose": lambda page_path: Markup("<figure>{}</figure>").format(page_path)}}
    assert page(tmp_path, '{{ picture("hose") }}', "more/about.md", **context) == "<figure>more/about.html</figure>"


def test_an_unknown_picture_is_reported_with_line_and_the_nearest(tmp_path: Path) -> None:
    """Line 3, and the name to write instead; where nothing is near, where pictures are listed."""
    context = {"pictures": {"hose": lambda page_path: Markup("")}}
    assert refused(tmp_path, '# A\n\n{{ picture("hosse") }}\n', **context) == (
        'content/pages/index.md:3:1: W02 there is no picture "hosse"\n  fix: write picture("hose")'
    )
    assert refused(tmp_path, '{{ picture("xyz") }}\n').endswith("fix: list it in content/pictures.yml")


def test_a_page_sees_no_more_of_pictures_than_their_figures(tmp_path: Path) -> None:
    """The table of all of them is no name of a page."""
    assert "W02" in refused(tmp_path, "{{ pictures }}\n", pictures={})


def number(page: str, asked: str) -> Markup | list[str]:
    """A number as the pages of a guide print it, or the names that there are."""
    if asked != "warm_up.added":
        return ["warm_up.added", "energy.day_ratio"]
    return Markup('<a class="n" href="{}guides/x/numbers.html">11 min</a>').format("../" * page.count("/"))


def test_a_page_prints_a_computed_number(tmp_path: Path) -> None:
    """With its link, as seen from the page; a number of a guide or a name that is not there has its line and a fix."""
    figures = {("tamsin-mk2", "feed-preheater"): number}
    text = '{{ figure("tamsin-mk2", "feed-preheater", "warm_up.added") }}'
    assert '<a class="n" href="../guides/x/numbers.html">11 min</a>' in page(tmp_path, text, "a/b.md", figures=figures)
    wrong = refused(tmp_path, "\n" + text.replace("added", "aded"), figures=figures)
    assert "index.md:2" in wrong
    assert 'no number is called "warm_up.aded"' in wrong
    assert 'write "warm_up.added"' in wrong
    assert "there is no guide" in refused(tmp_path, text.replace("mk2", "mk9"), figures=figures)
