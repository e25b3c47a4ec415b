"""A draft of a procedure: complete, clean for the lint, and nothing of the maker's is lost or made up."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from guidegen.assess import guiding, verdict
from guidegen.commands import drafting, starting
from guidegen.judge.safety.lint import lint
from guidegen.problems import CatalogueError, RefusedProblem
from guidegen.trade.load import load
from tests.mutants.draft import COMPUTED, ROOT

NOTHING_YET = "  - {kind: none, because: It is not stated yet what this kit changes.}\n"
COIL = """\
  - kind: feed_coil
    tube: {material: copper, outside: 6 mm ± 0.05 mm, wall: 1 mm ± 0.05 mm, temper: annealed}
    length: 1.2 m ± 0.01 m
    layers_max: 2
    gap: 0 mm
    tails: {inlet: 90 mm ± 5 mm, outlet: 90 mm ± 5 mm}
    fittings_mass: 42 g ± 2 g
    joined: clamped
    put_on: in-place
    outer_layer: lower-end
"""
CONTROL = """\
  - kind: set_control
    control: {kind: pid, setpoint: 102 °C ± 1 K, kp: 55 W/K, ki: 0.6 W/(K·s), kd: 160 W·s/K}
"""
HEATER = "  - {kind: set_heater, power: 1 kW, heat_capacity: 60 J/K, to_boiler: 35 W/K}\n"
WEIGHT = "  - {kind: add_mass, to: boiler, mass: 200 g ± 5 g, material: brass}\n"
GROUP_WEIGHT = "  - {kind: add_mass, to: group, mass: 200 g ± 5 g, material: brass}\n"
JACKET = "  - {kind: scale_loss, loss: boiler_to_case, by: 60 % ± 20 %}\n"
#: what only the parts' makers know, and what any plug or wire may be: written in by a maker who has looked
FOUND_OUT = (
    ("pressure: unknown", "pressure: 40 bar"),
    ("temperature: unknown", "temperature: 150 °C"),
    ("drinking_water: unknown", "drinking_water: yes"),
    ("engagement: unknown", "engagement: 6 mm ± 0.5 mm"),
    ("material: unknown", "material: stainless steel"),
    ("sealing: unknown", "sealing: flat-seal"),
    ("fact: mains.connection\n    is: corded", "fact: boiler.water\n    at_most: 600 ml"),
)
#: what somebody sees who looks at an element: written in by a maker who has had one out
LOOKED_AT = (
    ("heater-element: {kind: unknown}", "heater-element: {kind: heater, say: the old element}"),
    (
        "element-joint: {kind: unknown}",
        "element-joint: {kind: joint, say: the joint of the old element, between: [heater-element, boiler],"
        " sealing: flat-seal}",
    ),
)


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """The demonstration, free to write into."""
    for name in ("content", "machines"):
        shutil.copytree(ROOT / name, tmp_path / name, ignore=shutil.ignore_patterns("editions", "runs", "builds.yml"))
    return tmp_path


def kit_with(root: Path, effect: str, *changes: tuple[str, str]) -> Path:
    """A kit as `new kit` lays it down, with one effect."""
    starting.new_kit(root, "own", "Own Kit")
    path = root / "content" / "kits" / "own.yml"
    edit(path, (NOTHING_YET, effect), *changes)
    return path


def edit(path: Path, *changes: tuple[str, str]) -> None:
    """Write other words."""
    text = path.read_text(encoding="utf-8")
    for old, new in changes:
        text = text.replace(old, new)
    path.write_text(text, encoding="utf-8")


def found(root: Path, variant: str) -> list[str]:
    """What the lint finds in the guide, but for texts that nobody has read yet.

    And but for the length of the sentence that names every other kit of the workshop, which grows with the kits.
    """
    known = load(root)
    machine, kit = known.machines[variant], known.kits["own"]
    pair = verdict.judged(known, machine, kit, "next")
    guide = guiding.made_guide(known, machine, kit, verdict.fit_part(pair.check), pair, COMPUTED, "next")
    assert guide is not None
    assert guide.resolved.restoring is not None
    return [str(one.problem()) for one in lint(guide) if one.rule not in ("TXT02", "LNG01")]


@pytest.mark.slow
@pytest.mark.parametrize(
    ("effect", "variants"),
    [
        (COIL, ("bracken-a",)),
        (CONTROL, ("tamsin-mk1", "bracken-c")),
        (WEIGHT, ("tamsin-mk1", "tamsin-mk2", "bracken-b")),
        (GROUP_WEIGHT, ("tamsin-mk3",)),
        (JACKET, ("bracken-a",)),
        (NOTHING_YET, ("tamsin-mk2", "bracken-b")),
        (HEATER, ("bracken-a", "bracken-b")),
        (COIL + CONTROL, ("bracken-c",)),
        (CONTROL + HEATER, ("bracken-a",)),
        (COIL + HEATER, ("bracken-c",)),
        (COIL + CONTROL + HEATER, ("bracken-a",)),
    ],
    ids=["coil", "control", "weight", "group-weight", "jacket", "none", "heater", "coil-control", "control-heater",
         "coil-heater", "all-three"],
)  # fmt: skip
def test_the_draft_passes_the_lint(root: Path, effect: str, variants: tuple[str, ...]) -> None:
    """On machines of both families, corded and hard-wired, with a thermostat and with electronic control."""
    path = kit_with(root, effect)
    drafting.new_procedure(root, "own")
    edit(path, *FOUND_OUT)
    edit(root / "machines" / "bracken" / "family.yml", *LOOKED_AT)
    assert {variant: found(root, variant) for variant in variants} == {one: [] for one in variants}


def test_what_only_makers_of_parts_know_is_unknown_and_named(root: Path) -> None:
    """No rating is made up: each stands as unknown in the kit, and the command lists it."""
    path = kit_with(root, COIL)
    told = drafting.new_procedure(root, "own")
    names = ("wetted.coil.pressure", "wetted.male-fitting.drinking_water", "inventory.coil-eyelet.screw.engagement")
    for name in names:
        assert f"content/kits/own.yml: {name}" in told
    assert "tools.hex-key.key.height, assumed by the draft: 25 mm ± 5 mm" in told
    kit = load(root).kits["own"]
    assert {one.pressure.known for one in kit.wetted} == {False}
    assert "first-part" not in path.read_text(encoding="utf-8")


def test_what_the_kit_has_stays(root: Path) -> None:
    """Its comments, its own coil with its size, its own words about the warranty."""
    mine = "parts:\n  - {id: coil, name: my coil, count: 1, size: 6 mm × 1 mm}  # bent by hand\n"
    skeleton = "parts:\n  - {id: first-part, name: part that has not been described yet, count: 1}\n"
    warranty = "downsides:\n  - {id: w, about: warranty, what: It ends., likely: certain, do: Wait.}\n"
    path = kit_with(root, COIL, (skeleton, mine), ("downsides:\n", warranty))
    drafting.new_procedure(root, "own")
    text = path.read_text(encoding="utf-8")
    assert mine.splitlines()[1] in text
    assert "# What is in the box, each part with the seals that it needs." in text
    kit = load(root).kits["own"]
    assert [one.what for one in kit.downsides if one.about == "warranty"] == ["It ends."]
    assert len({part.id for part in kit.parts}) == len(kit.parts)


def test_each_part_is_put_on_and_taken_off(root: Path) -> None:
    """A kit of two parts has two steps on and two off, the last one first."""
    skeleton = "  - {id: first-part, name: part that has not been described yet, count: 1}\n"
    two = "  - {id: left, name: left weight, count: 1}\n  - {id: right, name: right weight, count: 1}\n"
    kit_with(root, GROUP_WEIGHT, (skeleton, two))
    drafting.new_procedure(root, "own")
    text = (root / "content" / "procedures" / "own.yml").read_text(encoding="utf-8")
    on = text.index("act: put-on, of: left, at: group-head"), text.index("act: put-on, of: right, at: group-head")
    off = text.index("act: take-off, of: right, at: group-head"), text.index("act: take-off, of: left, at: group-head")
    assert on == tuple(sorted(on))
    assert off == tuple(sorted(off))


def test_the_acts_of_a_second_draft_join_those_of_the_workshop(root: Path) -> None:
    """Its own acts and their comments stay, and what is there already is not written twice."""
    acts = root / "content" / "acts.yml"
    acts.write_text('# mine\nacts:\n  put-on: {of: part, at: [boiler, port], say: "Lay {of} on {at}.", minutes: 3}\n')
    kit_with(root, WEIGHT)
    with pytest.raises(CatalogueError) as raised:
        drafting.new_procedure(root, "own")
    assert 'no act sets a look called "put-on"' in raised.value.problems[0].message
    acts.write_text('# mine\nacts:\n  stick-on: {of: part, at: casing, say: "Press {of} onto {at}.", minutes: 3}\n')
    drafting.new_procedure(root, "own")
    text = acts.read_text(encoding="utf-8")
    assert text.startswith("# mine\nacts:\n  stick-on:")
    assert [text.count(f"\n  {name}:") for name in ("put-on", "try-on", "take-off")] == [1, 1, 1]


def test_what_no_draft_knows_is_refused_with_its_reason(root: Path) -> None:
    """Nothing is written then."""
    rated = "pressure: unknown, temperature: unknown, drinking_water: unknown"
    wetted = f"wetted:\n  - {{part: first-part, material: copper, filler: none, flux: none, {rated}}}\n"
    path = kit_with(root, WEIGHT, ("wetted: []\n", wetted))
    before = path.read_bytes()
    with pytest.raises(RefusedProblem, match="no draft knows which joints they make"):
        drafting.new_procedure(root, "own")
    assert path.read_bytes() == before
    assert not (root / "content" / "procedures" / "own.yml").exists()


@pytest.mark.slow
def test_the_pump_gets_no_power_while_leads_of_the_thermostat_hang_bare(root: Path) -> None:
    """They are live, and joined to the controller only once the joints are tight."""
    path = kit_with(root, COIL + CONTROL)
    drafting.new_procedure(root, "own")
    edit(path, *FOUND_OUT)
    caps = "      - {id: thermostat-caps, act: cap-leads, of: thermostat-leads}\n"
    bare = "      - {id: thermostat-bare, act: uncap-leads, of: thermostat-leads}\n"
    edit(root / "content" / "procedures" / "own.yml", (caps, ""), (bare, ""))
    said = [one for one in found(root, "bracken-c") if "MNS04" in one]
    assert {one.partition("pumps while ")[2].partition(" ")[0] for one in said} == {"thermostat-in", "thermostat-out"}


@pytest.mark.slow
def test_what_nobody_knows_of_an_element_is_asked_and_holds_the_guide_back(root: Path) -> None:
    """On each family whose element may come out: that of the Tamsins is cast in. No seal is made up."""
    kit_with(root, HEATER)
    told = drafting.new_procedure(root, "own")
    asked = [line.strip() for line in told.splitlines() if line.startswith("  machines/")]
    assert asked == [f"machines/bracken/family.yml: inventory.{one}" for one in ("heater-element", "element-joint")]
    assert "content/kits/own.yml: inventory.new-element-joint.sealing" in told
    known = load(root)
    machine, kit = known.machines["bracken-b"], known.kits["own"]
    pair = verdict.judged(known, machine, kit, "next")
    guided = guiding.guide(known, machine, kit, verdict.fit_part(pair.check), pair, COMPUTED, "next")
    assert guided.procedure is None
    assert not [one for one in guided.lint if one.blocks]
    missing = {one.name for one in guided.missing}
    assert {"inventory.heater-element", "inventory.element-joint", "inventory.new-element-joint.sealing"} <= missing


@pytest.mark.slow
def test_no_power_comes_on_while_an_element_is_out(root: Path) -> None:
    """Without the step that puts the new one in, the lint refuses the pump's power already."""
    path = kit_with(root, HEATER)
    drafting.new_procedure(root, "own")
    edit(path, *FOUND_OUT)
    edit(root / "machines" / "bracken" / "family.yml", *LOOKED_AT)
    put_in = "      - {id: element-in, act: put-element-in, of: new-element, at: boiler}\n"
    edit(root / "content" / "procedures" / "own.yml", (put_in, ""))
    assert any("(power-pump): a path reaches it before `put-element-in`" in one for one in found(root, "bracken-b"))


