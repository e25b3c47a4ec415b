"""Beginnings: what is laid down passes the check, claims nothing that is not so, and never takes anything's place."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from guidegen import trade
from guidegen.commands import starting
from guidegen.problems import CatalogueError, RefusedProblem, UsageProblem
from guidegen.trade.new_variant import draft
from guidegen.workshop.walk import facts
from tests.starter_copies import COPIES, copy_of, packed

SMALL = Path(__file__).parents[2] / "fixtures" / "catalogue_min"
GIVEN = {"name": "Plain Nine", "years.from": "1988", "mains.voltage": "120 V~", "control.kind": "thermostat"}


@pytest.fixture
def workshop(tmp_path: Path) -> Path:
    """The starter's workshop."""
    starting.new_workshop(tmp_path / "workshop")
    return tmp_path / "workshop"


@pytest.fixture
def small(tmp_path: Path) -> Path:
    """An invented workshop that a test may write into."""
    return Path(shutil.copytree(SMALL, tmp_path / "small"))


# --- the starter -------------------------------------------------------------------------------------


@pytest.mark.parametrize("path", COPIES)
def test_what_is_general_is_the_demonstrations(path: str) -> None:
    """The safety content is real and kept once; `python tests/starter_copies.py` writes the copies anew."""
    assert (starting.STARTER / path).read_text(encoding="utf-8") == copy_of(path), "run tests/starter_copies.py"


def test_the_starter_names_nothing_of_the_demonstration() -> None:
    """And says of nothing that it is invented."""
    for path in starting.STARTER.rglob("*"):
        if path.is_file():
            text = path.read_text(encoding="utf-8").lower()
            for word in ("kettleby", "tamsin", "bracken", "preheater", "banjo feed", "loop controller", "invented"):
                assert word not in text, f"{path.name}: {word}"


def test_the_starters_catalogue_has_no_mistake_and_nothing_to_warn_of(workshop: Path) -> None:
    """Neither an error nor a warning on the first day."""
    known = trade.load(workshop)
    assert known.warnings == ()
    assert not known.workshop.invented


def test_nothing_is_known_of_the_starters_variant(workshop: Path) -> None:
    """But the mains voltage, without which nothing can be said; no number is made up."""
    machine = trade.load(workshop).machine("first-family-first-variant")
    assert {".".join(map(str, loc)) for loc, fact in facts(machine) if fact.known} == {"mains.voltage"}
    assert machine.status == "reported"


def test_the_starters_variant_is_what_the_command_writes() -> None:
    """One way to write a variant: below its comment it is the same text."""
    path = "machines/first-family/first-variant.yml"
    lines = (starting.STARTER / path).read_text(encoding="utf-8").splitlines(keepends=True)
    body = "".join(lines[next(i for i, line in enumerate(lines) if not line.startswith("#")) :])
    summary = "Nothing is known of this variant; even its year, voltage and control are placeholders."
    given = {**GIVEN, "name": "First Variant", "years.from": "2000", "mains.voltage": "230 V~", "summary": summary}
    assert draft(None, "first-family", "first-variant", given).files[path] == body


def test_the_starter_says_what_to_do_next_in_ten_lines(workshop: Path) -> None:
    """Ten, numbered."""
    lines = (workshop / "README.md").read_text(encoding="utf-8").splitlines()
    assert [line.partition(".")[0] for line in lines[2:]] == [str(number) for number in range(1, 11)]


# --- a workshop --------------------------------------------------------------------------------------


def test_a_workshop_has_all_of_the_starters_files(workshop: Path) -> None:
    """Under their names; what git shall ignore only there."""
    made = {path.relative_to(workshop).as_posix() for path in workshop.rglob("*") if path.is_file()}
    wanted = {path.relative_to(starting.STARTER).as_posix() for path in starting.STARTER.rglob("*") if path.is_file()}
    assert made == wanted - {"gitignore", "gitattributes"} | {".gitignore", ".gitattributes"}
    assert (workshop.stat().st_mode & 0o777) == 0o755


