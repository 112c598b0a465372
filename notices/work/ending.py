"""Write what became of tries, with the events that follow, for many postings at once, in the caller's transaction."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime

from notices.cases import retries
from notices.cases.events import NewEvent, owner_stream, unit_stream
from notices.cases.outgoing import Outcome
from notices.cases.records import Posting, PostingState
from notices.work.crew import Job
from notices.work.ports import Transaction
from notices.work.recording import record, refresh

# What we know for certain outweighs another worker's doubt.
_STILL_OURS = frozenset(
    {
        (PostingState.HANDED_OVER, PostingState.IN_DOUBT),
        (PostingState.HANDED_OVER, PostingState.WAITING),
        (PostingState.REFUSED, PostingState.IN_DOUBT),
    }
)


def end(tx: Transaction, done: Sequence[tuple[Job, Outcome]], *, now: datetime) -> None:
    """Write what became of each try, with the events that follow from it."""
    settled = [(_settle(tx, job, outcome, now), outcome) for job, outcome in done]
    handed_over = [one for one, _ in settled if one is not None and one.state is PostingState.HANDED_OVER]
    note_handed_over(tx, handed_over, now, now=now)
    for posting, outcome in settled:
        if posting is not None and retries.is_address_fault(outcome):
            _address_failed(tx, posting, outcome, now)


def _settle(tx: Transaction, job: Job, outcome: Outcome, now: datetime) -> Posting | None:
    """Write how a try ended; return the posting as it stands now, None where another worker's word holds."""
    ended = replace(
        job.tries[-1],
        ended_at=now,
        outcome=outcome.result,
        code=outcome.code,
        enhanced=outcome.enhanced,
        reply=outcome.reply,
    )
    settled = retries.after(job.posting, outcome, (*job.tries[:-1], ended), now)
    stands = _taken_over(tx, job.posting, now)
    if stands is not None and (settled.state, stands.state) not in _STILL_OURS:
        tx.outbox.settle(stands, ended)
        return None
    tx.outbox.settle(settled, ended)
    return settled


def _taken_over(tx: Transaction, posting: Posting, now: datetime) -> Posting | None:
    """Return the posting as it stands where another worker has taken our try for dead; a machine may have slept."""
    if posting.lease_until is None or posting.lease_until > now:
        return None
    stands = next(tx.outbox.postings(posting_ids=[posting.posting_id]))
    ours = stands.state is PostingState.TRYING and stands.worker == posting.worker
    return None if ours else stands


def note_handed_over(tx: Transaction, postings: Sequence[Posting], at: datetime, *, now: datetime) -> None:
    """Write in the streams of their units that these postings went out at the moment *at*."""
    if not postings:
        return
    variants = tx.variants.get([one.fingerprint for one in postings])
    revision = tx.papers.revision()
    about = tx.record.units_of([one.posting_id for one in postings])
    number = revision.number if revision else 0
    events = [
        NewEvent(
            stream=unit_stream(unit.unit_id),
            kind="notice_handed_over",
            at=at,
            actor="program",
            via="mail",
            payload={
                "posting": posting.posting_id,
                "owner": unit.owner_id,
                "kind": variants[posting.fingerprint].kind,
                "channel": posting.channel,
                "occasion": unit.occasion,
                "fingerprint": posting.fingerprint,
                "said": variants[posting.fingerprint].said,
                "revision": number,
            },
            once=f"handed_over:{posting.posting_id}:{unit.unit_id}",
        )
        for posting in postings
        for unit in about.get(posting.posting_id, [])
    ]
    record(tx, events, now=now)


def _address_failed(tx: Transaction, posting: Posting, outcome: Outcome, now: datetime) -> None:
    """Mark an address that the server says is none, so that the next step goes by another channel."""
    keys = {unit.address_key for unit in tx.record.units_of([posting.posting_id]).get(posting.posting_id, [])}
    contacts = [
        one
        for one in tx.people.contacts([posting.owner_id]).get(posting.owner_id, [])
        if one.channel == posting.channel and one.value_key in keys and one.fault is None
    ]
    reason = f"refused-{outcome.enhanced}"
    tx.people.put_contacts(replace(one, fault=reason) for one in contacts)
    events = [
        NewEvent(
            stream=owner_stream(posting.owner_id),
            kind="contact_failed",
            at=now,
            actor="program",
            via="mail",
            payload={"channel": one.channel, "value_key": one.value_key, "reason": reason},
            once=f"contact_failed:{posting.posting_id}",
        )
        for one in contacts
    ]
    record(tx, events, now=now)
    held = {one.unit_id for one in tx.units.holdings(owner_ids=[posting.owner_id]) if one.to_seq is None}
    refresh(tx, [row.case for row in tx.cases.get(sorted(held)).values()])
