"""Which notice is owed for one unit to one owner: the first match of a short list."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from audiences.segments import DANGER, Segment
from audiences.verdicts import SAFE, Verdict
from notices.campaign.models import Campaign
from notices.cases.alarms import THE_FIRM
from notices.cases.case import STILL_OUT, Case, Stopped
from notices.cases.dangers import danger
from notices.cases.events import moment
from notices.cases.records import PostingState, Saying, Told
from notices.cases.sayings import saying, warning

# States in which a notice has reached its owner, or may have.
REACHED = frozenset({PostingState.HANDED_OVER, PostingState.IN_DOUBT, PostingState.TRYING})
# States in which a notice need not be made again: it is on its way, went out, or cannot go by this address.
MADE = REACHED | {PostingState.WAITING, PostingState.REFUSED, PostingState.BOUNCED}
STOP, REMIND_STOP = "stop", "remind-stop"
STOPS = frozenset({STOP, REMIND_STOP})
"""Kinds that promise no remedy, whatever else is known; *remind-stop* goes while a recall notice waits."""
REMIND = "remind/"
_OF_A_WARNING = "remind/warning/"
_CLEARED_LAST = 9
# Kinds of corrections, by what the owner was told or sent before: safe, to stop, parts not to be used, anything else.
AFTER_SAFE, AFTER_STOP, AFTER_PARTS, CORRECT = "correct-safe", "correct-stop", "correct-parts", "correct"
CORRECTIONS = frozenset({AFTER_SAFE, AFTER_STOP, AFTER_PARTS, CORRECT})


@dataclass(frozen=True, kw_only=True, slots=True)
class Owed:
    """One notice that is owed: why (*occasion*), of which *kind*, what it says, and in which order it goes."""

    occasion: str
    kind: str
    verdict: Verdict
    segment: Segment
    saying: Saying
    rank: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Earlier:
    """A campaign as it was signed, and the moment since when it held."""

    since: datetime
    campaign: Campaign


def reminder(campaign: Campaign, step: str) -> str:
    """Return the occasion of a ladder's step; a stop warning and a recall notice are each reminded of."""
    return f"{_OF_A_WARNING if campaign.remedies is None else REMIND}{step}"


def reminded_step(occasion: str) -> str | None:
    """Return the ladder's step that *occasion* takes, None where it is no reminder."""
    if not occasion.startswith(REMIND):
        return None
    return occasion.removeprefix(_OF_A_WARNING).removeprefix(REMIND)


def owed(
    case: Case, campaign: Campaign, told: Sequence[Told], earlier: Sequence[Earlier] = ()
) -> Owed | None:
    """Return what one owner of the unit is owed, *told* being what that owner was told of it, oldest first.

    *earlier* holds the campaign as signed before, oldest first: by it we know what was said of a use that the owner
    has stated since the last notice.

    No remedy yet: the stop warning, to everyone not cleared or foreign. Else the first notice to each unit that
    has had none; to a cleared or foreign one only where a stop warning reached it. Else a correction, where the
    last saying that reached the owner is no longer what is said, or where parts that the owner got must not be used.
    """
    if case.verdict is None or _finished(case):
        return None
    verdict = Verdict(case.verdict)
    if campaign.remedies is None:
        return None if verdict in SAFE or _had(told, STOP) else _notice(STOP, STOP, case, campaign)
    if not _had(told, "first"):
        if verdict in SAFE and not _reached(told, STOP):
            return None
        return _notice("first", "first", case, campaign)
    return _of_parts(case, campaign, told) or _correction(case, campaign, told, earlier)


def while_held(what: Owed, case: Case, campaign: Campaign, told: Sequence[Told]) -> Owed | None:
    """Return what goes while *what* waits for a market: the stop warning, where its owner knows of no danger yet.

    None where it is told to stop already, or need not be. A market holds back what promises a remedy, never the stop.
    """
    last = next((one for one in reversed(told) if one.state in MADE), None)
    if what.verdict in SAFE or (last is not None and last.verdict not in SAFE):
        return None
    occasion = f"{STOP}/{campaign.revision.number}" if _had(told, STOP) else STOP
    return _notice(occasion, STOP, case, warning(campaign))


def _finished(case: Case) -> bool:
    return case.ending in STILL_OUT or case.ending in {
        "listed_twice",
        "in_stock",
        "refunded",
        "replaced",
        "destroyed",
    }


