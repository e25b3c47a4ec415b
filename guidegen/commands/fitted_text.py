"""The builds of a workshop as lines for the terminal: every report, and what the pages say of them together."""

from __future__ import annotations

from collections.abc import Iterator

from guidegen.assess import builds
from guidegen.record import carried_out
from guidegen.record.carried_out import MinutesTaken
from guidegen.record.stated import Build
from guidegen.trade import Catalogue
from guidegen.trade.builds import RecordedBuild
from guidegen.trade.listing import table

NONE = "no build is recorded; `guidegen fitted add FILE` takes in a report that an owner sent"
HEAD = ("build", "variant", "kit", "edition", "finished", "by", "passed", "signed", "failed", "publish", "accepted")


def listed(known: Catalogue, every: list[RecordedBuild]) -> Iterator[str]:
    """All builds, then by guide what those say that pages may speak of."""
    if not every:
        yield NONE
        return
    yield from table(HEAD, map(_row, every))
    for machine in known.machines.values():
        for kit in known.kits.values():
            public = builds.builds(known, machine, kit)
            if public:
                yield ""
                yield from _together(f"{machine.id} with {kit.id}", public)


def _row(one: RecordedBuild) -> tuple[str, ...]:
    passed = sum(hold.result == "passed" for hold in one.holds)
    return (
        one.id, one.variant, one.kit, one.edition, one.date.isoformat(), one.role, f"{passed}/{len(one.holds)}",
        "yes" if one.signed == "electrically-skilled" else "no", str(len(one.failed)),
        "yes" if one.publish else "no", one.accepted.isoformat() if one.accepted else "not yet",
    )  # fmt: skip


def _together(guide: str, public: tuple[Build, ...]) -> Iterator[str]:
    done = carried_out.complete(public)
    yield f"{guide}: carried out {len(done)} times, published reports {len(public)}"
    whole = carried_out.spread(one.minutes for one in done if one.minutes is not None)
    if whole is not None:
        yield f"  minutes of work: {_minutes(whole)}"
    for phase, found in carried_out.phase_spreads(public).items():
        yield f"    {phase}: {_minutes(found)}"
    for step, many in carried_out.failures(public).items():
        yield f"  failed: {step}, {len(many)} times"
        for build, failure in many:
            yield f"    build {build.number}, {failure.reading or 'no reading'}: {failure.helped}"
    for fact, measured in carried_out.measured(public).items():
        outside = ", outside of what is stated" if any(one.outside for _, one in measured) else ""
        said = ", ".join(f"{one.is_} (build {build.number})" for build, one in measured)
        yield f"  measured: {fact} = {said}; stated {measured[0][1].stated or 'nothing'}{outside}"


def _minutes(found: MinutesTaken) -> str:
    return f"{found.least:g} to {found.most:g}, median {found.median:g} ({found.count})"
