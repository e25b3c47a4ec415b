"""What the record holds of the self-check: the compiled rules, and the words that go with them.

The same data lie in the page, in `data/` and in the snapshot of every edition, where scripts and `guidegen fit --read`
read them; so their keys are a published format. Truth values are written `T`, `F`, `?`. A branch is the number of a
node or, below zero, an end: -1 is the first outcome, -2 the second.
"""

from __future__ import annotations

from pydantic import Field, JsonValue

from guidegen.record.base import Record


class AcceptedUnit(Record):
    """One accepted unit of an answer. Counts are whole numbers of 1/10^decimals of the unit.

    From each of `cuts` on the answer is of the class in `ways`, which is one longer; `limits` are the lowest and the
    highest count that pass, per comparison, to show.
    """

    unit: str
    decimals: int
    plus_minus: int
    plausible: tuple[int, ...]
    cuts: tuple[int, ...]
    ways: tuple[int, ...]
    limits: tuple[tuple[int | None, ...], ...]


class AskedFact(Record):
    """One fact that is asked: the classes of its answers, and what of an answer decides the class.

    `beyond` are the classes that only the workshop can make clearer; records of before 2026 have none.
    """

    fact: str
    minutes: float
    classes: tuple[str, ...]
    definite: tuple[int, ...]
    units: tuple[AcceptedUnit, ...]
    choices: dict[str, int]
    unsure: int
    beyond: tuple[int, ...] = ()


class RemedyNeeds(Record):
    """One remedy of a condition, and the conditions that it needs, by their places."""

    id: str
    needs: tuple[int, ...]


class TestedCondition(Record):
    """One condition: its test, and what helps where it does not hold.

    A test is `T`, `F` or `?` where it is settled, `-` where nobody needs to ask, [fact, place] a comparison,
    ["all" or "any", test, …] a group, or ["unless", test, fact, class, …] a test that is open where the answer about
    the fact is of one of the classes.
    """

    id: str
    test: JsonValue
    remedies: tuple[RemedyNeeds, ...]


class SufficientSet(Record):
    """Remedies that together are enough; `provided` are conditions still to be found true."""

    remedies: tuple[str, ...]
    provided: tuple[str, ...]
    minutes: float
    cuts: bool
    mains_work: bool


class SufficientSets(Record):
    """The sufficient sets by the truth of the conditions that bear on them, one letter each."""

    conditions: tuple[int, ...]
    table: dict[str, int]
    sets: tuple[tuple[SufficientSet, ...], ...]


class CheckRules(Record):
    """All that a self-check needs to decide. A node is its fact, then a branch per class of the answer."""

    format: int
    outcomes: tuple[str, ...]
    facts: tuple[AskedFact, ...]
    nodes: tuple[tuple[int, ...], ...]
    top: int
    conditions: tuple[TestedCondition, ...]
    roots: tuple[int, ...]
    sufficient: SufficientSets


class CheckedPair(Record):
    """What is checked against what, in which edition; `rules` is a digest: with the same digest two judge alike."""

    variant: str
    variant_name: str
    kit: str
    kit_name: str
    revision: str
    edition: str
    rules: str


class AskedWords(Record):
    """One question in words.

    `hint` is what the variant's data say, where an earlier owner may have changed it; `choices` are word and text of
    each answer that can be picked; questions of one `screen` are asked beside each other.
    """

    fact: str
    title: str
    ask: str
    why: str
    tool: str
    where: str
    under_lid: bool
    minutes: float
    photos: tuple[str, ...]
    hint: str | None
    choices: tuple[tuple[str, str], ...]
    screen: str | None = None


class TestedWords(Record):
    """One condition in words; `detail` where the variant's data settle it, and what of that is `assumed`."""

    id: str
    says: str
    because: str
    wanted: str
    remedied_by: str | None
    detail: str | None
    assumed: tuple[str, ...] = ()


class OfferedRemedy(Record):
    """One remedy in words."""

    id: str
    name: str
    kind: str
    minutes: float
    cuts: bool
    mains_work: bool


class SelfCheck(Record):
    """The self-check of a pair.

    `parts` is what to order: under "" with the kit in any case, under a remedy's id with that remedy. `unasked` are
    facts that only the workshop can find out, in words. `makes`, what of a case of the instruction each remedy brings
    about, by its id: absent before the self-check led there.
    """

    pair: CheckedPair
    rules: CheckRules
    questions: tuple[AskedWords, ...]
    conditions: tuple[TestedWords, ...]
    remedies: tuple[OfferedRemedy, ...]
    parts: dict[str, tuple[str, ...]]
    unasked: tuple[str, ...]
    contact: str
    makes: dict[str, str] = Field(default_factory=dict)


class FinderEdition(Record):
    """The edition that the questions for the variant belong to, for the link to a result."""

    edition: str


class FinderVariant(Record):
    """One variant: what is seen on it from outside, and what its rating plate names."""

    id: str
    name: str
    seen: tuple[str, ...]
    plate: str


class Finder(Record):
    """Everything that the page needs to tell variants apart; an outcome of its rules holds the ids of what is left.

    `shows` has per question, per variant, the place of what it shows among the question's comparisons; -1 where nobody
    knows, -2 for a mark that its data do not mention. `longest` is how many questions the longest way
    asks; it is not among the published data.
    """

    pair: FinderEdition
    rules: CheckRules
    shows: tuple[tuple[int, ...], ...]
    questions: tuple[AskedWords, ...]
    variants: tuple[FinderVariant, ...]
    contact: str
    longest: int = Field(exclude=True)
