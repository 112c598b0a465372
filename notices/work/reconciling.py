"""Bring an older register to terms with the mail that may have gone out without its knowledge."""

import re
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from notices.cases import retries
from notices.cases.records import Posting, PostingState, Try
from notices.work import marks, tries
from notices.work.ports import Transaction, World

_CHANNEL = "email"
_OPEN = frozenset({PostingState.WAITING, PostingState.TRYING, PostingState.IN_DOUBT})
_WHY = "it may have gone out after the backup"
# The left part of a Message-ID as this program draws them: 26 signs of Crockford's base 32, in small letters.
_OURS = re.compile(r"<[0-9a-hjkmnp-tv-z]{26}@[^<>@\s]+>")


@dataclass(frozen=True, kw_only=True, slots=True)
class Reconciled:
    """What was settled: messages found where copies lie, put in doubt, left to wait; and found but unknown here.

    *needed* says whether sending was held back before.
    """

    needed: bool
    found: int
    in_doubt: int
    waiting: int
    unknown: int


def reconcile(world: World, seen: Mapping[str, datetime | None]) -> Reconciled:
    """Settle what *seen* (Message-ID to the moment it was sent, where known) shows as gone out, and all else as open.

    Where the register may be older than its mail, what was waiting or being tried is put in doubt: a stop, a first
    notice or a correction then goes once more under its old Message-ID, a reminder does not.
    """
    left = world.folder.read(marks.MARK_FILE)
    now = world.now()
    with world.register.change() as tx:
        needed = marks.reason(tx, left) is not None
        every = [one for one in tx.outbox.postings() if one.channel == _CHANNEL]
        became = Counter(
            _settle(tx, one, seen, needed=needed, now=now) for one in every if one.state in _OPEN
        )
        marks.clear(tx)
        mark = marks.count(tx, became["found"] + became["in_doubt"])
    known = {one.message_id for one in every}
    marks.write(world.folder, mark)
    return Reconciled(
        needed=needed,
        found=became["found"],
        in_doubt=became["in_doubt"],
        waiting=became["waiting"],
        unknown=sum(1 for one in seen if one not in known and _OURS.fullmatch(one)),
    )


def _settle(
    tx: Transaction, posting: Posting, seen: Mapping[str, datetime | None], *, needed: bool, now: datetime
) -> str:
    if posting.message_id in seen:
        sent = seen[posting.message_id]
        tries.settle_as_found(tx, posting, at=min(sent, now) if sent else now, now=now)
        return "found"
    if needed and posting.state is PostingState.TRYING:
        tries.break_off(tx, posting, now)
        return "broken off"
    if needed and posting.state is PostingState.WAITING:
        return _doubt(tx, posting, now)
    return posting.state.value if posting.state is not PostingState.IN_DOUBT else "doubtful"


def _doubt(tx: Transaction, posting: Posting, now: datetime) -> str:
    """Put a waiting posting in doubt; one that waits because it was in doubt already is owed its second copy still."""
    before = tx.record.tries([posting.posting_id])
    if any(one.outcome in {"in_doubt", None} for one in before):
        return PostingState.WAITING.value
    attempt = Try(
        posting_id=posting.posting_id,
        n=len(before) + 1,
        began_at=now,
        ended_at=now,
        outcome="in_doubt",
        reply=_WHY,
    )
    tx.outbox.begin(attempt)
    tx.outbox.settle(retries.in_doubt(replace(posting, tries=attempt.n), _WHY, now), attempt)
    return PostingState.IN_DOUBT.value


def as_json(done: Reconciled) -> dict[str, object]:
    """Return what was settled in the shape that other programs read."""
    return {
        "needed": done.needed,
        "found": done.found,
        "in_doubt": done.in_doubt,
        "waiting": done.waiting,
        "unknown": done.unknown,
    }
