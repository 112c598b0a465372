"""The whole register as plain rows, the same from either engine: what a backup holds and a restore puts back."""

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from sqlalchemy import Column, Connection, Integer, TableClause, column, delete, insert, select, table

from audiences import canonical
from notices.cases.outgoing import RegisterError
from notices.store.columns import metadata
from notices.store.portable import require
from notices.store.rows import batches
from notices.store.tables import meta

_AT_ONCE = 1_000
_TABLES = tuple(one.name for one in metadata.sorted_tables)


class Whole:
    """All tables of one register, within one transaction."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def tables(self) -> tuple[str, ...]:
        """Return the names of the tables, in the order in which they are read again."""
        return _TABLES

    def lines(self, name: str) -> Iterator[str]:
        """Yield the rows of a table as canonical JSON, ordered by its key."""
        ours = metadata.tables[name]
        keys = [one.name for one in ours.primary_key] or [one.name for one in ours.columns]
        query = select(_plain(name)).order_by(*(column(key) for key in keys))
        found = self._connection.execute(query, execution_options={"yield_per": _AT_ONCE})
        for row in found.mappings():
            yield canonical.dump(row)

    def is_empty(self) -> bool:
        """Say whether nothing has been kept yet, beside what a register knows of itself."""
        others = [_plain(name) for name in _TABLES if name != meta.name]
        return not any(self._connection.execute(select(one).limit(1)).first() for one in others)

    def fill(self, tables: Mapping[str, Iterable[str]]) -> None:
        """Put rows into an empty register; raise RegisterError where it is not empty, or a row is none of its form.

        The notes that the register was made with give way to those that it had.
        """
        if not self.is_empty():
            raise RegisterError("the register is not empty; a backup is restored into a new one only")
        self._connection.execute(delete(meta))
        for name in _TABLES:
            columns = list(metadata.tables[name].columns)
            for batch in batches(tables.get(name, ()), _AT_ONCE):
                self._connection.execute(insert(_plain(name)), [_row(line, columns) for line in batch])


def _plain(name: str) -> TableClause:
    """Return a table without the kinds of its columns, so that values pass as they lie there."""
    return table(name, *(column(one.name) for one in metadata.tables[name].columns))


def _row(line: str, columns: Sequence[Column[Any]]) -> dict[str, Any]:
    try:
        row = json.loads(line)
        require(row)
    except (ValueError, RecursionError):
        row = None
    if not isinstance(row, dict) or set(row) != {one.name for one in columns} or not _fits(row, columns):
        raise RegisterError("the backup holds a row that is none of this program's; take another backup")
    return row


def _fits(row: Mapping[str, object], columns: Iterable[Column[Any]]) -> bool:
    """Say whether each value is of its column's kind."""
    return all(
        (one.nullable if (value := row[one.name]) is None else type(value) is _kind(one)) for one in columns
    )


def _kind(one: Column[Any]) -> type:
    return int if isinstance(one.type, Integer) else str