@pytest.mark.slow
def test_a_kit_that_does_several_things_says_each_step_and_each_thing_once(root: Path) -> None:
    """Coil, element and control in one: one first heat, one signature before it, one list of each."""
    path = kit_with(root, COIL + CONTROL + HEATER)
    drafting.new_procedure(root, "own")
    text = (root / "content" / "procedures" / "own.yml").read_text(encoding="utf-8")
    fitting, restoring = text.split("\nrestore:\n")
    for course in (fitting, restoring):
        steps = [line.strip() for line in course.splitlines() if "{id: " in line or line.strip().startswith("- id: ")]
        assert len(set(steps)) == len(steps)
        assert [course.count(f"include: {one}\n") for one in ("cold-test", "first-heat", "insulation")] == [1, 1, 1]
    order = ("take-boiler-out", "put-element-in", "coil-on", "put-boiler-back", "clamp-sensor", "cold-test",
             "connect-heater", "push-in-series", "sign-off", "first-heat")  # fmt: skip
    places = [fitting.index(one) for one in order]
    assert places == sorted(places)
    kit = load(root).kits["own"]
    for many in (kit.parts, kit.tools, kit.consumables, kit.downsides):
        assert len({one.id for one in many}) == len(many)
    assert [one.likely for one in kit.downsides if one.about == "leak"] == ["rare", "rare"]
    assert {one.id for one in kit.downsides if one.about == "profile"} == {"profile", "profile-control"}
    assert "first-part" not in path.read_text(encoding="utf-8")


def test_a_procedure_is_never_written_over(root: Path) -> None:
    """The maker's work is safe from a command given twice."""
    with pytest.raises(RefusedProblem, match=r"content/procedures/loop-controller.yml is there already"):
        drafting.new_procedure(root, "loop-controller")


def test_an_unknown_kit_gets_the_nearest_name(root: Path) -> None:
    """As everywhere."""
    with pytest.raises(CatalogueError) as raised:
        drafting.new_procedure(root, "loop-controler")
    assert raised.value.problems[0].fix == "write loop-controller"


def test_a_coil_of_another_name_is_renamed_first(root: Path) -> None:
    """Shared blocks call it coil; the place is the line in the kit."""
    inventory = "inventory:\n  spiral: {kind: coil, say: the spiral, held: two bands}\n"
    path = kit_with(root, COIL)
    path.write_text(path.read_text(encoding="utf-8") + inventory, encoding="utf-8")
    with pytest.raises(CatalogueError) as raised:
        drafting.new_procedure(root, "own")
    (problem,) = raised.value.problems
    lines = path.read_text(encoding="utf-8").splitlines()
    assert lines[problem.line - 1].startswith("  spiral:")
    assert problem.fix == "rename it to coil"
