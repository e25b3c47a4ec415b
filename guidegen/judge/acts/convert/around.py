"""What stands around the steps in words, as acts: ends of failing sides, after-care, faults, when to stop.

A text becomes acts where its words are those of the table; whatever else it says is left to the author, with its line.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import product
from typing import Any

from guidegen.judge.acts.convert.patterns import Slots, slots_in, words
from guidegen.judge.acts.convert.vocabulary import Vocabulary
from guidegen.judge.acts.effects import ActPlace
from guidegen.judge.acts.row import TableRow, rows
from guidegen.workshop.around import OCCASIONS, in_words
from guidegen.workshop.base import Loc, Place, Text
from guidegen.workshop.rows import SLOTS

Data = Mapping[str, Any]
WrittenAround = dict[str, Any]
BY_SKILLED = re.compile(r"^have an electrically skilled person (.*?)(?: and test the earth again)?[.]?$", re.IGNORECASE)
"""What the program says itself of work inside the machine."""
NOTHING = re.compile(r"^none\b", re.IGNORECASE)
_SENTENCES = re.compile(r"(?<=[.;!])\s+")
_CLAUSES = re.compile(r"\s*(?:[.;]\s+|\band\b)\s*", re.IGNORECASE)
_OR = re.compile(r",? or (?=\w)")


@dataclass(frozen=True)
class Rewriting:
    """One thing around the steps as acts: where, its line, what is written there now, what is said no more."""

    loc: Loc
    place: Place
    name: str
    value: Any = None
    unsaid: tuple[tuple[str, str], ...] = ()
    reason: str = ""


@dataclass
class AroundInWords:
    """Reads the parts of one file that stand around its steps."""

    data: Data
    vocabulary: Vocabulary
    found: list[Rewriting] = field(default_factory=list)

    def rewritings(self) -> list[Rewriting]:
        """Everything around the steps that is written in words, as acts or with the reason why not."""
        for loc, one in _entries(self.data, "remedies"):
            self._end((*loc, "then"), one)
        for loc, one in _entries(self.data, "aftercare"):
            self._care(loc, one)
        for loc, one in _entries(self.data, "faults"):
            self._fault(loc, one)
        self._stop_use()
        return self.found

    def _end(self, loc: Loc, remedy: Data) -> None:
        then = remedy.get("then")
        if not isinstance(then, dict) or not (in_words(then.get("stop")) or "who_can_help" in then):
            return
        text, who = then.get("stop"), then.get("who_can_help")
        acts = self._acts(str(text), "stop", _SENTENCES)
        place, name = _place(text or who), str(remedy.get("id"))
        if not acts:
            self.found.append(Rewriting(loc, place, name, reason=_reason(str(text), "stop")))
            return
        help_ = next((row.help for one in acts if (row := rows()[one["act"]]).help), None)
        unsaid = (("who_can_help", who),) if who and who != help_ else ()
        self.found.append(Rewriting(loc, place, name, {"stop": _short(acts)}, unsaid))

    def _care(self, loc: Loc, one: Data) -> None:
        says = one.get("says")
        if not isinstance(says, str):
            return
        occasion, text = _occasion(says)
        if inside := BY_SKILLED.match(text):
            text = inside[1]
        made = [act for act in self._one(text, "care") if bool(inside) == (_effect(act) == "care-inside")]
        name = str(one.get("id"))
        if len(made) != 1:
            self.found.append(Rewriting(loc, _place(says), name, reason=_reason(says, "care")))
            return
        row, because = rows()[made[0]["act"]], one.get("because")
        why = because if because and because != row.why and not inside else None
        kept = {"id": name, **({"when": one["when"]} if "when" in one else {})}
        unsaid = [("because", because)] if because and inside else []
        unsaid += [("source", one["source"])] if "source" in one else []
        value = {**kept, "occasion": occasion, **made[0], **({"why": why} if why else {})}
        self.found.append(Rewriting(loc, _place(says), name, value, tuple(unsaid)))

    def _fault(self, loc: Loc, one: Data) -> None:
        if not any(in_words(one.get(name)) for name in ("symptom", "cause", "check", "do")):
            if "stop_use" in one:
                left_of_it = {key: part for key, part in one.items() if key != "stop_use"}
                said = (("stop_use", str(one["stop_use"])),)
                self.found.append(Rewriting(loc, _place(one["stop_use"]), str(one.get("symptom")), left_of_it, said))
            return
        symptom = list(self._one(str(one.get("symptom")), "symptom", parts=_OR))
        place = _place(one.get("symptom"))
        if len(symptom) != 1:
            reason = _reason(str(one.get("symptom")), "symptom")
            self.found.append(Rewriting(loc, place, "symptom", reason=reason))
            return
        row = rows()[symptom[0]["act"]]
        value: WrittenAround = {"symptom": _name(symptom[0])}
        value |= {"when": one["when"]} if "when" in one else {}
        for name, split in (("cause", _OR), ("check", _CLAUSES), ("do", _CLAUSES)):
            text = str(one.get(name, ""))
            acts = [] if NOTHING.match(text) else self._acts(text, "cause" if name == "cause" else "care", split)
            if acts is None:
                reason = _reason(text, "cause" if name == "cause" else "care")
                self.found.append(Rewriting(loc, _place(one.get(name)), f"{symptom[0]['act']}: {name}", reason=reason))
                return
            if left := [act for act in acts if act["act"] not in row.first]:
                value[name] = _short(left)
        was, is_ = one.get("stop_use") == "true", row.effect == "symptom-stops"
        unsaid = (("stop_use", str(was).lower()),) if was != is_ else ()
        self.found.append(Rewriting(loc, place, symptom[0]["act"], value, unsaid))

    def _stop_use(self) -> None:
        texts = self.data.get("stop_use")
        if not isinstance(texts, tuple) or not any(map(in_words, texts)):
            return
        listed = [words(row.listed) for row in rows().values() if row.listed]
        left = [text for text in texts if not any(words(str(text)) <= one for one in listed)]
        self.found += [Rewriting(("stop_use",), _place(text), "stop_use", reason=_reason(str(text), "symptom"))
                       for text in left]  # fmt: skip
        if not left:
            self.found.append(Rewriting(("stop_use",), _place(texts[0]), "stop_use"))

    def _acts(self, text: str, place: ActPlace, split: re.Pattern[str]) -> list[WrittenAround] | None:
        """The acts that a text says: all of it as one, or each of its parts, which may be the reason of another."""
        if len(whole := list(self._one(text, place))) == 1:
            return whole
        made: list[WrittenAround] = []
        for part in filter(None, split.split(text)):
            found = list(self._one(part, place))
            if len(found) == 1:
                made += found
            elif not any(words(part) <= words(rows()[one["act"]].why or "") for one in made):
                return None
        return made or None

    def _one(self, text: str, place: ActPlace, parts: re.Pattern[str] | None = None) -> Iterator[WrittenAround]:
        """Every act whose sentence a text is; with `parts` one of the sentence's parts is enough."""
        texts = dict.fromkeys((text, re.sub(r"\bit\b", "the machine", text)))
        for name, row in rows().items():
            if row.place != place or (row.hold and row.hold.asks_limit):
                continue
            says = row.say or ""
            templates = dict.fromkeys((says, *(parts.split(says) if parts else ())))
            for said, template in product(texts, templates):
                for slots in slots_in(said, template):
                    yield from self._named(name, row, slots)

    def _named(self, name: str, row: TableRow, slots: Slots) -> Iterator[WrittenAround]:
        """An act with the things that the words of its slots can mean."""
        filled = [slot for slot in SLOTS if slot in slots]
        amount = {"amount": slots["amount"]} if "amount" in slots else {}
        for chosen in product(*(self.vocabulary.named(slots[slot], row.kinds(slot)) for slot in filled)):
            yield {"act": name, **{slot: _alone(ids) for slot, (_, ids) in zip(filled, chosen, strict=True)}, **amount}


