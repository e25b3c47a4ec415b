"""The last pass over the finished site, the same for every engine: fixes, what goes along, policy, link check."""

from __future__ import annotations

import re
from collections.abc import Mapping

from guidegen.problems import Problem
from guidegen.site.finish import along, links
from guidegen.site.finish.fixes import post_process
from guidegen.site.finish.policy import POLICY_FILE, policy, script_hashes

__all__ = ["POLICY_FILE", "finish", "finish_page", "policy", "script_hashes"]

_CANONICAL = re.compile(r'<link rel="canonical" href="([^"]+?)(?:index\.html)?"')


def finish(files: Mapping[str, bytes]) -> tuple[dict[str, bytes], list[Problem]]:
    """Post-process every page, add the policy and what goes along with guides, check every link.

    Returns the site and what is wrong with it.
    """
    done = {path: finish_page(data) if path.endswith(".html") else data for path, data in files.items()}
    pages = {path: links.inspect(data.decode()) for path, data in sorted(done.items()) if path.endswith(".html")}
    taken = along.files(done, pages)
    pages |= {path: links.inspect(data.decode()) for path, data in taken.items() if path.endswith(".html")}
    done |= taken
    done[POLICY_FILE] = policy(data for path, data in sorted(done.items()) if path.endswith(".html"))
    return done, links.check(pages, done, _site_url(done))


def finish_page(data: bytes) -> bytes:
    """One page, post-processed; what ``serve`` needs for a page that is made when it is asked for."""
    return post_process(data.decode()).encode()


def _site_url(files: Mapping[str, bytes]) -> str:
    found = _CANONICAL.search(files.get("index.html", b"").decode())
    return found.group(1) if found else ""
