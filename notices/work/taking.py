"""One list on its way into the register: each row finds its owner and unit, or makes them."""

import hashlib
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from audiences import canonical
from audiences.codes import code_key
from audiences.columns import to_toml
from audiences.findings import Finding
from audiences.owners import ListedRow
from notices.cases import ids
from notices.cases.events import CAMPAIGN, NewEvent, owner_stream, unit_stream
from notices.cases.records import ContactRow, Holding, OwnerRow, Source, SourceRow, UnitRow
from notices.work import judging
from notices.work.known import Key, Known, known, person_keys, points, unit_key
from notices.work.listed_owners import owner_row
from notices.work.lists import (
    Imported,
    ListRead,
    by_raw,
    code_of_another,
    named_twice,
    rows_missing,
    sales_shared,
)
from notices.work.ports import Transaction, World
from notices.work.recording import record
from notices.work.revisions import Signed, signed

REPLACED = "replaced-by-a-newer-list"
_VIA = "list"
_ACTOR = "program"


@dataclass(kw_only=True, slots=True)
class Taking:
    """One list on its way into the register."""

    tx: Transaction
    world: World
    read: ListRead
    now: datetime
    known: Known
    held: Signed | None
    before: tuple[str, ...]
    listed_here: frozenset[str]
    owners: dict[str, OwnerRow]
    contacts: dict[tuple[str, str, str], ContactRow]
    units: dict[str, UnitRow]
    rows: dict[int, SourceRow]
    events: list[NewEvent]
    findings: list[Finding]
    seen: dict[str, int]
    sales: Counter[str]
    as_before: dict[str, list[tuple[str, str]]]
    sharing: list[int]
    counts: dict[str, int]

    @classmethod
    def begin(cls, tx: Transaction, world: World, read: ListRead, rows: Iterable[ListedRow]) -> "Taking":
        """Read what the register holds, and count which numbers of a sale several of the list's *rows* have."""
        held = signed(tx)
        listed = tx.lists.rows(read.name)
        before = tuple(dict.fromkeys(row.unit_id for row in listed if row.unit_id))
        held_now = known(tx)
        return cls(
            tx=tx,
            world=world,
            read=read,
            now=world.now(),
            known=held_now,
            held=held,
            before=before,
            listed_here=frozenset(held_now.keepers[unit] for unit in before if unit in held_now.keepers),
            owners={},
            contacts={},
            units={},
            rows={},
            events=[],
            findings=[],
            seen={},
            sales=Counter(row.sale for row in rows if row.sale),
            as_before=by_raw(listed),
            sharing=[],
            counts={"new": 0, "changed": 0, "same": 0},
        )

    def take(self, row: ListedRow) -> None:
        """Take one row in: its owner, its unit, and where they came from."""
        source = self.read.name
        raw = canonical.dump(dict(zip(self.read.table.headings, row.raw, strict=False)))
        keys = tuple(person_keys(row, source))
        unit_id, owner_id = self._named(row, raw, keys)
        if unit_id and unit_id in self.known.keepers:
            owner_id = self.known.keepers[unit_id]
        again = unit_id in self.seen if unit_id else False
        if again and unit_id:
            self.findings.append(named_twice(row, self.seen[unit_id]))
        new_unit = unit_id is None
        owner_id, changed = self._owner(row, owner_id, keys)
        unit_id, unit_changed = self._unit(row, unit_id, owner_id)
        self.seen.setdefault(unit_id, row.place.row)
        what = "new" if new_unit else "changed" if changed or unit_changed else "same"
        self.counts[what] += 1
        self.rows[row.place.row] = SourceRow(
            source_id=source, row_no=row.place.row, unit_id=unit_id, owner_id=owner_id, raw=raw
        )

    def _named(self, row: ListedRow, raw: str, keys: Sequence[Key]) -> tuple[str | None, str | None]:
        """Return the unit and the owner that a row names: those of the same row before, else those that fit."""
        if same := self.as_before.get(raw):
            return same.pop(0) if len(same) > 1 else same[0]
        owner_id = self.known.owner_for(keys)
        alone = row.sale is None or self.sales[row.sale] == 1
        unit_id = self.known.unit_for(row, self.read.name, owner_id, seen=self.seen, alone=alone)
        if unit_id is None and not alone:
            self.sharing.append(row.place.row)
        return unit_id, owner_id

    def _owner(self, row: ListedRow, owner_id: str | None, keys: Sequence[Key]) -> tuple[str, bool]:
        new = owner_id is None
        owner_id = owner_id or ids.long_id(self.world.draw)
        before = self.known.owners.get(owner_id)
        falls_back = self.held.campaign.language if self.held else "en"
        after = owner_row(row, owner_id, before, falls_back)
        if new:
            payload = {"source": self.read.name, "row": row.place.row}
            self._event(owner_stream(owner_id), "owner_listed", payload)
        if after != before:
            self.owners[owner_id] = after
        self.known.add_owner(after, keys)
        return owner_id, self._contacts(row, owner_id) or (not new and after != before)

    def _contacts(self, row: ListedRow, owner_id: str) -> bool:
        """Add the ways that a row gives; one that a newer version of the list no longer gives is set aside."""
        mine = self.known.contacts.setdefault(owner_id, {})
        changed = False
        for point in points(row):
            if not point.value_key:
                continue
            held = mine.get((point.channel, point.value_key))
            if held is not None and held.fault != REPLACED:
                continue
            for old in [one for key, one in mine.items() if key[0] == point.channel and one.fault is None]:
                # only what an earlier version of this list said may a newer one take back
                if owner_id in self.listed_here:
                    self._put_contact(replace(old, fault=REPLACED))
            self._put_contact(
                ContactRow(
                    owner_id=owner_id,
                    channel=point.channel,
                    value_key=point.value_key,
                    value=point.value,
                    fault=point.fault,
                )
            )
            payload = {"channel": point.channel, "value_key": canonical.digest(point.value_key)[:16]}
            self._event(owner_stream(owner_id), "contact_added", payload)
            changed = True
        return changed

    def _put_contact(self, row: ContactRow) -> None:
        self.contacts[row.owner_id, row.channel, row.value_key] = row
        self.known.add_contact(row)

    def _unit(self, row: ListedRow, unit_id: str | None, owner_id: str) -> tuple[str, bool]:
        before = self.known.units.get(unit_id) if unit_id else None
        if before is None:
            return self._new_unit(row, owner_id), True
        after = replace(
            before,
            code=row.code or before.code,
            code_key=code_key(row.code) if row.code else before.code_key,
            sold_on=row.sold_on or before.sold_on,
            sold_in=row.sold_in or before.sold_in,
        )
        if after == before:
            return before.unit_id, False
        self.units[after.unit_id] = after
        self.known.add_unit(after, None)
        if self.held and after.code_key != before.code_key:
            self._judge(after)
        elif self.held and after.sold_on != before.sold_on and self.held.judge.asks_day_of_sale:
            self._judge_again(self.held, after)
        return after.unit_id, True

    def _new_unit(self, row: ListedRow, owner_id: str) -> str:
        self._other_owners_code(row, owner_id)
        unit = UnitRow(
            unit_id=self._free_unit_id(),
            unit_key=self.known.free_key(unit_key(row, self.read.name, owner_id)),
            code=row.code,
            code_key=code_key(row.code) if row.code else None,
            sold_on=row.sold_on,
            sold_in=row.sold_in,
        )
        self.units[unit.unit_id] = unit
        self.known.add_unit(unit, owner_id)
        payload = {"keeper": owner_id, "source": self.read.name, "row": row.place.row}
        self._event(unit_stream(unit.unit_id), "unit_listed", payload)
        if self.held:
            self._judge(unit)
        return unit.unit_id

    def _free_unit_id(self) -> str:
        while (drawn := ids.unit_id(self.world.draw)) in self.known.units:
            pass
        return drawn

    def _other_owners_code(self, row: ListedRow, owner_id: str) -> None:
        taken = [
            unit
            for unit in self.known.by_code.get(code_key(row.code or ""), [])
            if row.code and self.known.keepers.get(unit) != owner_id
        ]
        if taken:
            self.findings.append(code_of_another(row))

    def _judge(self, unit: UnitRow) -> None:
        assert self.held is not None  # noqa: S101 - the callers have looked
        self.events.append(judging.verdict_event(self.held, unit, at=self.now, actor=_ACTOR, via=_VIA))

    def _judge_again(self, held: Signed, unit: UnitRow) -> None:
        """Judge a unit of which only the day of sale is another; its code may be known by its owner's word alone."""
        rows = self.tx.cases.get([unit.unit_id])
        pairs = [(unit, rows[unit.unit_id].case if unit.unit_id in rows else None)]
        self.events.extend(
            judging.as_event(held.campaign, unit, one.judgement, at=self.now, actor=_ACTOR, via=_VIA)
            for one in judging.changed(held.judge, pairs)
        )

    def _event(self, stream: str, kind: str, payload: Mapping[str, object]) -> None:
        self.events.append(
            NewEvent(stream=stream, kind=kind, at=self.now, actor=_ACTOR, via=_VIA, payload=payload)
        )

    def end(self, *, refused: int, found: tuple[Finding, ...]) -> Imported:
        """Write everything that changed, and say what did."""
        missing = [unit for unit in self.before if unit not in self.seen]
        if missing:
            self.findings.append(rows_missing(self.read.file, len(missing)))
        if len(self.sharing) > 1:
            self.findings.append(sales_shared(self.read.file, self.sharing[1], len(self.sharing)))
        self.tx.people.put_owners(self.owners.values())
        self.tx.people.put_contacts(self.contacts.values())
        self.tx.units.put(self.units.values())
        self._holdings()
        self._source(refused)
        record(self.tx, self.events, now=self.now)
        self.tx.lists.put_rows(self.rows.values())
        return Imported(
            new=self.counts["new"],
            changed=self.counts["changed"],
            same=self.counts["same"],
            refused=refused,
            missing=len(missing),
            findings=(*self.read.findings, *found, *self.findings),
        )

    def _holdings(self) -> None:
        new = [event for event in self.events if event.kind == "unit_listed"]
        self.tx.units.put_holdings(
            Holding(
                unit_id=event.stream.removeprefix("unit:"),
                owner_id=str(event.payload["keeper"]),
                role="keeper",
                from_seq=1,
            )
            for event in new
        )

    def _source(self, refused: int) -> None:
        read = self.read
        mapping = to_toml(read.columns) if read.columns else ""
        made = canonical.digest([hashlib.sha256(read.data).hexdigest(), mapping])
        self.tx.lists.put_source(
            Source(source_id=read.name, file=read.file, digest=made, mapping=mapping, imported_at=self.now)
        )
        self.events.append(
            NewEvent(
                stream=CAMPAIGN,
                kind="list_imported",
                at=self.now,
                actor=_ACTOR,
                via=_VIA,
                payload={"source": read.name, **self.counts, "refused": refused},
                once=f"list:{read.name}:{made}",
            )
        )
