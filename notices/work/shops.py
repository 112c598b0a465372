"""The shops: who they are, and which units each of them sold."""

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from audiences import canonical
from audiences.findings import Finding
from audiences.headings import plain
from audiences.owners import ListedRow
from notices.cases import ids
from notices.cases.events import NewEvent, owner_stream, unit_stream
from notices.cases.records import Holding, OwnerRow, SourceRow
from notices.work.listed_owners import contact_rows, owner_row
from notices.work.lists import ListRead, Took
from notices.work.ports import Transaction, World
from notices.work.recording import record
from notices.work.revisions import signed
from notices.work.units import SHOP, present

SHOPS = "shops"
"""The note of which owners are shops."""


@dataclass(kw_only=True, slots=True)
class Shops:
    """The shops that the register knows, by the letters and digits of their names; grows while a list is read."""

    tx: Transaction
    world: World
    by_name: dict[str, OwnerRow]

    def find(self, name: str) -> OwnerRow | None:
        """Return the shop of this name."""
        return self.by_name.get(plain(name))

    def named(self, row: ListedRow, name: str, source: str) -> OwnerRow:
        """Return the shop of this name, made where there is none; only a row about itself says how it is reached."""
        before = self.find(name)
        owner_id = before.owner_id if before else ids.long_id(self.world.draw)
        if before is None:
            held = signed(self.tx)
            after = owner_row(row, owner_id, None, held.campaign.language if held else "en")
            after = replace(after, name=name, kind=SHOP)
            payload = {"source": source, "row": row.place.row}
            event = _event(self.world, owner_stream(owner_id), "owner_listed", **payload)
            record(self.tx, [event], now=event.at)
        elif row.name:
            after = replace(owner_row(row, owner_id, before, before.language), name=before.name, kind=SHOP)
        else:
            after = before
        if after != before:
            self.tx.people.put_owners([after])
            self.by_name[plain(name)] = after
        return after


def shops(tx: Transaction, world: World) -> Shops:
    """Return the shops that the register knows."""
    known = tx.people.owners(noted(tx, SHOPS)).values()
    found = {plain(owner.name): owner for owner in known if owner.erased_at is None}
    return Shops(tx=tx, world=world, by_name=found)


def noted(tx: Transaction, name: str) -> list[str]:
    """Return the ids of the owners that the register keeps a note of, so that nobody looks through all for them."""
    note = tx.safe.note(name)
    return list(json.loads(note)) if note else []


def note(tx: Transaction, name: str, owner_ids: Iterable[str]) -> None:
    """Add owners to a note."""
    before = noted(tx, name)
    known = sorted({*before, *owner_ids})
    if known != before:
        tx.safe.put_note(name, canonical.dump(known))


def _keep(found: Shops) -> None:
    note(found.tx, SHOPS, (owner.owner_id for owner in found.by_name.values()))


def take_shops(tx: Transaction, world: World, read: ListRead, rows: Sequence[ListedRow]) -> Took:
    """Write the shops of a list, each with the ways to reach it."""
    took = Took()
    if not rows:
        return took
    known = shops(tx, world)
    kept = []
    for row in rows:
        if not plain(row.name):
            took.counts["refused"] += 1
            took.findings.append(_without_name(row))
            continue
        took.counts["same" if known.find(row.name) else "new"] += 1
        owner = known.named(row, row.name, read.name)
        tx.people.put_contacts(contact_rows(row, owner.owner_id))
        raw = canonical.dump(dict(zip(read.table.headings, row.raw, strict=False)))
        kept.append(
            SourceRow(
                source_id=read.name, row_no=row.place.row, unit_id=None, owner_id=owner.owner_id, raw=raw
            )
        )
    tx.lists.put_rows(kept)
    _keep(known)
    return took


def take_sellers(tx: Transaction, world: World, source: str, rows: Sequence[ListedRow]) -> None:
    """Write which shop sold each unit of a list that says so, once for each unit and shop."""
    telling = {row.place.row: row for row in rows if row.shop and plain(row.shop)}
    known = shops(tx, world)
    units = {row.row_no: row.unit_id for row in tx.lists.rows(source) if row.row_no in telling}
    wanted = sorted({unit_id for unit_id in units.values() if unit_id})
    held = {
        (one.unit_id, one.owner_id) for one in present(tx.units.holdings(unit_ids=wanted)) if one.role == SHOP
    }
    events = []
    for number, unit_id in units.items():
        row = telling[number]
        seller = replace(row, name="", language=None, country=row.sold_in)
        owner = known.named(seller, row.shop or "", source)
        if unit_id and (unit_id, owner.owner_id) not in held:
            held.add((unit_id, owner.owner_id))
            events.append(
                _event(world, unit_stream(unit_id), "holder_added", owner=owner.owner_id, role=SHOP)
            )
    _keep(known)
    stored = record(tx, events, now=world.now())
    tx.units.put_holdings(
        Holding(
            unit_id=event.stream.removeprefix("unit:"),
            owner_id=str(event.payload["owner"]),
            role=SHOP,
            from_seq=event.seq,
        )
        for event in stored
    )


def _event(world: World, stream: str, kind: str, **payload: object) -> NewEvent:
    return NewEvent(stream=stream, kind=kind, at=world.now(), actor="program", via="list", payload=payload)


def _without_name(row: ListedRow) -> Finding:
    return Finding(
        code="shop-without-name",
        file=row.place.file,
        line=row.place.row,
        message="the row is left out: a shop without a name cannot be told from another",
        mend="write the shop's name, as the lists of sales have it",
    )
