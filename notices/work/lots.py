"""Withdraw a lot of parts: each unit that got one of them is a danger again, and its owner is told."""

from collections.abc import Sequence
from dataclasses import dataclass

from audiences.codes import fold
from notices.cases import ids
from notices.cases.case import PUT_AWAY, Case
from notices.cases.events import CAMPAIGN, NewEvent, unit_stream
from notices.cases.records import TextRow
from notices.work.ports import Transaction, World
from notices.work.recording import record
from notices.work.words import HearingError

# What has become of these, no parts of ours can hurt.
_GONE = frozenset({"listed_twice"}) | PUT_AWAY.keys()


@dataclass(frozen=True, kw_only=True, slots=True)
class Withdrawn:
    """What withdrawing a lot did: the units that got parts of it, and those of them whose case is open again."""

    lot: str
    told: tuple[str, ...]
    reopened: tuple[str, ...]


def withdraw_lot(world: World, lot: str, *, why: str, by: str) -> Withdrawn:
    """Record that the parts of *lot* must not be used, *why* and by whom, and open again what was closed with them.

    From then on a person must call each owner who got some, and each is owed a correction by mail. Doing it again
    reaches those who have got some since. Raises HearingError without a reason, or where nobody got the lot.
    """
    if not why.strip():
        raise HearingError("lot-withdrawn needs a reason: --text")
    with world.register.change() as tx:
        cases = [row.case for row in tx.cases.all()]
        name = _known(cases, lot)
        got = [case for case in cases if name in case.lots and case.ending not in _GONE]
        new = [case for case in got if case.lot_withdrawn != name]
        text_id = ids.long_id(world.draw)
        tx.papers.put_text(TextRow(text_id=text_id, owner_id=None, body=why))
        closed = [case for case in new if case.ending not in {None, "cleared"}]
        now = world.now()
        events = [
            NewEvent(stream=stream, kind=kind, at=now, actor=by, via="command", payload=payload)
            for stream, kind, payload in (
                (CAMPAIGN, "lot_withdrawn", {"lot": name, "why": text_id}),
                *(
                    (unit_stream(case.unit_id), "lot_withdrawn", {"lot": name, "why": text_id})
                    for case in new
                ),
                *((unit_stream(case.unit_id), "case_reopened", {"why": text_id}) for case in closed),
            )
        ]
        record(tx, events, now=now)
    return Withdrawn(
        lot=name,
        told=tuple(case.unit_id for case in new),
        reopened=tuple(case.unit_id for case in closed),
    )


def _known(cases: Sequence[Case], lot: str) -> str:
    """Return the lot as it was written down when its parts went out: ``k 3`` is K3."""
    known = sorted({name for case in cases for name in case.lots})
    if fold(lot) not in known:
        raise HearingError(
            f"no unit got parts of lot {lot.strip()}; lots known: {', '.join(known) or 'none'}"
        )
    return fold(lot)


def is_withdrawn(tx: Transaction, lot: str) -> bool:
    """Say whether a lot's parts must not be used; *lot* as it is written down."""
    return any(
        event.kind == "lot_withdrawn" and event.payload["lot"] == lot for event in tx.events.stream(CAMPAIGN)
    )
