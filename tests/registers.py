"""Registers for tests: one on each engine, each test in a place of its own; and rows that are valid by default."""

import os
import secrets
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from functools import cache
from pathlib import Path

import psycopg
import pytest
from psycopg import sql
from sqlalchemy.exc import IntegrityError

from notices.cases.events import NewEvent
from notices.cases.records import (
    OwnerRow,
    Posting,
    PostingUnit,
    Saying,
    UnitRow,
    VariantRow,
)
from notices.store import SqlRegister, SqlTransaction, open_register
from tests import needs

ENGINES = ("sqlite", "postgresql")
# What a broken constraint raises, by the driver itself or through the toolkit: a fault of ours, worded for nobody.
BROKEN = (IntegrityError, sqlite3.IntegrityError, psycopg.IntegrityError)
NOW = datetime(2026, 3, 2, 8, 30, tzinfo=UTC)
_SERVER = "postgresql://root@127.0.0.1/test"


@cache
def server() -> str:
    """Return the address of the PostgreSQL server for tests, skipped with a reason where none answers."""
    address = os.environ.get("NOTICES_TEST_POSTGRESQL") or _SERVER
    try:
        psycopg.connect(address, connect_timeout=3).close()
    except psycopg.OperationalError:
        needs.missing(
            "no PostgreSQL answers (Debian: postgresql); start one and name it in NOTICES_TEST_POSTGRESQL, "
            "for example postgresql://user@127.0.0.1/test"
        )
    return address


@pytest.fixture(params=ENGINES)
def address(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    """Give the address of a register that does not exist yet, on each engine in turn."""
    with an_address(request.param, tmp_path) as one:
        yield one


@contextmanager
def an_address(engine: str, folder: Path) -> Iterator[str]:
    """Yield a new address on *engine*, and take its schema away afterwards."""
    if engine == "sqlite":
        yield str(folder / "register.db")
        return
    schema = f"notices_test_{secrets.token_hex(6)}"
    try:
        yield f"{server()}?schema={schema}"
    finally:
        with psycopg.connect(server()) as connection:
            connection.execute(sql.SQL("DROP SCHEMA IF EXISTS {} CASCADE").format(sql.Identifier(schema)))


@pytest.fixture
def register(address: str) -> Iterator[SqlRegister]:
    """Give an open, empty register, on each engine in turn."""
    opened = open_register(address, now=NOW)
    yield opened
    opened.close()


def an_event(
    stream: str = "unit:U1", *, once: str | None = None, minutes: int = 0, **payload: object
) -> NewEvent:
    """Return something an owner said about a unit."""
    return NewEvent(
        stream=stream,
        kind="use_stated",
        at=NOW + timedelta(minutes=minutes),
        actor="owner",
        via="page",
        payload=payload or {"segment": "unridden", "signs": True},
        once=once,
    )


def an_owner(owner_id: str = "OWNER1", **differences: object) -> OwnerRow:
    """Return an owner."""
    given = {"kind": "person", "name": "Ada Quill", "language": "en", "basis": "column"} | differences
    return OwnerRow(owner_id=owner_id, **given)  # type: ignore[arg-type]  # one difference per test


def a_unit(unit_id: str = "U1", **differences: object) -> UnitRow:
    """Return a unit."""
    given = {"unit_key": f"S-{unit_id}", "code": None, "code_key": None, "sold_on": None, "sold_in": None}
    return UnitRow(unit_id=unit_id, **(given | differences))  # type: ignore[arg-type]  # one difference per test


def a_saying(said: str = "SAID1", *, level: int = 2) -> Saying:
    """Return what a variant says."""
    return Saying(said=said, verdict="affected", segment="unknown", level=level, body="{}")


def a_variant(fingerprint: str = "F1", *, said: str = "SAID1", kind: str = "stop") -> VariantRow:
    """Return a variant."""
    return VariantRow(
        fingerprint=fingerprint,
        kind=kind,
        channel="email",
        verdict="affected",
        segment="unknown",
        market="EU",
        language="en",
        said=said,
        content="{}",
        made_at=NOW,
    )


def a_posting(posting_id: str = "P1", *, owner_id: str = "OWNER1", **differences: object) -> Posting:
    """Return a posting that waits."""
    given: dict[str, object] = {
        "channel": "email",
        "address": "ada@example.org",
        "fingerprint": "F1",
        "fill": "{}",
        "message_id": f"<{posting_id}@example.org>",
        "rank": 1,
    }
    return Posting(posting_id=posting_id, owner_id=owner_id, **(given | differences))  # type: ignore[arg-type]  # one difference


def about(posting: Posting, unit_id: str = "U1", *, occasion: str = "stop") -> PostingUnit:
    """Say which unit a posting is about."""
    return PostingUnit(
        unit_id=unit_id,
        owner_id=posting.owner_id,
        occasion=occasion,
        channel=posting.channel,
        address_key=posting.address,
        posting_id=posting.posting_id,
    )


def furnish(tx: SqlTransaction, *, units: int = 1) -> None:
    """Write one owner, a variant with its saying, and the units U1, U2 and so on."""
    tx.people.put_owners([an_owner()])
    tx.units.put([a_unit(f"U{n}") for n in range(1, units + 1)])
    tx.variants.put([a_variant()], sayings=[a_saying()])
