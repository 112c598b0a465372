"""Who holds what at present, and by which channels a holder can be reached.

Who sold a unit has a part in it that is no holding of it: a shop is told by the note that stops all sales, never
what an owner is told.
"""

from collections.abc import Iterable, Mapping, Sequence
from collections.abc import Set as AbstractSet

from audiences.owners import Role
from notices.cases.records import ContactRow, Holding, UnitRow
from notices.work.persons import persons
from notices.work.ports import Transaction

SHOP: Role = "shop"
LESSOR: Role = "lessor"
AWAITED = "awaited"
"""The kind of an owner whose name nobody knows yet: an address was made for them, for a shop or lessor to forward."""

_HAVE_IT = frozenset({"keeper", "rider"})
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


def holding(holdings: Iterable[Holding]) -> list[Holding]:
    """Return the present holdings of those who have the unit, or answer for who has: all but the shops'."""
    return [each for each in present(holdings) if each.role != SHOP]


def held_by(tx: Transaction, owner_id: str) -> list[UnitRow]:
    """Return the units in which the owner has a part at present, ordered by unit_id.

    Those of other owners are among them who are the same person, as was decided.
    """
    person = persons(tx).of(owner_id)
    wanted = sorted({each.unit_id for each in holding(tx.units.holdings(owner_ids=person))})
    units = tx.units.units(wanted)
    return [units[unit_id] for unit_id in wanted]


def parts_of(tx: Transaction, unit_ids: Sequence[str]) -> dict[str, dict[str, set[str]]]:
    """Return who has a part in each unit at present, ordered by owner_id, and in which roles."""
    found: dict[str, dict[str, set[str]]] = {unit_id: {} for unit_id in unit_ids}
    for each in sorted(
        holding(tx.units.holdings(unit_ids=unit_ids)), key=lambda one: (one.unit_id, one.owner_id)
    ):
        found[each.unit_id].setdefault(each.owner_id, set()).add(each.role)
    return found


def has_it(roles: AbstractSet[str]) -> bool:
    """Say whether somebody with these parts in a unit has it: the remedy, and what is asked, goes to them."""
    return bool(roles & _HAVE_IT)
