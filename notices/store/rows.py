"""How records become rows and rows become records; what many rooms of the register do alike."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import fields
from itertools import islice
from typing import Any, TypeVar

from sqlalchemy import ColumnElement, Connection, CursorResult, Select, Table, TableClause, select
from sqlalchemy.dialects import postgresql, sqlite

Row = Mapping[str, object]
Record = TypeVar("Record")
Item = TypeVar("Item")

_WRITTEN_AT_ONCE = 5_000
# SQLite takes 32,766 parameters a statement, PostgreSQL 65,535.
_ASKED_AT_ONCE = 2_000


def run(connection: Connection, statement: str, values: Sequence[object]) -> CursorResult[Any]:
    """Run driver SQL in a hot place; ``?`` stands for each value on both engines."""
    return connection.exec_driver_sql(_marked(connection, statement), tuple(values))


def run_many(connection: Connection, statement: str, rows: Sequence[tuple[object, ...]]) -> int:
    """Run driver SQL once a row; return how many rows it touched."""
    return connection.exec_driver_sql(_marked(connection, statement), list(rows)).rowcount if rows else 0


def _marked(connection: Connection, statement: str) -> str:
    return statement.replace("?", "%s") if connection.dialect.name == "postgresql" else statement


def write(connection: Connection, table: Table, rows: Iterable[Row]) -> None:
    """Insert *rows*; one whose key stands replaces what stood there."""
    others = [column.name for column in table.columns if not column.primary_key]
    statement = _insert(connection, table)
    statement = statement.on_conflict_do_update(
        index_elements=list(table.primary_key), set_={name: statement.excluded[name] for name in others}
    )
    for batch in batches(rows, _WRITTEN_AT_ONCE):
        connection.execute(statement, batch)


def keep(connection: Connection, table: Table, rows: Iterable[Row]) -> int:
    """Insert *rows*; one whose key stands is passed over. Return how many went in."""
    statement = _insert(connection, table).on_conflict_do_nothing(index_elements=list(table.primary_key))
    counted = {"preserve_rowcount": True}  # else nobody counts what an INSERT of many put in
    return sum(
        connection.execute(statement, batch, execution_options=counted).rowcount
        for batch in batches(rows, _WRITTEN_AT_ONCE)
    )


def _insert(connection: Connection, table: Table) -> sqlite.Insert | postgresql.Insert:
    of_dialect = postgresql.insert if connection.dialect.name == "postgresql" else sqlite.insert
    return of_dialect(table)


def row_of(record: object) -> dict[str, object]:
    """Return a record's fields by name, which are its table's columns."""
    return {field.name: getattr(record, field.name) for field in fields(record)}  # type: ignore[arg-type]  # records only


def rows_of(records: Iterable[object]) -> Iterator[dict[str, object]]:
    """Yield the rows of *records*."""
    return map(row_of, records)


def read(connection: Connection, query: Select[Any], record: type[Record]) -> list[Record]:
    """Return what *query* finds as records, in its order."""
    return [record(**row) for row in connection.execute(query).mappings()]


def read_by(
    connection: Connection, table: Table, record: type[Record], name: str, wanted: Sequence[str] | None
) -> list[Record]:
    """Return the rows whose column *name* is among *wanted* (None: all), by that column, then by key."""
    column = table.columns[name]
    query = select(table).order_by(column, *(key for key in table.primary_key if key is not column))
    if wanted is None:
        return read(connection, query, record)
    return [
        found
        for asked in questions(wanted)
        for found in read(connection, query.where(column.in_(asked)), record)
    ]


def questions(wanted: Sequence[str]) -> Iterator[list[str]]:
    """Yield *wanted*, each once and sorted, in parts that a statement can ask for."""
    return batches(sorted(set(wanted)), _ASKED_AT_ONCE)


def batches(items: Iterable[Item], size: int) -> Iterator[list[Item]]:
    """Yield *items* in lists of at most *size*."""
    rest = iter(items)
    while batch := list(islice(rest, size)):
        yield batch


def walk(
    connection: Connection,
    table: TableClause,
    order: Sequence[str],
    where: Sequence[ColumnElement[bool]] = (),
) -> Iterator[Mapping[Any, Any]]:
    """Yield rows by the columns *order*, which tell every row apart; the caller may write meanwhile.

    Each page asks for what lies beyond the last row seen, so that no cursor stays open.
    """
    columns = [table.columns[name] for name in order]
    query = select(table).where(*where).order_by(*columns).limit(_ASKED_AT_ONCE)
    page = connection.execute(query).mappings().all()
    while page:
        yield from page
        last = page[-1]
        page = connection.execute(query.where(_beyond(columns, last))).mappings().all()


def _beyond(columns: Sequence[ColumnElement[Any]], last: Mapping[Any, Any]) -> ColumnElement[bool]:
    """Compare column by column: both engines then use the index, and each value keeps its column's spelling."""
    first, *rest = columns
    value = last[first]
    after: ColumnElement[bool] = first > value
    return after | ((first == value) & _beyond(rest, last)) if rest else after
