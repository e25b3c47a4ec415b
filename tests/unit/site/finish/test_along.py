"""What goes along with a guide: everything that its pages show, and one file that needs nothing else."""

from __future__ import annotations

import base64
import json
import re

from guidegen.site.finish import finish

FOLDER = "guides/a/b"
INSTRUCTION = """<!doctype html><html lang="en"><head><title>A with B: fitting</title>
<link rel="canonical" href="https://site.example/1/guides/a/b/install.html">
<link rel="stylesheet" href="../../../assets/stylesheets/theme.css">
<link rel="stylesheet" href="../../../assets/guidegen/base.css">
<style media="print">@page{@bottom-left{content:"A, B"}}</style>
<script src="../../../assets/guidegen/units.js"></script>
<script src="../../../assets/guidegen/ticks.js" defer></script>
<script src="../../../assets/guidegen/notices.js" data-edition="1" defer></script>
</head><body><article><div class="guide" id="guide" data-page-kind="install">
<nav class="crumbs">home</nav><h1>A with B: <i>fitting</i></h1>
<!-- only on the site --><a href="one-file.html">one file</a><!-- /only on the site -->
<a href="../../../safety.html#hot">safety</a> <a href="#end">end</a> <a href="mailto:x@site.example">write</a>
<picture><source type="image/webp" srcset="../../../p/s.webp 480w, ../../../p/l.webp 960w">
<img src="../../../p/m.jpg" srcset="../../../p/m.jpg 480w" sizes="10em" loading="lazy" alt="A picture"></picture>
<p id="end">End</p></div></article></body></html>"""
PAGE = "<!doctype html><html><head><title>x</title></head><body><h1>x</h1></body></html>"
FILES = {
    f"{FOLDER}/install.html": INSTRUCTION,
    f"{FOLDER}/index.html": PAGE.replace("</body>", '<img src="only-here.svg" alt="">'),
    f"{FOLDER}/only-here.svg": "<svg/>",
    "safety.html": PAGE.replace("<h1>", '<h1 id="hot">'),
    "other.html": PAGE,
    "guides/a/c/install.html": PAGE,
    "assets/stylesheets/theme.css": ".theme{}",
    "assets/guidegen/base.css": '.own{} @font-face{src:url("../f.woff2")}',
    "assets/f.woff2": "FONT",
    "assets/guidegen/units.js": "/* units */",
    "assets/guidegen/ticks.js": "/* ticks */",
    "assets/guidegen/notices.js": "/* notices */",
    "p/s.webp": "S",
    "p/l.webp": "L",
    "p/m.jpg": "M",
}


def finished() -> dict[str, bytes]:
    """The site above, finished."""
    done, problems = finish({path: text.encode() for path, text in FILES.items()})
    assert problems == []
    return done


def test_the_list_names_what_the_guide_needs_and_nothing_else() -> None:
    """Its own pages, those it leads to, and all that these show: styles, fonts, scripts, every width of a picture."""
    done = finished()
    held = json.loads(done[f"{FOLDER}/along.json"])
    assert {*held["files"]} == {*FILES} - {"other.html", "guides/a/c/install.html"}
    assert held["title"] == "A with B: fitting"
    assert held["page"] == f"{FOLDER}/install.html"
    assert held["bytes"] == sum(len(done[path]) for path in held["files"])


def test_a_guide_whose_instruction_leads_to_no_such_file_has_none() -> None:
    """As where pages of an edition are made anew."""
    assert not [path for path in finished() if path.startswith("guides/a/c/") and not path.endswith("install.html")]


def test_one_file_holds_everything_and_asks_for_nothing() -> None:
    """No address is loaded that is not in the file; links are whole, or lead into it."""
    page = finished()[f"{FOLDER}/one-file.html"].decode()
    loaded = re.findall(r'<(?:img|script|link|source)\b[^>]*?\s(?:src|href|srcset)="([^"]*)"', page)
    assert [address for address in loaded if not address.startswith("data:")] == []
    assert f'src="data:image/jpeg;base64,{base64.b64encode(b"M").decode()}"' in page
    assert base64.b64encode(b"FONT").decode() in page
    assert {*re.findall(r'<a href="([^"]*)"', page)} == {
        "https://site.example/1/safety.html#hot", "#end", "mailto:x@site.example"}  # fmt: skip
    assert "/* units */" in page.partition("</head>")[0]
    assert "/* ticks */" in page.partition("</main>")[2]
    assert "/* notices */" not in page
    assert ".theme" not in page
    assert '<style media="print">@page{@bottom-left{content:"A, B"}}</style>' in page
    assert "only on the site" not in page


def test_one_file_lets_only_its_own_scripts_run() -> None:
    """Its policy and that of the site hold the hash of each; one more would not run."""
    done = finished()
    page = done[f"{FOLDER}/one-file.html"].decode()
    policy = re.search(r'http-equiv="Content-Security-Policy" content="([^"]*)"', page)
    assert policy
    hashes = {*re.findall(r"'sha256-[^']+'", policy.group(1))}
    scripts = re.findall(r"<script[^>]*>(.*?)</script>", page, re.DOTALL)
    assert len(hashes) == len(scripts) == 3
    assert all(one in done["security-headers.txt"].decode() for one in hashes)
    assert "connect-src" not in policy.group(1)


def test_without_an_address_of_the_site_links_out_of_it_are_words() -> None:
    """A draft that lies nowhere: nobody can follow them from another folder."""
    files = {**FILES, f"{FOLDER}/install.html": re.sub(r'<link rel="canonical"[^>]*>', "", INSTRUCTION)}
    done, _ = finish({path: text.encode() for path, text in files.items()})
    page = done[f"{FOLDER}/one-file.html"].decode()
    assert {*re.findall(r'href="([^"]*)"', page)} == {"data:,", "#end", "mailto:x@site.example"}
    assert "<a>safety</a>" in page
