"""Pages: records in, finished page bodies out. Templates print prepared values and compute nothing."""

from guidegen.site.pages.context import shell_context
from guidegen.site.pages.downloads import file_at
from guidegen.site.pages.downloads import paths as file_paths
from guidegen.site.pages.pictures import on_pages as pictures_on
from guidegen.site.pages.previews import with_previews
from guidegen.site.pages.render import Guides, page_at, page_paths, render
from guidegen.site.pages.site import Site

__all__ = [
    "Guides", "Site", "file_at", "file_paths", "page_at", "page_paths", "pictures_on", "render", "shell_context",
    "with_previews",
]  # fmt: skip
