"""The engine as a program beside us: when it is started, what it is given, and what becomes of its messages."""

from __future__ import annotations

import html
import json
import re
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path

import pytest

from guidegen.problems import CatalogueError, EnvironmentProblem
from guidegen.site import engine, handwritten
from guidegen.site.bind import Shell, bind_files
from guidegen.site.engine.settings import config
from guidegen.site.pages.page import Page, SearchEntry
from tests.unit.site.engine_workshop import SETTINGS, problem_of, workshop

pytestmark = pytest.mark.slow


def read(site: Path) -> dict[str, bytes]:
    """Every file of the engine's site."""
    return {path.relative_to(site).as_posix(): path.read_bytes() for path in site.rglob("*") if path.is_file()}


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A workshop in a folder with a space and an accent in its name, built once."""
    root = workshop(tmp_path_factory.mktemp("a workshop é"))
    engine.run(root)
    return root


def with_output(monkeypatch: pytest.MonkeyPatch, text: str, code: int = 0) -> None:
    """Let the engine say ``text``."""
    monkeypatch.setattr(subprocess, "run", lambda command, **_: subprocess.CompletedProcess(command, code, "", text))


def test_site_holds_pages_frames_of_each_depth_and_our_assets(built: Path) -> None:
    """The frames fit the binder, at every depth that guides lie at."""
    files = read(built / ".guidegen" / "engine" / "site")
    shell = Shell(files)
    assert shell.site_url == "https://site.example/sub/"
    for path in ("a.html", "a/b.html", "a/b/c.html", "a/b/c/d.html"):
        page = shell.page(Page(path, "T", "D", "<h1>x</h1>")).decode()
        sheets = re.findall(r'<link rel="stylesheet" href="([^"]*)">', page)
        assert len(sheets) == 2, "the theme's and ours, joined"
        for sheet in sheets:
            assert sheet.startswith("../" * path.count("/") + "assets/")
            assert sheet.replace("../", "") in shell.files
    assert {"index.html", "404.html", "assets/guidegen/units.js", "assets/guidegen/iframe-worker.js"} <= set(files)


def test_site_asks_nothing_of_other_hosts(built: Path) -> None:
    """No address of another host is fetched by any page: no fonts, no script of a content network."""
    for path, data in read(built / ".guidegen" / "engine" / "site").items():
        if path.endswith(".html"):
            fetched = re.findall(rb'<(?:script|link|img)[^>]*(?:src|href)="(https?:[^"]*)"', data)
            assert [url for url in fetched if b"site.example" not in url] == [], path


def test_vendored_script_carries_its_licence() -> None:
    """Its notice is in the file, and the licence's text beside it."""
    assets = engine._assets()
    assert assets["assets/guidegen/iframe-worker.js"].startswith(b"/*! iframe-worker 1.0.3 | MIT License")
    assert b"Permission is hereby granted" in assets["assets/guidegen/iframe-worker.LICENSE.txt"]


