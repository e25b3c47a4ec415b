"""Editions: what was published stays as it was, and everybody can see what changed since.

edition     one edition's own facts, and the unbroken line that editions form
snapshot    an edition's records as small text files that git can compare
compare     two records: what changed, and which of it owners who already fitted must know
place       the site's folder on disk; `versions.json` in it is the only point at which an edition exists
publishing  the story of publishing
around      everything at the site's root that follows from the editions: notices, feed, short addresses
"""
