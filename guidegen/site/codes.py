"""The codes of what can be wrong with the site itself: hand-written pages, engine, finished HTML."""

from __future__ import annotations

from guidegen.problems import Explained


class SiteCode(Explained):
    """One code per kind of mistake, in the manner of :class:`guidegen.problems.Code`. W: the web site."""

    TEMPLATE = (
        "W01",
        "A hand-written page has a mistake in its Jinja: what stands in double braces, or in a brace with %.",
    )
    UNKNOWN_NAME = (
        "W02",
        "A hand-written page uses a name or a guide that does not exist; a gap would stand there.",
    )
    SETTINGS = (
        "W03",
        "mkdocs.yml is missing, cannot be read, or holds what the chosen engine cannot work with.",
    )
    ENGINE = (
        "W04",
        "The engine reports a mistake in a hand-written page, the theme or mkdocs.yml, in its own words.",
    )
    BROKEN_LINK = "W05", "A link or a picture leads to a page or file that the finished site does not have."
    BROKEN_FRAGMENT = (
        "W06",
        "A link leads to a place within a page that is not there; add the id or correct the link.",
    )
    DUPLICATE_ID = (
        "W07",
        "Two elements of a page carry the same id; links and labels would find the first only.",
    )
    OTHER_HOST = (
        "W08",
        "A page would load something from another host, which lets a stranger know who reads the guide.",
    )
    NOT_PUBLISHABLE = (
        "W10",
        "A link, or a name that cannot be printed, among the files of the site: a link publishes what it leads to, "
        "which may be a customer's letter. Copy the file there, or rename it.",
    )
    LOOK = (
        "W11",
        "A colour, font, logo or other setting of mkdocs.yml is shown otherwise than it is written, or not at all: a "
        "colour that nobody could read, a file that is not there, or what the program decides itself.",
    )
    FORBIDDEN_SCRIPT = (
        "W09",
        "An on… attribute or a javascript: address; the site's content policy stops both.",
    )
