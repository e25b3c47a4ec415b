"""What hand-written pages may use by name: the guides, the variants, and the workshop's own words."""

from __future__ import annotations

from collections.abc import Container, Sequence
from typing import Any

from guidegen.record import Assessment, Outline
from guidegen.record.reference import Publisher
from guidegen.site.pages import sentences
from guidegen.site.pages.conduct import safety_blocks
from guidegen.site.pages.unknown import voltage


def shell_context(
    records: Sequence[Outline | Assessment], publisher: Publisher, places: Container[str] = ()
) -> dict[str, Any]:
    """Names for `content/pages`: `guides`, `variants`, `workshop`, `conduct`, and `places`.

    `conduct` holds who may do what, use and misuse, and when nobody begins, as HTML.
    `places` says where the written pages lie, so that one can be linked only where it is made.
    """
    variants: dict[str, dict[str, Any]] = {}
    for record in records:
        one = variants.setdefault(
            record.variant.id,
            {
                "id": record.variant.id,
                "name": record.variant.name,
                "family": record.variant.family_name,
                "years": record.variant.years,
                "voltage": voltage(record.variant.voltage_v),
                "summary": record.variant.summary,
                "kits": [],
            },
        )
        one["kits"].append(
            {"id": record.kit.id, "name": record.kit.name, "outcome": sentences.outcome(record.fit.outcome)}
        )
    return {
        "conduct": safety_blocks(),
        "guides": {(record.variant.id, record.kit.id): sentences.pair_name(record) for record in records},
        "places": places,
        "variants": list(variants.values()),
        "workshop": publisher.model_dump(),
    }
