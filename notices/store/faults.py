"""What went wrong in the world, said in one sentence with the way out, instead of the driver's words."""

import errno
import sqlite3
from collections.abc import Iterator, Mapping
from contextlib import contextmanager

import psycopg
from sqlalchemy.exc import DBAPIError
from sqlalchemy.exc import TimeoutError as NoConnectionError

from notices.cases.outgoing import RegisterError

_LOCKED = "another program is writing to the register; wait until it has finished, then try again"
_READ_ONLY = (
    "the register can only be read here; give this account the right to write to it and to its folder"
)
_DAMAGED = "the register is damaged; stop every program that uses it and put the last backup in its place"
_FULL = "the disk is full and nothing of this step was stored; make room, then do the step again"
_CLOSED = (
    "the register cannot be opened; see that its folder exists and that this account may read and write there"
)
_NOT_ONE = "this file is not a register; give the path of the campaign's register.db"
_DISK = (
    "the disk could not be read or written; see that it is not full, "
    "and keep the register on a disk of this machine, not in a network or synchronised folder"
)
_NO_SERVER = (
    "the database server does not answer; see that it runs and that host and port in the address are right"
)
_NOT_LET_IN = "the database server refuses this user; see that user and password in the address are right"
_NO_DATABASE = "there is no database of this name; create it, or mend the name in the address"
_CROWDED = "the database server takes no more connections; end other programs that use it, then try again"
_BUSY = "too much is asked of the register at once; wait a moment, then try again"
_NOT_ALLOWED = (
    "this database user lacks a right the register needs; let it create and use tables in the schema"
)

# https://www.sqlite.org/rescode.html, the extended result codes: no room for the index of the write-ahead log
_NO_ROOM = frozenset({sqlite3.SQLITE_IOERR_SHMSIZE})

# The primary result codes
_SQLITE: Mapping[int, str] = {
    sqlite3.SQLITE_PERM: _READ_ONLY,
    sqlite3.SQLITE_BUSY: _LOCKED,
    sqlite3.SQLITE_LOCKED: _LOCKED,
    sqlite3.SQLITE_READONLY: _READ_ONLY,
    sqlite3.SQLITE_IOERR: _DISK,
    sqlite3.SQLITE_CORRUPT: _DAMAGED,
    sqlite3.SQLITE_FULL: _FULL,
    sqlite3.SQLITE_CANTOPEN: _CLOSED,
    sqlite3.SQLITE_NOTADB: _NOT_ONE,
}

# PostgreSQL documentation, appendix A, error codes: a whole code, or a class of two signs
_POSTGRESQL: Mapping[str, str] = {
    "08": _NO_SERVER,
    "25006": _READ_ONLY,
    "28": _NOT_LET_IN,
    "3D000": _NO_DATABASE,
    "40P01": _LOCKED,
    "40001": _LOCKED,
    "42501": _NOT_ALLOWED,
    "53100": _FULL,
    "53": _CROWDED,
    "55P03": _LOCKED,
    "57P": _NO_SERVER,
    "XX001": _DAMAGED,
    "XX002": _DAMAGED,
}


# errno(3): what the system says before SQLite is asked
_SYSTEM: Mapping[int, str] = {
    errno.ENOSPC: _FULL,
    errno.EDQUOT: _FULL,
    errno.EROFS: _READ_ONLY,
}


def of_the_system(fault: OSError) -> str | None:
    """Return what to say of a fault of the file system, None where its own words say it."""
    return _SYSTEM.get(fault.errno or 0)


@contextmanager
def in_plain_words(place: str) -> Iterator[None]:
    """Raise RegisterError in place of a driver's report of the world; faults of our own pass unchanged."""
    try:
        yield
    except (DBAPIError, sqlite3.Error, psycopg.Error) as error:
        driver = error.orig if isinstance(error, DBAPIError) else error
        sentence = sentence_for(driver)
        if sentence is None:
            raise
        raise RegisterError(f"{place}: {sentence}") from driver
    except NoConnectionError as error:
        raise RegisterError(f"{place}: {_BUSY}") from error


def sentence_for(driver: BaseException | None) -> str | None:
    """Return what to say of a driver's error, None where it is no fault of the world."""
    number = getattr(driver, "sqlite_errorcode", None)
    if number in _NO_ROOM:
        return _FULL
    if number is not None:
        return _SQLITE.get(number & 0xFF)  # the primary code is the lowest byte
    state = getattr(driver, "sqlstate", None)
    if state:
        return _POSTGRESQL.get(state) or _POSTGRESQL.get(state[:3]) or _POSTGRESQL.get(state[:2])
    return _before_a_code(str(driver)) if isinstance(driver, psycopg.OperationalError) else None


def _before_a_code(words: str) -> str:
    """Tell apart why no connection came about: libpq then hands over the server's words without their code."""
    if "authentication failed" in words or "no password supplied" in words or "role " in words:
        return _NOT_LET_IN
    if "database " in words and "does not exist" in words:
        return _NO_DATABASE
    if "too many clients" in words or "remaining connection slots" in words:
        return _CROWDED
    return _NO_SERVER