def test_unchanged_workshop_starts_no_engine(built: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """And writes nothing at all."""
    before = {path: path.stat().st_mtime_ns for path in (built / ".guidegen").rglob("*")}
    with_output(monkeypatch, "ERROR   -  must not run", 1)
    engine.run(built)
    assert {path: path.stat().st_mtime_ns for path in (built / ".guidegen").rglob("*")} == before


def test_each_input_starts_it_again(tmp_path: Path, starts: list[list[str]], monkeypatch: pytest.MonkeyPatch) -> None:
    """Pages, settings, the workshop's own theme files, hooks, context, engine: each counts, nothing else does."""
    # No engine is run here, so it does not matter which of them this environment has.
    monkeypatch.setattr(engine, "_version", lambda package: "1.0")
    hooked = SETTINGS + "hooks: [hook.py]\n"
    root = workshop(tmp_path, hooked)
    pages = root / "content" / "pages"

    def started(change: Mapping[Path, str], given: str = "", name: str = "mkdocs") -> bool:
        before = len(starts)
        for path, text in change.items():
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
        engine.run(root, name, {"given": given})
        return len(starts) > before

    assert started({})
    assert not started({})
    assert started({pages / "index.md": "# Other"})
    assert not started({}, "given, but used by no page")
    assert started({pages / "index.md": "# {{ given }}"}, "A")
    assert not started({}, "A")
    assert started({}, "B")
    assert started({root / "mkdocs.yml": hooked + "copyright: x\n"}, "B")
    assert started({root / "hook.py": "x = 1\n"}, "B")
    assert started({root / "content" / "theme" / "partials" / "logo.html": "<b>x</b>"}, "B")
    assert started({}, "B", "properdocs")
    assert not started({root / "machines" / "a.yml": "x: 1"}, "B", "properdocs")


def test_interrupted_build_is_done_again(
    tmp_path: Path, starts: list[list[str]], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A hash is kept only after the engine has finished."""
    root = workshop(tmp_path)
    engine.run(root)
    (root / "content" / "pages" / "index.md").write_text("# New", encoding="utf-8")
    with monkeypatch.context() as patch:
        with_output(patch, "ERROR   -  stopped", 1)
        with pytest.raises(CatalogueError):
            engine.run(root)
    (root / "content" / "pages" / "index.md").write_text("# Home\n\n## Second\n\ntext\n", encoding="utf-8")
    before = len(starts)
    engine.run(root)
    assert len(starts) == before + 1


def test_a_message_is_led_to_the_line_that_it_names(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The engine names the page and the text; the line is looked up."""
    root = workshop(tmp_path, about="# About\n\nSee [x](gone.md).\n")
    with_output(monkeypatch, "WARNING -  Doc file 'about.md' contains a link 'gone.md', but it is not found.\n")
    printed = problem_of(root)
    assert printed.startswith("content/pages/about.md:3:1: W04 mkdocs: Doc file 'about.md' contains a link 'gone.md'")


def test_nav_entry_without_a_page_is_led_to_mkdocs_yml(tmp_path: Path) -> None:
    """Reported by the real engine."""
    root = workshop(tmp_path, SETTINGS + "nav:\n  - Home: index.md\n  - Gone: gone.md\n")
    assert problem_of(root).startswith("mkdocs.yml:11:1: W04 mkdocs: A reference to 'gone.md' is included in the 'nav'")


def test_engine_that_dies_without_a_word_is_reported(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """No silence, no traceback of ours."""
    with_output(monkeypatch, "", 7)
    assert "mkdocs ended with 7 without a message" in problem_of(workshop(tmp_path))


def test_engine_that_is_not_installed_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """With the command that installs it."""
    monkeypatch.setattr(engine, "_version", lambda package: None)
    with pytest.raises(EnvironmentProblem, match="pip install zensical"):
        engine.run(workshop(tmp_path), "zensical")


@pytest.mark.parametrize("more", ["plugins: [search, tags]\n", "hooks: [h.py]\n"])
def test_what_the_other_engine_drops_in_silence_is_refused(
    tmp_path: Path, more: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Its site would differ, and nobody would know."""
    monkeypatch.setattr(engine, "_version", lambda package: "1")
    printed = problem_of(workshop(tmp_path, SETTINGS.replace("plugins: [search]\n", "") + more), "zensical")
    assert "zensical would leave out without a word" in printed


def test_guidegen_imports_no_engine() -> None:
    """The engine stays exchangeable: none of it is ever loaded into our process."""
    program = (
        "import sys, guidegen.site.engine, guidegen.site.bind, guidegen.site.finish, guidegen.commands.serve\n"
        "others = ('mkdocs', 'material', 'properdocs', 'zensical', 'markdown')\n"
        "print([name for name in sys.modules if name.split('.')[0] in others])"
    )
    printed = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert printed.stdout == "[]\n"


def body_text(page: bytes) -> str:
    """The article's text without markup, spaces joined."""
    article = re.search(r"<article.*?</article>", page.decode(), re.DOTALL)
    assert article
    return " ".join(html.unescape(re.sub(r"<[^>]*>", " ", article.group())).split())


@pytest.mark.slow
@pytest.mark.parametrize("name", ["properdocs", "zensical"])
def test_other_engines_give_the_same_text_and_search(tmp_path: Path, built: Path, name: str) -> None:
    """Hand-written pages and a bound guide read the same, whichever engine made the shell."""
    if engine._version(name) is None:
        pytest.skip(f"{name} is not installed")
    guide = Page("a/b/c.html", "T", "D", "<h1>Guide</h1><p>text</p>", (), (SearchEntry("", "Guide", "zork"),))
    ours = bind_files([guide], read(built / ".guidegen" / "engine" / "site"))
    theirs = bind_files([guide], read(engine.run(workshop(tmp_path), name)))
    for path in ("index.html", "a/b/c.html", "404.html"):
        assert body_text(ours[path]) == body_text(theirs[path]), path
    assert ours["sitemap.xml"] == theirs["sitemap.xml"]
    index = theirs.get("search.json", theirs.get("search/search_index.json", b"")).decode()
    assert "zork" in index


def test_stranger_in_the_context_stays_text(tmp_path: Path, starts: list[list[str]]) -> None:
    """What reaches the engine's Markdown is already harmless."""
    root = workshop(tmp_path, about="{{ name }}")
    engine.run(root, context={"name": "<script>[x](javascript:1)"})
    staged = (root / ".guidegen" / "engine" / "docs" / "about.md").read_text(encoding="utf-8")
    assert staged == str(handwritten.plain("<script>[x](javascript:1)"))
    assert "<" not in staged


@pytest.mark.slow
@pytest.mark.parametrize("name", engine.ENGINES)
def test_navigation_and_pages_can_lead_to_pages_that_the_engine_does_not_know(tmp_path: Path, name: str) -> None:
    """Written as ``site:…``, in ``nav`` and in Markdown, from every depth."""
    if engine._version(name) is None:
        pytest.skip(f"{name} is not installed")
    nav = "nav:\n  - Home: index.md\n  - Machines: site:machines.html\n"
    root = workshop(tmp_path, SETTINGS + nav, index="# Home\n\n[all of them](site:machines.html#all)\n")
    page = Page("a/b/c.html", "T", "D", "<h1>Guide</h1>")
    files = bind_files([page], read(engine.run(root, name)))
    assert b'href="machines.html#all"' in files["index.html"]
    assert b'href="machines.html"' in files["index.html"]
    assert b'href="../../machines.html"' in files["a/b/c.html"]
    assert b'href="/sub/machines.html"' in files["404.html"]
    assert not [path for path, data in files.items() if path.endswith(".html") and b"site:machines" in data]


def test_the_address_of_an_edition_names_the_folder_in_which_it_lies() -> None:
    """Also of one made again under another name, and of the draft; a site without an address has none."""
    settings = {"site_url": "https://guides.example/shop"}
    for edition, folder in (("2025.1", "2025.1"), ("2025.1", "2025.1-rerendered"), ("next", "next")):
        made = json.loads(config(settings, {}, "mkdocs", edition, folder))
        assert made["site_url"] == f"https://guides.example/shop/{folder}/"
        assert made["extra"]["guidegen"]["edition"] == edition
    assert "site_url" not in json.loads(config({}, {}, "mkdocs", "next", "next"))
