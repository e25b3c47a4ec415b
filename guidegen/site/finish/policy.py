"""The answer headers under which the site's pages run: what a browser may load and run for them."""

from __future__ import annotations

import base64
import hashlib
import re
from collections.abc import Iterable

POLICY_FILE = "security-headers.txt"
"""The answer headers that the site is made for, one a line, for whoever sets up the web server.

They are not in the pages as ``<meta>``: from a folder (``file://``) the search runs in a frame of its own,
whose script no fixed hash covers, and there a policy would protect nothing."""

_INLINE = re.compile(r"<script\b((?:\"[^\"]*\"|'[^']*'|[^'\">])*)>(.*?)</script>", re.DOTALL)


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
        found.add(source_of(text))
    return found


def source_of(script: str) -> str:
    """The policy's source expression for a script that is written into a page."""
    return f"'sha256-{base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()}'"
