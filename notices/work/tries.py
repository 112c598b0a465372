"""Leases and doubts of tries: taken over, renewed, given back, settled; each within the caller's transaction."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import datetime, timedelta

from notices.cases import retries
from notices.cases.outgoing import Outcome
from notices.cases.records import Posting, PostingState, PostingUnit, Try
from notices.work.beginning import LookAgain
from notices.work.crew import Job
from notices.work.ending import note_handed_over
from notices.work.ports import Transaction
from notices.work.ways_out import WayOut

LEASE = timedelta(minutes=15)


def renew(tx: Transaction, jobs: Iterable[Job], *, until: datetime) -> None:
    """Lengthen the lease of what is going out, for the server's last answer may take ten minutes."""
    workers = {job.posting.posting_id: job.posting.worker for job in jobs}
    for stands in list(tx.outbox.postings(state=PostingState.TRYING, posting_ids=list(workers))):
        if stands.worker == workers[stands.posting_id]:
            tx.outbox.settle(replace(stands, lease_until=until), None, since=stands)


def release(tx: Transaction, postings: Iterable[Posting]) -> None:
    """Give back what was leased and not tried, unless another has it or has sent it meanwhile."""
    for posting in postings:
        tx.outbox.settle(replace(posting, worker=None, lease_until=None), None, since=posting)


def take_over(tx: Transaction, *, channel: str, gone: Callable[[str], bool], now: datetime) -> int:
    """Put in doubt the tries, and give back the leases, of workers that are gone; return how many are in doubt.

    A try is in doubt once its lease has run out, or at once where its worker is known to be gone.
    """
    answers: dict[str, bool] = {}

    def is_gone(worker: str | None) -> bool:
        if worker is None:
            return False
        return answers[worker] if worker in answers else answers.setdefault(worker, gone(worker))

    left = [one for one in _of(tx, PostingState.WAITING, channel) if is_gone(one.worker)]
    release(tx, left)
    broken = [
        one
        for one in _of(tx, PostingState.TRYING, channel)
        if one.lease_until is None or one.lease_until <= now or is_gone(one.worker)
    ]
    for posting in broken:
        break_off(tx, posting, now)
    return len(broken)


def reconsider(
    tx: Transaction, way: WayOut, *, channel: str, look_again: LookAgain, now: datetime
) -> list[Posting]:
    """Settle doubts by looking where the way out can, let what may go once more wait again; return what was found."""
    doubts = _of(tx, PostingState.IN_DOUBT, channel)
    units = tx.record.units_of([one.posting_id for one in doubts])
    found: list[Posting] = []
    for posting in doubts:
        arrived = way.has(posting.message_id)
        if arrived:
            found.append(settle_as_found(tx, posting, at=now, now=now))
        elif arrived is False or _once_more(tx, posting, units.get(posting.posting_id, []), now):
            _go_again(tx, posting, look_again)
    return found


def next_at(tx: Transaction, *, channel: str, now: datetime) -> datetime | None:
    """Return when the next posting may go, None where none is waiting or may go once more; a lease is waited for."""
    leased = [*_of(tx, PostingState.WAITING, channel), *_of(tx, PostingState.TRYING, channel)]
    waiting = [max(one.not_before or now, one.lease_until or now, now) for one in leased]
    doubts = _of(tx, PostingState.IN_DOUBT, channel)
    units = tx.record.units_of([one.posting_id for one in doubts])
    tried = _tries(tx, doubts)
    again = [
        retries.again_at(one, _occasions(units.get(one.posting_id, [])), tried.get(one.posting_id, []))
        for one in doubts
    ]
    return min([*waiting, *(max(moment, now) for moment in again if moment)], default=None)


def break_off(tx: Transaction, posting: Posting, now: datetime) -> None:
    """Put a try in doubt whose process has ended."""
    why = "the sending process ended during the try"
    open_tries = [one for one in tx.record.tries([posting.posting_id]) if one.ended_at is None]
    ended = replace(open_tries[-1], ended_at=now, outcome="in_doubt", reply=why) if open_tries else None
    tx.outbox.settle(retries.in_doubt(posting, why, now), ended, since=posting)


def settle_as_found(tx: Transaction, posting: Posting, *, at: datetime, now: datetime) -> Posting:
    """Write that a message was found where it was to go, sent at the moment *at*; what was never tried is tried now."""
    found = Outcome(result="handed_over", reply="found where it was to go")
    attempt = None
    if posting.state is PostingState.WAITING:
        attempt = Try(
            posting_id=posting.posting_id,
            n=len(tx.record.tries([posting.posting_id])) + 1,
            began_at=at,
            ended_at=at,
            outcome=found.result,
            reply=found.reply,
        )
        tx.outbox.begin(attempt)
    settled = replace(
        posting,
        state=PostingState.HANDED_OVER,
        why=found.reply,
        not_before=None,
        worker=None,
        lease_until=None,
        tries=attempt.n if attempt else posting.tries,
    )
    tx.outbox.settle(settled, attempt)
    note_handed_over(tx, [settled], at, now=now)
    return settled


def _once_more(tx: Transaction, posting: Posting, units: Sequence[PostingUnit], now: datetime) -> bool:
    tried = tx.record.tries([posting.posting_id])
    return retries.may_go_again(posting, _occasions(units), tried, now)


def _go_again(tx: Transaction, posting: Posting, look_again: LookAgain) -> None:
    """Let a doubt wait again, unless it would be withdrawn: then it stays in doubt, for it may have arrived."""
    reason = look_again(tx, [posting]).get(posting.posting_id)
    if reason is None:
        again = replace(posting, state=PostingState.WAITING, why="in doubt: goes once more", not_before=None)
    else:
        again = replace(posting, why=f"in doubt, and not sent once more: {reason}")
    if again != posting:
        tx.outbox.settle(again, None, since=posting)


def _occasions(units: Iterable[PostingUnit]) -> list[str]:
    return [unit.occasion for unit in units]


def _of(tx: Transaction, state: PostingState, channel: str) -> list[Posting]:
    return [one for one in tx.outbox.postings(state=state) if one.channel == channel]


def _tries(tx: Transaction, postings: Sequence[Posting]) -> Mapping[str, list[Try]]:
    found: dict[str, list[Try]] = {}
    for one in tx.record.tries([posting.posting_id for posting in postings]):
        found.setdefault(one.posting_id, []).append(one)
    return found
