"""Pages: records in, finished page bodies out. Templates print prepared values and compute nothing."""

from guidegen.pages.context import shell_context
from guidegen.pages.render import Guides, render

__all__ = ["Guides", "render", "shell_context"]
