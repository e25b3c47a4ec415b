"""The JSON Schema that editors use, tried with a validator of its own on real files."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml

from guidegen.trade.described import texts as field_texts
from guidegen.trade.schema import KINDS, json_schema
from guidegen.trade.schema_of_facts import quantity_pattern
from guidegen.unit_table import SPELLINGS, UNITS
from guidegen.units import parse

ROOT = Path(__file__).parents[3]
SMALL = ROOT / "tests" / "fixtures" / "catalogue_min"
OWN = ROOT / "tests" / "fixtures" / "own_acts"


class _Loader(yaml.CSafeLoader):
    """Reads YAML as an editor does, except that a date stays text, as JSON has no dates."""


_Loader.yaml_implicit_resolvers = {
    first: [(tag, pattern) for tag, pattern in pairs if not tag.endswith("timestamp")]
    for first, pairs in yaml.CSafeLoader.yaml_implicit_resolvers.items()
}


def kind_of(path: Path, root: Path) -> str:
    """Return the kind of a file; the last kind whose pattern matches is the most special one."""
    where = path.relative_to(root)
    special = [kind for kind, (_, pattern) in KINDS.items() if "*" not in pattern.rsplit("/", 1)[-1]]
    ordered = [*special, *(kind for kind in KINDS if kind not in special)]
    return next(kind for kind in ordered if where.match(KINDS[kind][1]))


def files(root: Path) -> list[tuple[Path, Path]]:
    """Return every YAML file of a workshop, with the workshop."""
    found = [*(root / "machines").rglob("*.yml"), *(root / "content").rglob("*.yml")]
    return [(path, root) for path in sorted(found) if "pages" not in path.parts and "editions" not in path.parts]


@cache
def validator(kind: str) -> jsonschema.Draft202012Validator:
    """Return the validator of a kind of file."""
    return jsonschema.Draft202012Validator(json_schema(kind))


def errors(kind: str, data: Any) -> list[str]:
    """Return what the validator says."""
    return [error.message for error in validator(kind).iter_errors(data)]


@pytest.mark.parametrize("kind", KINDS)
def test_each_schema_is_one(kind: str) -> None:
    """The schema itself is valid in its dialect."""
    jsonschema.Draft202012Validator.check_schema(json_schema(kind))


def test_the_whole_schema_is_one_and_its_references_resolve() -> None:
    """Every reference of the joint schema leads to a definition."""
    whole = json_schema()
    jsonschema.Draft202012Validator.check_schema(whole)

    def references(node: Any) -> list[str]:
        if isinstance(node, dict):
            own = [node["$ref"]] if isinstance(node.get("$ref"), str) else []
            return own + [one for value in node.values() for one in references(value)]
        return [one for item in node for one in references(item)] if isinstance(node, list) else []

    found = references(whole)
    assert found
    assert {one.removeprefix("#/$defs/") for one in found} <= set(whole["$defs"])


@pytest.mark.parametrize(("path", "root"), files(ROOT) + files(SMALL), ids=lambda value: value.name)
def test_every_file_of_the_demonstration_is_valid(path: Path, root: Path) -> None:
    """What `check` accepts, the schema accepts, alone and in the joint schema."""
    data = yaml.load(path.read_text(encoding="utf-8"), _Loader)
    assert errors(kind_of(path, root), data) == []


def test_acts_of_a_workshop_are_valid() -> None:
    """One kind or a list of them; what makes something safe has no field."""
    data = yaml.load((OWN / "content" / "acts.yml").read_text(encoding="utf-8"), _Loader)
    assert errors("acts", data) == []
    assert errors("acts", {"acts": {"declare": {"say": "Say so.", "minutes": 1, "sets": {"earth": "tested"}}}})


@pytest.mark.parametrize(
    ("kind", "data"),
    [
        ("machine", {"boiler": {"strait_wall": "46 mm"}}),
        ("machine", {"status": "sene"}),
        ("machine", {"boiler": {"material": "bras"}}),
        ("machine", {"boiler": {"mass": {"evidence": "assumed"}}}),
        ("machine", {"boiler": {"mass": 500}}),
        ("machine", {"boiler": {"protrusions": [{"width": "3 mm"}]}}),
        ("machine", {"boiler": {"clearance": "24 g"}}),
        ("machine", {"boiler": {"clearance": "24"}}),
        ("machine", {"boiler": {"clearance": {"is": "24 g", "evidence": "assumed"}}}),
        ("machine", {"boiler": {"clearance": {"is": "24 mm", "from": "20 s", "to": "30 mm"}}}),
        ("kit", {"name": "x"}),
        ("workshop", {"usage": "often"}),
        ("drinks", {"drinks": []}),
    ],
)
def test_the_schema_refuses_what_check_refuses(kind: str, data: dict[str, Any]) -> None:
    """An editor underlines these."""
    assert errors(kind, data)


@pytest.mark.parametrize(
    "data",
    [
        {"boiler": {"insulation": None}},
        {"boiler": {"protrusions": [{"drain-boss": None}]}},
        {"boiler": {"mass": "unknown"}},
        {"water_path": {"inlet": {"fitting": {"some_units": ["straight", "banjo"]}}}},
        {"control": {"lag": "3 s"}},
    ],
)
def test_a_variant_writes_only_what_differs(data: dict[str, Any]) -> None:
    """Nothing is required of a machine file, and null removes."""
    assert errors("machine", data) == []


@pytest.mark.parametrize("dimension", UNITS)
def test_a_quantity_has_a_pattern_that_lets_pass_what_the_program_reads(dimension: str) -> None:
    """Each unit and each spelling of it, with its ± and without; a length is no mass."""
    pattern = re.compile(quantity_pattern(dimension))
    spelt = [word for word, unit in SPELLINGS.items() if unit in UNITS[dimension]]
    kind = "~" if dimension == "voltage" else ""
    for unit in (*UNITS[dimension], *spelt):
        half = "K" if dimension == "temperature" else unit
        texts = [f"12 {unit}{kind}", f"12 {unit}{kind} ± 0.5 {half}", f"12 {unit}{kind} +/- .5"]
        texts += [] if kind else [f" 12 ± 1e-1 {unit}"]
        texts += [] if unit[:1].isdigit() else [f"12{unit}{kind} ± 0.5{half}"]
        for text in texts:
            parse(text, dimension)
            assert pattern.search(text), text
    others = {unit for table in UNITS.values() for unit in table} - {*UNITS[dimension]}
    assert [unit for unit in sorted(others) if unit and pattern.search(f"12 {unit}")] == []
    assert pattern.search("unknown")
    assert pattern.search("some units")
    assert not pattern.search("twelve")


def test_every_property_of_every_schema_says_what_it_is() -> None:
    """And nothing is described that is no property."""
    bare: list[str] = []

    def look(node: Any, name: str) -> None:
        if isinstance(node, dict):
            for field, one in node.get("properties", {}).items():
                if isinstance(one, dict) and not one.get("description"):
                    bare.append(f"{name}.{field}")
            for key, one in node.items():
                look(one, f"{name}.{key}")
        elif isinstance(node, list):
            for one in node:
                look(one, name)

    models: dict[str, set[str]] = {}
    for kind in KINDS:
        schema = json_schema(kind)
        look({name: one for name, one in schema.items() if name != "properties"} | schema, kind)
        models[KINDS[kind][0].__name__] = set(schema["properties"])
        models |= {name: set(one.get("properties", ())) for name, one in schema["$defs"].items()}
    assert bare == []
    own = {f"{model}.{field}" for model, fields in field_texts().items() if model != "every" for field in fields}
    assert own - {f"{model}.{field}" for model, fields in models.items() for field in fields} == set()
    used = {field for model, fields in models.items() for field in fields if field not in field_texts().get(model, {})}
    assert set(field_texts()["every"]) - used == set()


def test_an_editor_shows_what_a_field_is_how_it_is_measured_and_what_is_plausible() -> None:
    """Of a fact that a variant may leave out, too."""
    clearance = json_schema("machine")["$defs"]["Boiler"]["properties"]["clearance"]
    assert clearance["title"] == "Free room round the boiler"
    for words in (
        "between the boiler's wall and the nearest thing",
        "Settled by: feeler or ruler",
        "Such machines have",
    ):
        assert words in clearance["description"]


def test_a_step_that_is_an_act_takes_one_thing_or_several_and_a_name_of_the_table() -> None:
    """The names come from outside, each with the sentence that an editor shows."""
    acts = {"close-tap": "Close {of}.", "cut-mains": "Pull the plug. / Lock the disconnector."}
    step = json_schema("procedure", acts)["$defs"]["WrittenAct"]
    assert step["properties"]["act"]["enum"] == ["close-tap", "cut-mains"]
    assert step["properties"]["act"]["enumDescriptions"] == [*acts.values()]
    found = jsonschema.Draft202012Validator({**step, "$defs": json_schema("procedure")["$defs"]})
    for of in ("steam-tap", ["steam-tap", "water-tap"]):
        assert found.is_valid({"id": "a", "act": "close-tap", "of": of})
    assert not found.is_valid({"id": "a", "act": "close-tap", "of": {"steam-tap": True}})
    assert not found.is_valid({"id": "a", "act": "close-trap", "of": "steam-tap"})
    whole = json_schema(acts=acts)["$defs"]
    assert {whole[f"{kind}.WrittenAct"]["properties"]["act"]["enum"][0] for kind in ("procedure", "shared")} == {
        "close-tap"
    }


@pytest.mark.parametrize(
    ("thing", "valid"),
    [
        ({"kind": "unknown"}, True),
        ({"kind": "tap", "say": "the steam tap"}, True),
        ({"kind": "lead", "say": "the lead", "ends": ["heater", "pump"], "heats": True}, True),
        ({"kind": "tab", "say": "the steam tap"}, False),
        ({"kind": "tap"}, False),
        ({"kind": "joint", "say": "the joint", "between": ["a", "b"], "sealing": "glue"}, False),
        ({"kind": "tap", "say": "the steam tap", "sais": "the tap"}, False),
    ],
)
def test_the_inventory_of_a_kit_is_checked(thing: Any, valid: bool) -> None:
    """What an act can name has a kind and words; a joint says what seals it."""
    kit = json_schema("kit")
    inventory = {**kit["properties"]["inventory"], "$defs": kit["$defs"]}
    assert jsonschema.Draft202012Validator(inventory).is_valid({"it": thing}) is valid


def test_a_variant_writes_only_what_differs_of_its_inventory() -> None:
    """Other words for a thing of the family; null where the variant does not have it."""
    assert errors("machine", {"inventory": {"steam-tap": {"say": "the steam valve"}}}) == []
    assert errors("machine", {"inventory": {"steam-tap": None}}) == []
    assert errors("machine", {"inventory": {"steam-tap": {"sais": "the steam valve"}}})
