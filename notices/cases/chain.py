"""The chain of the record: every event bears the fingerprint of the one before it, and a seal that of all ends."""

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from audiences import canonical
from notices.cases.events import Event, moment

# What an event's hash is made of, beside its payload and the hash before it.
_HASHED = ("stream", "seq", "kind", "version", "at", "recorded_at", "actor", "via", "once")


@dataclass(frozen=True, kw_only=True, slots=True)
class Link:
    """An event as it lies in the register: text and whole numbers, not yet believed."""

    stream: str
    seq: int
    kind: str
    version: int
    at: str
    recorded_at: str
    actor: str
    via: str
    payload: str
    once: str | None
    hash: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Breach:
    """One place where the chain does not hold: *sort* is missing, changed or unreadable, *seq* the event."""

    stream: str
    seq: int
    sort: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Head:
    """The last event of a stream."""

    stream: str
    seq: int
    hash: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Seal:
    """How many streams and events there were, and the digest of all heads."""

    streams: int
    events: int
    digest: str


def hash_of(link: Link, before: str) -> str | None:
    """Return the hash that *link* should bear after the hash *before*; None where its payload cannot be read."""
    try:
        payload = json.loads(link.payload)
        return canonical.digest(
            [before, {name: getattr(link, name) for name in _HASHED} | {"payload": payload}]
        )
    except (ValueError, TypeError, RecursionError):
        return None


def breaches(links: Sequence[Link]) -> Iterator[Breach]:
    """Yield where one stream, in order from its beginning, has gaps or events that are not what was chained.

    After a fault the chain is taken up again at the event's own hash, so that one change is said once.
    """
    before, place = "", 0
    for link in links:
        gap = link.seq != place + 1
        for seq in range(place + 1, link.seq):
            yield Breach(stream=link.stream, seq=seq, sort="missing")
        expected = hash_of(link, before)
        if expected is None:
            yield Breach(stream=link.stream, seq=link.seq, sort="unreadable")
        elif not gap and expected != link.hash:
            yield Breach(stream=link.stream, seq=link.seq, sort="changed")
        before, place = link.hash, link.seq


def by_stream(links: Iterable[Link]) -> Iterator[list[Link]]:
    """Yield the links of each stream, which come ordered."""
    for _, group in groupby(links, key=lambda link: link.stream):
        yield list(group)


def as_event(link: Link) -> Event | None:
    """Return *link* as an event; None where it is no event that this program knows."""
    try:
        return Event(
            stream=link.stream,
            seq=link.seq,
            kind=link.kind,
            version=link.version,
            at=moment(link.at),
            recorded_at=moment(link.recorded_at),
            actor=link.actor,
            via=link.via,
            payload=json.loads(link.payload),
            once=link.once,
            hash=link.hash,
        )
    except (ValueError, TypeError, LookupError, AssertionError, RecursionError):
        return None


def seal_of(heads: Sequence[Head]) -> Seal:
    """Return the seal over *heads*, whatever their order."""
    return Seal(
        streams=len(heads),
        events=sum(head.seq for head in heads),
        digest=canonical.digest(_plain(heads)),
    )


def written(heads: Sequence[Head]) -> str:
    """Write *heads* as canonical text, ordered by stream."""
    return canonical.dump(_plain(heads))


def read(text: str) -> tuple[Head, ...] | None:
    """Read what `written` wrote; None where it is anything else."""
    try:
        rows = json.loads(text)
        return tuple(Head(stream=str(stream), seq=int(seq), hash=str(digest)) for stream, seq, digest in rows)
    except (ValueError, TypeError, RecursionError):
        return None


def seal_in(payload: Mapping[str, object]) -> Seal | None:
    """Return the seal that an event holds; None where it holds none."""
    streams, events, digest = (payload.get(name) for name in ("streams", "events", "digest"))
    if isinstance(streams, int) and isinstance(events, int) and isinstance(digest, str):
        return Seal(streams=streams, events=events, digest=digest)
    return None


def _plain(heads: Sequence[Head]) -> list[list[object]]:
    return [[head.stream, head.seq, head.hash] for head in sorted(heads, key=lambda head: head.stream)]
