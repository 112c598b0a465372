"""What the outbox remembers: what was told, in which runs, and each try."""

from collections.abc import Sequence

from sqlalchemy import Connection, and_, case, func, literal_column, select, type_coerce

from notices.cases.records import PostingState, PostingUnit, Run, Told, Try
from notices.store import tables
from notices.store.portable import Words
from notices.store.rows import questions, read_by, row_of, write

_POSTING = tables.postings.c
_ABOUT = tables.posting_units.c
_VARIANT = tables.variants.c
_LAST = tables.tries.c

_WHEN = func.coalesce(_LAST.ended_at, _LAST.began_at)
# What waits is the newest; what went by another hand than the sender's has no try and counts from its making.
_TURN = case(
    (_WHEN.is_not(None), _WHEN),
    (_POSTING.state.in_([PostingState.WAITING, PostingState.TRYING]), literal_column("'~'")),
    else_=_VARIANT.made_at,
)
_TOLD = (
    select(
        _ABOUT.unit_id,
        _ABOUT.owner_id,
        _ABOUT.occasion,
        _ABOUT.posting_id,
        _POSTING.state,
        _VARIANT.kind,
        _VARIANT.verdict,
        _VARIANT.segment,
        func.coalesce(_VARIANT.said, "").label("said"),
        func.coalesce(tables.sayings.c.level, 0).label("level"),
        _WHEN.label("at"),
        type_coerce(_TURN, Words).label("turn"),
    )
    .join(tables.postings, _POSTING.posting_id == _ABOUT.posting_id)
    .join(tables.variants, _VARIANT.fingerprint == _POSTING.fingerprint)
    .join(tables.sayings, tables.sayings.c.said == _VARIANT.said, isouter=True)
    .join(tables.tries, and_(_LAST.posting_id == _ABOUT.posting_id, _LAST.n == _POSTING.tries), isouter=True)
)


class Record:
    """What one register remembers of its sendings, within one transaction."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def told(self, unit_ids: Sequence[str] | None = None) -> list[Told]:
        """Return what was put into the outbox for these units (or all), oldest first."""
        asked = (
            [_TOLD]
            if unit_ids is None
            else [_TOLD.where(_ABOUT.unit_id.in_(ids)) for ids in questions(unit_ids)]
        )
        found = [dict(row) for query in asked for row in self._connection.execute(query).mappings()]
        found.sort(key=lambda row: (row.pop("turn"), row["posting_id"], row["unit_id"], row["occasion"]))
        return [Told(**row) for row in found]

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
