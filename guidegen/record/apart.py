"""A record as it is downloaded: compact, without what equals its documented default, its large parts in files apart.

A part's file is named by its content, so what several guides have in common is one file. The record leads to it by a
JSON reference, `{"$ref": "../parts/<sum>.json"}`, seen from where the record lies. `whole` puts the parts back.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Callable, Mapping
from typing import Any

from guidegen.record import Assessment

APART = ("procedure", "self_check", "scene", "shot", "same_cup_shot", "from_cold", "what_if", "influence")
"""What stands apart where there is any: the instruction, and what pages compute and draw with. Figures stay."""
FOLDER = "data/parts"
REFERENCE = "$ref"
_UP = "../parts/"
_SUM_DIGITS = 24
_PLACE = re.compile(re.escape(_UP) + rf"[0-9a-f]{{{_SUM_DIGITS}}}\.json")


def parted(record: Assessment) -> tuple[bytes, dict[str, bytes]]:
    """The record as it lies in `data/<variant>/<kit>.json`, and its parts by their path in the site."""
    held: dict[str, Any] = record.model_dump(mode="json", by_alias=True, exclude_defaults=True)
    parts = {}
    for key in APART:
        if held.get(key):
            data = _compact(held[key])
            name = f"{hashlib.sha256(data).hexdigest()[:_SUM_DIGITS]}.json"
            parts[f"{FOLDER}/{name}"] = data
            held[key] = {REFERENCE: _UP + name}
    return _compact({"format": record.format, **held}), parts


def whole(data: Mapping[str, Any], read: Callable[[str], bytes]) -> dict[str, Any]:
    """The record with its parts, each as `read` finds it by its reference.

    One of an older edition, which has all in itself, stays as it is. Raises ValueError for a reference to elsewhere.
    """
    made = dict(data)
    for key, value in data.items():
        if isinstance(value, dict) and [*value] == [REFERENCE]:
            if not _PLACE.fullmatch(str(value[REFERENCE])):
                raise ValueError(f"{key} does not lead to a part of the record: {value[REFERENCE]}")
            made[key] = json.loads(read(value[REFERENCE]))
    return made


def _compact(value: Any) -> bytes:
    return (json.dumps(value, ensure_ascii=False, separators=(",", ":")) + "\n").encode()
