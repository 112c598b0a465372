"""Who holds what at present, and by which channels a holder can be reached."""

from collections.abc import Iterable, Mapping, Sequence

from notices.cases.records import ContactRow, Holding, UnitRow
from notices.work.ports import Transaction

# A telephone serves for a text message too.
_SERVES: Mapping[str, frozenset[str]] = {
    "email": frozenset({"email"}),
    "phone": frozenset({"phone", "text"}),
    "letter": frozenset({"letter"}),
}


def usable(contacts: Iterable[ContactRow]) -> frozenset[str]:
    """Return the channels (email, phone, text, letter) that these contacts serve without a fault."""
    served = [_SERVES[row.channel] for row in contacts if row.fault is None and row.channel in _SERVES]
    return frozenset().union(*served)


def present(holdings: Iterable[Holding]) -> list[Holding]:
    """Return the holdings that have not ended."""
    return [holding for holding in holdings if holding.to_seq is None]


def held_by(tx: Transaction, owner_id: str) -> list[UnitRow]:
    """Return the units in which the owner has a part at present, ordered by unit_id."""
    holdings = present(tx.units.holdings(owner_ids=[owner_id]))
    wanted = sorted({holding.unit_id for holding in holdings})
    units = tx.units.units(wanted)
    return [units[unit_id] for unit_id in wanted]


def holders_of(tx: Transaction, unit_ids: Sequence[str]) -> dict[str, list[str]]:
    """Return who has a part in each unit at present, ordered by owner_id."""
    found: dict[str, list[str]] = {unit_id: [] for unit_id in unit_ids}
    for holding in present(tx.units.holdings(unit_ids=unit_ids)):
        if holding.owner_id not in found[holding.unit_id]:
            found[holding.unit_id].append(holding.owner_id)
    return {unit_id: sorted(owners) for unit_id, owners in found.items()}
