"""Judge units by the affected rule of a revision: a verdict is an event that names its rule and revision."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from audiences.verdicts import SAFE, Judge, Judgement, Verdict, judge
from notices.campaign.models import Campaign
from notices.cases.case import Case
from notices.cases.events import NewEvent, unit_stream
from notices.cases.records import UnitRow
from notices.work.revisions import Signed

BY_WORD = "page:"
"""How the keys of units begin that nobody but their owner has told us of."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Judged:
    """A unit and what a revision makes of it."""

    unit: UnitRow
    before: str | None
    judgement: Judgement


def differs(case: Case | None, judgement: Judgement) -> bool:
    """Say whether verdict, why or rule is another than the case holds."""
    if case is None:
        return True
    rule = case.judged_by.rpartition("@")[0]
    return (case.verdict, case.why, rule) != (judgement.verdict, judgement.why, judgement.rule)


def unsafe_after_all(judged: Judged) -> bool:
    """Say whether a unit was let go before, and no longer is: a person calls its owner."""
    return judged.before in SAFE and judged.judgement.verdict not in SAFE


def changed(by: Judge, pairs: Iterable[tuple[UnitRow, Case | None]]) -> list[Judged]:
    """Return the units whose verdict, why or rule changes where they are judged so."""
    found = []
    for unit, case in pairs:
        judgement = judged(by, unit, case)
        if differs(case, judgement):
            found.append(Judged(unit=unit, before=case.verdict if case else None, judgement=judgement))
    return found


def judged(by: Judge, unit: UnitRow, case: Case | None) -> Judgement:
    """Return the verdict on a unit as the register knows it."""
    return weighed(judge(by, unit.code, unit.sold_on), unit, case)


def weighed(judgement: Judgement, unit: UnitRow, case: Case | None) -> Judgement:
    """Return the judgement, *missing* where it would let go a unit whose code is one slip from an affected one.

    That is so wherever the code is known by somebody's word alone; the firm's own list, and a photo that a member
    of staff has looked at, are believed.
    """
    by_word = unit.unit_key.startswith(BY_WORD) or (case is not None and case.told_code == unit.code_key)
    if judgement.near and judgement.verdict in SAFE and by_word:
        return Judgement(verdict=Verdict.MISSING, near=True)
    return judgement


def verdict_event(held: Signed, unit: UnitRow, *, at: datetime, actor: str, via: str) -> NewEvent:
    """Return the verdict on one unit by a signed revision, as an event."""
    judgement = judge(held.judge, unit.code, unit.sold_on)
    return as_event(held.campaign, unit, judgement, at=at, actor=actor, via=via)


def as_event(
    campaign: Campaign, unit: UnitRow, judgement: Judgement, *, at: datetime, actor: str, via: str
) -> NewEvent:
    """Return a judgement as an event of the unit."""
    return NewEvent(
        stream=unit_stream(unit.unit_id),
        kind="verdict_given",
        at=at,
        actor=actor,
        via=via,
        payload={
            "verdict": judgement.verdict,
            "why": judgement.why,
            "near": judgement.near,
            "rule": judgement.rule,
            "revision": campaign.revision.number,
        },
    )
