"""Seal the record: how many streams and events there are, and the digest of all their ends, so that a gap shows."""

from notices.cases import chain
from notices.cases.chain import Head, Seal
from notices.cases.events import CAMPAIGN, NewEvent
from notices.work.ports import Transaction, World
from notices.work.recording import record

# The ends of the streams at the last seal; the event holds their digest, so that they cannot be changed unseen.
HEADS = "sealed_heads"


def seal(world: World, *, by: str) -> Seal:
    """Append a seal over everything recorded by now, and return it."""
    with world.register.look() as tx:
        heads = heads_of(tx)
    made = chain.seal_of(heads)
    now = world.now()
    event = NewEvent(
        stream=CAMPAIGN,
        kind="sealed",
        at=now,
        actor=by,
        via="command",
        payload={"streams": made.streams, "events": made.events, "digest": made.digest},
    )
    with world.register.change() as tx:
        record(tx, [event], now=now)
        tx.safe.put_note(HEADS, chain.written(heads))
    return made


def heads_of(tx: Transaction) -> list[Head]:
    """Return the end of every stream."""
    return [
        Head(stream=links[-1].stream, seq=links[-1].seq, hash=links[-1].hash)
        for links in chain.by_stream(tx.events.links())
    ]
