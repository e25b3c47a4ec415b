"""The maker's colours, font and logo: shown so that they can be read, and what is not shown is said with its line."""

from __future__ import annotations

import importlib.util
import json
import re
from pathlib import Path

import pytest

from guidegen.site import engine
from guidegen.site.drawings.colours import palette
from guidegen.site.engine.look import SCHEMES, Appearance, look_of
from guidegen.site.engine.settings import read_settings
from guidegen.site.engine.tones import NAMED, colour_of, contrast, on
from tests.unit.site.engine_workshop import workshop

HEAD = "site_name: A\n"
VARIABLE = re.compile(r"(--gg-maker-[\w-]+): (#[0-9a-f]{6});")


def look(tmp_path: Path, theme: str, *files: str) -> Appearance:
    """The look of a workshop whose mkdocs.yml has this below the name of its site."""
    root = workshop(tmp_path, HEAD + theme)
    text = (root / "mkdocs.yml").read_text(encoding="utf-8")
    return look_of(read_settings(root / "mkdocs.yml"), text, files, "en")


def said(made: Appearance) -> list[str]:
    """What is said, with its place."""
    return [str(one).split("\n", 1)[0] for one in made.problems]


def of_scheme(made: Appearance, scheme: str) -> dict[str, str]:
    """The colours of one scheme, read back from the style sheet."""
    rules = re.findall(r'\[data-md-color-scheme="(\w+)"\] \{([^}]*)\}', made.css)
    return dict(VARIABLE.findall(dict(rules)[scheme]))


