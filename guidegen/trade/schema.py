"""JSON Schema of every kind of file, so that an editor completes and checks the YAML while it is written.

The schema is looser than `check` in two ways: of quantities it knows number and unit alone, and a machine file may
leave out whatever the family has, so nothing but ids is required in it. What it refuses, `check` refuses too. Every
property says what it is (`described.yml`).
"""

from __future__ import annotations

import copy
from collections.abc import Mapping
from typing import Any

from pydantic.json_schema import models_json_schema

from guidegen.runs.document import LoggedRun
from guidegen.trade.builds import Builds
from guidegen.trade.described import described
from guidegen.trade.kit import Kit
from guidegen.trade.machine import MachineData
from guidegen.trade.schema_of_facts import WORDS, fact_definitions
from guidegen.trade.shop import Drinks, Glossary, Sources, Workshop
from guidegen.workshop.base import Document
from guidegen.workshop.offers import WrittenOffers
from guidegen.workshop.own_facts import OwnFacts, OwnValues, values_of
from guidegen.workshop.pictures.written import Pictures
from guidegen.workshop.procedures import Hazards, Procedure, SharedBlocks
from guidegen.workshop.questions import Questions
from guidegen.workshop.rows import OwnActs
from guidegen.workshop.texts import ReadTexts

Schema = dict[str, Any]

#: kind of file -> its model and where such files are
KINDS: dict[str, tuple[type[Document], str]] = {
    "machine": (MachineData, "machines/*/*.yml"),
    "builds": (Builds, "machines/*/builds.yml"),
    "run": (LoggedRun, "machines/*/runs/*.yml"),
    "kit": (Kit, "content/kits/*.yml"),
    "procedure": (Procedure, "content/procedures/*.yml"),
    "shared": (SharedBlocks, "content/procedures/shared.yml"),
    "workshop": (Workshop, "content/workshop.yml"),
    "drinks": (Drinks, "content/drinks.yml"),
    "sources": (Sources, "content/sources.yml"),
    "glossary": (Glossary, "content/glossary.yml"),
    "hazards": (Hazards, "content/hazards.yml"),
    "facts": (OwnFacts, "content/facts.yml"),
    "acts": (OwnActs, "content/acts.yml"),
    "questions": (Questions, "content/questions.yml"),
    "read": (ReadTexts, "content/read.yml"),
    "pictures": (Pictures, "content/pictures.yml"),
    "offers": (WrittenOffers, "content/offers.yml"),
}
_DIALECT = "https://json-schema.org/draft/2020-12/schema"


def json_schema(kind: str | None = None, acts: Mapping[str, str] | None = None, own: OwnFacts | None = None) -> Schema:
    """Return the schema of one kind of file; without a kind, of all of them under `$defs`, any of which fits.

    `acts` are the names that a step may have under `act`, each with its sentence: an editor completes them. Without
    them any name fits. `own` are a workshop's own facts, which machines may state; without them any name fits, too.
    """
    if kind is not None:
        return _one(kind, acts or {}, own)
    whole: Schema = {"$schema": _DIALECT, "title": "Files of a workshop", "$defs": {}, "anyOf": []}
    for name in KINDS:
        one = _one(name, acts or {}, own)
        for inner, definition in one.pop("$defs").items():
            whole["$defs"][f"{name}.{inner}"] = _renamed(definition, name)
        del one["$schema"]
        whole["$defs"][name] = _renamed(one, name)
        whole["anyOf"].append({"$ref": f"#/$defs/{name}"})
    return whole


def _one(kind: str, acts: Mapping[str, str], own: OwnFacts | None) -> Schema:
    model, where = KINDS[kind]
    references, schema = models_json_schema([(model, "validation")], ref_template="#/$defs/{model}")
    root = references[(model, "validation")]["$ref"].rsplit("/", 1)[-1]
    definitions = {name: _described(name, _cleaned(one)) for name, one in schema["$defs"].items()}
    if kind == "machine":
        if own is not None:
            definitions[OwnValues.__name__] |= _stated(own)
        definitions = {name: _partial(one) for name, one in definitions.items()}
    if acts and "WrittenAct" in definitions:
        act = definitions["WrittenAct"]["properties"]["act"]
        act |= {"enum": [*acts], "enumDescriptions": [*acts.values()]}
    definitions |= fact_definitions()
    return {"$schema": _DIALECT, "description": where, **definitions.pop(root), "$defs": definitions}


def _stated(own: OwnFacts) -> Schema:
    """What a machine may state of a workshop's own facts, each with its title before how it is found out."""
    properties = _cleaned(values_of(own.facts).model_json_schema()).get("properties", {})
    for one in own.facts:
        more = properties[one.id].get("description")
        properties[one.id]["description"] = f"{one.title}. {more}" if more else f"{one.title}."
    return {"properties": properties, "additionalProperties": False}


def _cleaned(node: Any) -> Any:
    """Put the definitions of facts in place, and let text fields take what an editor reads as a number."""
    if isinstance(node, list):
        return [_cleaned(item) for item in node]
    if not isinstance(node, dict):
        return node
    more = {key: _cleaned(value) for key, value in node.items() if key not in ("x-fact", "x-choice")}
    if "x-fact" in node:
        more["$ref"] = f"#/$defs/{node['x-fact']}"
    elif "x-choice" in node:
        more["anyOf"] = [_choice(node["x-choice"]), {"$ref": "#/$defs/stated"}]
    elif node.get("type") == "string" and not {"enum", "const"} & set(node):
        more["type"] = WORDS["type"]
    more.pop("discriminator", None)
    if "oneOf" in more:
        more["anyOf"] = more.pop("oneOf")
    return more


def _described(name: str, definition: Schema) -> Schema:
    """Return a definition whose properties say what they are, before what settles a value and what is plausible."""
    for field, one in definition.get("properties", {}).items():
        own = one.get("description")
        one["description"] = f"{described(name, field)} {own}" if own else described(name, field)
    return definition


def _choice(words: list[str]) -> Schema:
    """The words; an editor that reads `yes` and `no` as booleans may see those."""
    if not words:
        return dict(WORDS)
    return {
        "enum": [
            *words,
            "unknown",
            "some units",
            *({"yes": True, "no": False}[one] for one in words if one in ("yes", "no")),
        ]
    }


def _partial(definition: Schema) -> Schema:
    """Return a definition of which a variant writes only what differs, with `null` to remove the rest."""
    made = copy.deepcopy(definition)
    if "properties" in made:
        made["required"] = [name for name in made.get("required", ()) if name == "id"]
        made["properties"] = {name: _nullable(one) if name != "id" else one for name, one in made["properties"].items()}
    return made


def _nullable(one: Schema) -> Schema:
    if one.get("type") == "array":
        removal = {"type": "object", "minProperties": 1, "maxProperties": 1, "additionalProperties": {"type": "null"}}
        one = {**one, "items": {"anyOf": [one.get("items", {}), removal]}}
    if "patternProperties" in one:
        one = {**one, "patternProperties": {name: _nullable(own) for name, own in one["patternProperties"].items()}}
    above: Schema = {name: one.pop(name) for name in ("title", "description") if name in one}
    return {**above, "anyOf": [one, {"type": "null"}]}


def _renamed(node: Any, prefix: str) -> Any:
    """Return a schema whose references lead to the definitions of its kind."""
    if isinstance(node, list):
        return [_renamed(item, prefix) for item in node]
    if not isinstance(node, dict):
        return node
    return {
        key: f"#/$defs/{prefix}.{value.removeprefix('#/$defs/')}" if key == "$ref" else _renamed(value, prefix)
        for key, value in node.items()
    }
