"""Which owner and unit a row of a list means, among those that the register and the rows before it hold."""

import json
from collections.abc import Iterator
from dataclasses import dataclass, field

from audiences import canonical
from audiences.addresses import letter
from audiences.codes import fold
from audiences.columns import from_toml
from audiences.owners import ContactPoint, ListedRow
from notices.cases.records import ContactRow, OwnerRow, Source, UnitRow
from notices.work.ports import Transaction
from notices.work.units import present

Key = tuple[str, ...]


@dataclass(kw_only=True, slots=True)
class Known:
    """Everything that a row may be about; grows while a list is read."""

    owners: dict[str, OwnerRow] = field(default_factory=dict)
    contacts: dict[str, dict[tuple[str, str], ContactRow]] = field(default_factory=dict)
    units: dict[str, UnitRow] = field(default_factory=dict)
    keepers: dict[str, str] = field(default_factory=dict)
    by_unit_key: dict[str, str] = field(default_factory=dict)
    by_code: dict[str, list[str]] = field(default_factory=dict)
    by_person: dict[Key, str] = field(default_factory=dict)

    def owner_for(self, row: ListedRow, source_id: str) -> str | None:
        """Return the owner whom a row names: same customer number, or same name with the same way to reach them."""
        return next(
            (self.by_person[key] for key in person_keys(row, source_id) if key in self.by_person), None
        )

    def unit_for(self, row: ListedRow, source_id: str, owner_id: str | None) -> str | None:
        """Return the unit a row is about: same number of the sale, or the same exact code for the same owner."""
        if row.sale and (found := self.by_unit_key.get(sale_key(source_id, row.sale))):
            return found
        if not row.code or owner_id is None:
            return None
        same_code = self.by_code.get(fold(row.code), [])
        return next((unit for unit in same_code if self.keepers.get(unit) == owner_id), None)

    def add_owner(self, owner: OwnerRow, keys: Iterator[Key]) -> None:
        """Remember an owner under every key that finds them."""
        self.owners[owner.owner_id] = owner
        for key in keys:
            self.by_person.setdefault(key, owner.owner_id)

    def add_contact(self, row: ContactRow) -> None:
        """Remember a way to an owner."""
        self.contacts.setdefault(row.owner_id, {})[row.channel, row.value_key] = row

    def add_unit(self, unit: UnitRow, keeper: str | None) -> None:
        """Remember a unit, its code and who keeps it."""
        self.units[unit.unit_id] = unit
        self.by_unit_key[unit.unit_key] = unit.unit_id
        if unit.code_key and unit.unit_id not in self.by_code.setdefault(unit.code_key, []):
            self.by_code[unit.code_key].append(unit.unit_id)
        if keeper:
            self.keepers[unit.unit_id] = keeper

    def free_key(self, wanted: str) -> str:
        """Return *wanted*, or with a count behind it where another unit has it."""
        key, count = wanted, 1
        while key in self.by_unit_key:
            count += 1
            key = f"{wanted}#{count}"
        return key


def known(tx: Transaction) -> Known:
    """Read what the register holds into one index."""
    found = Known()
    for rows in tx.people.contacts().values():
        for row in rows:
            found.add_contact(row)
    for owner in tx.people.owners().values():
        found.add_owner(owner, _keys_of(owner, found))
    for source in tx.lists.sources():
        _customers(tx, source, found)
    keepers = {one.unit_id: one.owner_id for one in present(tx.units.holdings()) if one.role == "keeper"}
    for unit in tx.units.units().values():
        found.add_unit(unit, keepers.get(unit.unit_id))
    return found


def _keys_of(owner: OwnerRow, found: Known) -> Iterator[Key]:
    for channel, value_key in found.contacts.get(owner.owner_id, {}):
        yield (fold(owner.name), channel, value_key)


def _customers(tx: Transaction, source: Source, found: Known) -> None:
    """Remember the customer numbers of a list as its rows bore them."""
    columns, _ = from_toml(source.mapping, source.file)
    headings = columns.by_meaning.get("customer", ()) if columns else ()
    for row in tx.lists.rows(source.source_id) if headings else ():
        number = " ".join(str(json.loads(row.raw).get(headings[0], "")).split())
        if number and row.owner_id:
            found.by_person.setdefault(("customer", source.source_id, number), row.owner_id)


def person_keys(row: ListedRow, source_id: str) -> Iterator[Key]:
    """Yield the keys that a row's owner is found by, the surest first."""
    if row.customer:
        yield ("customer", source_id, row.customer)
    for point in points(row):
        yield (fold(row.name), point.channel, point.value_key)


def points(row: ListedRow) -> Iterator[ContactPoint]:
    """Yield the ways to an owner that a row gives: e-mail, telephone, postal address."""
    if row.email:
        yield row.email
    if row.phone:
        yield row.phone
    if row.address:
        yield letter(row.address, row.country)


def sale_key(source_id: str, sale: str) -> str:
    """Return the unit's key by its list's own number of the sale."""
    return f"sale:{source_id}:{sale}"


def unit_key(row: ListedRow, source_id: str, owner_id: str) -> str:
    """Return the key of a unit: number of the sale, else code, else a digest of list, owner and day of sale."""
    if row.sale:
        return sale_key(source_id, row.sale)
    if row.code:
        return f"code:{fold(row.code)}"
    day = row.sold_on.isoformat() if row.sold_on else ""
    return f"row:{canonical.digest([source_id, owner_id, day])[:32]}"
