"""An outbox full of signed warnings, made once by the program's own use cases and copied for each trial."""

import secrets
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

import psycopg
from psycopg import sql
from sqlalchemy import insert, select

from notices.store import SqlRegister, open_register
from notices.store.columns import metadata
from tests.folders import WARNED, a_desk

BEGAN = WARNED + timedelta(hours=1)
_HEAD = "sale no,name,email,country,language,code,sold on,sold in\n"


def address(number: int) -> str:
    """Return an owner's address."""
    return f"owner{number}@mail.example"


@dataclass(frozen=True, kw_only=True, slots=True)
class Outbox:
    """One copy: the campaign folder, and the address of its register."""

    folder: Path
    register: str
    count: int


def prepared(folder: Path, count: int) -> Outbox:
    """Import *count* owners, English and German in turn, sign the stop warning, and put it into the outbox."""
    with a_desk(folder) as desk:
        desk.take(_HEAD + "".join(map(_row, range(1, count + 1))))
        desk.sign()
        made = desk.post().made
    assert made == count

    return Outbox(folder=folder, register=str(folder / "register.db"), count=count)


def _row(number: int) -> str:
    place = ("DE", "de") if number % 2 else ("GB", "en")
    code = f"QM-2534-B{number:04d}"
    return f"{number},Owner {number},{address(number)},{','.join(place)},{code},2025-09-01,{place[0]}\n"


@contextmanager
def copied(whole: Outbox, folder: Path, *, server: str | None = None) -> Iterator[Outbox]:
    """Yield a copy below *folder*; on the PostgreSQL *server*, in a schema of its own, where one is named."""
    shutil.copytree(whole.folder, folder)
    if server is None:
        yield Outbox(folder=folder, register=str(folder / "register.db"), count=whole.count)
        return
    schema = f"notices_test_{secrets.token_hex(6)}"
    register = f"{server}?schema={schema}"
    try:
        _pour(whole.register, register, BEGAN)
        yield Outbox(folder=folder, register=register, count=whole.count)
    finally:
        with psycopg.connect(server) as connection:
            connection.execute(sql.SQL("DROP SCHEMA IF EXISTS {} CASCADE").format(sql.Identifier(schema)))


def _pour(source: str, target: str, now: datetime) -> None:
    """Write every row of one register into another that is new."""
    full, empty = open_register(source, now=now), open_register(target, now=now)
    try:
        _rows(full, empty)
    finally:
        full.close()
        empty.close()


def _rows(full: SqlRegister, empty: SqlRegister) -> None:
    with full.engine.connect() as reading, empty.engine.begin() as writing:
        writing.execute(metadata.tables["meta"].delete())
        for table in metadata.sorted_tables:
            rows = [dict(row) for row in reading.execute(select(table)).mappings()]
            if rows:
                writing.execute(insert(table), rows)
