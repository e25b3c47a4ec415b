"""The finishing pass as a whole: policy, determinism, and that nothing but pages is touched."""

from __future__ import annotations

import random

from guidegen.site.finish import POLICY_FILE, finish, finish_page, policy, script_hashes

ABC = "'sha256-ungWv48Bz+pBQUDeXa4iI7ADYaOWF3qctBD/YfIAFa0='"
"""SHA-256 of "abc" (FIPS 180-4, first example: ba7816bf 8f01cfea … f20015ad), in base64."""
EMPTY = "'sha256-47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU='"
"""SHA-256 of nothing (e3b0c442 98fc1c14 … 7852b855), in base64; the digest is named in NIST's test vectors."""


def test_each_running_inline_script_is_hashed() -> None:
    """Data, files and comments need no hash; the hash covers the text exactly as it stands."""
    page = (
        '<script>abc</script><script src="a.js"></script><script type="application/json">{"a":1}</script>'
        '<script type="application/ld+json">{}</script><script defer></script>'
    )
    assert script_hashes(page) == {ABC, EMPTY}
    assert script_hashes("<script> abc</script>") != {ABC}


def test_policy_allows_nothing_from_elsewhere_and_no_unhashed_script() -> None:
    """No host, no eval, no unsafe-inline for scripts."""
    text = policy([b"<script>abc</script>", b"<script>abc</script>"]).decode()
    first = text.splitlines()[0].removeprefix("Content-Security-Policy: ")
    rules = dict(rule.split(" ", 1) for rule in first.split("; "))
    assert rules["default-src"] == "'none'"
    assert rules["script-src"] == f"'self' {ABC}"
    assert "http" not in text
    assert "unsafe-eval" not in text
    assert all(" " in line and line == line.strip() for line in text.splitlines())


def test_only_pages_are_changed_and_the_order_of_files_does_not_matter() -> None:
    """The same site in another order is the same site, byte for byte."""
    nav = b'<nav class="md-tags"></nav>'
    files = {f"{name}.html": nav + f"<script>{name}</script>".encode() for name in "abcdef"}
    files["raw.bin"] = nav
    done, problems = finish(files)
    shuffled = list(files.items())
    random.Random(1).shuffle(shuffled)
    again, _ = finish(dict(shuffled))
    assert done == again
    assert problems == []
    assert done["raw.bin"] == nav
    assert done["a.html"] == finish_page(files["a.html"]) != files["a.html"]
    assert set(done) - set(files) == {POLICY_FILE}


def test_broken_links_come_back_as_problems() -> None:
    """The site is still returned, so that a preview can show it."""
    done, problems = finish({"index.html": b'<a href="gone.html">x</a>'})
    assert [problem.code for problem in problems] == ["W05"]
    assert "index.html" in done
