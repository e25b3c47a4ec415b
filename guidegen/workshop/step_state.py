"""What a step may need and set, and how its conditions on the machine are written."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import AfterValidator, ConfigDict

from guidegen.workshop.base import Model, complain, quoted


def _words_that_look_like_truth(schema: dict[str, Any]) -> None:
    """Let an editor that reads `off` and `yes` as booleans accept them; our reader keeps them words."""
    for name in ("mains", "primed"):
        schema["properties"][name]["anyOf"].append({"type": "boolean"})


class StateValues(Model):
    """Values of the machine's state; what `guidegen.judge.safety.state` calls its chains."""

    model_config = ConfigDict(json_schema_extra=_words_that_look_like_truth)

    mains: Literal["unknown", "live", "pump_only", "off", "proved_dead"] | None = None
    temperature: Literal["unknown", "cool"] | None = None
    pressure: Literal["unknown", "released"] | None = None
    water: Literal["unknown", "full", "drained"] | None = None
    enclosure: Literal["open", "closed"] | None = None
    earth: Literal["disturbed", "ok", "tested"] | None = None
    leak: Literal["untested", "bench_ok", "cold_ok", "hot_ok"] | None = None
    primed: Literal["no", "yes"] | None = None

    def given(self) -> dict[str, str]:
        """Return the values that are written, by variable."""
        return {name: str(value) for name in type(self).model_fields if (value := getattr(self, name)) is not None}


#: what a line of a condition may ask of a quantity besides a value
_SENSES = ("at_least", "at_most", "not")


def _checked(condition: dict[str, Any]) -> dict[str, Any]:
    for name, wanted in condition.items():
        if name in ("any", "all"):
            if not isinstance(wanted, tuple) or not all(isinstance(part, dict) for part in wanted):
                fix = f"write {name}: [{{fact: value}}]"
                raise complain("S03", f"{name}: a list of conditions is wanted", fix, (name,))
            for part in wanted:
                _checked(part)
        elif name == "not":
            if not isinstance(wanted, dict):
                raise complain("S03", "not: a condition is wanted", "write not: {fact: value}", (name,))
            _checked(wanted)
        else:
            _line(name, wanted)
    return condition


def _line(name: str, wanted: Any) -> None:
    if isinstance(wanted, dict):
        for sense, limit in wanted.items():
            if sense not in _SENSES:
                raise complain("S01", f"no comparison {quoted(sense)}", f"use {', '.join(_SENSES)}", (name, sense))
            if not isinstance(limit, str | tuple):
                raise complain("S03", f"got {quoted(limit)}, one value is wanted", "write one value", (name, sense))
    elif isinstance(wanted, tuple):
        if not all(isinstance(one, str) for one in wanted):
            raise complain("S03", f"{name}: a list of words is wanted", f"write {name}: [first, second]", (name,))
    elif not isinstance(wanted, str):
        raise complain("S03", f"got {quoted(wanted)}, a value is wanted", f"write {name}: value", (name,))


Condition = Annotated[dict[str, Any], AfterValidator(_checked)]
"""Lines that all hold: a fact and its wanted value, a list of wanted values, or at_least, at_most, not with one;
`any`, `all` and `not` take conditions."""
