"""The templates of hand-written pages: they name guides and numbers, and can do nothing else.

Whoever sends a page to a workshop could otherwise run any code on the machine that builds it. Jinja's sandbox keeps
them from the program; here they are kept from its time and memory as well: every turn of a loop, every call and every
character is counted, so that a page is refused everywhere or nowhere.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any

import jinja2
import jinja2.nodes
from jinja2.exceptions import SecurityError
from jinja2.runtime import LoopContext, Macro, Undefined
from jinja2.sandbox import ImmutableSandboxedEnvironment
from jinja2.utils import Cycler, Joiner, Namespace
from markupsafe import Markup

MOST_TURNS, MOST_CHARACTERS, LONGEST = 1_000_000, 5_000_000, 1_000_000
"""Turns of loops and calls of a page, characters that it puts out in all, and characters of one text."""
GREATEST_POWER = 64

FILTERS = (
    "abs", "attr", "capitalize", "count", "d", "default", "dictsort", "e", "escape", "first", "float", "groupby", "int",
    "items", "join", "last", "length", "list", "lower", "map", "max", "min", "reject", "rejectattr", "replace",
    "reverse", "round", "safe", "select", "selectattr", "sort", "string", "striptags", "sum", "title", "trim",
    "truncate", "unique", "upper", "urlencode",
)  # fmt: skip
"""Filters that make nothing much longer than what they are given."""

_OPEN = (str, Mapping, list, tuple, int, float, LoopContext, Macro, Namespace, Cycler, Joiner, Undefined)
"""What a page may look into; everything else it can only be shown."""
_GROWING = {"format", "format_map", "center", "ljust", "rjust", "zfill", "expandtabs", "join", "replace", "translate"}
_COUNTED, _JOINED = "gg-counted", "gg-joined"


class Exhausted(SecurityError):
    """A page that goes on for longer than any page needs."""


class PageEnvironment(ImmutableSandboxedEnvironment):
    """The environment of one page; what the page has used up is counted in it."""

    intercepted_binops = frozenset(("+", "*", "%", "**"))

    def __init__(self, finalize: Callable[[Any], Any]) -> None:
        super().__init__(
            undefined=jinja2.StrictUndefined, autoescape=True, finalize=self._put_out, keep_trailing_newline=True
        )
        self._finalize_value = finalize
        self._turns = self._characters = 0
        known = {name: self.filters[name] for name in FILTERS}
        self.filters = {name: self._of(use) for name, use in known.items()}
        self.filters |= {"join": self._join, "replace": self._replace}
        self.filters |= {_COUNTED: self.counted, _JOINED: self._joined}
        self.globals = {"range": self.globals["range"], "namespace": Namespace}

    # --- counting ------------------------------------------------------------------------------------

    def counted(self, things: Iterable[Any]) -> Iterator[Any]:
        """The same things, each counted when it is taken."""
        for one in things:
            self._turn()
            yield one

    def _turn(self, count: int = 1) -> None:
        self._turns += count
        if self._turns > MOST_TURNS:
            raise Exhausted(f"more than {MOST_TURNS:,} turns of loops and calls")

    def _put_out(self, value: Any) -> Any:
        made = self._finalize_value(value)
        self._characters += len(made) if isinstance(made, str) else len(str(made))
        if self._characters > MOST_CHARACTERS:
            raise Exhausted(f"more than {MOST_CHARACTERS:,} characters")
        return made

    def _parse(self, source: str, name: str | None, filename: str | None) -> jinja2.nodes.Template:
        """The page's syntax, its loops counted and what is joined by `~` measured before it is joined."""
        tree = super()._parse(source, name, filename)
        for loop in tree.find_all(jinja2.nodes.For):
            loop.iter = _filtered(loop.iter, _COUNTED)
        _replace_joins(tree)
        return tree

    # --- what is allowed -----------------------------------------------------------------------------

    def is_safe_attribute(self, obj: Any, attr: str, value: Any) -> bool:
        """Whether a page may look at this; texts have no methods by which they grow."""
        if not isinstance(obj, _OPEN) or (isinstance(obj, str) and attr in _GROWING):
            return False
        return super().is_safe_attribute(obj, attr, value)

    def call(self, context: Any, fn: Any, *given: Any, **more: Any) -> Any:
        """Call something that a page may call."""
        self._turn()
        return super().call(context, fn, *given, **more)

    def call_binop(self, context: Any, operator: str, left: Any, right: Any) -> Any:
        """An operation that could make something large out of something small."""
        if operator == "%" and isinstance(left, str):
            raise SecurityError("% with a text; write the text and the value one after the other")
        if operator == "**" and not (isinstance(right, int | float) and abs(right) <= GREATEST_POWER):
            raise SecurityError(f"a power above {GREATEST_POWER}")
        if operator == "**" and isinstance(left, int) and isinstance(right, int):
            self._refuse_long(left.bit_length() * right)
        if operator == "*":
            sizes = [len(one) for one in (left, right) if isinstance(one, str | list | tuple)]
            times = [one for one in (left, right) if isinstance(one, int)]
            self._refuse_long(sizes[0] * times[0] if sizes and times else 0)
        if operator == "+" and isinstance(left, str | list | tuple) and isinstance(right, str | list | tuple):
            self._refuse_long(len(left) + len(right))
        made = super().call_binop(context, operator, left, right)
        self._refuse_long(made.bit_length() if isinstance(made, int) else 0)
        return made

    def _refuse_long(self, length: int) -> None:
        if length > LONGEST:
            raise Exhausted(f"a value of more than {LONGEST:,} characters")

    # --- filters -------------------------------------------------------------------------------------

    def _of(self, use: Callable[..., Any]) -> Callable[..., Any]:
        """A filter whose things are counted as it takes them; how it wants to be called stays."""
        wanted = getattr(use, "jinja_pass_arg", None)
        place = 0 if wanted is None else 1

        def counting(*given: Any, **more: Any) -> Any:
            things = given[place]
            if isinstance(things, str):
                self._turn()
            elif hasattr(things, "__len__"):
                self._turn(1 + len(things))
            elif hasattr(things, "__iter__"):
                given = (*given[:place], self.counted(things), *given[place + 1 :])
            return use(*given, **more)

        if wanted is not None:
            counting.jinja_pass_arg = wanted  # type: ignore[attr-defined]
        return counting

    def _join(self, things: Iterable[Any], between: Any = "") -> Any:
        """`join`, without its attribute."""
        parts: list[Any] = []
        for index, one in enumerate(self.counted(things)):
            parts += [between, one] if index else [one]
        return self._joined(parts)

    def _joined(self, parts: Iterable[Any]) -> Any:
        """What `~` and `join` make: markup where a part is markup, and not too long."""
        texts, length = [], 0
        for one in self.counted(parts):
            texts.append(one if isinstance(one, str) else str(one))
            length += len(texts[-1])
            self._refuse_long(length)
        if any(isinstance(one, Markup) for one in texts):
            return Markup("").join(texts)
        return "".join(texts)

    def _replace(self, text: Any, old: str, new: str) -> Any:
        """`replace`, of a text that does not become too long."""
        text = text if isinstance(text, str) else str(text)
        self._refuse_long(len(text) + text.count(old) * len(new))
        return text.replace(old, new)


def _filtered(node: jinja2.nodes.Node, name: str) -> jinja2.nodes.Filter:
    assert isinstance(node, jinja2.nodes.Expr)
    return jinja2.nodes.Filter(node, name, [], [], None, None, lineno=node.lineno)


def _replace_joins(node: jinja2.nodes.Node) -> None:
    """Replace every `a ~ b` below a node by the filter that joins a list."""
    for name, value in node.iter_fields():
        if isinstance(value, list):
            value[:] = [_replaced(one) for one in value]
        else:
            setattr(node, name, _replaced(value))


def _replaced(value: Any) -> Any:
    if not isinstance(value, jinja2.nodes.Node):
        return value
    _replace_joins(value)
    if isinstance(value, jinja2.nodes.Concat):
        return _filtered(jinja2.nodes.List(value.nodes, lineno=value.lineno), _JOINED)
    return value
