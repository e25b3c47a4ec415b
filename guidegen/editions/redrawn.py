"""What is elsewhere than an older edition had it: in words, and the two drawings one beside the other."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from markupsafe import Markup
from pydantic import ValidationError

from guidegen.editions.change import Change
from guidegen.editions.pairs import pairs
from guidegen.language import gettext
from guidegen.record import Assessment
from guidegen.record.scene import Scene
from guidegen.record.stated import Protrusion
from guidegen.site.drawings.figure import plain_figure
from guidegen.site.drawings.lengths import length_texts
from guidegen.site.drawings.scene_views import SceneViews, scene_views, views_of
from guidegen.site.drawings.svg import svg_marks

Data = Mapping[str, Any]
SIZES = ("height_mm", "flange_mm")
"""Of the boiler; its other sizes are values that went in."""
DEGREES_AN_HOUR = 30.0


def position_changes(old: Data, new: Data) -> Iterator[Change]:
    """Each thing that stands elsewhere, or of which somebody noted where; none where an edition had no drawings."""
    if not old.get("scene") or not new.get("scene"):
        return
    before, after = old["scene"], new["scene"]
    for one, other in pairs(before["things"], after["things"]):
        if one and other and one["spot"] != other["spot"]:
            yield _moved(other["name"], _place(one["spot"]), _place(other["spot"]))
    names = {one["id"]: one["name"] for one in new["protrusions"]}
    for one, other in pairs(before["protrusions"], after["protrusions"]):
        if one and other and one["clock_deg"] != other["clock_deg"]:
            yield _moved(
                names.get(other["id"], other["id"]), *(_place({"clock_deg": at["clock_deg"]}) for at in (one, other))
            )
    titles = {"height_mm": gettext("height of the boiler"), "flange_mm": gettext("flange of the boiler")}
    for size in SIZES:
        was, now = before["boiler"][size], after["boiler"][size]
        if was != now:
            yield Change("input", titles[size], _length(was), _length(now), place="fit.html#drawings")


def _moved(name: str, was: str, now: str) -> Change:
    return Change("input", gettext("where it is: {name}").format(name=name), was, now, place="fit.html#drawings")


def _place(spot: Data | None) -> str:
    """A place in words: a direction as a clock shows it, and how high or how far out; or where on a side."""
    if spot is None or (spot.get("clock_deg") is None and spot.get("side") is None):
        return gettext("not known")
    if spot.get("side") is not None:
        return f"{spot['side']}, {spot['across'] or 0:.0%}, {spot['above'] or 0:.0%}"
    minutes = round(spot["clock_deg"] / DEGREES_AN_HOUR * 60) or 720
    parts = [f"{minutes // 60 or 12}:{minutes % 60:02d}"]
    parts += [length_texts(spot[key])[0] for key in ("up_mm", "out_mm") if spot.get(key) is not None]
    return ", ".join(parts)


def _length(value: float | None) -> str:
    return gettext("not known") if value is None else length_texts(value)[0]


def redrawn(record: Assessment, before: Data, older: str, newer: str) -> list[Markup]:
    """Each view that looks otherwise, the older first; `older` and `newer` are what they are called in a sentence."""
    was, now = _kept(before), None if record.fit.refused else views_of(record)
    if was is None or now is None or before["fit"]["outcome"] == "does-not-fit":
        return []
    made = []
    for name, view in now.views.items():
        old = was.views.get(name)
        if old is not None and svg_marks(old.sheet.marks) != svg_marks(view.sheet.marks):
            for number, (one, edition) in enumerate(((old, older), (view, newer))):
                says = gettext("{view}, {edition}.").format(view=one.title, edition=edition)
                made.append(plain_figure(one, says, f"drawn-{name}-{number}", whole=True))
    return made


def _kept(before: Data) -> SceneViews | None:
    """The views of an edition's record; None where it kept no scene, or one of a form that is no more."""
    if not before.get("scene"):
        return None
    try:
        protrusions = tuple(Protrusion.model_validate(dict(one)) for one in before["protrusions"])
        return scene_views(Scene.model_validate(dict(before["scene"])), protrusions)
    except ValidationError:
        return None