def test_the_example_is_the_demonstration_as_it_is_now(tmp_path: Path) -> None:
    """Every file, byte for byte, but for what was published of it; it has no mistake where it is laid down."""
    told = starting.new_workshop(tmp_path / "example", example=True)
    assert "all of it invented" in told
    made = {
        path.relative_to(tmp_path / "example").as_posix(): path.read_bytes()
        for path in (tmp_path / "example").rglob("*")
        if path.is_file()
    }
    wanted = packed() | {f".{name}": (starting.STARTER / name).read_bytes() for name in ("gitignore", "gitattributes")}
    assert {name for name in {*made, *wanted} if made.get(name) != wanted.get(name)} == set(), "run starter_copies.py"
    known = trade.load(tmp_path / "example")
    assert {"tamsin-mk2", "bracken-a"} <= set(known.machines)
    assert {"feed-preheater", "loop-controller"} <= set(known.kits)


def test_an_empty_folder_will_do(tmp_path: Path) -> None:
    """And so do folders above it that are not there yet."""
    (tmp_path / "empty").mkdir()
    starting.new_workshop(tmp_path / "empty")
    starting.new_workshop(tmp_path / "a" / "b c é")
    assert (tmp_path / "empty" / "mkdocs.yml").is_file()
    assert (tmp_path / "a" / "b c é" / "mkdocs.yml").is_file()


def test_the_folder_one_stands_in_stays_the_same_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The terminal that laid it down finds itself in it, and is not sent to where it is."""
    monkeypatch.chdir(tmp_path)
    printed = starting.new_workshop(Path())
    assert Path("mkdocs.yml").is_file()
    assert Path.cwd().samefile(tmp_path)
    assert "next: guidegen check" in printed
    assert not list(tmp_path.glob(".guidegen-new-*"))


def test_a_crash_while_moving_in_leaves_the_folder_empty(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The third thing cannot be moved; what was moved before it goes again, the folder stays."""
    rename, renamed = Path.rename, []

    def full(self: Path, target: Path) -> Path:
        if target.parent == tmp_path:
            renamed.append(target)
            if len(renamed) == 3:
                raise OSError(28, "No space left on device")
        return rename(self, target)

    monkeypatch.setattr(Path, "rename", full)
    with pytest.raises(OSError, match="No space left"):
        starting.new_workshop(tmp_path)
    assert len(renamed) == 3
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("kind", ["file inside", "hidden file inside", "file", "link", "dangling link"])
def test_what_is_there_is_left_alone(tmp_path: Path, kind: str) -> None:
    """Whatever it is."""
    target = tmp_path / "there"
    if "inside" in kind:
        target.mkdir()
        (target / (".hidden" if "hidden" in kind else "kept.txt")).write_text("kept", encoding="utf-8")
    elif kind == "file":
        target.write_text("kept", encoding="utf-8")
    else:
        if kind == "link":
            (tmp_path / "elsewhere").mkdir()
        target.symlink_to(tmp_path / "elsewhere", target_is_directory=True)
    before = sorted(tmp_path.rglob("*"))
    with pytest.raises(UsageProblem, match="there"):
        starting.new_workshop(target)
    assert sorted(tmp_path.rglob("*")) == before


def test_a_crash_half_way_leaves_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A workshop is there whole or not at all."""
    write, written = starting.write_atomically, []

    def full(path: Path, data: bytes) -> None:
        if len(written) == 3:
            raise OSError(28, "No space left on device")
        written.append(path)
        write(path, data)

    monkeypatch.setattr(starting, "write_atomically", full)
    with pytest.raises(OSError, match="No space left"):
        starting.new_workshop(tmp_path / "workshop")
    assert len(written) == 3
    assert list(tmp_path.iterdir()) == []


# --- a variant ---------------------------------------------------------------------------------------


def test_a_variant_in_a_family_that_exists(small: Path) -> None:
    """Its file is named after it; what decides about the fixture's kit is listed before the rest."""
    printed = starting.new_variant(small, None, "plain", GIVEN).splitlines()
    assert printed[0] == "wrote machines/plain/nine.yml"
    then = printed.index("then:")
    first = [line.split(":")[0].strip() for line in printed[2:then]]
    asked = [
        "boiler.material",
        "boiler.straight_wall",
        *(f"water_path.{one}" for one in ("check_valve", "inlet.fitting", "inlet.projection")),
    ]
    assert sorted(first) == asked
    assert all("(Collar)" in line for line in printed[2:then])
    assert trade.load(small).machine("plain-nine").name == "Plain Nine"