def _had(told: Sequence[Told], occasion: str) -> bool:
    return any(one.occasion == occasion and one.state in MADE for one in told)


def _reached(told: Sequence[Told], occasion: str) -> bool:
    return any(one.occasion == occasion and one.state in REACHED for one in told)


def last_told(told: Sequence[Told]) -> Told | None:
    """Return the last notice that reached the owner, reminders included, or None."""
    return next((one for one in reversed(told) if one.state in REACHED), None)


def _of_parts(case: Case, campaign: Campaign, told: Sequence[Told]) -> Owed | None:
    """Return the correction owed to who got parts of a lot that was withdrawn, once a lot.

    The owner of a unit that is not affected is called: a mail that says *you may use it* cannot say this too.
    """
    lot = case.lot_withdrawn
    if not lot or case.verdict in SAFE or any(_of_lot(one, lot) and one.state in MADE for one in told):
        return None
    return _notice(f"correct/{campaign.revision.number}/{lot}", AFTER_PARTS, case, campaign, rank=1)


def _of_lot(one: Told, lot: str) -> bool:
    return one.kind == AFTER_PARTS and one.occasion.split("/", 2)[2:] == [lot]


def _correction(
    case: Case, campaign: Campaign, told: Sequence[Told], earlier: Sequence[Earlier]
) -> Owed | None:
    last = last_told(told)
    occasion = f"correct/{campaign.revision.number}"
    if last is None or _had(told, occasion) or _still_said(case, campaign, last, earlier):
        return None
    verdict = Verdict(case.verdict or Verdict.MISSING)
    kind = CORRECT
    if (last.verdict in SAFE) != (verdict in SAFE):
        kind = AFTER_SAFE if last.verdict in SAFE else AFTER_STOP
    rank = int(
        danger(last.verdict, last.level, saying(campaign, verdict, case.segment))
    )  # kept in the register
    return _notice(occasion, kind, case, campaign, rank=rank)


def _still_said(case: Case, campaign: Campaign, last: Told, earlier: Sequence[Earlier]) -> bool:
    """Say whether today the firm says to the owner what it said before.

    A changed use, and a verdict on the code that the owner gave, are the owner's own answers, and their instruction
    stood on the page that took them: what the correction asks is whether the firm's word on that use has changed.
    """
    by_the_firm = case.judged_via in THE_FIRM
    verdict = Verdict(case.verdict if by_the_firm and case.verdict else last.verdict)
    before = _campaign_of(case, last, earlier) if case.segment != last.segment else None
    if before is None:
        return saying(campaign, verdict, Segment(last.segment)).said == last.said
    then = saying(before, Verdict(last.verdict), case.segment)
    return saying(campaign, verdict, case.segment).said == then.said


def _campaign_of(case: Case, last: Told, earlier: Sequence[Earlier]) -> Campaign | None:
    """Return the campaign by which the owner knows what to do: it held when the use was stated, else it said *last*.

    None where that cannot be known.
    """
    stated = moment(case.used_at) if case.used_at else None
    if stated is not None and last.at is not None and stated > last.at:
        return next((one.campaign for one in reversed(earlier) if one.since <= stated), None)
    held = [one.campaign for one in earlier if last.at is None or one.since <= last.at]
    for campaign in reversed(held):
        if saying(campaign, Verdict(last.verdict), Segment(last.segment)).said == last.said:
            return campaign
    return None


def _notice(occasion: str, kind: str, case: Case, campaign: Campaign, *, rank: int | None = None) -> Owed:
    verdict = Verdict(case.verdict or Verdict.MISSING)
    now = saying(campaign, verdict, case.segment)
    return Owed(
        occasion=occasion,
        kind=kind,
        verdict=verdict,
        segment=case.segment,
        saying=now,
        rank=urgency(case, verdict) if rank is None else rank,
    )


def urgency(case: Case, verdict: Verdict) -> int:
    """Rank a unit for the first word, 0 the most endangered: in use or symptoms, then by use, cleared last."""
    if verdict in SAFE:
        return _CLEARED_LAST
    if case.stopped is Stopped.IN_USE or case.segment is Segment.SYMPTOMATIC:
        return 0
    certain = 0 if verdict is Verdict.AFFECTED else 1
    return 1 + 2 * DANGER[case.segment] + certain
