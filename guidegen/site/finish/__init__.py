"""The last pass over the finished site, the same for every engine: post-processing, content policy, link check."""

from __future__ import annotations

import base64
import hashlib
import re
from collections.abc import Iterable, Mapping

from guidegen.problems import Problem
from guidegen.site.finish import links
from guidegen.site.finish.fixes import post_process

POLICY_FILE = "security-headers.txt"
"""The answer headers that the site is made for, one a line, for whoever sets up the web server.

They are not in the pages as ``<meta>``: from a folder (``file://``) the search runs in a frame of its own,
whose script no fixed hash covers, and there a policy would protect nothing."""

_INLINE = re.compile(r"<script\b((?:\"[^\"]*\"|'[^']*'|[^'\">])*)>(.*?)</script>", re.DOTALL)
_CANONICAL = re.compile(r'<link rel="canonical" href="([^"]+?)(?:index\.html)?"')


def finish(files: Mapping[str, bytes]) -> tuple[dict[str, bytes], list[Problem]]:
    """Post-process every page, add the policy file, check every link; returns the site and what is wrong with it."""
    done = {path: finish_page(data) if path.endswith(".html") else data for path, data in files.items()}
    done[POLICY_FILE] = policy(data for path, data in sorted(done.items()) if path.endswith(".html"))
    return done, links.check(done, _site_url(done))


def finish_page(data: bytes) -> bytes:
    """One page, post-processed; what ``serve`` needs for a page that is made when it is asked for."""
    return post_process(data.decode()).encode()


def policy(pages: Iterable[bytes]) -> bytes:
    """The answer headers under which the pages run, with a hash for each inline script among them."""
    hashes = sorted({digest for page in pages for digest in script_hashes(page.decode())})
    rules = {
        "default-src": ["'none'"],
        "script-src": ["'self'", *hashes],
        # The theme and inline SVG set single properties by style attributes.
        "style-src": ["'self'", "'unsafe-inline'"],
        "img-src": ["'self'", "data:"],
        "font-src": ["'self'"],
        "connect-src": ["'self'"],
        "worker-src": ["'self'"],
        "manifest-src": ["'self'"],
        "form-action": ["'self'"],
        "base-uri": ["'none'"],
        "frame-ancestors": ["'self'"],
    }
    text = "; ".join(f"{name} {' '.join(sources)}" for name, sources in rules.items())
    lines = [
        f"Content-Security-Policy: {text}",
        "X-Content-Type-Options: nosniff",
        "Referrer-Policy: no-referrer",
    ]
    return ("\n".join(lines) + "\n").encode()


def script_hashes(page: str) -> set[str]:
    """The policy's source expression for each script that is written into the page.

    The digest is the one of FIPS 180-4's first example, the text "abc":

    >>> script_hashes("<script>abc</script><script type='application/json'>{}</script>")
    {"'sha256-ungWv48Bz+pBQUDeXa4iI7ADYaOWF3qctBD/YfIAFa0='"}
    """
    found = set()
    for attributes, text in _INLINE.findall(page):
        if re.search(r"\bsrc\s*=", attributes) or "application/" in attributes:
            continue
        digest = base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
        found.add(f"'sha256-{digest}'")
    return found


def _site_url(files: Mapping[str, bytes]) -> str:
    found = _CANONICAL.search(files.get("index.html", b"").decode())
    return found.group(1) if found else ""
