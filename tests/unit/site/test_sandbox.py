"""Hand-written pages can name guides and numbers, and nothing else: no code, no endless loop, no memory."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from guidegen.problems import CatalogueError
from guidegen.site.handwritten import render

pytestmark = pytest.mark.slow


class Machine:
    """Something of the program that a page is only shown."""

    secret = "a secret"

    def __str__(self) -> str:
        return "a machine"

    def remove(self) -> None:
        """What no page may do."""
        raise AssertionError("a page ran our code")


def page(tmp_path: Path, text: str) -> str:
    """One page, filled in."""
    (tmp_path / "index.md").write_text(text, encoding="utf-8")
    names = {
        "guides": {("a-b", "c"): "A"},
        "machine": Machine(),
        "kits": [{"name": "K<1", "n": 2}, {"name": "L", "n": 1}],
    }
    return render(tmp_path, names)["index.md"].decode()


USED = {
    '{% for kit in kits if kit.name.startswith("K") %}{{ loop.index }} {{ kit.name }}{% endfor %}': "1 K&#60;1",
    '{{ rel("a" ~ "/" ~ 2 ~ ".html") }}': "a/2.html",
    '{{ kits | map(attribute="name") | join(", ") }}': "K&#60;1, L",
    '{{ kits | sort(attribute="n") | first | attr("name") if false else kits[1].name | lower }}': "l",
    "{{ machine }}": "a machine",
    "{{ 2 ** 10 + 7 % 4 * 3 }}": "1033",
    "{% macro m(x) %}<b>{{ x }}</b>{% endmacro %}{{ m(1) ~ m('<') }}": "<b>1</b><b>&#60;</b>",
    "{% set n = namespace(x=0) %}{% for i in range(5) %}{% set n.x = n.x + i %}{% endfor %}{{ n.x }}": "10",
    '{{ "a-b" | replace("-", "+") | upper }}': "A+B",
    "{{ kits | selectattr('n', 'gt', 1) | list | length }}": "1",
}


@pytest.mark.parametrize("text", USED)
def test_what_pages_use_they_still_can(tmp_path: Path, text: str) -> None:
    """Loops, conditions, filters, macros, links; the expected text is what Jinja itself documents for each."""
    assert page(tmp_path, text).strip() == USED[text]


REFUSED = (
    "{{ 1 / 0 }}",
    "{{ ''.__class__.__mro__ }}",
    "{{ guide.__globals__ }}",
    "{{ guide.__code__.co_consts }}",
    "{{ rel.__closure__ }}",
    "{{ machine.secret }}",
    "{{ machine.remove() }}",
    "{{ machine | attr('remove') }}",
    "{{ cycler.__init__.__globals__.os.popen('id').read() }}",
    "{{ lipsum() }}",
    "{{ self.__init__ }}",
    "{{ self._TemplateReference__context }}",
    "{{ '{0.__class__}'.format(1) }}",
    "{{ '%s' | format('x') }}",
    "{{ '%999999999d' % 1 }}",
    "{{ 'x' * 10 ** 10 }}",
    "{{ 9 ** 64 ** 64 ** 64 ** 64 }}",
    "{{ 2 ** 65 }}",
    "{{ [0] * 10 ** 9 }}",
    "{{ 'x'.center(10 ** 9) }}",
    "{{ 'x' | center(10 ** 9) }}",
    "{{ 'x' | indent(10 ** 9) }}",
    "{{ range(10 ** 9) | list }}",
    "{% for i in range(99999) %}{% for j in range(99999) %}{% endfor %}{% endfor %}",
    "{% for i in range(99999) %}{{ range(99999) | list | length }}{% endfor %}",
    "{% for i in range(99999) %}{{ range(99999) | map('upper') | join }}{% endfor %}",
    "{% for i in range(99999) %}{{ 'x' * 9999 }}{% endfor %}",
    "{% set n = namespace(x='x') %}{% for i in range(99) %}{% set n.x = n.x + n.x %}{% endfor %}",
    "{% set n = namespace(x='x') %}{% for i in range(99) %}{% set n.x = n.x ~ n.x %}{% endfor %}",
    "{% set n = namespace(x='x') %}{% for i in range(99) %}{% set n.x = [n.x, n.x] | join %}{% endfor %}",
    "{% set n = namespace(x='x') %}{% for i in range(99) %}{% set n.x = n.x | replace('x', 'xxxx') %}{% endfor %}",
    "{% set n = namespace(x=9) %}{% for i in range(99) %}{% set n.x = n.x * n.x %}{% endfor %}",
    "{% macro m(n) %}{% if n %}{{ m(n - 1) }}{{ m(n - 1) }}{% endif %}{% endmacro %}{{ m(60) }}",
    "{% macro m() %}{{ m() }}{% endmacro %}{{ m() }}",
    "{% include '/etc/passwd' %}",
    "{% import 'os' as os %}",
    "{% extends 'guide.html' %}",
    "{{ kits.append(1) }}",
    "{{ guides.clear() }}",
    "{{ " + "(" * 3000 + "1" + ")" * 3000 + " }}",
)


@pytest.mark.parametrize("text", REFUSED, ids=lambda text: text[:60])
def test_what_no_page_needs_is_refused_with_file_and_line(tmp_path: Path, text: str) -> None:
    """In a moment, and as a mistake of the page: never a fault of ours."""
    started = time.process_time()
    with pytest.raises(CatalogueError) as caught:
        page(tmp_path, "# A\n\n" + text)
    (problem,) = caught.value.problems
    assert problem.path == "content/pages/index.md"
    assert problem.line == 3 or "passwd" in text or "extends" in text or "(((" in text or "os" in text
    assert problem.code in ("W01", "W02")
    assert time.process_time() - started < 60
