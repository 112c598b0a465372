"""One unit's case, found by what a person has in hand: its reference, its code, a link or an address."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, tzinfo

from audiences import addresses
from audiences.codes import fold as fold_code
from notices.cases import ids
from notices.cases.case import Case
from notices.cases.due import CaseRow
from notices.cases.events import Event, instant, unit_stream
from notices.cases.folding import fold
from notices.cases.records import ContactRow, OwnerRow, Told, UnitRow
from notices.compose.filling import fill
from notices.work import links
from notices.work.counting import column_of, place_of
from notices.work.looking import end_of, time_zone
from notices.work.ports import Transaction, World
from notices.work.recording import with_due
from notices.work.revisions import signed
from notices.work.units import held_by, present

_LINK = 10


@dataclass(frozen=True, kw_only=True, slots=True)
class Part:
    """One owner's part in the unit, and the ways to reach them."""

    owner: OwnerRow
    role: str
    contacts: tuple[ContactRow, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class History:
    """One unit: the item, what is known of it, who holds it, what happened and what was told.

    *texts* holds the free texts that the events name, by their id; *words* each notice as its owner read it, by its
    posting, where it was asked for; *zone* is the issuer's.
    """

    unit: UnitRow
    row: CaseRow
    parts: tuple[Part, ...]
    events: tuple[Event, ...]
    told: tuple[Told, ...]
    texts: dict[str, str]
    words: dict[str, str]
    zone: tzinfo

    @property
    def refund_to(self) -> OwnerRow | None:
        """Return who paid, where that is another than who keeps the unit: the remedy goes to the one, money to them."""
        return next((part.owner for part in self.parts if part.role == "buyer"), None)


def seek(world: World, which: str, *, on: date | None = None, words: bool = False) -> tuple[History, ...]:
    """Return the units that *which* names, as `units_named` reads it; () where there is none.

    With *on*, events and case are as they were known at the end of that day.
    """
    with world.register.look() as tx:
        units = tx.units.units(units_named(tx, which))
        return tuple(_history(tx, unit, on, words=words) for _, unit in sorted(units.items()))


def units_named(tx: Transaction, which: str) -> list[str]:
    """Return the units that a reference, a code, a personal link, an e-mail address or a number names."""
    reference = ids.read_reference(which)
    if reference and tx.units.units([reference]):
        return [reference]
    by_code = [unit.unit_id for unit in tx.units.by_code(fold_code(which))]
    if by_code:
        return by_code
    signs = ids.read_link(which.rsplit("/", 1)[-1])
    owner_id = links.owner_of(tx, signs) if len(signs) == _LINK else None
    owners = [owner_id] if owner_id else owners_reached_at(tx, which)
    return sorted({unit.unit_id for owner in owners for unit in held_by(tx, owner)})


def owners_reached_at(tx: Transaction, which: str) -> list[str]:
    """Return the owners whom an e-mail address or a telephone number reaches."""
    points = (addresses.email(which), addresses.phone(which, None))
    found = [
        row for point in points if point.value_key for row in tx.people.find(point.channel, point.value_key)
    ]
    return sorted({row.owner_id for row in found})


def _history(tx: Transaction, unit: UnitRow, on: date | None, *, words: bool) -> History:
    held = signed(tx)
    campaign = held.campaign if held else None
    until = end_of(on, time_zone(campaign)) if on else None
    events = tx.events.stream(unit_stream(unit.unit_id), until=until)
    case = fold(unit.unit_id, events)
    told = tx.record.told([unit.unit_id])
    return History(
        unit=unit,
        row=with_due(tx, [case], campaign)[0],
        parts=_parts(tx, unit.unit_id),
        events=tuple(events),
        told=tuple(told),
        texts=_texts(tx, events),
        words=_words(tx, [one.posting_id for one in told]) if words else {},
        zone=time_zone(campaign),
    )


def _parts(tx: Transaction, unit_id: str) -> tuple[Part, ...]:
    holdings = present(tx.units.holdings(unit_ids=[unit_id]))
    owners = tx.people.owners([holding.owner_id for holding in holdings])
    contacts = tx.people.contacts(list(owners))
    return tuple(
        Part(
            owner=owners[holding.owner_id],
            role=holding.role,
            contacts=tuple(row for row in contacts.get(holding.owner_id, []) if row.channel != links.CHANNEL),
        )
        for holding in holdings
        if holding.owner_id in owners
    )


def _words(tx: Transaction, posting_ids: Sequence[str]) -> dict[str, str]:
    """Return what an owner was told, word for word: the signed variant filled with the owner's values."""
    postings = list(tx.outbox.postings(posting_ids=posting_ids)) if posting_ids else []
    variants = tx.variants.get(sorted({one.fingerprint for one in postings}))
    return {one.posting_id: fill(variants[one.fingerprint].content, one.fill).text for one in postings}


def _texts(tx: Transaction, events: Iterable[Event]) -> dict[str, str]:
    wanted = [
        str(event.payload[key]) for event in events for key in ("text", "why") if event.payload.get(key)
    ]
    return {text_id: row.body for text_id, row in tx.papers.texts(wanted).items()}


def history_as_json(history: History) -> dict[str, object]:
    """Return a unit's history in the shape that other programs read."""
    case, unit = history.row.case, history.unit
    return {
        "unit": unit.unit_id,
        "code": unit.code,
        "sold_on": unit.sold_on.isoformat() if unit.sold_on else None,
        "sold_in": unit.sold_in,
        **_standing(case),
        "due": _due(history.row),
        "holders": [_holder(part) for part in history.parts],
        "refund_to": history.refund_to.owner_id if history.refund_to else None,
        "events": [_event(event, history.texts) for event in history.events],
        "notices": [
            {
                "occasion": one.occasion,
                "kind": one.kind,
                "state": one.state.value,
                "posting": one.posting_id,
                "owner": one.owner_id,
                "at": instant(one.at) if one.at else None,
                **({"words": history.words[one.posting_id]} if one.posting_id in history.words else {}),
            }
            for one in history.told
        ],
    }


def _standing(case: Case) -> dict[str, object]:
    return {
        "verdict": case.verdict,
        "why": case.why,
        "judged_by": case.judged_by,
        "segment": case.segment.value,
        "stopped": case.stopped.value,
        "stage": column_of(case) if place_of(case) == "in_hands" else case.stage.key,
        "counts_as": place_of(case),
        "ending": case.ending,
    }


def _due(row: CaseRow) -> dict[str, str] | None:
    due = row.due
    if due is None:
        return None
    return {"step": due.step, "channel": due.channel, "on": due.on.isoformat(), "why": due.why}


def _holder(part: Part) -> dict[str, object]:
    return {
        "owner": part.owner.owner_id,
        "role": part.role,
        "name": part.owner.name,
        "language": part.owner.language,
        "country": part.owner.country,
        "contacts": [
            {"channel": row.channel, "value": row.value, "fault": row.fault} for row in part.contacts
        ],
    }


def _event(event: Event, texts: dict[str, str]) -> dict[str, object]:
    found: dict[str, object] = {
        "at": instant(event.at),
        "recorded_at": instant(event.recorded_at),
        "kind": event.kind,
        "actor": event.actor,
        "via": event.via,
        **dict(event.payload),
    }
    text, why = event.payload.get("text"), event.payload.get("why")
    if text:
        found["text"] = texts.get(str(text), "")
    return {**found, "why": texts[str(why)]} if str(why) in texts else found