def test_contrast_is_that_of_the_recommendation() -> None:
    """Black on white is 21; #767676 is known as the lightest grey on white at AA, #777777 as the first that fails."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#767676", "#ffffff") >= 4.5 > contrast("#777777", "#ffffff")


def test_the_names_of_colours_are_the_themes() -> None:
    """As its own style sheet has them; black and white it treats otherwise."""
    found = importlib.util.find_spec("material")
    if found is None or not found.submodule_search_locations:
        pytest.skip("the theme is not installed")
    (sheet,) = Path(found.submodule_search_locations[0], "templates/assets/stylesheets").glob("palette.*.css")
    theirs = dict(re.findall(r"\[data-md-color-primary=([a-z-]+)\]\{--md-primary-fg-color:(#[0-9a-f]{6})",
                             sheet.read_text(encoding="utf-8")))  # fmt: skip
    ours = {name.replace(" ", "-"): value for name, value in NAMED.items() if name not in ("black", "white")}
    assert {name: theirs.get(name) for name in ours} == ours


@pytest.mark.parametrize("name", [*NAMED, "#0b5cad", "#fbfaf7", "#15191d", "#888"])
def test_every_colour_can_be_read_wherever_it_stands(tmp_path: Path, name: str) -> None:
    """The accent on page and sheet of both schemes, the words of the head on its colour: 4.5 or more."""
    made = look(tmp_path, f'theme:\n  palette:\n    primary: "{name}"\n    accent: "{name}"\n')
    for scheme, called in SCHEMES.items():
        colours = of_scheme(made, scheme)
        papers = (palette(called)["--gg-paper"], palette(called)["--gg-sheet"])
        assert min(contrast(colours["--gg-maker-accent"], paper) for paper in papers) >= 4.5
        assert contrast(colours["--gg-maker-head"], colours["--gg-maker-on-head"]) >= 4.5
        assert colours["--gg-maker-head"] == colour_of(name)
        changed = colours["--gg-maker-accent"] != colour_of(name)
        assert changed == any(f"on {called} pages" in one for one in said(made))


def test_words_on_the_head_are_black_or_white() -> None:
    """The middle of the scale, where neither is far away."""
    assert (on("#ffec3d"), on("#4051b5")) == ("#000000", "#ffffff")
    assert min(contrast(on(f"#{grey:02x}{grey:02x}{grey:02x}"), f"#{grey:02x}{grey:02x}{grey:02x}")
               for grey in range(256)) >= 4.5  # fmt: skip


def test_a_colour_that_cannot_be_read_is_said_with_its_line(tmp_path: Path) -> None:
    """The line of the scheme in which it is written; the same yellow is read well in the dark."""
    theme = (
        "theme:\n  palette:\n    - {scheme: default, accent: yellow}\n    - scheme: slate\n      accent: yellow\n"
        "      primary: sky\n"
    )
    made = look(tmp_path, theme)
    light, unknown = said(made)
    assert light.startswith("mkdocs.yml:4:33: W11 warning: theme.palette.accent: yellow cannot be read on light pages")
    assert unknown.startswith("mkdocs.yml:7:16: W11 warning: theme.palette.primary: sky is no colour")
    assert of_scheme(made, "slate")["--gg-maker-accent"] == NAMED["yellow"]


def test_no_font_comes_from_elsewhere(tmp_path: Path) -> None:
    """A file of the workshop is brought; another font is only named, and that is said."""
    theme = "theme:\n  font:\n    text: Kettle Sans\n    code: Far Mono\n"
    made = look(
        tmp_path, theme, "fonts/kettle-sans.woff2", "fonts/kettle-sans-bold.woff2", "fonts/kettle-sansation.ttf"
    )
    assert re.findall(r'url\("([^"]*)"\)', made.css) == [
        "../../fonts/kettle-sans-bold.woff2",
        "../../fonts/kettle-sans.woff2",
    ]
    assert "http" not in made.css
    assert '--gg-maker-text-font: "Kettle Sans";' in made.css
    assert said(made) == [
        "mkdocs.yml:5:11: W11 warning: theme.font.code: content/pages has no file of the font Far Mono, so only "
        "readers who have it see it"
    ]


def test_a_font_of_every_machine_needs_no_file(tmp_path: Path) -> None:
    made = look(tmp_path, "theme: {font: {text: Georgia, code: monospace}}\n")
    assert not made.problems
    assert "--gg-maker-code-font: monospace;" in made.css


def test_a_name_that_would_end_the_style_is_left_out(tmp_path: Path) -> None:
    made = look(tmp_path, "theme:\n  font: {text: 'a\"; } * { display: none'}\n")
    assert made.css == ""
    assert "is no name of a font" in said(made)[0]


@pytest.mark.parametrize(
    ("theme", "message"),
    [
        (
            "theme: {logo: images/none.svg}\n",
            "2:15: W11 warning: theme.logo: content/pages has no file images/none.svg",
        ),
        (
            "theme: {features: [toc.follow, navigation.instant]}\n",
            "2:32: W11 warning: theme.features: navigation.instant",
        ),
        ("theme: {language: de}\n", "2:19: W11 warning: theme.language: is not used"),
        ("theme: {custom_dir: mine}\n", "2:21: W11 warning: theme.custom_dir: is not used"),
        ("docs_dir: pages\n", "2:11: W11 warning: docs_dir: is not used"),
        ("theme: {palette: {scheme: sepia}}\n", "2:27: W11 warning: theme.palette.scheme: sepia is none"),
        ("theme: {palete: {primary: teal}}\n", "2:17: W11 warning: theme.palete: is no setting that the site knows"),
        ("theme: {palette: {accents: teal}}\n", "2:28: W11 warning: theme.palette.accents: is no setting that"),
        ("theme: {font: big}\n", "2:15: W11 warning: theme.font: is not understood"),
    ],
)
def test_what_is_not_shown_is_said(tmp_path: Path, theme: str, message: str) -> None:
    """With its line and column."""
    (found,) = said(look(tmp_path, theme))
    assert found.startswith(f"mkdocs.yml:{message}")


@pytest.mark.parametrize("theme", ["", "theme: material\n", "theme: {language: en, font: false}\n"])
def test_who_chooses_nothing_gets_the_sites_own_look(tmp_path: Path, theme: str) -> None:
    """No style sheet, and nothing to say."""
    assert look(tmp_path, theme) == Appearance()


def test_the_shell_is_given_what_there_is(tmp_path: Path, starts: list[list[str]]) -> None:
    """Style sheet, logo and both schemes with the switch, although the colours are written once."""
    root = workshop(tmp_path, HEAD + "theme:\n  logo: mark.svg\n  favicon: none.svg\n  palette: {primary: teal}\n")
    (root / "content" / "pages" / "mark.svg").write_text("<svg/>", encoding="utf-8")
    engine.run(root)
    given = json.loads((root / ".guidegen" / "mkdocs.yml").read_text(encoding="utf-8"))
    assert given["extra"]["guidegen"]["look"] == {"logo": "mark.svg", "sheet": "assets/guidegen/maker.css"}
    assert [(one["scheme"], one["primary"]) for one in given["theme"]["palette"]] == [
        ("default", "teal"),
        ("slate", "teal"),
    ]
    assert (root / ".guidegen/engine/docs/assets/guidegen/maker.css").is_file()
    assert [str(one).split(":")[1] for one in engine.warnings(root)] == ["4"]
