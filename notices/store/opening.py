"""Open a register by its address: make it where there is none, refuse one this program does not know."""

import re
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from sqlalchemy import Connection, Engine, insert, select
from sqlalchemy.engine import make_url
from sqlalchemy.exc import ArgumentError

from notices.cases.events import instant
from notices.cases.folding import FOLD
from notices.cases.outgoing import RegisterError
from notices.store import guards, places
from notices.store.columns import metadata
from notices.store.engines import LOOKS, postgresql_engine, sqlite_engine
from notices.store.faults import in_plain_words, of_the_system
from notices.store.register import FOLD_NOTE, SqlRegister, SqlTransaction, refolded
from notices.store.tables import SCHEMA, meta

PATIENCE = 30.0  # seconds; a writer of ours holds the register for far less

_SCHEMA_NAME = re.compile(r"[a-z_][a-z0-9_]{0,62}")
_TABLES = {
    "sqlite": "SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name",
    "postgresql": (
        "SELECT table_name FROM information_schema.tables WHERE table_schema = current_schema() "
        "ORDER BY table_name"
    ),
}
_STRANGE = "this database holds another program's tables; give an empty one, or the campaign's own register"


def open_register(
    address: str,
    *,
    now: datetime,
    refold: Callable[[SqlTransaction], None] | None = None,
    patience: float = PATIENCE,
    mounts: Path = places.MOUNTS,
) -> SqlRegister:
    """Open the register at *address*: a path, ``sqlite:///path`` or ``postgresql://user@host/database?schema=NAME``.

    Where the cases were folded by other steps, *refold* writes them anew before the register is handed out.
    Raise RegisterError, with the way out, where it cannot be opened or was written by a newer program.
    """
    engine, place, schema = _engine(address, patience, mounts)
    try:
        with in_plain_words(place):
            if not _stands(engine, place):
                _make(engine, place, schema, now)
        register = SqlRegister(engine, place=place)
        if refold is not None and register.needs_refold():
            with register.change() as transaction:
                refold(transaction)
                refolded(transaction)
    except BaseException:
        engine.dispose()
        raise
    return register


def _engine(address: str, patience: float, mounts: Path) -> tuple[Engine, str, str | None]:
    """Return the engine, the name of the place without any password, and the schema where one is named."""
    kind, _, _ = address.partition("://")
    path = path_in(address)
    if path is not None:
        with in_plain_words(path):
            return _file(Path(path), patience, mounts), path, None
    if kind != "postgresql":
        raise RegisterError(
            f"a register is not kept at {kind}://; give a path, sqlite:///path or postgresql://user@host/database"
        )
    return _server(address, patience)


def path_in(address: str) -> str | None:
    """Return the path of the file that *address* names, None where it names a server."""
    kind, separator, _ = address.partition("://")
    if separator and kind != "sqlite":
        return None
    path = address.removeprefix("sqlite:///")
    if not path or path.startswith((":", "sqlite:")):
        raise RegisterError("an address of a register names a file; give a path, or sqlite:/// and a path")
    return path


def _file(path: Path, patience: float, mounts: Path) -> Engine:
    found = places.kind_of(path.parent, mounts)
    if places.is_network(found):
        raise RegisterError(
            f"{path}: a register on a network drive ({found}) can be damaged or lost; move the campaign folder "
            "to a disk of this machine, or let NOTICES_REGISTER name a PostgreSQL database"
        )
    try:
        return sqlite_engine(path, patience=patience)
    except OSError as error:
        known = of_the_system(error)
        if known is not None:
            raise RegisterError(f"{path}: {known}") from error
        raise RegisterError(
            f"{path}: the register cannot be opened ({error.strerror}); "
            "see that its folder exists and that this account may read and write there"
        ) from error


def _server(address: str, patience: float) -> tuple[Engine, str, str | None]:
    try:
        url = make_url(address)
    except (ArgumentError, ValueError):
        raise RegisterError(
            "the address of the database server cannot be read; write postgresql://user@host:port/database"
        ) from None  # the cause would show the password
    schema = url.query.get("schema")
    if schema is not None and not (isinstance(schema, str) and _SCHEMA_NAME.fullmatch(schema)):
        raise RegisterError(
            "a schema's name is at most 63 small letters, digits and low lines, and begins with no digit"
        )
    place = f"{url.host or 'local'}/{url.database or ''}" + (f" schema {schema}" if schema else "")
    return (
        postgresql_engine(url.difference_update_query(["schema"]), schema, patience=patience),
        place,
        schema,
    )


def _stands(engine: Engine, place: str) -> bool:
    """Say whether a register of ours is there; raise RegisterError for what is there and is none, or is newer."""
    with engine.connect() as connection:
        connection.execution_options(**{LOOKS: True})
        names = _names(connection)
        if not names & metadata.tables.keys() and (not names or engine.dialect.name == "postgresql"):
            return False
        if not names >= {"meta", "events"}:
            raise RegisterError(f"{place}: {_STRANGE}")
        with_value = select(meta.c.value).where(meta.c.name == "schema")
        number = connection.scalar(with_value) or ""
    if not number.isdecimal():
        raise RegisterError(f"{place}: {_STRANGE}")
    if int(number) != SCHEMA:
        raise RegisterError(
            f"{place}: this register has form {number}, this program knows form {SCHEMA}; "
            "install the version of the program that wrote it, or a newer one"
        )
    return True


def _names(connection: Connection) -> set[str]:
    return {str(name) for (name,) in connection.exec_driver_sql(_TABLES[connection.dialect.name])}


def _make(engine: Engine, place: str, schema: str | None, now: datetime) -> None:
    """Make every table in one transaction; of two that open the same new place at once, one waits and finds them."""
    with engine.begin() as connection:
        if engine.dialect.name == "postgresql":
            _make_room(connection, place, schema)
        if _names(connection) & metadata.tables.keys():
            return
        metadata.create_all(connection, checkfirst=False)
        guards.put_up(connection)
        notes = {"schema": str(SCHEMA), FOLD_NOTE: str(FOLD), "made_at": instant(now)}
        connection.execute(insert(meta), [{"name": name, "value": value} for name, value in notes.items()])


def _make_room(connection: Connection, place: str, schema: str | None) -> None:
    connection.exec_driver_sql("SELECT pg_advisory_xact_lock(hashtext('notices: make a register'))")
    if connection.exec_driver_sql("SHOW server_encoding").scalar() != "UTF8":
        raise RegisterError(f"{place}: this database does not keep Unicode; create one WITH ENCODING 'UTF8'")
    # asked first, because CREATE SCHEMA IF NOT EXISTS wants the right to create one that is there
    there = connection.exec_driver_sql("SELECT 1 FROM pg_namespace WHERE nspname = %s", (schema,)).scalar()
    if schema is not None and there is None:
        connection.exec_driver_sql(f"CREATE SCHEMA {schema}")
