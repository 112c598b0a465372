"""How an answer given on a page is written down: counted once, its words kept apart from its events."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from audiences import canonical
from notices.cases import ids
from notices.cases.case import Case, Stopped
from notices.cases.events import Event, NewEvent, owner_stream, unit_stream
from notices.cases.records import OwnerRow, TextRow, UnitRow
from notices.work.links import owner_of
from notices.work.ports import Transaction, World
from notices.work.recording import record
from notices.work.units import AWAITED, LESSOR, SHOP, held_by, holding

VIA = "page"
ACTOR = "owner"


@dataclass(frozen=True, kw_only=True, slots=True)
class Said:
    """One form as it was sent: *nonce* lets it count once; *language* is set where the reader chose it."""

    nonce: str
    language: str | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class Proof:
    """Who gave the signs of a unit: its present holder, or None for somebody who typed the code of another's."""

    unit_id: str
    owner_id: str | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class Standing:
    """A unit, what is known of it, and which kinds of event it has had."""

    unit: UnitRow
    case: Case
    kinds: frozenset[str] = frozenset()
    events: tuple[Event, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Visit:
    """The owner whom a personal link belongs to, and the units in which that owner has a part at present.

    *lets* counts the units of somebody who lets units and has none: those are answered for by who rides them.
    *waits* says that the market of each unit waits for an agreement, so that no remedy may be promised there yet.
    """

    owner: OwnerRow
    standings: tuple[Standing, ...]
    lets: int = 0
    waits: bool = False

    @property
    def trades(self) -> bool:
        """Say whether a shop or a lessor reads: their page is another than an owner's."""
        return self.owner.kind == SHOP or self.lets > 0

    @property
    def awaited(self) -> bool:
        """Say whether the reader was forwarded the link, and we know neither name nor unit yet."""
        return self.owner.kind == AWAITED and not self.standings

    def of(self, unit_id: str) -> Standing | None:
        """Return the standing of one of these units, None where it is not among them."""
        return next((each for each in self.standings if each.unit.unit_id == unit_id), None)


def visit_of(tx: Transaction, link: str) -> Visit | None:
    """Return who reads this link; None for an unknown, a retired and an erased owner's one alike.

    For each of these the register is asked the same questions, so that the time tells nobody which it is.
    """
    owner_id = owner_of(tx, link) or ""
    owner = tx.people.owners([owner_id]).get(owner_id)
    if owner is None or owner.erased_at is not None:
        return None
    held = holding(tx.units.holdings(owner_ids=[owner.owner_id]))
    if held and all(each.role == LESSOR for each in held):
        return Visit(owner=owner, standings=(), lets=len(held))
    return Visit(owner=owner, standings=standings_of(tx, held_by(tx, owner.owner_id)))


def standings_of(tx: Transaction, units: Iterable[UnitRow]) -> tuple[Standing, ...]:
    """Return what is known of these units, in their order."""
    listed = list(units)
    rows = tx.cases.get([unit.unit_id for unit in listed])
    found = []
    for unit in listed:
        events = tuple(tx.events.stream(unit_stream(unit.unit_id)))
        row = rows.get(unit.unit_id)
        case = row.case if row else Case(unit_id=unit.unit_id)
        kinds = frozenset(event.kind for event in events)
        found.append(Standing(unit=unit, case=case, kinds=kinds, events=events))
    return tuple(found)


def proved(tx: Transaction, proof: Proof) -> tuple[OwnerRow | None, Standing | None]:
    """Return the holder and the unit that a proof speaks of; no holder where that one holds it no longer."""
    units = tx.units.units([proof.unit_id])
    if proof.unit_id not in units:
        return None, None
    standing = standings_of(tx, [units[proof.unit_id]])[0]
    if proof.owner_id is None:
        return None, standing
    holds = any(unit.unit_id == proof.unit_id for unit in held_by(tx, proof.owner_id))
    owner = tx.people.owners([proof.owner_id]).get(proof.owner_id)
    return (owner if holds and owner and owner.erased_at is None else None), standing


@dataclass(frozen=True, kw_only=True, slots=True)
class Desk:
    """Where one form is written down, inside the caller's transaction."""

    tx: Transaction
    world: World
    said: Said
    now: datetime

    def of_unit(
        self,
        unit_id: str,
        kind: str,
        *,
        words: str = "",
        under: str = "text",
        owner_id: str | None = None,
        **payload: object,
    ) -> list[NewEvent]:
        """Return the event, none where this form has already said it.

        *words* become a text of their own, whose id stands in the event *under* that key.
        """
        once = self._once(unit_stream(unit_id), kind, {**payload, "words": words})
        if self.tx.events.has(once):
            return []
        if words:
            payload[under] = self._text(words, owner_id)
        return [self._event(unit_stream(unit_id), kind, payload, once)]

    def of_owner(self, owner_id: str, kind: str, **payload: object) -> list[NewEvent]:
        """Return an event of the owner's own stream, none where this form has already said it."""
        once = self._once(owner_stream(owner_id), kind, payload)
        return [] if self.tx.events.has(once) else [self._event(owner_stream(owner_id), kind, payload, once)]

    def of_owner_with(self, owner_id: str, kind: str, *, words: str, **payload: object) -> list[NewEvent]:
        """Return an event of the owner's own stream whose *words* are a text of their own; none where it was said."""
        once = self._once(owner_stream(owner_id), kind, {**payload, "words": words})
        if self.tx.events.has(once):
            return []
        kept = {**payload, "text": self._text(words, owner_id)}
        return [self._event(owner_stream(owner_id), kind, kept, once)]

    def write(self, *groups: Iterable[NewEvent]) -> list[Event]:
        """Record the events of all *groups* in order."""
        return record(self.tx, [event for group in groups for event in group], now=self.now)

    def heard(self, standing: Standing, *, pressed: bool) -> list[NewEvent]:
        """Return *stopped* as said by a person, where a button alone had said it before or just now."""
        if standing.case.stopped is Stopped.PRESSED or (
            pressed and standing.case.stopped is not Stopped.STOPPED
        ):
            return self.of_unit(standing.unit.unit_id, "stop_stated", stopped=True, signs=True)
        return []

    def _text(self, words: str, owner_id: str | None) -> str:
        """Keep free text where it can be erased, and return its id."""
        text_id = ids.long_id(self.world.draw)
        self.tx.papers.put_text(TextRow(text_id=text_id, owner_id=owner_id, body=words))
        return text_id

    def _once(self, stream: str, kind: str, content: dict[str, object]) -> str:
        """Key a form by its nonce and what it says: a reload counts once, a changed answer counts again."""
        return f"page/{canonical.digest([self.said.nonce, stream, kind, content])}"

    def _event(self, stream: str, kind: str, payload: dict[str, object], once: str) -> NewEvent:
        return NewEvent(
            stream=stream, kind=kind, at=self.now, actor=ACTOR, via=VIA, payload=payload, once=once
        )


def desk(tx: Transaction, world: World, said: Said) -> Desk:
    """Return the desk for one form, at the moment at which it is read."""
    return Desk(tx=tx, world=world, said=said, now=world.now())
