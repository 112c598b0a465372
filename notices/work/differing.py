"""What another revision changes: in the file, and for which units, the most endangered first."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from audiences.segments import DANGER, Segment
from audiences.verdicts import Judge, Verdict
from notices.campaign.comparing import Change, ListChange, changed, lists_changed
from notices.campaign.revisions import Revision
from notices.cases.case import Case
from notices.cases.dangers import Danger, danger
from notices.cases.records import Saying, UnitRow
from notices.cases.sayings import saying
from notices.work import judging
from notices.work.ports import Transaction, World
from notices.work.revisions import Draft, judge_by, signed


class NoSuchRevisionError(LookupError):
    """Raised where a revision is asked for that nobody has signed."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Differs:
    """A unit whose verdict or instruction is another: verdict, rule and level (0 may be used … 3 nor move) of both."""

    unit_id: str
    segment: Segment
    danger: Danger
    verdicts: tuple[str, str]
    rules: tuple[str, str]
    levels: tuple[int, int]


@dataclass(frozen=True, kw_only=True, slots=True)
class Difference:
    """What lies between two revisions, the later one a *draft* or signed; *units* the most endangered first."""

    before: int
    after: int
    draft: bool
    changes: tuple[Change, ...]
    lists: tuple[ListChange, ...]
    units: tuple[Differs, ...]

    @property
    def dangers(self) -> Counter[Danger]:
        """Count the units by what the change means for them."""
        return Counter(one.danger for one in self.units)


def difference(world: World, against: int, *, drafted: Draft, later: int | None = None) -> Difference | None:
    """Hold the draft, or the signed revision *later*, against the signed revision *against*.

    None where the draft cannot be read. Each unit is judged by both, with its use as it is known today.
    """
    with world.register.look() as tx:
        before = _signed(tx, against)
        after = drafted.revision if later is None else _signed(tx, later)
        if after is None:
            return None
        cases = {row.case.unit_id: row.case for row in tx.cases.all()}
        was, now = _Side.of(before), _Side.of(after)
        found = [_held_against(was, now, unit, cases.get(unit.unit_id)) for unit in tx.units.units().values()]
    units = [one for one in found if one is not None]
    units.sort(key=lambda one: (one.danger, DANGER[one.segment], one.unit_id))
    return Difference(
        before=before.number,
        after=after.number,
        draft=later is None,
        changes=changed(before.campaign, after.campaign),
        lists=lists_changed(before, after),
        units=tuple(units),
    )


def _signed(tx: Transaction, number: int) -> Revision:
    held = signed(tx, number)
    if held is None:
        known = ", ".join(str(row.number) for row in tx.papers.revisions())
        raise NoSuchRevisionError(f"no revision {number} is signed; signed so far: {known or 'none'}")
    return held.revision


@dataclass(frozen=True, kw_only=True, slots=True)
class _Side:
    """A revision as it judges, and what it says for each verdict and use."""

    by: Judge
    says: Mapping[tuple[Verdict, Segment], Saying]

    @classmethod
    def of(cls, revision: Revision) -> "_Side":
        """Make a revision ready: a million units hear one of twenty sayings."""
        every = {
            (verdict, segment): saying(revision.campaign, verdict, segment)
            for verdict in Verdict
            for segment in Segment
        }
        return cls(by=judge_by(revision), says=every)


def _held_against(before: _Side, after: _Side, unit: UnitRow, case: Case | None) -> Differs | None:
    """Return how a unit fares under both, None where nothing else is said of it."""
    segment = case.segment if case else Segment.UNKNOWN
    was, now = judging.judged(before.by, unit, case), judging.judged(after.by, unit, case)
    told, said = before.says[was.verdict, segment], after.says[now.verdict, segment]
    if told.said == said.said:
        return None
    return Differs(
        unit_id=unit.unit_id,
        segment=segment,
        danger=danger(was.verdict, told.level, said),
        verdicts=(str(was.verdict), str(now.verdict)),
        rules=(was.rule, now.rule),
        levels=(told.level, said.level),
    )
