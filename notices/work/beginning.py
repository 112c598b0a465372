"""Begin tries: postings looked at again, their messages made, each try recorded, in the caller's transaction."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from notices.cases.outgoing import Parcel
from notices.cases.records import Posting, PostingState, Try
from notices.work.crew import Job
from notices.work.ports import Transaction

LookAgain = Callable[[Transaction, Sequence[Posting]], Mapping[str, str]]
"""Return why postings must not go any more, by posting; what is not named may go."""

Messages = Callable[[Transaction, Sequence[Posting]], Callable[[Posting, datetime], Parcel]]
"""Return what writes the messages of these postings; the same posting and moment give the same bytes."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Passed:
    """A posting that was not tried, and why: withdrawn, refused before it began, or another's meanwhile."""

    posting: Posting
    result: str
    why: str = ""


def begin(
    tx: Transaction,
    postings: Sequence[Posting],
    *,
    look_again: LookAgain,
    messages: Messages,
    now: datetime,
) -> list[Job | Passed]:
    """Look at leased postings again and record their tries; what goes out bears the moment of the first try."""
    leased = [one for one in postings if one.lease_until is not None and one.lease_until > now]
    reasons = look_again(tx, leased)
    going = [one for one in leased if one.posting_id not in reasons]
    write = messages(tx, going)
    tried: dict[str, list[Try]] = {}
    for one in tx.record.tries([posting.posting_id for posting in going]):
        tried.setdefault(one.posting_id, []).append(one)
    begun: list[Job | Passed] = []
    for posting in postings:
        if posting not in leased:
            begun.append(Passed(posting=posting, result="another's"))
        elif posting.posting_id in reasons:
            begun.append(_withdraw(tx, posting, reasons[posting.posting_id]))
        else:
            begun.append(_try(tx, posting, tried.get(posting.posting_id, []), write, now))
    return begun


def _try(
    tx: Transaction,
    posting: Posting,
    before: Sequence[Try],
    write: Callable[[Posting, datetime], Parcel],
    now: datetime,
) -> Job | Passed:
    try:
        parcel = write(posting, before[0].began_at if before else now)
    except (ValueError, LookupError, TypeError, AttributeError) as fault:
        return _unmade(tx, posting, fault)
    attempt = Try(posting_id=posting.posting_id, n=len(before) + 1, began_at=now)
    if not tx.outbox.begin(attempt):
        return Passed(posting=posting, result="another's")
    trying = replace(posting, state=PostingState.TRYING, tries=attempt.n)
    return Job(posting=trying, tries=(*before, attempt), parcel=parcel)


def _withdraw(tx: Transaction, posting: Posting, reason: str) -> Passed:
    gone = replace(posting, state=PostingState.WITHDRAWN, why=reason, worker=None, lease_until=None)
    tx.outbox.settle(gone, None)
    return Passed(posting=gone, result="withdrawn", why=reason)


def _unmade(tx: Transaction, posting: Posting, fault: Exception) -> Passed:
    """Refuse one posting whose message cannot be made; the others go on."""
    why = f"the message could not be made ({type(fault).__name__})"
    refused = replace(posting, state=PostingState.REFUSED, why=why, worker=None, lease_until=None)
    tx.outbox.settle(refused, None)
    return Passed(posting=refused, result="refused", why=why)
