"""What a step may need and set."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import ConfigDict

from guidegen.workshop.base import Model


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
