"""One file and one word in the union make an effect; nothing else asks of which kind it is."""

from __future__ import annotations

import ast
import inspect
from pathlib import Path
from typing import Annotated, ClassVar, Literal, get_args

import numpy as np
import pytest

import guidegen
from guidegen.assess import columns, inputs
from guidegen.assess.after_use import cool_down_part
from guidegen.assess.asking import slowest
from guidegen.assess.columns import NAMES
from guidegen.assess.network_of import with_kits, without_kit
from guidegen.trade import effects
from guidegen.trade.effects import EFFECTS
from guidegen.trade.effects.base import Effect, Fitted, Setting
from guidegen.trade.schema import json_schema
from guidegen.workshop.fields import Spec, TemperatureDifference
from tests.mutants.draft import catalogue
from tests.unit.trade.effects.bench import MK2, ONE_OF_EACH, drawn, kit

pytestmark = pytest.mark.slow

PACKAGE = Path(guidegen.__file__).parent
KINDS = {str(get_args(one.model_fields["kind"].annotation)[0]): one for one in EFFECTS}


def test_every_file_is_an_effect_of_its_name_in_the_union() -> None:
    """The kind is the file's name, so that nobody looks for it; a file that is not in the union is dead."""
    files = {path.stem for path in (PACKAGE / "trade" / "effects").glob("*.py")} - {"__init__", "base"}
    assert set(KINDS) == files
    for kind, effect in KINDS.items():
        assert effect.__module__ == f"{effects.__name__}.{kind}"
        assert inspect.getdoc(effect)


def test_the_schema_offers_every_kind_with_its_words() -> None:
    """An editor completes what is in the union."""
    schema = json_schema("kit")
    offered = {one["$ref"].rsplit("/", 1)[-1] for one in schema["properties"]["effects"]["items"]["anyOf"]}
    assert offered == {effect.__name__ for effect in EFFECTS}
    for effect in EFFECTS:
        assert schema["$defs"][effect.__name__]["description"] == inspect.getdoc(effect)


def test_an_effect_that_leaves_something_open_cannot_be_written() -> None:
    """It is refused where it is defined, not when a kit first has it."""
    with pytest.raises(TypeError, match="Forgetful does not say: change"):

        class Forgetful(Effect):
            kind: Literal["forgetful"]


def test_a_fact_that_is_no_input_s_is_caught() -> None:
    """What `drawn` names is a fact of the effect, of each kind of control too; a slip would draw nothing in silence."""
    for written in ONE_OF_EACH:
        (effect,) = kit(written).effects
        alternatives = {"control.opens", "control.closes", "control.lag", "length", "turns"}
        found = {name.removeprefix("kit.") for name, _ in effect.facts(1)}
        assert found | alternatives == set(effect.drawn) | alternatives


def test_no_two_inputs_share_a_name_and_each_has_a_column() -> None:
    """Of all effects together, each as often as a kit may have it."""
    names = inputs.names()
    assert len(set(names)) == len(names)
    missing = set(names) - set(NAMES)
    assert not missing, "run `python -m tests.draw_columns`"


def test_as_many_of_a_kind_as_may_be_are_drawn_apart() -> None:
    """Each has a column of its own."""
    for written in ONE_OF_EACH:
        effect = kit(written).effects[0]
        full = kit(*[written] * effect.most)
        listed = [one for one in full.inputs() if one.id.startswith("kit.")]
        assert len({one.id for one in listed}) == len(listed) == effect.most * len(list(effect.facts(1)))
        drawn(MK2, full, 8)


class Lid(Effect):
    """An effect that nobody has: a lid that keeps the air in the case warmer."""

    most: ClassVar[int] = 2
    drawn: ClassVar[tuple[str, ...]] = ("warmer",)

    kind: Literal["lid"]
    warmer: Annotated[TemperatureDifference, Spec("Case warmer", ("0 K", "20 K"), "a probe in the case")]

    def change(self, before: Fitted, setting: Setting) -> Fitted:
        """Warmer air."""
        return before.changed(case=before.network.case + setting.own("warmer"))


def test_a_new_effect_is_its_file_and_its_word_in_the_union(monkeypatch: pytest.MonkeyPatch) -> None:
    """Inputs, columns, the network and the wait before work follow without another edit."""
    monkeypatch.setattr(effects, "EFFECTS", (*EFFECTS, Lid))
    lid = Lid.model_validate({"kind": "lid", "warmer": "10 K ± 2 K"})
    one = kit(ONE_OF_EACH[-1]).model_copy(update={"effects": (lid, lid)})
    with pytest.raises(KeyError, match=r"kit.2.warmer, kit.warmer: run `python -m tests.draw_columns`"):
        drawn(MK2, one, 64)
    monkeypatch.setattr(columns, "NAMES", (*NAMES, *Lid.input_names()))
    values = drawn(MK2, one, 64)
    plain = without_kit(MK2, values)
    after = with_kits(MK2, (one,), values, plain).network
    assert np.array_equal(after.case, plain.case + values["kit.warmer"] + values["kit.2.warmer"])
    assert np.ptp(after.case - plain.case) > 4.0
    listed = [*inputs.of_machine(MK2, catalogue()), *one.inputs()]
    waits = cool_down_part(slowest(MK2, one, listed))
    assert waits.without.touch_s.value is not None
    assert waits.with_.touch_s.value is not None
    assert waits.with_.touch_s.value > waits.without.touch_s.value


@pytest.mark.parametrize("path", sorted(PACKAGE.rglob("*.py")), ids=lambda path: path.relative_to(PACKAGE).as_posix())
def test_nobody_else_asks_for_the_kind_of_an_effect(path: Path) -> None:
    """No module but the effects' own spells a kind or matches a class; a kit alone looks for its coil."""
    if path.parent.name == "effects":
        return
    tree = ast.parse(path.read_text(encoding="utf-8"))
    words = {node.value for node in ast.walk(tree) if isinstance(node, ast.Constant)} & (set(KINDS) - {"none"})
    assert not words
    asked = {node.id for call in ast.walk(tree) if isinstance(call, ast.Call | ast.MatchClass)
             for node in ast.walk(call) if isinstance(node, ast.Name)}  # fmt: skip
    names = asked & {one.__name__ for one in EFFECTS}
    assert names <= ({"FeedCoil"} if path.name == "kit.py" else set())
