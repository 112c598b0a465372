"""A list before and after its import, and what there is to say of its rows."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from audiences.columns import Columns
from audiences.findings import Finding, Severity
from audiences.owners import ListedRow
from audiences.tables import Table
from notices.cases.records import SourceRow


@dataclass(frozen=True, kw_only=True, slots=True)
class ListRead:
    """A list as it came, and how its columns are read; *columns* None where it cannot be taken in."""

    name: str
    file: str
    data: bytes
    columns: Columns | None
    table: Table
    findings: tuple[Finding, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Imported:
    """What an import did: rows that made a unit, changed one, said nothing new, or were refused; rows now missing."""

    new: int
    changed: int
    same: int
    refused: int
    missing: int
    findings: tuple[Finding, ...]


@dataclass(kw_only=True, slots=True)
class Took:
    """What came of rows that speak of another part than the keeper's: new, changed, same or refused, and why."""

    counts: Counter[str] = field(default_factory=Counter)
    findings: list[Finding] = field(default_factory=list)


def with_took(done: Imported, *others: Took) -> Imported:
    """Return what an import did, with the rows of other parts counted in."""
    counts = sum((each.counts for each in others), Counter[str]())
    return replace(
        done,
        new=done.new + counts["new"],
        changed=done.changed + counts["changed"],
        same=done.same + counts["same"],
        refused=done.refused + counts["refused"],
        findings=(*done.findings, *(finding for each in others for finding in each.findings)),
    )


def named_twice(row: ListedRow, first: int) -> Finding:
    """Say that a row names the unit of an earlier line again."""
    return Finding(
        code="row-repeats-unit",
        file=row.place.file,
        line=row.place.row,
        message=f"this row names the unit of line {first} again; it counts once",
        mend="nothing, if it is the same sale; else give the sale a number of its own",
        severity=Severity.CONSIDER,
    )


def code_of_another(row: ListedRow) -> Finding:
    """Say that another owner's unit bears the same code."""
    return Finding(
        code="row-code-of-another",
        file=row.place.file,
        line=row.place.row,
        message="another owner's unit bears the same code; both are kept, and one of them is misread",
        mend="ask both owners for a photo of the code",
        severity=Severity.CONSIDER,
    )


def rows_missing(file: str, count: int) -> Finding:
    """Say that units of an earlier version of the list are not in this one."""
    return Finding(
        code="list-lacks-rows",
        file=file,
        line=1,
        message=f"{count} units of the earlier version of this list are not in it; nothing is taken away",
        mend="find out why they are gone; their owners are still warned",
        severity=Severity.CONSIDER,
    )


def sales_shared(file: str, line: int, count: int) -> Finding:
    """Say that several rows have the number of a sale in common, with differing owners or codes."""
    return Finding(
        code="list-shares-sales",
        file=file,
        line=line,
        message=f"{count} rows share a number of a sale with another row, and differ in owner or code; all are kept",
        mend="nothing, if an order may hold several units; else give each sale a number of its own",
        severity=Severity.CONSIDER,
    )


def by_raw(rows: Iterable[SourceRow]) -> dict[str, list[tuple[str, str]]]:
    """Return the units and owners that the rows of an earlier import became, by what stood in them."""
    found: dict[str, list[tuple[str, str]]] = {}
    for row in rows:
        if row.unit_id and row.owner_id:
            found.setdefault(row.raw, []).append((row.unit_id, row.owner_id))
    return found
