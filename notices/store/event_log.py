"""The append-only record of what happened: chained, numbered without gaps, each ``once`` standing a single time."""

import hashlib
import json
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from itertools import groupby
from operator import itemgetter
from typing import Any

from sqlalchemy import Connection

from audiences import canonical
from notices.cases.chain import Link
from notices.cases.events import Event, NewEvent, chained, instant, moment
from notices.store import rows, tables
from notices.store.portable import require

# More locks than this a transaction would fill PostgreSQL's lock table; fewer would make strangers wait.
_LOCKS = 1_024

_COLUMNS = "stream, seq, kind, version, at, recorded_at, actor, via, payload, once, hash"
_APPEND = (
    f"INSERT INTO events ({_COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?) "  # noqa: S608 - names of ours
    "ON CONFLICT (once) DO NOTHING"
)
_STREAM = f"SELECT {_COLUMNS} FROM events WHERE stream = ? AND recorded_at <= ? ORDER BY seq"  # noqa: S608 - the same
_NAMES = tuple(_COLUMNS.split(", "))
_TURN = "SELECT pg_advisory_xact_lock(hashtext(current_schema()), ?)"
_TURNS = "SELECT pg_advisory_xact_lock(hashtext(current_schema()), lock) FROM unnest(?::int[]) AS lock"
_HEADS = (
    "SELECT e.stream, e.seq, e.recorded_at, e.hash FROM events e "
    "JOIN (SELECT stream, MAX(seq) AS seq FROM events WHERE {asked} GROUP BY stream) AS last "
    "ON e.stream = last.stream AND e.seq = last.seq"
)
_HEAD = "SELECT stream, seq, recorded_at, hash FROM events WHERE stream = ? ORDER BY seq DESC LIMIT 1"
_BEFORE_ALL = datetime.min.replace(tzinfo=UTC)
_EVER = "9999-12-31T23:59:59.999999Z"


@dataclass(frozen=True, kw_only=True, slots=True)
class _Head:
    """The last event of a stream, as far as the next one needs it."""

    seq: int = 0
    recorded_at: datetime = _BEFORE_ALL
    hash: str = ""


class EventLog:
    """The events of one register, within one transaction."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def append(self, events: Sequence[NewEvent], *, recorded_at: datetime) -> list[Event]:
        """Chain and store *events*; one whose ``once`` already stands is passed over and not returned."""
        for event in events:
            require(
                event.payload
            )  # all else is looked at on its way to the driver, this only once it is spelt
        self._take_turns(events)
        fresh = self._fresh(events)
        heads = self._heads({event.stream for event in fresh})
        stored = []
        for event in fresh:
            head = heads.get(event.stream, _Head())
            link = chained(
                event, seq=head.seq + 1, recorded_at=max(recorded_at, head.recorded_at), before=head.hash
            )
            heads[event.stream] = _Head(seq=link.seq, recorded_at=link.recorded_at, hash=link.hash)
            stored.append(link)
        count = rows.run_many(self._connection, _APPEND, [_values(event) for event in stored])
        if count != len(stored):  # only a writer that took no turn can have come between
            raise RuntimeError("events were written to the register past its own locks")
        return stored

    def stream(self, name: str, *, until: datetime | None = None) -> list[Event]:
        """Return a stream in order, as known at *until* (by ``recorded_at``)."""
        last = _EVER if until is None else instant(until)
        return [_event(row) for row in rows.ask(self._connection, _STREAM, (name, last))]

    def streams(self, prefix: str, *, until: datetime | None = None) -> Iterator[list[Event]]:
        """Yield each stream whose name begins with *prefix*, ordered by name, each in order."""
        last = _EVER if until is None else instant(until)
        where = "stream >= ? AND recorded_at <= ?"
        found = rows.walk_plain(self._connection, tables.events, ("stream", "seq"), where, (prefix, last))
        for name, group in groupby(found, key=itemgetter(0)):
            if not name.startswith(prefix):
                return
            yield [_event(row) for row in group]

    def has(self, once: str) -> bool:
        """Say whether an event with this key stands."""
        return bool(self._standing([once]))

    def links(self) -> Iterator[Link]:
        """Yield every event as it lies there, whatever it holds, ordered by stream and place."""
        for row in rows.walk_plain(self._connection, tables.events, ("stream", "seq")):
            yield Link(**dict(zip(_NAMES, row, strict=True)))

    def _take_turns(self, events: Iterable[NewEvent]) -> None:
        """Let one writer at a time chain a stream or use a key; SQLite's one writer a file needs no more."""
        if self._connection.dialect.name != "postgresql":
            return
        names = {f"stream {event.stream}" for event in events}
        names |= {f"once {event.once}" for event in events if event.once is not None}
        locks = sorted({_lock(name) for name in names})  # in order, so that two writers never wait crosswise
        if len(locks) == 1:
            rows.run(self._connection, _TURN, locks)
        elif locks:
            rows.run(self._connection, _TURNS, (locks,))

    def _fresh(self, events: Sequence[NewEvent]) -> list[NewEvent]:
        seen = self._standing([event.once for event in events if event.once is not None])
        fresh = []
        for event in events:
            if event.once is None or event.once not in seen:
                fresh.append(event)
            if event.once is not None:
                seen.add(event.once)
        return fresh

    def _standing(self, keys: Sequence[str]) -> set[str]:
        found: set[str] = set()
        for asked in rows.questions(keys):
            query = f"SELECT once FROM events WHERE {rows.among('once', asked)}"  # noqa: S608 - names of ours
            found.update(key for (key,) in rows.ask(self._connection, query, asked))
        return found

    def _heads(self, names: Iterable[str]) -> dict[str, _Head]:
        heads = {}
        for asked in rows.questions(list(names)):
            # one stream is asked for at every answer, and may be long
            query = _HEAD if len(asked) == 1 else _HEADS.format(asked=rows.among("stream", asked))
            for name, seq, recorded_at, digest in rows.ask(self._connection, query, asked):
                heads[name] = _Head(seq=seq, recorded_at=moment(recorded_at), hash=digest)
        return heads


def _lock(name: str) -> int:
    return int.from_bytes(hashlib.sha256(name.encode()).digest()[:4]) % _LOCKS


def _values(event: Event) -> tuple[object, ...]:
    return (
        event.stream,
        event.seq,
        event.kind,
        event.version,
        instant(event.at),
        instant(event.recorded_at),
        event.actor,
        event.via,
        canonical.dump(event.payload),
        event.once,
        event.hash,
    )


def _event(row: Sequence[Any]) -> Event:
    """Read a row as the driver gave it, in the order of the columns above."""
    stream, seq, kind, version, at, recorded_at, actor, via, payload, once, digest = row
    return Event(
        stream=stream,
        seq=seq,
        kind=kind,
        version=version,
        at=moment(at),
        recorded_at=moment(recorded_at),
        actor=actor,
        via=via,
        payload=json.loads(payload),
        once=once,
        hash=digest,
    )