def _effect(act: WrittenAround) -> str | None:
    return rows()[act["act"]].effect


def _occasion(says: str) -> tuple[str, str]:
    for name, text in OCCASIONS.items():
        if says.lower().startswith(text.lower()):
            return name, says[len(text) :].lstrip(" ,")
    return "always", says


def _entries(data: Data, name: str) -> Iterator[tuple[Loc, Data]]:
    """The mappings of a list at the top of the file, and of the same list of the restoring."""
    restore = data.get("restore")
    for above, part in (((), data), (("restore",), restore if isinstance(restore, dict) else {})):
        found = part.get(name)
        for index, one in enumerate(found if isinstance(found, tuple) else ()):
            if isinstance(one, dict):
                yield (*above, name, index), one


def _place(text: Any) -> Place:
    return text.place if isinstance(text, Text) else Place("", 1, 1)


def _alone(ids: Sequence[str]) -> Any:
    return ids[0] if len(ids) == 1 else list(ids)


def _name(act: WrittenAround) -> Any:
    """A statement as it is written: its name alone where it says no more."""
    return act["act"] if len(act) == 1 else {"is": act["act"], **{key: act[key] for key in act if key != "act"}}


def _short(acts: Sequence[WrittenAround]) -> Any:
    statements = rows()[acts[0]["act"]].place in ("symptom", "cause")
    made = [_name(act) if statements or len(act) == 1 else act for act in acts]
    return made[0] if len(made) == 1 and isinstance(made[0], str) else made


def _reason(text: str, place: ActPlace) -> str:
    """That no act of its kind has these words, and the one that has most of them."""
    wanted = words(text)
    said = {name: words(row.say or "") for name, row in rows().items() if row.place == place}
    near = max(said, key=lambda name: len(wanted & said[name]) / len(wanted | said[name]))
    return f'"{text}" no act has these words; the nearest is `{near}`'
