"""Editions: what was published stays as it was, and everybody can see what changed since.

edition     one edition's own facts, and the unbroken line that editions form
snapshot    an edition's records as small text files that git can compare
compare     two records: what changed, and which of it owners who already fitted must know
place       the site's folder on disk; `versions.json` in it is the only point at which an edition exists
publishing  the story of publishing
around      everything at the site's root that follows from the editions: notices, feed, short addresses
"""

from guidegen.editions.anew import folder_of as folder_anew
from guidegen.editions.anew import make as make_anew
from guidegen.editions.around import address, refresh
from guidegen.editions.edition import Edition
from guidegen.editions.publishing import Order, Published, publish
from guidegen.editions.since import Since, pages_with_changes

__all__ = [
    "Edition", "Order", "Published", "Since", "address", "folder_anew", "make_anew", "pages_with_changes",
    "publish", "refresh",
]  # fmt: skip
