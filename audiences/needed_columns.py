"""Which columns a list of owners must have to be of use, and what is lost without each."""

from collections.abc import Iterator

from audiences.columns import Columns
from audiences.findings import Finding, Severity, must_mend
from audiences.list_faults import list_without_rows
from audiences.tables import Table

_REACH = ("email", "phone", "address")


def is_read(columns: Columns, table: Table) -> bool:
    """Tell whether any column of the table is read at all."""
    return any(heading in table.headings for headings in columns.by_meaning.values() for heading in headings)


def lacking(columns: Columns, table: Table) -> Iterator[Finding]:
    """Yield a finding for each column whose lack leaves owners unwarned or units untold, and for a lack of rows."""
    there = {
        meaning
        for meaning, headings in columns.by_meaning.items()
        if any(heading in table.headings for heading in headings)
    }
    if not table.rows and not must_mend(table.findings):
        yield list_without_rows(table.file, table.heading_line)
    if not there:
        yield _needed(table, "", "no heading says what its column holds, so nothing is read")
        return
    if not there.intersection(_REACH):
        yield _needed(
            table, "email", "no column holds an e-mail address, a telephone number or a postal address"
        )
    if "code" not in there:
        yield _wanted(table, "code", "no column holds the code of a unit, so each owner is asked for it")
    if "name" not in there:
        yield _wanted(table, "name", "no column holds a name, so notices greet nobody by it")


def _needed(table: Table, meaning: str, message: str) -> Finding:
    return Finding(
        code="column-needed",
        file=table.file,
        line=table.heading_line,
        path=meaning,
        message=message,
        mend=f"give the column a plain heading, such as {meaning or 'code, name, email'}, and import again",
    )


def _wanted(table: Table, meaning: str, message: str) -> Finding:
    return Finding(
        code="column-wanted",
        file=table.file,
        line=table.heading_line,
        path=meaning,
        message=message,
        mend=f"if there is such a column, give it a plain heading, such as {meaning}, and import again",
        severity=Severity.CONSIDER,
    )
