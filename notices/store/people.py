"""Owners and units: who they are, how to reach them, who has a part in what, and which list said so."""

from collections.abc import Iterable, Sequence

from sqlalchemy import Connection

from notices.cases.records import ContactRow, Holding, OwnerRow, Source, SourceRow, UnitRow
from notices.store import tables
from notices.store.rows import among, batches, questions, read, read_by, row_of, rows_of, write

_WRITTEN_AT_ONCE = 5_000


class People:
    """Owners and the ways to reach them."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def put_owners(self, rows: Iterable[OwnerRow]) -> None:
        """Write or replace owners."""
        write(self._connection, tables.owners, rows_of(rows))

    def owners(self, owner_ids: Sequence[str] | None = None) -> dict[str, OwnerRow]:
        """Return these owners, or all."""
        found = read_by(self._connection, tables.owners, OwnerRow, "owner_id", owner_ids)
        return {row.owner_id: row for row in found}

    def put_contacts(self, rows: Iterable[ContactRow]) -> None:
        """Write or replace contacts (key: owner, channel, value_key)."""
        write(self._connection, tables.contacts, rows_of(rows))

    def contacts(self, owner_ids: Sequence[str] | None = None) -> dict[str, list[ContactRow]]:
        """Return the contacts of these owners, or of all, ordered by channel and value_key."""
        found: dict[str, list[ContactRow]] = {}
        for row in read_by(self._connection, tables.contacts, ContactRow, "owner_id", owner_ids):
            found.setdefault(row.owner_id, []).append(row)
        return found

    def find(self, channel: str, value_key: str) -> list[ContactRow]:
        """Return the contacts with this value, of whatever owner."""
        tail = "WHERE channel = ? AND value_key = ? ORDER BY owner_id"
        return read(self._connection, tables.contacts, ContactRow, tail, (channel, value_key))


class Units:
    """The physical items and who has a part in them."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def put(self, rows: Iterable[UnitRow]) -> None:
        """Write or replace units."""
        write(self._connection, tables.units, rows_of(rows))

    def units(self, unit_ids: Sequence[str] | None = None) -> dict[str, UnitRow]:
        """Return these units, or all."""
        found = read_by(self._connection, tables.units, UnitRow, "unit_id", unit_ids)
        return {row.unit_id: row for row in found}

    def by_code(self, code_key: str) -> list[UnitRow]:
        """Return the units that bear this code."""
        return read_by(self._connection, tables.units, UnitRow, "code_key", [code_key])

    def put_holdings(self, rows: Iterable[Holding]) -> None:
        """Write or replace holdings (key: unit, owner, role, from_seq); those that end first."""
        for batch in batches(rows, _WRITTEN_AT_ONCE):
            # a new keeper may only come in once the old one's part has ended
            write(
                self._connection,
                tables.holdings,
                map(row_of, sorted(batch, key=lambda holding: holding.to_seq is None)),
            )

    def holdings(
        self, *, unit_ids: Sequence[str] | None = None, owner_ids: Sequence[str] | None = None
    ) -> list[Holding]:
        """Return holdings, past and present, of these units or of these owners, or all."""
        if unit_ids is None and owner_ids is None:
            return read_by(self._connection, tables.holdings, Holding, "unit_id", None)
        found = {}
        for column, wanted in (("unit_id", unit_ids), ("owner_id", owner_ids)):
            for asked in questions(wanted or ()):
                for row in read(
                    self._connection, tables.holdings, Holding, f"WHERE {among(column, asked)}", asked
                ):
                    found[row.unit_id, row.owner_id, row.role, row.from_seq] = row
        return [found[key] for key in sorted(found)]


class Lists:
    """Where every owner and unit came from."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def put_source(self, source: Source) -> None:
        """Write or replace what is known of a list."""
        write(self._connection, tables.sources, [row_of(source)])

    def sources(self) -> list[Source]:
        """Return the lists, ordered by name."""
        return read_by(self._connection, tables.sources, Source, "source_id", None)

    def put_rows(self, rows: Iterable[SourceRow]) -> None:
        """Write or replace the rows of a list."""
        write(self._connection, tables.source_rows, rows_of(rows))

    def rows(self, source_id: str) -> list[SourceRow]:
        """Return the rows of a list, in order."""
        return read_by(self._connection, tables.source_rows, SourceRow, "source_id", [source_id])