def test_a_variant_in_a_family_of_its_own(small: Path) -> None:
    """The family's file comes with it."""
    printed = starting.new_variant(small, "nine", "fresh", GIVEN)
    assert "wrote machines/fresh/family.yml" in printed
    assert trade.load(small).machine("fresh-nine").family == "fresh"


def test_a_variant_never_takes_the_place_of_a_file(small: Path) -> None:
    """Not even of a file that is no variant yet: `builds` is the name of a family's records."""
    (small / "machines" / "plain" / "builds.yml").write_text("builds: []\n", encoding="utf-8")
    with pytest.raises(RefusedProblem, match=r"machines/plain/builds\.yml is there already"):
        starting.new_variant(small, "builds", "plain", GIVEN)
    assert (small / "machines" / "plain" / "builds.yml").read_text(encoding="utf-8") == "builds: []\n"


@pytest.mark.parametrize(
    ("name", "stem"), [("Tamsin Mark 4", "mark-4"), ("Mark 4 (230 V)", "mark-4-230-v"), ("Größe é", "groe-e")]
)
def test_the_file_is_named_after_the_variant(name: str, stem: str) -> None:
    """In small letters, digits and hyphens, without the family's name."""
    assert starting.stem_from(name, "tamsin") == stem


def test_questions_are_asked_until_the_answer_can_be_right(small: Path) -> None:
    """Each is checked immediately, with the message and the fix that the check would have."""
    reported: list[str] = []
    must = ["No Id", "plain", "", "Plain Nine", "soon", "1988", "120", "120 V~", "pids", "thermostat"]
    more = ["boiler.mass: 5 mm", "boiler.mas: 5 g", "520 g", "boiler.mass: 520 g ± 10 g", "control.lag: 5 s", ""]
    answers = iter([*must, *more])
    family, given = starting.asked_variant(small, None, {}, lambda question: next(answers), reported.append)
    assert family == "plain"
    assert given == {**GIVEN, "boiler.mass": "520 g ± 10 g", "control.lag": "5 s"}
    assert next(answers, None) is None
    assert any("a voltage needs a unit" in line for line in reported)
    assert any("write boiler.mass" in line for line in reported)
    starting.new_variant(small, None, family, given)
    assert trade.load(small).machine("plain-nine").boiler.mass.value == pytest.approx(0.52)


def test_what_was_given_is_not_asked_again(small: Path) -> None:
    """Only what is missing, then the open question."""
    asked: list[str] = []

    def ask(question: str) -> str:
        asked.append(question)
        return "pid" if "Control" in question else ""

    given = {name: value for name, value in GIVEN.items() if name != "control.kind"}
    assert starting.asked_variant(small, "plain", given, ask, print) == ("plain", {**given, "control.kind": "pid"})
    assert len(asked) == 2


# --- a kit -------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", [None, "A <b>Kit</b>: no # {{ 7*7 }}", "on", "1.10", 'Quotes " and \\', "ü ± 3"])
def test_a_kits_skeleton_passes_the_check_under_any_name(small: Path, name: str | None) -> None:
    """As a draft; in an invented workshop it is marked as invented."""
    starting.new_kit(small, "second-kit", name)
    known = trade.load(small)
    kit = known.kit("second-kit")
    assert kit.name == (name or "Second Kit")
    assert kit.status == "draft"
    assert kit.invented
    assert [effect.kind for effect in kit.effects] == ["none"]
    assert not [warning for warning in known.warnings if "second-kit" in warning.path]


def test_a_real_workshops_kit_is_not_marked_as_invented(workshop: Path) -> None:
    """The starter is nobody's invention."""
    starting.new_kit(workshop, "second-kit")
    assert not trade.load(workshop).kit("second-kit").invented


@pytest.mark.parametrize(
    ("kit", "name", "code"),
    [
        ("Second", None, "F01"),
        ("../x", None, "F01"),
        ("x" * 41, None, "F01"),
        ("collar", None, "X05"),
        ("a", "x\u202ey", "R04"),
    ],
)
def test_a_kit_that_cannot_be_right_is_refused(small: Path, kit: str, name: str | None, code: str) -> None:
    """With the same codes as in a file, and nothing is written."""
    before = sorted(small.rglob("*"))
    with pytest.raises(CatalogueError) as caught:
        starting.new_kit(small, kit, name)
    assert [problem.code for problem in caught.value.problems] == [code]
    assert sorted(small.rglob("*")) == before
