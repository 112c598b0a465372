"""Units that were never sold or not delivered: put away, to be held back until they are reworked or destroyed.

Nobody is owed a notice for them. One that a list of sales names after all was not held back: it is said at once, and
the unit counts as its new owner's.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from audiences import canonical
from audiences.codes import code_key
from audiences.findings import Finding
from audiences.owners import ListedRow
from notices.cases import ids
from notices.cases.case import Whereabouts
from notices.cases.events import NewEvent, unit_stream
from notices.cases.records import SourceRow, UnitRow
from notices.work import judging
from notices.work.known import Known, sale_key, unit_key
from notices.work.lists import ListRead, Took
from notices.work.ports import Transaction, World
from notices.work.recording import record
from notices.work.revisions import Signed, signed

IN_STOCK = "in_stock"
_NOTE = "stock"


@dataclass(frozen=True, kw_only=True, slots=True)
class _Taking:
    """One list of stock on its way into the register; *seen* are the units that a row has named already."""

    tx: Transaction
    world: World
    read: ListRead
    known: Known
    revision: Signed | None
    as_before: dict[str, list[str]]
    seen: dict[str, int]
    took: Took

    def event(self, unit_id: str, kind: str, **payload: object) -> NewEvent:
        """Return an event that this list tells of."""
        return NewEvent(
            stream=unit_stream(unit_id),
            kind=kind,
            at=self.world.now(),
            actor="program",
            via="list",
            payload=payload,
        )


def take_stock(
    tx: Transaction,
    world: World,
    read: ListRead,
    rows: Sequence[ListedRow],
    known: Known,
    seen: dict[str, int],
) -> Took:
    """Put the units of a list away; *seen* grows by the units that it names.

    A unit that somebody is known to have is not put away by a list: that takes a person's word.
    """
    before: dict[str, list[str]] = {}
    for row in tx.lists.rows(read.name):
        if row.unit_id:
            before.setdefault(row.raw, []).append(row.unit_id)
    taking = _Taking(
        tx=tx,
        world=world,
        read=read,
        known=known,
        revision=signed(tx),
        as_before=before,
        seen=seen,
        took=Took(),
    )
    for each in rows:
        taking.took.counts[_take(taking, each)] += 1
    if rows:
        tx.safe.put_note(_NOTE, "1")
    return taking.took


def _take(taking: _Taking, row: ListedRow) -> str:
    raw = canonical.dump(dict(zip(taking.read.table.headings, row.raw, strict=False)))
    unit_id, new = _unit(taking, row, raw)
    if unit_id in taking.known.keepers:
        taking.took.findings.append(_has_keeper(row))
        return "refused"
    taking.seen.setdefault(unit_id, row.place.row)
    taking.tx.lists.put_rows(
        [SourceRow(source_id=taking.read.name, row_no=row.place.row, unit_id=unit_id, owner_id=None, raw=raw)]
    )
    found = taking.tx.cases.get([unit_id]).get(unit_id)
    if found is not None and found.case.ending is not None:
        return "same"
    event = taking.event(unit_id, "case_closed", ending=IN_STOCK, evidence="")
    record(taking.tx, [event], now=event.at)
    return "new" if new else "changed"


def _unit(taking: _Taking, row: ListedRow, raw: str) -> tuple[str, bool]:
    """Return the unit of a row, that of the same row before or of its number or code, else a new one."""
    known = taking.known
    same = [unit_id for unit_id in taking.as_before.get(raw, []) if unit_id not in taking.seen]
    by_sale = known.by_unit_key.get(sale_key(taking.read.name, row.sale)) if row.sale else None
    by_code = known.by_code.get(code_key(row.code), []) if row.code else []
    if found := (same or ([by_sale] if by_sale else by_code)):
        return found[0], False
    unit = UnitRow(
        unit_id=ids.unit_id(taking.world.draw),
        unit_key=known.free_key(unit_key(row, taking.read.name, "")),
        code=row.code,
        code_key=code_key(row.code) if row.code else None,
        sold_on=None,
        sold_in=row.sold_in,
    )
    taking.tx.units.put([unit])
    known.add_unit(unit, None)
    listed = {"keeper": "", "source": taking.read.name, "row": row.place.row}
    events = [taking.event(unit.unit_id, "unit_listed", **listed)]
    if taking.revision:
        now = taking.world.now()
        events.append(judging.verdict_event(taking.revision, unit, at=now, actor="program", via="list"))
    record(taking.tx, events, now=taking.world.now())
    return unit.unit_id, True


def sold_after_all(tx: Transaction, world: World, file: str, sold: Iterable[tuple[str, int]]) -> Took:
    """Say which units of a list of sales, given with their rows, were to be held back; each counts as sold once."""
    took = Took()
    if tx.safe.note(_NOTE) is None:
        return took
    units = tx.units.units()
    held = {
        units[row.case.unit_id].code_key: row.case.unit_id
        for row in tx.cases.all()
        if row.case.ending == IN_STOCK and units[row.case.unit_id].code_key
    }
    events = []
    for unit_id, line in sold:
        twin = held.pop(units[unit_id].code_key, None)
        if twin is not None and twin != unit_id:
            took.findings.append(_was_sold(file, line))
            events.append(
                NewEvent(
                    stream=unit_stream(twin),
                    kind="case_closed",
                    at=world.now(),
                    actor="program",
                    via="list",
                    payload={"ending": "listed_twice", "evidence": ""},
                )
            )
    record(tx, events, now=world.now())
    return took


def is_held(whereabouts: Whereabouts, ending: str | None) -> bool:
    """Say whether a unit lies in stock, to be held back or reworked."""
    return whereabouts is Whereabouts.STOCK and ending == IN_STOCK


def _has_keeper(row: ListedRow) -> Finding:
    return Finding(
        code="stock-has-keeper",
        file=row.place.file,
        line=row.place.row,
        message="the row is left out: another list says who has this unit, and it is not put away by a list",
        mend="if it came back: notices record ID closed in_stock --text WHY --by NAME; else correct the list",
    )


def _was_sold(file: str, line: int) -> Finding:
    return Finding(
        code="stock-was-sold",
        file=file,
        line=line,
        message="this unit was to be held back, and has been sold or delivered; it counts as its owner's now",
        mend="find out who let it go, and stop that place today; its owner is warned like any other",
    )
