"""Wide tables on a phone: each cell gets the name of its column."""

from __future__ import annotations

import re

from guidegen.site.finish.stacking import stack_tables

HEAD = (
    '<thead><tr><th scope="col">Part</th><th scope="col">Stands <b>out</b></th><th scope="col">"Why"</th></tr></thead>'
)
ROW = '<tr><th scope="row">boss</th><td id="a">6 mm</td><td data-none>–</td></tr>'


def heads(page: str) -> list[str]:
    """The names that cells got, in their order."""
    return re.findall(r'data-head="([^"]*)"', stack_tables(page))


def test_each_cell_says_what_its_column_says() -> None:
    """In plain words, quotation marks escaped; what stood in the tags stays."""
    made = stack_tables(f"<table>{HEAD}<tbody>{ROW}</tbody></table>")
    assert made.startswith('<table class="gg-stacked"><thead>')
    assert '<td id="a" data-head="Stands out">6 mm</td><td data-none data-head="&quot;Why&quot;">–</td>' in made
    assert stack_tables(made) == made


def test_a_class_is_kept() -> None:
    assert stack_tables(f'<table class="gg-glance">{HEAD}{ROW}</table>').startswith(
        '<table class="gg-stacked gg-glance">'
    )


def test_a_cell_of_several_columns_is_of_none() -> None:
    """The cell behind it is of the column that it stands in."""
    row = '<tr><td colspan="2">both</td><td>then</td></tr>'
    assert heads(f"<table>{HEAD}<tbody>{row}</tbody></table>") == ["&quot;Why&quot;"]


def test_what_cannot_be_named_stays_as_it_is() -> None:
    """Two columns; no row; a head of two rows; cells of several rows; numbers of a chart that are folded away."""
    two = '<table><thead><tr><th scope="col">A</th><th scope="col">B</th></tr></thead><tr><td>1</td></tr></table>'
    empty = f"<table>{HEAD}<tbody></tbody></table>"
    twice = f"<table>{HEAD.replace('</thead>', '<tr><th>x</th></tr></thead>')}{ROW}</table>"
    tall = f"<table>{HEAD}{ROW.replace('<td id', '<td rowspan=2 id')}</table>"
    folded = f'<details class="gg-data"><summary>Numbers</summary><table>{HEAD}{ROW}</table></details>'
    for page in (two, empty, twice, tall, folded):
        assert stack_tables(page) == page
