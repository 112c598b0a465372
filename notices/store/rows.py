"""How records become rows and rows become records; what many rooms of the register do alike, as driver SQL."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, fields
from functools import cache
from itertools import islice
from operator import attrgetter, itemgetter
from typing import Any, TypeVar

from sqlalchemy import Connection, Table

from notices.store.portable import Spelt, Words, require_bound

Row = Mapping[str, object]
Record = TypeVar("Record")
Item = TypeVar("Item")

_AS_THEY_ARE = frozenset({str, type(None)})
_WRITTEN_AT_ONCE = 5_000
# SQLite takes 32,766 parameters a statement, PostgreSQL 65,535.
_ASKED_AT_ONCE = 2_000


@dataclass(frozen=True, kw_only=True, slots=True)
class _Form:
    """A table as the driver knows it: its columns, how values are spelt (None: as it is) and read, statements."""

    names: tuple[str, ...]
    pick: Callable[[Row], tuple[object, ...]]
    spell: tuple[tuple[int, Callable[[Any], object]], ...]
    read: Mapping[str, Callable[[Any], object]]
    select: str
    write: str
    keep: str

    def values(self, row: Row) -> tuple[object, ...]:
        """Spell a row for the driver."""
        found = list(self.pick(row))
        for place, spell in self.spell:
            if type(found[place]) not in _AS_THEY_ARE:
                found[place] = spell(found[place])
        return tuple(found)

    def row(self, values: Sequence[Any]) -> dict[str, Any]:
        """Read a row as the driver gave it."""
        found = dict(zip(self.names, values, strict=True))
        for name, read in self.read.items():
            if found[name] is not None:
                found[name] = read(found[name])
        return found


@cache
def _form(table: Table) -> _Form:
    names = tuple(column.name for column in table.columns)
    kinds = [column.type for column in table.columns]
    keys = [column.name for column in table.primary_key]
    listed, marks = ", ".join(names), ", ".join("?" * len(names))
    insert = f"INSERT INTO {table.name} ({listed}) VALUES ({marks})"  # noqa: S608 - names of ours
    anew = ", ".join(f"{name} = excluded.{name}" for name in names if name not in keys)
    return _Form(
        names=names,
        pick=itemgetter(*names),
        spell=tuple((place, kind.spell) for place, kind in enumerate(kinds) if isinstance(kind, Spelt)),
        read={
            name: kind.understand
            for name, kind in zip(names, kinds, strict=True)
            if isinstance(kind, Spelt) and not isinstance(kind, Words)
        },
        select=f"SELECT {listed} FROM {table.name}",  # noqa: S608 - the same
        write=f"{insert} ON CONFLICT ({', '.join(keys)}) DO UPDATE SET {anew}",
        keep=f"{insert} ON CONFLICT ({', '.join(keys)}) DO NOTHING",
    )


def run(connection: Connection, statement: str, values: Sequence[object] = ()) -> Any:  # noqa: ANN401 - a driver's cursor
    """Run driver SQL, ``?`` for each value on both engines, and return the cursor.

    The driver itself is asked, for that is done often; the transaction has begun, `in_plain_words` stands around it.
    """
    require_bound(values)
    return _driver(connection).execute(_marked(connection, statement), tuple(values))


def ask(connection: Connection, statement: str, values: Sequence[object] = ()) -> list[Any]:
    """Return the rows that driver SQL finds, their values as they lie there."""
    return list(run(connection, statement, values).fetchall())


def run_many(connection: Connection, statement: str, rows: Sequence[tuple[object, ...]]) -> int:
    """Run driver SQL once a row; return how many rows it touched."""
    if not rows:
        return 0
    require_bound(rows)
    cursor = _driver(connection).cursor()
    if len(rows) == 1:
        cursor.execute(_marked(connection, statement), rows[0])
    else:
        cursor.executemany(_marked(connection, statement), rows)
    return int(cursor.rowcount)


def _driver(connection: Connection) -> Any:  # noqa: ANN401 - a connection of either driver
    return connection.connection.driver_connection


def _marked(connection: Connection, statement: str) -> str:
    return statement.replace("?", "%s") if connection.dialect.name == "postgresql" else statement


def write(connection: Connection, table: Table, rows: Iterable[Row]) -> None:
    """Insert *rows*; one whose key stands replaces what stood there."""
    form = _form(table)
    for batch in batches(map(form.values, rows), _WRITTEN_AT_ONCE):
        run_many(connection, form.write, batch)


def keep(connection: Connection, table: Table, rows: Iterable[Row]) -> int:
    """Insert *rows*; one whose key stands is passed over. Return how many went in."""
    form = _form(table)
    return sum(
        run_many(connection, form.keep, batch) for batch in batches(map(form.values, rows), _WRITTEN_AT_ONCE)
    )


@cache
def _fields(kind: Any) -> tuple[tuple[str, ...], Callable[[object], tuple[object, ...]]]:  # noqa: ANN401 - a record's class
    names = tuple(field.name for field in fields(kind))
    return names, attrgetter(*names)


def row_of(record: object) -> dict[str, object]:
    """Return a record's fields by name, which are its table's columns."""
    kind: Any = type(record)
    names, values = _fields(kind)
    return dict(zip(names, values(record), strict=True))


def rows_of(records: Iterable[object]) -> Iterator[dict[str, object]]:
    """Yield the rows of *records*."""
    return map(row_of, records)


def fetch(
    connection: Connection, table: Table, tail: str, values: Sequence[object] = ()
) -> list[dict[str, Any]]:
    """Return the rows that *tail* (WHERE, ORDER BY, LIMIT; ``?`` for each value) picks, read column by column."""
    form = _form(table)
    return [form.row(row) for row in ask(connection, f"{form.select} {tail}", values)]


def read(
    connection: Connection, table: Table, record: type[Record], tail: str, values: Sequence[object] = ()
) -> list[Record]:
    """Return the rows that *tail* picks as records."""
    return [record(**row) for row in fetch(connection, table, tail, values)]


def read_by(
    connection: Connection, table: Table, record: type[Record], name: str, wanted: Sequence[str] | None
) -> list[Record]:
    """Return the rows whose column *name* is among *wanted* (None: all), by that column, then by key."""
    order = ", ".join([name, *(key.name for key in table.primary_key if key.name != name)])
    if wanted is None:
        return read(connection, table, record, f"ORDER BY {order}")
    return [
        found
        for asked in questions(wanted)
        for found in read(connection, table, record, f"WHERE {among(name, asked)} ORDER BY {order}", asked)
    ]


def among(name: str, asked: Sequence[object]) -> str:
    """Return the condition that a column is one of as many values."""
    return f"{name} IN ({', '.join('?' * len(asked))})"


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
    table: Table,
    order: Sequence[str],
    where: str = "",
    values: Sequence[object] = (),
) -> Iterator[dict[str, Any]]:
    """Yield rows by the columns *order*, which tell every row apart; the caller may write meanwhile."""
    form = _form(table)
    return map(form.row, walk_plain(connection, table, order, where, values))


def walk_plain(
    connection: Connection,
    table: Table,
    order: Sequence[str],
    where: str = "",
    values: Sequence[object] = (),
) -> Iterator[Sequence[Any]]:
    """Yield rows as the driver gives them, in the order of the table's columns.

    Each page asks for what lies beyond the last row seen, so that no cursor stays open.
    """
    form = _form(table)
    places = [form.names.index(name) for name in order]
    end = f"ORDER BY {', '.join(order)} LIMIT {_ASKED_AT_ONCE}"
    first = f"WHERE {where} " if where else ""
    beyond = f"WHERE ({where}) AND ({_beyond(order)}) " if where else f"WHERE {_beyond(order)} "
    page = ask(connection, f"{form.select} {first}{end}", values)
    while page:
        yield from page
        last = [page[-1][place] for place in places]
        asked = (*values, *(value for count in range(1, len(last) + 1) for value in last[:count]))
        page = ask(connection, f"{form.select} {beyond}{end}", asked)


def _beyond(order: Sequence[str]) -> str:
    """Compare column by column, so that both engines use the index: ``a > ? OR (a = ? AND b > ?)`` and so on."""
    parts = []
    for count, name in enumerate(order):
        equal = [f"{before} = ?" for before in order[:count]]
        parts.append(f"({' AND '.join([*equal, f'{name} > ?'])})")
    return " OR ".join(parts)
