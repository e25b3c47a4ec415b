"""The pages of the demonstration that show photographs, one of each kind, and how they are made to load."""

from __future__ import annotations

PICTURED = {
    "variant": "guides/tamsin-mk2/index.html",
    "which": "which-variant.html",
    "overview": "guides/tamsin-mk2/feed-preheater/index.html",
    "fit": "guides/tamsin-mk2/feed-preheater/fit.html",
    "install": "guides/tamsin-mk2/feed-preheater/install.html",
    "about-the-data": "about-the-data.html",
}
LOADED = """async () => {
    const shown = [...document.querySelectorAll(".gg-picture img")].filter((one) => one.offsetParent);
    for (const one of shown) { one.scrollIntoView(); one.loading = "eager"; await one.decode(); }
    scrollTo(0, 0);
    return shown.map((one) => one.naturalWidth > 0);
}"""
"""Whether each picture in sight was loaded. What `decode` promises is kept once it is there, and broken where it cannot
be loaded."""
