"""Rows of a list that speak of another part in a unit than its keeper's: who paid, rides, lets, answers or helps.

The stop goes to all of them. Where nobody is known to keep the unit, who has any part but the lessor's is taken for
its keeper too, so that somebody is asked until the unit is accounted for; a lessor's word is none of a rider's.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from audiences import canonical
from audiences.codes import code_key
from audiences.findings import Finding, Severity
from audiences.owners import ListedRow, Role
from notices.cases import ids
from notices.cases.events import NewEvent, owner_stream, unit_stream
from notices.cases.records import Holding, OwnerRow, SourceRow, UnitRow
from notices.work import judging
from notices.work.known import Known, known, person_keys, sale_key, unit_key
from notices.work.listed_owners import contact_rows, owner_row
from notices.work.lists import ListRead, Took
from notices.work.ports import Transaction, World
from notices.work.recording import record
from notices.work.revisions import Signed, signed
from notices.work.shops import note
from notices.work.units import LESSOR, SHOP, present

LESSORS = "lessors"
"""The note of which owners let units to others."""

KEEPER: Role = "keeper"
RIDER: Role = "rider"


@dataclass(frozen=True, kw_only=True, slots=True)
class _Taking:
    """One list's rows on their way into the register."""

    tx: Transaction
    world: World
    read: ListRead
    known: Known
    revision: Signed | None
    held: set[tuple[str, str, str]]
    took: Took

    def event(self, stream: str, kind: str, payload: Mapping[str, object]) -> NewEvent:
        """Return an event that this list tells of."""
        return NewEvent(
            stream=stream, kind=kind, at=self.world.now(), actor="program", via="list", payload=payload
        )


def roles_of(rows: Iterable[ListedRow], role: Role) -> list[tuple[Role, ListedRow]]:
    """Return the rows that speak of another part than the keeper's; *role* is that of rows that do not say."""
    return [(row.role or role, row) for row in rows if (row.role or role) not in {KEEPER, SHOP}]


def take_holders(tx: Transaction, world: World, read: ListRead, rows: list[tuple[Role, ListedRow]]) -> Took:
    """Write each row's owner and part in a unit, found by its number of the sale in this list, else by its code."""
    took = Took()
    if not rows:
        return took
    held = signed(tx)
    taking = _Taking(
        tx=tx,
        world=world,
        read=read,
        known=known(tx),
        revision=held,
        held={(one.unit_id, one.owner_id, one.role) for one in present(tx.units.holdings())},
        took=took,
    )
    for role, row in rows:
        took.counts[_take(taking, role, row)] += 1
    note(tx, LESSORS, (owner_id for _, owner_id, role in taking.held if role == LESSOR))
    return took


def _take(taking: _Taking, role: Role, row: ListedRow) -> str:
    if not row.code and not row.sale:
        taking.took.findings.append(_without_unit(row, role))
        return "refused"
    unit_id, new_unit = _unit(taking, row)
    owner_id, changed = _owner(taking, row)
    parts = _parts(taking, unit_id, owner_id, role)
    _write(taking, unit_id, owner_id, parts)
    raw = canonical.dump(dict(zip(taking.read.table.headings, row.raw, strict=False)))
    taking.tx.lists.put_rows(
        [
            SourceRow(
                source_id=taking.read.name, row_no=row.place.row, unit_id=unit_id, owner_id=owner_id, raw=raw
            )
        ]
    )
    return "new" if new_unit else "changed" if parts or changed else "same"


def _unit(taking: _Taking, row: ListedRow) -> tuple[str, bool]:
    """Return the unit that a row speaks of, and whether it was not known before."""
    known = taking.known
    found = _known_unit(known, taking.read.name, row)
    if found:
        return found, False
    unit = UnitRow(
        unit_id=ids.unit_id(taking.world.draw),
        unit_key=known.free_key(unit_key(row, taking.read.name, "")),
        code=row.code,
        code_key=code_key(row.code) if row.code else None,
        sold_on=row.sold_on,
        sold_in=row.sold_in,
    )
    taking.tx.units.put([unit])
    known.add_unit(unit, None)
    payload = {"keeper": "", "source": taking.read.name, "row": row.place.row}
    events = [taking.event(unit_stream(unit.unit_id), "unit_listed", payload)]
    if taking.revision:
        now = taking.world.now()
        events.append(judging.verdict_event(taking.revision, unit, at=now, actor="program", via="list"))
    record(taking.tx, events, now=taking.world.now())
    return unit.unit_id, True


