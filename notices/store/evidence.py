"""What is known of the files in ``evidence/``: one row a fingerprint."""

from collections.abc import Iterable, Sequence

from sqlalchemy import Connection

from notices.cases.records import EvidenceRow
from notices.store import tables
from notices.store.rows import keep, read_by, rows_of


class Evidence:
    """The evidence of one register, within one transaction."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def put(self, rows: Iterable[EvidenceRow]) -> None:
        """Write rows; one that stands stays as it is."""
        keep(self._connection, tables.evidence, rows_of(rows))

    def get(self, digests: Sequence[str]) -> dict[str, EvidenceRow]:
        """Return these rows."""
        found = read_by(self._connection, tables.evidence, EvidenceRow, "digest", digests)
        return {row.digest: row for row in found}

    def of_units(self, unit_ids: Sequence[str] | None = None) -> list[EvidenceRow]:
        """Return the rows of these units, or all, ordered by unit_id and digest."""
        return read_by(self._connection, tables.evidence, EvidenceRow, "unit_id", unit_ids)
