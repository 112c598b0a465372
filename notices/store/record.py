"""What the outbox remembers: what was told, in which runs, and each try."""

from collections.abc import Sequence
from operator import itemgetter
from typing import Any

from sqlalchemy import Connection

from notices.cases.events import moment
from notices.cases.records import PostingState, PostingUnit, Run, Told, Try
from notices.store import tables
from notices.store.rows import among, ask, questions, read_by, row_of, write

# What waits is the newest; what went by another hand than the sender's has no try and counts from its making.
_TOLD = """
    SELECT about.unit_id, about.owner_id, about.occasion, about.posting_id, posting.state,
      variant.kind, variant.verdict, variant.segment, COALESCE(variant.said, ''), COALESCE(saying.level, 0),
      COALESCE(last.ended_at, last.began_at),
      CASE WHEN last.began_at IS NOT NULL THEN COALESCE(last.ended_at, last.began_at)
        WHEN posting.state IN ('waiting', 'trying') THEN '~' ELSE variant.made_at END
    FROM posting_units about
    JOIN postings posting ON posting.posting_id = about.posting_id
    JOIN variants variant ON variant.fingerprint = posting.fingerprint
    LEFT JOIN sayings saying ON saying.said = variant.said
    LEFT JOIN tries last ON last.posting_id = about.posting_id AND last.n = posting.tries
"""


class Record:
    """What one register remembers of its sendings, within one transaction."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def told(self, unit_ids: Sequence[str] | None = None) -> list[Told]:
        """Return what was put into the outbox for these units (or all), oldest first."""
        if unit_ids is None:
            found = ask(self._connection, _TOLD)
        else:
            found = [
                row
                for asked in questions(unit_ids)
                for row in ask(self._connection, f"{_TOLD} WHERE {among('about.unit_id', asked)}", asked)
            ]
        # by moment, then posting, unit and occasion
        return [_told(row) for row in sorted(found, key=itemgetter(11, 3, 0, 2))]

    def units_of(self, posting_ids: Sequence[str]) -> dict[str, list[PostingUnit]]:
        """Return which units each posting is about."""
        found: dict[str, list[PostingUnit]] = {}
        for row in read_by(self._connection, tables.posting_units, PostingUnit, "posting_id", posting_ids):
            found.setdefault(row.posting_id, []).append(row)
        return found

    def tries(self, posting_ids: Sequence[str] | None = None) -> list[Try]:
        """Return the tries of these postings, or all, ordered by posting and n."""
        return read_by(self._connection, tables.tries, Try, "posting_id", posting_ids)

    def put_run(self, run: Run) -> None:
        """Write or replace a run."""
        write(self._connection, tables.runs, [row_of(run)])

    def runs(self) -> list[Run]:
        """Return all runs, ordered by run_id."""
        return read_by(self._connection, tables.runs, Run, "run_id", None)


def _told(row: Sequence[Any]) -> Told:
    unit_id, owner_id, occasion, posting_id, state, kind, verdict, segment, said, level, at, _ = row
    return Told(
        unit_id=unit_id,
        owner_id=owner_id,
        occasion=occasion,
        posting_id=posting_id,
        state=PostingState(state),
        kind=kind,
        verdict=verdict,
        segment=segment,
        said=said,
        level=level,
        at=None if at is None else moment(at),
    )
