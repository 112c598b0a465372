"""How each engine is spoken to: durable commits, one writer at a time, and only portable values."""

import sqlite3
import time
from pathlib import Path
from typing import Any

from sqlalchemy import URL, Connection, Engine, create_engine, event

from notices.cases.outgoing import RegisterError
from notices.store.portable import require_bound

# Execution option of a connection whose transaction writes nothing.
LOOKS = "notices_looks"

CONNECTIONS = 10
AT_MOST = 40  # as many threads as a web server of ours runs
_OLDEST_SQLITE = (3, 37)  # STRICT tables; RETURNING came with 3.35
_PAUSE = 0.05


def sqlite_engine(path: Path, *, patience: float) -> Engine:
    """Return an engine for the file *path*, made where there is none; wait *patience* seconds for other writers."""
    if sqlite3.sqlite_version_info < _OLDEST_SQLITE:
        raise RegisterError(f"SQLite {sqlite3.sqlite_version} is too old; install 3.37 or newer")
    # it will hold names and addresses: nobody else on this machine reads them
    path.touch(mode=0o600, exist_ok=True)
    _keep_a_write_ahead_log(path, patience)
    engine = create_engine(
        URL.create("sqlite+pysqlite", database=str(path)),
        connect_args={"timeout": patience, "isolation_level": None},  # BEGIN is ours, see below
        pool_size=CONNECTIONS,
        max_overflow=AT_MOST - CONNECTIONS,
        pool_timeout=patience,
        hide_parameters=True,  # they are people's names and addresses
    )
    event.listen(engine, "connect", _make_safe)
    event.listen(engine, "begin", _begin)
    event.listen(engine, "before_cursor_execute", _hold_to_the_law)
    return engine


def postgresql_engine(url: URL, schema: str | None, *, patience: float) -> Engine:
    """Return an engine for the server at *url*; every connection works in *schema*."""
    settings = {"synchronous_commit": "on", "lock_timeout": f"{int(patience * 1000)}ms"}
    if schema is not None:
        settings["search_path"] = schema
    engine = create_engine(
        url.set(drivername="postgresql+psycopg"),
        connect_args={
            "options": " ".join(f"-c {name}={value}" for name, value in settings.items()),
            "client_encoding": "utf8",
            "connect_timeout": 10,
            "application_name": "notices",
        },
        pool_size=CONNECTIONS,
        max_overflow=AT_MOST - CONNECTIONS,
        pool_timeout=patience,
        pool_pre_ping=True,
        hide_parameters=True,
    )
    event.listen(engine, "before_cursor_execute", _hold_to_the_law)
    return engine


def _keep_a_write_ahead_log(path: Path, patience: float) -> None:
    """Put the file into WAL mode, once for ever; two that open it first at one moment wait for each other."""
    ends = time.monotonic() + patience
    while True:
        connection = sqlite3.connect(path, timeout=patience, isolation_level=None)
        try:
            mode = connection.execute("PRAGMA journal_mode = WAL").fetchone()[0]
        except sqlite3.OperationalError as error:
            if error.sqlite_errorcode & 0xFF != sqlite3.SQLITE_BUSY or time.monotonic() > ends:
                raise
            time.sleep(_PAUSE)
        else:
            break
        finally:
            connection.close()
    if mode != "wal":
        raise RegisterError(
            f"{path}: this folder cannot keep a write-ahead log; "
            "move the register to a disk of this machine, not a network or synchronised folder"
        )


def _make_safe(connection: Any, _record: object) -> None:  # noqa: ANN401 - a driver's connection, through a pool
    cursor = connection.cursor()
    cursor.execute("PRAGMA synchronous = FULL")
    cursor.execute("PRAGMA foreign_keys = ON")
    cursor.close()


def _begin(connection: Connection) -> None:
    """Take the write lock before the first read: a deferred reader that turns writer fails at once."""
    looks = connection.get_execution_options().get(LOOKS)
    driver: Any = connection.connection.driver_connection
    driver.execute("BEGIN" if looks else "BEGIN IMMEDIATE")


def _hold_to_the_law(
    connection: Connection,
    cursor: object,
    statement: str,
    parameters: Any,  # noqa: ANN401 - each driver has its own shape of parameters
    context: object,
    executemany: bool,  # noqa: FBT001 - the hook passes it by place
) -> None:
    del connection, cursor, statement, context, executemany
    require_bound(parameters)
