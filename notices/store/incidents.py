"""The occasions on which a unit failed or someone was hurt: one row each."""

from collections.abc import Iterable

from sqlalchemy import Connection

from notices.cases.records import IncidentRow
from notices.store import tables
from notices.store.rows import read, rows_of, write


class Incidents:
    """The incidents of one register, within one transaction."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def put(self, rows: Iterable[IncidentRow]) -> None:
        """Write or replace incidents."""
        write(self._connection, tables.incidents, rows_of(rows))

    def all(self) -> list[IncidentRow]:
        """Return all, ordered by when they were learned of."""
        return read(self._connection, tables.incidents, IncidentRow, "ORDER BY learned_at, incident_id")
