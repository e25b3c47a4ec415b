"""What the documents show runs, and does what they say."""

from __future__ import annotations

import math
import re
import shlex
import shutil
from functools import partial
from pathlib import Path

import pytest
from PIL import Image

from guidegen import pipeline, trade
from guidegen.commands import main
from guidegen.problems import CatalogueError
from tests.conftest import DRAWS

REPOSITORY = Path(__file__).parents[2]
DOCUMENTS = [path for path in sorted(REPOSITORY.glob("*.md")) if path.name != "THIRD_PARTY.md"]
BLOCK = re.compile(r"^```(\w+)\n(.*?)^```$", re.MULTILINE | re.DOTALL)


def blocks(path: Path, language: str) -> list[str]:
    """The blocks of one language, in the document's order."""
    return [text for name, text in BLOCK.findall(path.read_text(encoding="utf-8")) if name == language]


@pytest.fixture
def workshop(tmp_path: Path) -> Path:
    """A copy of the demonstration's data, to write into."""
    for name in ("machines", "content"):
        shutil.copytree(REPOSITORY / name, tmp_path / name)
    shutil.copy(REPOSITORY / "mkdocs.yml", tmp_path)
    return tmp_path


@pytest.mark.slow
@pytest.mark.parametrize(
    "path", [path for path in DOCUMENTS if blocks(path, "python")], ids=lambda path: str(path.name)
)
def test_the_python_in_a_document_runs(path: Path, workshop: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """All blocks of a document one after another, in the demonstration's folder, as a reader would."""
    monkeypatch.chdir(workshop)
    monkeypatch.setattr(pipeline, "assess_pair", partial(pipeline.assess_pair, draws=DRAWS))
    names: dict[str, object] = {"__name__": "__main__"}
    for number, text in enumerate(blocks(path, "python"), 1):
        exec(compile(text, f"{path.name}, block {number}", "exec"), names)


def test_the_readme_has_python_to_run() -> None:
    """So that the test above is about something."""
    assert blocks(REPOSITORY / "README.md", "python")


def test_the_variant_in_the_readme_passes_the_check(workshop: Path) -> None:
    """Put where the README says, beside the demonstration's."""
    path, text = shown_variant()
    (workshop / path).write_text(text, encoding="utf-8")
    assert trade.load(workshop).machine("tamsin-mk4").boiler.mass.evidence == "measured"


def test_the_mistake_in_the_readme_is_reported_as_it_shows(workshop: Path) -> None:
    """The value without its unit: same place, same words, same fix."""
    path, text = shown_variant()
    (printed,) = (block for block in blocks(REPOSITORY / "README.md", "text") if block.startswith(path))
    spoiled = re.sub(r"(?m)^  mass: .*$", "  mass: 575", text)
    assert spoiled != text
    (workshop / path).write_text(spoiled, encoding="utf-8")
    with pytest.raises(CatalogueError) as caught:
        trade.load(workshop)
    assert f"{caught.value}\n" == printed


def shown_variant() -> tuple[str, str]:
    """The path and the text of the variant that the README shows."""
    readme = REPOSITORY / "README.md"
    found = re.search(r"`(machines/[a-z0-9/-]+\.yml)`:", readme.read_text(encoding="utf-8"))
    assert found is not None
    return found[1], blocks(readme, "yaml")[0]


MADE_LATER = (
    "site/2",
    "site/n",
    "site/E",
    "site/v",
    "corrections/",
    "latest/",
    "units/",
    "content/acts.yml",
    "content/facts.yml",
    "content/words/",
    "content/editions/",
    "content/signers",
    ".guidegen/",
    ".vscode/",
    "machines/tamsin/mk4",
    "application/",
)
"""What commands make, what a workshop may bring, the README's example; and a media type is no path."""


def test_every_path_of_a_document_is_there() -> None:
    """`judge/fit/check.py` in DEVELOPERS.md is a file below `guidegen/`; `tests/bench/` a folder of the repository."""
    lost = []
    for path in DOCUMENTS:
        for name in re.findall(r"`([a-z_.][A-Za-z0-9_./-]*/[A-Za-z0-9_./-]*)`", path.read_text(encoding="utf-8")):
            places = (REPOSITORY / name, REPOSITORY / "guidegen" / name)
            if not any(place.exists() for place in places) and not name.startswith(MADE_LATER):
                lost.append(f"{path.name}: {name}")
    assert lost == []


def test_the_acts_of_the_readme_are_read(workshop: Path) -> None:
    """Whoever copies them gets no problem at the file."""
    (text,) = (one for one in blocks(REPOSITORY / "README.md", "yaml") if one.startswith("acts:"))
    (workshop / "content" / "acts.yml").write_text(text, encoding="utf-8")
    known = trade.load(workshop)
    assert known.acts is not None
    assert {*known.acts.acts} == {"lace", "pull-lace"}


def shown(language: str, first: str) -> str:
    """The block of the README that begins so."""
    (text,) = (one for one in blocks(REPOSITORY / "README.md", language) if one.startswith(first))
    return text


def test_the_prices_of_the_readme_are_read(workshop: Path) -> None:
    """Put in place of the demonstration's; 84 EUR are those of the kit."""
    (workshop / "content" / "offers.yml").write_text(shown("yaml", "valid_from:"), encoding="utf-8")
    known = trade.load(workshop)
    assert known.offers is not None
    price = known.offers.kits["feed-preheater"].price
    assert (price.minor, price.currency) == (8400, "EUR")


def test_the_pictures_of_the_readme_are_read(workshop: Path) -> None:
    """With photographs of those names beside the demonstration's."""
    (workshop / "content" / "pictures.yml").write_text(shown("yaml", "pictures:"), encoding="utf-8")
    for name in ("plate.jpg", "hose.jpg"):
        Image.new("RGB", (1600, 1200), "grey").save(workshop / "content" / "pictures" / name)
    known = trade.load(workshop)
    assert known.pictures is not None
    assert [one.id for one in known.pictures.pictures] == ["plate", "hose"]


def test_the_build_report_of_the_readme_is_read(workshop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """As an excerpt: each of its lines is understood, and what a whole one has beside them is asked for."""
    (workshop / "report.txt").write_text(shown("text", "Build report"), encoding="utf-8")
    assert main(["--root", str(workshop), "fitted", "add", str(workshop / "report.txt"), "--yes"]) == 1
    found = re.findall(r"report\.txt:[0-9]+:[0-9]+: (B[0-9]{2}) ", capsys.readouterr().err)
    assert {*found} == {"B07"}


@pytest.mark.slow
def test_the_log_of_the_readme_is_kept(workshop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """By the very command that stands there, with a file of such a logger."""
    words = shlex.split(shown("sh", "guidegen run add morning.csv").replace("\\\n", ""))
    rows = [f"2026-02-01T08:{count // 600:02}:{count / 10 % 60:04.1f}+00:00,{pulled(count / 10):.2f}\n"
            for count in range(1800)]  # fmt: skip
    (workshop / "morning.csv").write_text("time,T1\n" + "".join(rows), encoding="utf-8")
    words[words.index("morning.csv")] = str(workshop / "morning.csv")
    assert main(["--root", str(workshop), *words[1:], "--yes"]) == 0
    assert "kept machines/tamsin/runs/morning.yml" in capsys.readouterr().out
    run = trade.load(workshop).runs["machines/tamsin/runs/morning.yml"]
    assert (run.variant, run.kits, run.drink) == ("tamsin-mk2", ("feed-preheater",), "double")


def pulled(second: float) -> float:
    """What a probe at the outlet shows, °C: at rest, then a shot of half a minute."""
    return 93.0 - (8.0 * (1.0 - math.exp((60.0 - second) / 3.0)) if 60.0 < second < 90.0 else 0.0)


def put_into_kit(workshop: Path, begins: str) -> trade.Catalogue:
    """Read the workshop with a block of the README in a kit, in the place of its effects, as somebody copies it."""
    (text,) = (one for one in blocks(REPOSITORY / "README.md", "yaml") if begins in one)
    path = workshop / "content" / "kits" / "banjo-feed.yml"
    kit, count = re.subn(r"(?m)^effects:\n(  - .*\n)+", text, path.read_text(encoding="utf-8"))
    assert count == 1
    path.write_text(kit, encoding="utf-8")
    return trade.load(workshop)


def test_the_gain_of_the_readme_is_read(workshop: Path) -> None:
    """A noise before and after, from a source that there is."""
    (gain,) = put_into_kit(workshop, "\ngains:").kits["banjo-feed"].gains
    assert (gain.title, gain.before.value, gain.after.source) == ("noise of the pump", 62.0, "bench-7")


def test_the_kit_onto_a_kit_of_the_readme_is_read(workshop: Path) -> None:
    """The Banjo Feed, which the Feed Preheater may call for, would be a ring; so that is let go first."""
    coil = workshop / "content" / "kits" / "feed-preheater.yml"
    coil.write_text(re.sub(r"\{kit: banjo-feed\}", "{part: coil}", coil.read_text(encoding="utf-8")), encoding="utf-8")
    known = put_into_kit(workshop, "needs: feed-preheater")
    assert [one.id for one in known.first("banjo-feed")] == ["feed-preheater"]


def test_the_own_facts_of_the_readme_are_read(workshop: Path) -> None:
    """Declared, stated by a variant, asked by a kit."""
    declared, stated, asked = (one for one in blocks(REPOSITORY / "README.md", "yaml") if "foot_" in one)
    (workshop / "content" / "facts.yml").write_text(declared, encoding="utf-8")
    variant, kit = workshop / "machines" / "tamsin" / "mk2.yml", workshop / "content" / "kits" / "banjo-feed.yml"
    variant.write_text(variant.read_text(encoding="utf-8") + stated, encoding="utf-8")
    text = kit.read_text(encoding="utf-8")
    kit.write_text(text.replace("requirements:\n", f"requirements:\n{asked}"), encoding="utf-8")
    known = trade.load(workshop)
    thread, height = (known.machine("tamsin-mk2").fact(f"own.foot_{name}") for name in ("thread", "height"))
    assert thread is not None
    assert height is not None
    assert (thread.text, thread.source, height.text) == ("M5", "bench-12", "24 mm ± 1 mm")
    assert known.kit("banjo-feed").requirements[0].fact == "own.foot_thread"
