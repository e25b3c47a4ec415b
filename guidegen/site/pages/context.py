"""What hand-written pages may use by name: the guides, the variants, and the workshop's own words."""

from __future__ import annotations

from collections.abc import Container, Mapping, Sequence
from functools import partial
from types import MappingProxyType
from typing import Any

from markupsafe import Markup

from guidegen.language import gettext
from guidegen.record import Assessment, Outline
from guidegen.record import places as places_of
from guidegen.record.reference import Reference
from guidegen.site.pages import sentences, worth
from guidegen.site.pages.conduct import safety_blocks
from guidegen.site.pages.numbers import ShownNumbers
from guidegen.site.pages.page import rel
from guidegen.site.pages.pictures import figure
from guidegen.site.pages.place import path_of
from guidegen.site.pages.site import Pair
from guidegen.site.pages.unknown import voltage

NOT_WEIGHED: Mapping[Pair, str] = MappingProxyType({})


def shell_context(
    records: Sequence[Outline | Assessment],
    reference: Reference,
    places: Container[str] = (),
    worths: Mapping[Pair, str] = NOT_WEIGHED,
) -> dict[str, Any]:
    """Names for `content/pages`: `guides`, `variants`, `workshop`, `conduct`, `places`, `pictures`, and `figures`.

    `conduct` holds who may do what, use and misuse, and when nobody begins, as HTML. `pictures` make the figure of each
    photograph for the page that asks, by id; `figures` print a computed number with its range, of each pair.
    `places` says where the written pages lie, so that one can be linked only where it is made. `worths` answer for
    outlines, which cannot tell, whether the kit is worth it.
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
        pair = (record.variant.id, record.kit.id)
        one["kits"].append(
            {
                "id": record.kit.id,
                "name": record.kit.name,
                "outcome": sentences.outcome(record.fit.outcome),
                "fits": record.fit.outcome in ("fits", "fits-with-conditions"),
                "worth": worth.answer(record) if isinstance(record, Assessment) else worths.get(pair, ""),
            }
        )
    return {
        "conduct": safety_blocks(),
        "guides": {(record.variant.id, record.kit.id): sentences.pair_name(record) for record in records},
        "pictures": {name: partial(figure, one, reference.shelf) for name, one in reference.pictures.items()},
        "figures": {(record.variant.id, record.kit.id): partial(_number, record) for record in records},
        "places": places,
        "variants": list(variants.values()),
        "workshop": reference.publisher.model_dump(),
    }


def _number(record: Outline | Assessment, page: str, asked: str) -> Markup | list[str]:
    """A figure with its range, for a page; the names of all where none is called so.

    The preview makes pages before it has numbers, and says so in the number's place.
    """
    if not isinstance(record, Assessment):
        return Markup("<i>{}</i>").format(gettext("a number, once it is computed"))
    known = [place for place, _ in places_of.figures(record)]
    place = places_of.place_named(asked, known, record.main_drink)
    if place is None:
        return [places_of.short(one) for one in known]
    return ShownNumbers(record, rel(page, path_of(record, "numbers"))).show(place, ranged=True)
