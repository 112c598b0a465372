"""The few kinds of column that a register has, spelt alike on both engines."""

from sqlalchemy import Column, ForeignKey, Integer, MetaData, Table
from sqlalchemy.schema import SchemaItem

from notices.store.portable import Day, Instant, Words

metadata = MetaData()


def words(name: str, *, key: bool = False, null: bool = False, unique: bool = False) -> Column[str]:
    """Return a column of text."""
    return Column(name, Words, primary_key=key, nullable=null, unique=unique or None)


def whole(name: str, *, key: bool = False, null: bool = False) -> Column[int]:
    """Return a column of whole numbers of 32 bits."""
    # autoincrement off: no number is ever given by the database
    return Column(name, Integer, primary_key=key, nullable=null, autoincrement=False)


def at(name: str, *, null: bool = False) -> Column[object]:
    """Return a column of moments."""
    return Column(name, Instant, nullable=null)


def day(name: str) -> Column[object]:
    """Return a column of days, each of which may be unknown."""
    return Column(name, Day, nullable=True)


def of(name: str, target: str, *, key: bool = False, null: bool = False) -> Column[str]:
    """Return a column that names a row of another table."""
    # checked at commit, so that a use case may write in whatever order reads best
    reference = ForeignKey(target, deferrable=True, initially="DEFERRED")
    return Column(name, Words, reference, primary_key=key, nullable=null)


def table(name: str, *parts: SchemaItem, numbered: bool = False) -> Table:
    """Add a table to *metadata*; *numbered* where its key is one whole number.

    SQLite would fill such a key in by itself, were it the name of its row.
    """
    return Table(name, metadata, *parts, sqlite_strict=True, sqlite_with_rowid=not numbered)
