"""Hold the record against itself: its chain, its last seal, and every case against the events that made it."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, fields
from datetime import datetime

from audiences.findings import Finding, in_reading_order
from notices.cases import chain
from notices.cases.case import Case
from notices.cases.chain import Head, Link, Seal
from notices.cases.due import CaseRow
from notices.cases.events import CAMPAIGN, instant
from notices.cases.folding import fold
from notices.work import noted
from notices.work.ports import Transaction
from notices.work.recording import with_due
from notices.work.revisions import signed
from notices.work.sealing import HEADS

REGISTER = "register"
_UNIT = "unit:"
_AT_ONCE = 500
_SPOILT = (ValueError, LookupError, TypeError, AttributeError, AssertionError)
_MEND = (
    "keep this register as it is; notices restore --into DIR puts the last good backup beside it, to compare"
)
_REFOLD = "notices verify --refold writes every case anew from its events"


@dataclass(frozen=True, kw_only=True, slots=True)
class Verified:
    """What was looked at, the last seal (None: never sealed) with its moment, and what is missing or changed."""

    streams: int
    events: int
    cases: int
    seal: Seal | None
    sealed_at: datetime | None
    findings: tuple[Finding, ...]


def verify(tx: Transaction) -> Verified:
    """Recompute the chain of every stream, hold its end against the last seal, and refold every case."""
    check = _Check(tx.safe.note(HEADS))
    cases: list[Case] = []
    count = 0
    campaign: list[Link] = []
    for links in chain.by_stream(tx.events.links()):
        check.stream(links)
        if links[0].stream == CAMPAIGN:
            campaign = list(links)
        if links[0].stream.startswith(_UNIT):
            cases += check.fold(links)
            if len(cases) >= _AT_ONCE:
                count += len(cases)
                check.cases(tx, cases)
                cases = []
    check.cases(tx, cases)
    check.unknown_units(tx)
    check.notes(tx, campaign)
    return check.done(count + len(cases))


def chain_findings(links: Iterable[Link], heads: str | None) -> tuple[Finding, ...]:
    """Return what is missing or changed in the chain alone, *heads* being the note of the last seal."""
    check = _Check(heads)
    for stream in chain.by_stream(links):
        check.stream(stream)
    return check.done(0).findings


class _Check:
    """One walk over the record."""

    def __init__(self, heads: str | None) -> None:
        """Keep the ends at the last seal, as the note tells them."""
        self._noted = heads
        self._heads = {head.stream: head for head in (chain.read(heads) if heads else None) or ()}
        self._seen: set[str] = set()
        self._events = 0
        self._seal: Seal | None = None
        self._sealed_at: datetime | None = None
        self._findings: list[Finding] = []

    def stream(self, links: Sequence[Link]) -> None:
        """Look at one stream, whole."""
        name = links[0].stream
        self._seen.add(name)
        self._events += len(links)
        for breach in chain.breaches(links):
            self._findings.append(_breach(breach))
        head = self._heads.get(name)
        if head is not None:
            self._findings += _against(head, links)
        if name == CAMPAIGN:
            self._look_for_seal(links)

    def fold(self, links: Sequence[Link]) -> Iterator[Case]:
        """Yield the case that a unit's events make, none where one of them cannot be read."""
        unit_id = links[0].stream.removeprefix(_UNIT)
        events = [chain.as_event(link) for link in links]
        known = [event for event in events if event is not None]
        try:
            if len(known) == len(events):
                yield fold(unit_id, known)
                return
        except _SPOILT:
            pass
        self._findings.append(
            Finding(
                code="case-unfoldable",
                file=REGISTER,
                path=_called(links[0].stream),
                message="its events do not make a case that this program understands",
                mend=_MEND,
            )
        )

    def cases(self, tx: Transaction, cases: Sequence[Case]) -> None:
        """Hold the rows of these cases, and what is due for them, against the refold."""
        held = signed(tx) if cases else None
        stands = _rows(tx, [case.unit_id for case in cases])
        for wanted in with_due(tx, cases, held.campaign if held else None):
            differs = _differs(stands.get(wanted.case.unit_id), wanted)
            if differs:
                self._findings.append(_case(wanted.case.unit_id, differs))

    def unknown_units(self, tx: Transaction) -> None:
        """Name each unit that stands in the register and of which nothing is recorded."""
        rows = {f"{_UNIT}{unit_id}" for unit_id in tx.units.units()}
        for stream in sorted(rows - self._seen - self._heads.keys()):
            self._findings.append(_missing(stream, "the unit is there, and nothing of what happened to it"))

    def notes(self, tx: Transaction, links: Sequence[Link]) -> None:
        """Hold what is noted of markets and overrulings against the campaign's events."""
        events = [event for link in links if (event := chain.as_event(link)) is not None]
        self._findings += [
            Finding(
                code="note-differs",
                file=REGISTER,
                path=name,
                message="what is noted is not what the campaign's events make",
                mend=_REFOLD,
            )
            for name in noted.differing(tx, events)
        ]

    def done(self, cases: int) -> Verified:
        """Return the result, with the streams that were sealed and are gone."""
        for stream in sorted(self._heads.keys() - self._seen):
            count = self._heads[stream].seq
            self._findings.append(_missing(stream, f"nothing of it is left; events sealed: {count}"))
        self._findings += self._seal_broken()
        return Verified(
            streams=len(self._seen),
            events=self._events,
            cases=cases,
            seal=self._seal,
            sealed_at=self._sealed_at,
            findings=tuple(in_reading_order(self._findings)),
        )

    def _look_for_seal(self, links: Sequence[Link]) -> None:
        last = next((link for link in reversed(links) if link.kind == "sealed"), None)
        event = chain.as_event(last) if last else None
        if event is not None:
            self._seal = chain.seal_in(event.payload)
            self._sealed_at = event.at

    def _seal_broken(self) -> Iterator[Finding]:
        """Yield where the last seal and the noted ends do not belong together: one of them was taken away."""
        noted = chain.read(self._noted) if self._noted else None
        if (None if noted is None else chain.seal_of(noted)) != self._seal or (self._noted and noted is None):
            yield Finding(
                code="seal-broken",
                file=REGISTER,
                path="last seal",
                message="the last seal and the list of what was sealed do not belong together",
                mend=_MEND,
            )


