"""The one database of a campaign: transactions that write, and views that cannot."""

import time
from collections import deque
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass

from sqlalchemy import Connection, Engine

from notices.cases.folding import FOLD
from notices.store.case_table import CaseTable
from notices.store.engines import CONNECTIONS, LOOKS
from notices.store.event_log import EventLog
from notices.store.evidence import Evidence
from notices.store.faults import in_plain_words
from notices.store.incidents import Incidents
from notices.store.outbox import Outbox
from notices.store.papers import Papers, Safe, Variants
from notices.store.people import Lists, People, Units
from notices.store.record import Record
from notices.store.whole import Whole

FOLD_NOTE = "fold"

# Seconds after which a connection is given back to the pool, which asks the server whether it is still there.
_STILL_THERE = 1.0


@dataclass(frozen=True, kw_only=True, slots=True)
class SqlTransaction:
    """Everything that changes together."""

    events: EventLog
    cases: CaseTable
    people: People
    units: Units
    lists: Lists
    papers: Papers
    variants: Variants
    outbox: Outbox
    record: Record
    safe: Safe
    evidence: Evidence
    incidents: Incidents
    whole: Whole


class SqlRegister:
    """The register; *place* names it in what a person reads, without any password."""

    def __init__(self, engine: Engine, *, place: str) -> None:
        self.engine = engine
        self.place = place
        self._spare = deque[_Line]()

    @contextmanager
    def change(self) -> Iterator[SqlTransaction]:
        """Begin a transaction that may write; it commits at the end and rolls back on any exception."""
        with in_plain_words(self.place), self._line() as line, line.connection.begin():
            yield line.transaction

    @contextmanager
    def look(self) -> Iterator[SqlTransaction]:
        """Begin a consistent view that writes nothing."""
        with in_plain_words(self.place), self.engine.connect() as connection:
            if connection.dialect.name == "postgresql":
                connection.execution_options(isolation_level="REPEATABLE READ", postgresql_readonly=True)
                yield _transaction(connection)
                return
            connection.execution_options(**{LOOKS: True})
            connection.exec_driver_sql("PRAGMA query_only = ON")
            try:
                yield _transaction(connection)
            finally:
                connection.exec_driver_sql("PRAGMA query_only = OFF")

    def needs_refold(self) -> bool:
        """Say whether the cases were folded by a program with other steps, so that they must be folded again.

        Whoever folds them again notes ``fold`` in the same transaction, as `refolded` does.
        """
        with self.look() as transaction:
            return transaction.safe.note(FOLD_NOTE) != str(FOLD)

    def close(self) -> None:
        """Let go of the database."""
        while self._spare:
            self._spare.pop().connection.close()
        self.engine.dispose()

    @contextmanager
    def _line(self) -> Iterator["_Line"]:
        """Lend a connection that writes; one that has just been used is not asked again whether it still lives."""
        line = self._lent() or _Line(self.engine.connect())
        try:
            yield line
        except BaseException:
            line.connection.close()
            raise
        line.used_at = time.monotonic()
        if len(self._spare) < CONNECTIONS:
            self._spare.append(line)
        else:
            line.connection.close()

    def _lent(self) -> "_Line | None":
        with suppress(IndexError):
            line = self._spare.pop()
            if time.monotonic() - line.used_at < _STILL_THERE:
                return line
            line.connection.close()
        return None


class _Line:
    """A connection kept between two transactions, with what speaks through it, and when it was last used."""

    def __init__(self, connection: Connection) -> None:
        self.connection = connection
        self.transaction = _transaction(connection)
        self.used_at = 0.0


def refolded(transaction: SqlTransaction) -> None:
    """Note that every case in *transaction* is folded by this program's steps."""
    transaction.safe.put_note(FOLD_NOTE, str(FOLD))


def _transaction(connection: Connection) -> SqlTransaction:
    return SqlTransaction(
        events=EventLog(connection),
        cases=CaseTable(connection),
        people=People(connection),
        units=Units(connection),
        lists=Lists(connection),
        papers=Papers(connection),
        variants=Variants(connection),
        outbox=Outbox(connection),
        record=Record(connection),
        safe=Safe(connection),
        evidence=Evidence(connection),
        incidents=Incidents(connection),
        whole=Whole(connection),
    )