def _known_unit(known: Known, source: str, row: ListedRow) -> str | None:
    by_sale = known.by_unit_key.get(sale_key(source, row.sale)) if row.sale else None
    by_code = known.by_code.get(code_key(row.code), []) if row.code else []
    return by_sale or (by_code[0] if by_code else None)


def see(known: Known, seen: dict[str, int], source: str, rows: Iterable[tuple[Role, ListedRow]]) -> None:
    """Let *seen* grow by the units that these rows name, so that none of them counts as gone from the list."""
    for _, row in rows:
        found = _known_unit(known, source, row)
        if found:
            seen.setdefault(found, row.place.row)


def _owner(taking: _Taking, row: ListedRow) -> tuple[str, bool]:
    """Return the owner that a row names, and whether the register learned anything about them."""
    keys = tuple(person_keys(row, taking.read.name))
    owner_id = taking.known.owner_for(keys)
    events = []
    if owner_id is None:
        owner_id = ids.long_id(taking.world.draw)
        payload = {"source": taking.read.name, "row": row.place.row}
        events.append(taking.event(owner_stream(owner_id), "owner_listed", payload))
    before: OwnerRow | None = taking.known.owners.get(owner_id)
    after = owner_row(row, owner_id, before, taking.revision.campaign.language if taking.revision else "en")
    if after != before:
        taking.tx.people.put_owners([after])
    taking.known.add_owner(after, keys)
    mine = taking.known.contacts.get(owner_id, {})
    new = [one for one in contact_rows(row, owner_id) if (one.channel, one.value_key) not in mine]
    taking.tx.people.put_contacts(new)
    for one in new:
        taking.known.add_contact(one)
        payload = {"channel": one.channel, "value_key": canonical.digest(one.value_key)[:16]}
        events.append(taking.event(owner_stream(owner_id), "contact_added", payload))
    record(taking.tx, events, now=taking.world.now())
    return owner_id, after != before or bool(new)


def _parts(taking: _Taking, unit_id: str, owner_id: str, role: Role) -> list[str]:
    """Return the parts that are new: a rider where nobody keeps the unit is its keeper."""
    kept = unit_id in taking.known.keepers
    wanted: list[str] = [] if role == RIDER and not kept else [role]
    if not kept and role != LESSOR:
        wanted.append(KEEPER)
        taking.known.keepers[unit_id] = owner_id
    if role == RIDER and taking.known.keepers.get(unit_id) == owner_id:
        wanted = [one for one in wanted if one == KEEPER]
    return [one for one in wanted if (unit_id, owner_id, one) not in taking.held]


def _write(taking: _Taking, unit_id: str, owner_id: str, parts: Iterable[str]) -> None:
    events = [
        taking.event(unit_stream(unit_id), "holder_added", {"owner": owner_id, "role": role})
        for role in parts
    ]
    stored = record(taking.tx, events, now=taking.world.now())
    taking.tx.units.put_holdings(
        Holding(unit_id=unit_id, owner_id=owner_id, role=str(event.payload["role"]), from_seq=event.seq)
        for event in stored
    )
    taking.held.update((unit_id, owner_id, role) for role in parts)


def _without_unit(row: ListedRow, role: Role) -> Finding:
    return Finding(
        code="part-without-unit",
        file=row.place.file,
        line=row.place.row,
        message=f"the row is left out: it names a {role}, and neither code nor number of a sale says of which unit",
        mend="write the code of the unit, or the number of the sale as another row of this list has it",
        severity=Severity.MUST_MEND,
    )
