"""Postings and their tries: nothing twice, a claim is not a try, a try is durable before it begins."""

from collections.abc import Iterator, Sequence
from datetime import datetime

from sqlalchemy import Connection, insert, text

from notices.cases.events import instant
from notices.cases.records import Posting, PostingState, PostingUnit, Try
from notices.store import tables
from notices.store.rows import among, keep, questions, row_of, run, walk

_BEGIN = "UPDATE postings SET state = 'trying', tries = ? WHERE posting_id = ? AND state = 'waiting'"
_TRY = (
    "INSERT INTO tries (posting_id, n, began_at, ended_at, outcome, code, enhanced, reply) "
    "VALUES (?, ?, ?, ?, ?, ?, ?, ?)"
)
_SETTLE = (
    "UPDATE postings SET state = ?, why = ?, not_before = ?, worker = ?, lease_until = ? WHERE posting_id = ?"
)
# a writer that has waited for another's row asks again, and so sees what the first one left
_SETTLE_UNCHANGED = f"{_SETTLE} AND state = ? AND coalesce(worker, '') = ?"
_END = (
    "UPDATE tries SET ended_at = ?, outcome = ?, code = ?, enhanced = ?, reply = ? "
    "WHERE posting_id = ? AND n = ?"
)
_FREE = (
    "DELETE FROM posting_units "
    "WHERE unit_id = ? AND owner_id = ? AND occasion = ? AND channel = ? AND address_key = ? "
    "AND posting_id IN (SELECT posting_id FROM postings WHERE state = 'withdrawn')"
)

# written out, so that the partial index serves: a bound state would hide it from the planner
_DUE = """
    SELECT posting_id FROM postings
    WHERE state = 'waiting' AND channel = :channel
      AND (not_before IS NULL OR not_before <= :now)
      AND (lease_until IS NULL OR lease_until <= :now)
    ORDER BY rank, posting_id LIMIT :limit
"""
_LEASE = "UPDATE postings SET worker = :worker, lease_until = :lease_until WHERE posting_id"
_CLAIM_ALONE = text(f"{_LEASE} IN ({_DUE}) RETURNING *").columns(*tables.postings.columns)
# an array is chosen a single time, so that a claim never takes more than its limit
_CLAIM_SHARED = text(f"{_LEASE} = ANY(ARRAY({_DUE} FOR UPDATE SKIP LOCKED)) RETURNING *").columns(
    *tables.postings.columns
)


class Outbox:
    """The postings of one register, within one transaction."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def add(self, posting: Posting, units: Sequence[PostingUnit]) -> bool:
        """Write a posting with its units; False, and nothing written, where a key of *units* stands already.

        The key of a withdrawn posting is free: what it would have said is owed again, in other words.
        """
        if not units or any(unit.posting_id != posting.posting_id for unit in units):
            raise ValueError("a posting is about at least one unit, and each is named as its own")
        # in the order of the key, so that two writers never wait crosswise
        rows = sorted(
            (row_of(unit) for unit in units), key=lambda row: [str(value) for value in row.values()]
        )
        with self._connection.begin_nested() as savepoint:
            for unit in units:
                key = (unit.unit_id, unit.owner_id, unit.occasion, unit.channel, unit.address_key)
                run(self._connection, _FREE, key)
            if keep(self._connection, tables.posting_units, rows) != len(rows):
                savepoint.rollback()
                return False
            self._connection.execute(insert(tables.postings), row_of(posting))
        return True

    def claim(
        self, worker: str, *, channel: str, now: datetime, lease_until: datetime, limit: int
    ) -> list[Posting]:
        """Lease the channel's waiting postings that are due, lowest rank first; never another's living lease."""
        statement = _CLAIM_SHARED if self._connection.dialect.name == "postgresql" else _CLAIM_ALONE
        values = {
            "worker": worker,
            "channel": channel,
            "now": instant(now),
            "lease_until": instant(lease_until),
            "limit": limit,
        }
        leased = [Posting(**row) for row in self._connection.execute(statement, values).mappings()]
        return sorted(leased, key=lambda posting: (posting.rank, posting.posting_id))

    def begin(self, attempt: Try) -> bool:
        """Record a try before it begins: the posting becomes *trying*; False where it is no longer waiting."""
        if run(self._connection, _BEGIN, (attempt.n, attempt.posting_id)).rowcount != 1:
            return False
        run(
            self._connection,
            _TRY,
            (attempt.posting_id, attempt.n, _spelt(attempt.began_at), *_end(attempt)),
        )
        return True

    def settle(self, posting: Posting, attempt: Try | None, *, since: Posting | None = None) -> bool:
        """Write the posting's state, why, not_before and lease, and the try's end where there was one.

        With *since*, as the posting was read: False, and nothing written, where another state or worker stands now.
        """
        state = PostingState(posting.state).value
        values = (state, posting.why, _spelt(posting.not_before), posting.worker, _spelt(posting.lease_until))
        statement = _SETTLE
        known: tuple[str, ...] = (posting.posting_id,)
        if since is not None:
            statement = _SETTLE_UNCHANGED
            known = (posting.posting_id, PostingState(since.state).value, since.worker or "")
        touched = [run(self._connection, statement, (*values, *known)).rowcount]
        if since is not None and touched == [0]:
            return False
        if attempt is not None:
            ends = (*_end(attempt), attempt.posting_id, attempt.n)
            touched.append(run(self._connection, _END, ends).rowcount)
        if set(touched) != {1}:
            raise LookupError("what is settled is not in the outbox: a posting or its try")
        return True

    def postings(
        self, *, state: PostingState | None = None, posting_ids: Sequence[str] | None = None
    ) -> Iterator[Posting]:
        """Yield postings ordered by rank and posting_id; the caller may settle them meanwhile."""
        # written out, so that the partial index of what waits serves
        standing = "" if state is None else f"state = '{PostingState(state).value}'"
        if posting_ids is None:
            yield from self._walk(standing)
            return
        found = [
            posting
            for asked in questions(posting_ids)
            for posting in self._walk(
                " AND ".join(filter(None, (standing, among("posting_id", asked)))), asked
            )
        ]
        yield from sorted(found, key=lambda posting: (posting.rank, posting.posting_id))

    def _walk(self, where: str, values: Sequence[object] = ()) -> Iterator[Posting]:
        for row in walk(self._connection, tables.postings, ("rank", "posting_id"), where, values):
            yield Posting(**row)


def _end(attempt: Try) -> tuple[object, ...]:
    return (_spelt(attempt.ended_at), attempt.outcome, attempt.code, attempt.enhanced, attempt.reply)


def _spelt(moment: datetime | None) -> str | None:
    return None if moment is None else instant(moment)
