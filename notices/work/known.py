"""Which owner and unit a row of a list means, among those that the register and the rows before it hold."""

import json
from collections.abc import Container, Iterable, Iterator
from dataclasses import dataclass, field
from itertools import count, takewhile

from audiences import canonical
from audiences.addresses import letter
from audiences.codes import code_key
from audiences.columns import from_toml
from audiences.folding import fold_name
from audiences.owners import ContactPoint, ListedRow
from notices.cases.records import ContactRow, OwnerRow, Source, UnitRow
from notices.work.ports import Transaction
from notices.work.units import SHOP, present

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

    def owner_for(self, keys: Iterable[Key]) -> str | None:
        """Return the owner whom a row's keys name: same customer number, or same name with the same way to them."""
        return next((self.by_person[key] for key in keys if key in self.by_person), None)

    def unit_for(
        self, row: ListedRow, source_id: str, owner_id: str | None, *, seen: Container[str], alone: bool
    ) -> str | None:
        """Return the unit a row is about: same number of the sale, or the same exact code for the same owner.

        *alone*: no other row of the list has this number of a sale. Where others have it too, owner and code must
        fit as well: an order may hold two units, and two shops may count alike; none of them may be lost.
        """
        sold = self._sold_as(source_id, row.sale) if row.sale else []
        if alone and len(sold) == 1:
            return sold[0]
        if sold:
            fitting = [unit for unit in sold if self._fits(unit, row, owner_id)]
            exact = [unit for unit in fitting if self._has_code(unit, row.code)]
            if found := [*exact, *(unit for unit in fitting if unit not in seen), *fitting]:
                return found[0]
        if not row.code or owner_id is None:
            return None
        same_code = self.by_code.get(code_key(row.code), [])
        return next((unit for unit in same_code if self.keepers.get(unit) == owner_id), None)

    def _sold_as(self, source_id: str, sale: str) -> list[str]:
        wanted = sale_key(source_id, sale)
        keys = takewhile(self.by_unit_key.__contains__, _numbered(wanted))
        return [self.by_unit_key[key] for key in keys]

    def _has_code(self, unit: str, code: str | None) -> bool:
        return code is not None and self.units[unit].code_key == code_key(code)

    def _fits(self, unit: str, row: ListedRow, owner_id: str | None) -> bool:
        if owner_id is None or self.keepers.get(unit) != owner_id:
            return False
        held = self.units[unit].code_key
        return row.code is None or held is None or held == code_key(row.code)

    def add_owner(self, owner: OwnerRow, keys: Iterable[Key]) -> None:
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
        return next(key for key in _numbered(wanted) if key not in self.by_unit_key)


def _numbered(wanted: str) -> Iterator[str]:
    """Yield a key and, for more units of the same, the key with a count behind it."""
    yield wanted
    yield from (f"{wanted}#{number}" for number in count(2))


def known(tx: Transaction) -> Known:
    """Read what the register holds into one index."""
    found = Known()
    for rows in tx.people.contacts().values():
        for row in rows:
            found.add_contact(row)
    for owner in tx.people.owners().values():
        # a shop that is an owner of its own unit too stands twice: its page is another than an owner's
        found.add_owner(owner, () if owner.kind == SHOP else _keys_of(owner, found))
    for source in tx.lists.sources():
        _customers(tx, source, found)
    keepers = {one.unit_id: one.owner_id for one in present(tx.units.holdings()) if one.role == "keeper"}
    for unit in tx.units.units().values():
        found.add_unit(unit, keepers.get(unit.unit_id))
    return found


def _keys_of(owner: OwnerRow, found: Known) -> Iterator[Key]:
    name = fold_name(owner.name)
    for (channel, value_key), row in found.contacts.get(owner.owner_id, {}).items():
        if row.fault is None:
            yield (name, channel, value_key)


def _customers(tx: Transaction, source: Source, found: Known) -> None:
    """Remember the customer numbers of a list as its rows bore them."""
    columns, _ = from_toml(source.mapping, source.file)
    headings = columns.by_meaning.get("customer", ()) if columns else ()
    for row in tx.lists.rows(source.source_id) if headings else ():
        number = " ".join(str(json.loads(row.raw).get(headings[0], "")).split())
        if number and row.owner_id:
            found.by_person.setdefault(("customer", source.source_id, number), row.owner_id)


def person_keys(row: ListedRow, source_id: str) -> Iterator[Key]:
    """Yield the keys that a row's owner is found by, the surest first.

    What cannot be used finds nobody: two owners may both have "none" for an address, and neither may be lost.
    """
    if row.customer:
        yield ("customer", source_id, row.customer)
    name = fold_name(row.name)
    for point in points(row):
        if point.fault is None:
            yield (name, point.channel, point.value_key)


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
        return f"code:{code_key(row.code)}"
    day = row.sold_on.isoformat() if row.sold_on else ""
    return f"row:{canonical.digest([source_id, owner_id, day])[:32]}"
