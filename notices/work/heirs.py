"""Who answers by an address that was forwarded to them: the nameless owner gets a name, and the unit its keeper."""

from collections.abc import Iterable, Sequence

from notices.cases.events import Event, NewEvent, owner_stream
from notices.cases.records import Holding, OwnerRow, UnitRow
from notices.work.answers import Desk, Proof
from notices.work.links import owner_of
from notices.work.ports import Transaction
from notices.work.units import AWAITED, SHOP, held_by

FORWARDED_BY = "forwarded by "
"""How the source of an owner begins for whom an address was made; the id of the shop or lessor follows."""

_KEEPER = "keeper"


def awaited(tx: Transaction, link: str | None) -> OwnerRow | None:
    """Return the nameless owner for whom the address was made, None for any other link."""
    owner_id = owner_of(tx, link) if link else None
    owner = tx.people.owners([owner_id]).get(owner_id) if owner_id else None
    return owner if owner is not None and owner.kind == AWAITED else None


def is_free(tx: Transaction, units: Sequence[UnitRow]) -> bool:
    """Say whether a code is of one unit that nobody is known to keep."""
    if len(units) != 1:
        return False
    row = tx.cases.get([units[0].unit_id]).get(units[0].unit_id)
    return row is not None and row.case.keeper_id is None and row.case.ending is None


def kept_by(tx: Transaction, link: str | None, units: Iterable[UnitRow]) -> Proof | None:
    """Return the proof of the one among *units* that the link's owner has, None where it is another's."""
    owner_id = owner_of(tx, link) if link else None
    mine = {unit.unit_id for unit in held_by(tx, owner_id)} if owner_id else set()
    found = [unit.unit_id for unit in units if unit.unit_id in mine]
    return Proof(unit_id=found[0], owner_id=owner_id) if found else None


def taken_over(at: Desk, unit: UnitRow, owner: OwnerRow) -> list[NewEvent]:
    """Return that *owner* keeps a unit which stood without a keeper, and has given its whole code."""
    return [
        *at.of_unit(unit.unit_id, "holder_added", owner=owner.owner_id, role=_KEEPER),
        *at.of_unit(unit.unit_id, "code_given", code_key=unit.code_key, near=False, signs=True),
    ]


def sold_by(at: Desk, unit_id: str, heir: OwnerRow | None) -> list[NewEvent]:
    """Return that the shop which forwarded the address sold the unit; nothing for a lessor's, or without one."""
    listed = next(iter(at.tx.events.stream(owner_stream(heir.owner_id))), None) if heir else None
    source = str(listed.payload.get("source", "")) if listed else ""
    by = source.removeprefix(FORWARDED_BY)
    owner = at.tx.people.owners([by]).get(by)
    if owner is None or owner.kind != SHOP:
        return []
    return at.of_unit(unit_id, "holder_added", owner=by, role=SHOP)


def holdings_of(events: Iterable[Event]) -> list[Holding]:
    """Return the parts in units that *events* tell of."""
    told = [
        (event, event.payload["keeper"], _KEEPER)
        if event.kind == "unit_listed"
        else (event, event.payload["owner"], event.payload["role"])
        for event in events
        if event.kind in {"unit_listed", "holder_added"}
    ]
    return [
        Holding(
            unit_id=event.stream.removeprefix("unit:"),
            owner_id=str(owner),
            role=str(role),
            from_seq=event.seq,
        )
        for event, owner, role in told
        if owner
    ]
