"""What becomes of a posting after a try: pure, by the given moment (RFC 5321 section 4.5.4.1)."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import datetime, timedelta

from notices.cases.outgoing import Outcome
from notices.cases.records import Posting, PostingState, Try

# RFC 5321 section 4.5.4.1: at least 30 minutes; two tries in the first hour, then one every two or three; give up
# after four or five days.
FIRST_PAUSE = timedelta(minutes=30)
LATER_PAUSE = timedelta(hours=2, minutes=30)
GIVE_UP = timedelta(days=5)
# A laptop that slept for a week has not tried for a week.
_FEWEST_TRIES = 4
# A second copy must not overtake the first one's own retries.
DOUBT_PAUSE = timedelta(minutes=30)
_DOUBTS_TO_END = 2
_AGAIN = frozenset({"stop", "first", "correct"})  # what an occasion begins with
# RFC 3463 section 3.2 and 3.3: bad mailbox, system, syntax, moved, null MX (RFC 7505); mailbox disabled.
_ADDRESS_FAULTS = frozenset({"5.1.1", "5.1.2", "5.1.3", "5.1.6", "5.1.10", "5.2.1"})


def after(posting: Posting, outcome: Outcome, tries: Sequence[Try], now: datetime) -> Posting:
    """Return the posting as *outcome* leaves it, no longer leased; *tries* are all so far, this one last."""
    free = replace(posting, worker=None, lease_until=None, not_before=None, tries=len(tries))
    match outcome.result:
        case "handed_over":
            return replace(free, state=PostingState.HANDED_OVER, why="")
        case "refused":
            return replace(free, state=PostingState.REFUSED, why=said(outcome))
        case "in_doubt":
            return in_doubt(free, said(outcome), now)
        case "later":
            return _later(free, outcome, tries, now)
    return replace(free, state=PostingState.WAITING, why=said(outcome))


def in_doubt(posting: Posting, why: str, now: datetime) -> Posting:
    """Return the posting in doubt, not to be looked at again before the first copy has had its time."""
    return replace(
        posting,
        state=PostingState.IN_DOUBT,
        why=why,
        not_before=now + DOUBT_PAUSE,
        worker=None,
        lease_until=None,
    )


def may_go_again(posting: Posting, occasions: Iterable[str], tries: Sequence[Try], now: datetime) -> bool:
    """Say whether a posting in doubt is sent once more: a stop, first notice or correction, once, its pause over."""
    return again_at(posting, occasions, tries) is not None and (posting.not_before or now) <= now


def again_at(posting: Posting, occasions: Iterable[str], tries: Sequence[Try]) -> datetime | None:
    """Return when a posting in doubt may go once more, None where it never does."""
    doubts = sum(one.outcome in {"in_doubt", None} for one in tries)
    urgent = any(occasion.partition("/")[0] in _AGAIN for occasion in occasions)
    if not urgent or doubts >= _DOUBTS_TO_END or not tries:
        return None
    return posting.not_before or (tries[-1].ended_at or tries[-1].began_at) + DOUBT_PAUSE


def is_address_fault(outcome: Outcome) -> bool:
    """Say whether a refusal tells of the address; a refusal by policy (x.7.x) never does."""
    return outcome.result == "refused" and outcome.enhanced in _ADDRESS_FAULTS


def said(outcome: Outcome) -> str:
    """Word an outcome as the lead reads it: code, status, reply."""
    words = (str(outcome.code or ""), outcome.enhanced or "", outcome.reply)
    code, status, reply = words
    if status and reply.startswith(status):
        status = ""
    return " ".join(word for word in (code, status, reply) if word)


def _later(posting: Posting, outcome: Outcome, tries: Sequence[Try], now: datetime) -> Posting:
    if now - tries[0].began_at >= GIVE_UP and len(tries) >= _FEWEST_TRIES:
        return replace(posting, state=PostingState.REFUSED, why=f"given up after five days: {said(outcome)}")
    pause = FIRST_PAUSE if len(tries) == 1 else LATER_PAUSE
    return replace(posting, state=PostingState.WAITING, why=said(outcome), not_before=now + pause)
