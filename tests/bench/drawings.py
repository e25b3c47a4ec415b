"""A drawing from the scene to SVG, beside matplotlib writing the same lines as SVG.

Both run in one process, one after the other. The peer gets every outline of the finished drawing as points, and every
text at its place; where anything is, ours has worked out, and that counts as well.
"""

from __future__ import annotations

import io
import statistics
import time
from collections.abc import Callable, Iterator
from functools import partial

from matplotlib.backends.backend_svg import FigureCanvasSVG
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Ellipse

from guidegen import trade
from guidegen.assess.drawing import drawing_of
from guidegen.record.scene import Scene
from guidegen.record.stated import Protrusion
from guidegen.site.drawings.callouts import callout_marks, callouts
from guidegen.site.drawings.marks import Lettering, Ring
from guidegen.site.drawings.scene_views import SceneViews, scene_views
from guidegen.site.drawings.svg import svg_marks
from guidegen.site.drawings.view import WIDTH, Drawing
from tests.bench._aims import Aim
from tests.bench.synthetic import ROOT

VARIANT, KIT = "tamsin-mk2", "feed-preheater"
TIMES = 20
AIM_MS, AIM_RATIO = 5.0, 10


def ours(views: SceneViews, view: Drawing) -> str:
    """The view with every thing pointed out."""
    placed = callouts(views.listed(view, views.numbered(view.targets)), view.height)
    return svg_marks([*view.sheet.marks, *callout_marks(placed)])


def theirs(view: Drawing) -> bytes:
    """The same lines, rings and texts by matplotlib."""
    figure = Figure(figsize=(WIDTH / 72, view.height / 72))
    FigureCanvasSVG(figure)
    axes = figure.add_axes((0, 0, 1, 1))
    axes.set_axis_off()
    axes.set_xlim(0, WIDTH)
    axes.set_ylim(view.height, 0)
    for mark in view.sheet.marks:
        if isinstance(mark, Lettering):
            axes.text(*mark.at, mark.text, fontsize=10)
        elif isinstance(mark, Ring):
            axes.add_patch(Ellipse(mark.centre, 2 * mark.rx, 2 * mark.ry, fill=False))
        else:
            axes.add_line(Line2D(*zip(*mark.points(), strict=True)))
    out = io.BytesIO()
    figure.savefig(out, format="svg")
    return out.getvalue()


def spent_ms(work: Callable[[], object]) -> float:
    """Milliseconds that it takes, the median of some times."""

    def each() -> Iterator[float]:
        for _ in range(TIMES):
            began = time.perf_counter()
            work()
            yield (time.perf_counter() - began) * 1e3

    return statistics.median(each())


def main() -> Iterator[Aim]:
    """What one drawing takes, what all of a pair take, and the slowest, each beside the peer."""
    known = trade.load(ROOT)
    scene, protrusions = drawing_of(known, known.machine(VARIANT), known.kit(KIT))
    views = scene_views(scene, protrusions)
    whole = spent_ms(partial(all_of, scene, protrusions))
    each = {name: spent_ms(partial(theirs, view)) for name, view in views.views.items()}
    slowest = max(each, key=lambda name: each[name])
    print(
        f"drawings: {len(each)} views of a pair from the scene to SVG in {whole:.1f} ms, "
        f"{whole / len(each):.2f} ms each"
    )
    print(
        f"drawings: matplotlib takes {sum(each.values()):.0f} ms for the same lines, {sum(each.values()) / whole:.0f} "
        f"times as long; most for {slowest}, {each[slowest]:.0f} ms"
    )
    yield Aim("a drawing from the data to SVG", whole / len(each), AIM_MS, "ms", "placing what is pointed out")
    yield Aim(
        "matplotlib's time for the same drawings", sum(each.values()) / whole, AIM_RATIO, "times", "the same", True
    )


def all_of(scene: Scene, protrusions: tuple[Protrusion, ...]) -> list[str]:
    """Every view of a scene, worked out and written."""
    views = scene_views(scene, protrusions)
    return [ours(views, view) for view in views.views.values()]
