"""`guidegen draw`: one view of a variant with a kit as a file."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from guidegen.problems import UsageProblem, nearest
from guidegen.site.drawings.formats import FORMATS


def add(group: Any, command: Any) -> None:
    """Add the command to the command line."""
    formats = ", ".join(one.upper() for one in FORMATS)
    text = f"draw one view of a variant with a kit into a file ({formats}), its parts numbered and listed"
    one = command(group, "draw", draw, text)
    one.add_argument("variant", metavar="VARIANT")
    one.add_argument("kit", metavar="KIT")
    one.add_argument("--view", metavar="NAME", default="picture", help="which view (default: %(default)s)")
    one.add_argument("--out", metavar="FILE", type=Path, help="the file; its ending says which format")
    one.add_argument("--dark", action="store_true", help="in the dark colours of the site")


def draw(arguments: argparse.Namespace, root: Path) -> int:
    """`guidegen draw VARIANT KIT [--view NAME] [--out FILE] [--dark]`; without a file it names the views."""
    from guidegen.commands.actions import OK, workshop_at
    from guidegen.commands.terminal import out, say

    workshop_at(root)
    from guidegen.assess.drawing import drawing_of
    from guidegen.commands.api import load
    from guidegen.site.drawings.files import file_of
    from guidegen.site.drawings.scene_views import scene_views
    from guidegen.writing import write_out

    known = load(root)
    views = scene_views(*drawing_of(known, known.machine(arguments.variant), known.kit(arguments.kit)))
    if arguments.out is None:
        for name, view in views.views.items():
            out(f"{name}: {view.title}")
        return OK
    ending = arguments.out.suffix.removeprefix(".").lower()
    kind = next((one for one in FORMATS if one == ending), None)
    if kind is None:
        raise UsageProblem(f"--out {arguments.out.name}: end it in .{', .'.join(FORMATS)}")
    if arguments.view not in views.views:
        near = nearest(arguments.view, views.views)
        fix = f"write {near}" if near else f"there are {', '.join(views.views)}"
        raise UsageProblem(f"no view {arguments.view}: {fix}")
    view = views.views[arguments.view]
    if kind == "dxf" and view.scale is None:
        raise UsageProblem(f"the view {view.name} is not to scale, so it has no millimetres; take .svg or .png")
    scheme = "dark" if arguments.dark else "light"
    write_out(arguments.out, file_of(view, kind, views.listed(view, views.numbered(views.shown_in(view))), scheme))
    say(arguments, f"{arguments.out}: {view.title}")
    return OK