def _called(stream: str) -> str:
    kind, _, name = stream.partition(":")
    return f"{kind} {name}" if name else kind


_SORTS = {
    "missing": "this event is missing",
    "changed": "this event is not what was recorded: its fingerprint does not fit",
    "unreadable": "this event cannot be read any more",
}


def _breach(breach: chain.Breach) -> Finding:
    return Finding(
        code="event-missing" if breach.sort == "missing" else "event-changed",
        file=REGISTER,
        path=f"{_called(breach.stream)}, event {breach.seq}",
        message=_SORTS[breach.sort],
        mend=_MEND,
    )


def _against(head: Head, links: Sequence[Link]) -> Iterator[Finding]:
    """Yield where a stream no longer holds the event that it ended with when it was sealed."""
    there = {link.seq: link.hash for link in links}
    if head.seq > links[-1].seq:
        for seq in range(links[-1].seq + 1, head.seq + 1):
            yield _breach(chain.Breach(stream=head.stream, seq=seq, sort="missing"))
    elif there.get(head.seq, head.hash) != head.hash:
        yield Finding(
            code="event-resealed",
            file=REGISTER,
            path=f"{_called(head.stream)}, event {head.seq}",
            message="this event was chained anew since it was sealed: it, or one before it, was changed",
            mend=_MEND,
        )


def _missing(stream: str, what: str) -> Finding:
    return Finding(code="stream-missing", file=REGISTER, path=_called(stream), message=what, mend=_MEND)


def _rows(tx: Transaction, unit_ids: Sequence[str]) -> dict[str, CaseRow]:
    """Return the rows that can be read."""
    try:
        return tx.cases.get(unit_ids)
    except _SPOILT:
        if len(unit_ids) == 1:
            return {}
        middle = len(unit_ids) // 2
        return {**_rows(tx, unit_ids[:middle]), **_rows(tx, unit_ids[middle:])}


def _differs(stands: CaseRow | None, wanted: CaseRow) -> str:
    """Return what of a row is not what the events make, empty where nothing is."""
    if stands is None:
        return "its row is missing or cannot be read"
    names = [
        one.name for one in fields(Case) if getattr(stands.case, one.name) != getattr(wanted.case, one.name)
    ]
    if stands.due != wanted.due:
        names.append("what is due")
    return f"its row differs from its events in: {', '.join(names).replace('_', ' ')}" if names else ""


def _case(unit_id: str, what: str) -> Finding:
    return Finding(
        code="case-differs",
        file=REGISTER,
        path=f"unit {unit_id}",
        message=what,
        mend=_REFOLD,
    )


def as_json(found: Verified) -> dict[str, object]:
    """Return what was looked at in the shape that other programs read, without the findings."""
    seal = found.seal
    sealed = None
    if seal is not None and found.sealed_at is not None:
        sealed = {
            "at": instant(found.sealed_at),
            "streams": seal.streams,
            "events": seal.events,
            "digest": seal.digest,
        }
    return {"streams": found.streams, "events": found.events, "cases": found.cases, "sealed": sealed}
