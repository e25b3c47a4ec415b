"""The press: texts stay texts, the same data are the same bytes, what was made is kept, and warnings are mistakes."""

from __future__ import annotations

import hashlib
import json
import subprocess
import sys
import time
from pathlib import Path

import pytest

from guidegen.site.pages.paper.bench import bench_data
from guidegen.site.pages.paper.press import NOT_IN_FONT, TEMPLATES, BadSheet, Press, Typeset
from guidegen.site.pages.paper.sheets import sheet_bytes
from tests.unit.site.pages.paper.printed import ADDRESS, order, printed, sheet
from tests.unit.site.pages.paper.read_pdf import opened

pytestmark = pytest.mark.slow

pytest.importorskip("typst")

HOSTILE = (
    '#eval("1+1")', "#read(\"common.typ\")", "$x^2$", "\\u{41} \\ \\#", "@reference <label>", "*bold* _slanted_ `raw`",
    "// a comment", "/* another", "= Heading", "- item", "#let data = 1", "#[x] #{1 + 1}", "{pages} {page}",
    "-- --- ...",
)  # fmt: skip
"""What would be code, markup or a shorthand if a text were ever read as such."""


def words(data: bytes, tmp_path: Path) -> str:
    """The text of a PDF as another program reads it, without line ends."""
    path = tmp_path / "read.pdf"
    path.write_bytes(data)
    done = subprocess.run(["pdftotext", "-layout", path, "-"], capture_output=True, text=True, check=True)
    return " ".join(done.stdout.split())


@pytest.mark.parametrize("text", HOSTILE)
def test_a_text_is_printed_and_never_read(text: str, tmp_path: Path) -> None:
    """Names, acts, criteria and records come out letter by letter."""
    pytest.importorskip("pikepdf")
    one = printed("tamsin-mk2", "feed-preheater")
    data = bench_data(order(sheet(one, "bench-trimmed-a4.pdf"), one))
    group = {**data["groups"][0], "name": text, "steps": [{**data["groups"][0]["steps"][0], "do": text}]}
    small = {**data, "groups": [group], "remedies": 1, "title": text, "stop_use": [text], "breaks": []}
    made = Typeset("bench", small).pdf()
    document = opened(made)
    assert str(document.docinfo["/Title"]) == text
    try:
        printed_words = words(made, tmp_path)
    except FileNotFoundError:
        pytest.skip("pdftotext is not here")
    assert printed_words.count(" ".join(text.split())) >= 3


def test_the_same_data_are_the_same_bytes_later_and_elsewhere() -> None:
    """No clock and no random number: after a pause, and in another process."""
    one = printed()
    data = bench_data(order(sheet(one, "bench-trimmed-a4.pdf"), one))
    first = Typeset("bench", data).pdf()
    time.sleep(1.1)
    assert Typeset("bench", data).pdf() == first
    code = (
        "import hashlib, json, sys\nfrom guidegen.site.pages.paper.press import Typeset\n"
        "print(hashlib.sha256(Typeset('bench', json.load(sys.stdin)).pdf()).hexdigest())"
    )
    command = [sys.executable, "-c", code]
    done = subprocess.run(command, input=json.dumps(data), capture_output=True, text=True, check=True)
    assert done.stdout.strip() == hashlib.sha256(first).hexdigest()


def test_a_sheet_is_made_once(tmp_path: Path) -> None:
    """What is kept is taken; what was torn on the disk is made anew; another text is another sheet."""
    one, made = printed(), []

    def make(template: str, data: object) -> bytes:
        made.append(template)
        return b"bytes"

    press = Press(tmp_path)
    for _ in range(2):
        assert press.get("bench", {"a": 1}, make) == b"bytes"
    assert Press(tmp_path).get("bench", {"a": 1}, make) == b"bytes"
    assert made == ["bench"]
    press.get("bench", {"a": 2}, make)
    assert len(made) == 2
    kept = next(iter((tmp_path / ".guidegen" / "paper").glob("*/*")))
    kept.write_bytes(kept.read_bytes()[:-1])
    Press(tmp_path).get("bench", {"a": 1}, make)
    Press(tmp_path).get("bench", {"a": 2}, make)
    assert len(made) == 3
    assert sheet_bytes(one, sheet(one, "record-trimmed-a4.pdf"), Press(), ADDRESS).startswith(b"%PDF")


def test_a_sign_that_no_font_has_is_replaced(caplog: pytest.LogCaptureFixture) -> None:
    """The sheet is there, the log names the sign, and the rest is printed."""
    one = printed()
    data = bench_data(order(sheet(one, "bench-trimmed-a4.pdf"), one))
    small = {**data, "groups": data["groups"][:1], "remedies": 1, "stop_use": ["a 漢 b 😀"]}
    assert (
        Typeset("bench", small).pdf()
        == Typeset("bench", {**small, "stop_use": [f"a {NOT_IN_FONT} b {NOT_IN_FONT}"]}).pdf()
    )
    assert "漢" in caplog.text


def test_a_warning_is_a_mistake(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A font that is not shipped is warned of, so no sheet comes out."""
    (tmp_path / "wrong.typ").write_text('#set document(title: "t")\n#set text(font: "No Such Font")\ntext', "utf-8")
    monkeypatch.setattr("guidegen.site.pages.paper.press.TEMPLATES", tmp_path)
    with pytest.raises(BadSheet, match="font"):
        Typeset("wrong", {}).pdf()


def test_no_template_reads_a_text_as_markup() -> None:
    """The two ways in which the typesetter would: nowhere in the templates."""
    for path in TEMPLATES.glob("*.typ"):
        source = path.read_text(encoding="utf-8")
        assert "eval(" not in source, path
        assert 'mode: "markup"' not in source, path
