"""What there is to say of a workbook and of the sheet that is read of it."""

from collections.abc import Sequence

from audiences.archives import LARGEST_INFLATED
from audiences.findings import Finding, Severity

_MOST_NAMED = 10
_LONGEST_NAME = 60


def _names(names: Sequence[str]) -> str:
    told = ", ".join(f"“{name[:_LONGEST_NAME]}”" for name in names[:_MOST_NAMED])
    return told if len(names) <= _MOST_NAMED else f"{told} and {len(names) - _MOST_NAMED} more"


def workbook_too_large(file: str) -> Finding:
    """Say that the workbook would need more memory than any list does."""
    return Finding(
        code="workbook-too-large",
        file=file,
        message=(
            f"the spreadsheet holds more than {LARGEST_INFLATED >> 20} MiB once unpacked, or cells far away from"
            " the list, and is not read"
        ),
        mend="copy the list alone into a new spreadsheet, or save it as CSV in UTF-8",
    )


def workbook_encrypted(file: str) -> Finding:
    """Say that a password is wanted."""
    return Finding(
        code="workbook-encrypted",
        file=file,
        message="the spreadsheet is locked with a password",
        mend="open it and save it without a password; keep that copy where only you can read it",
    )


def workbook_broken(file: str) -> Finding:
    """Say that the workbook cannot be opened."""
    return Finding(
        code="workbook-broken",
        file=file,
        message="the spreadsheet is damaged, locked with a password, or is none",
        mend="open it in your spreadsheet program and save it again, or save it as CSV in UTF-8",
    )


def workbook_without_sheet(file: str) -> Finding:
    """Say that no sheet holds anything."""
    return Finding(
        code="workbook-without-sheet",
        file=file,
        message="no sheet that is visible holds anything",
        mend="name the sheet with --sheet NAME, or export the list again",
    )


def sheet_unknown(file: str, names: Sequence[str]) -> Finding:
    """Say that the sheet asked for is not there."""
    return Finding(
        code="sheet-unknown",
        file=file,
        message="the spreadsheet has no sheet of that name",
        mend=f"choose with --sheet NAME one of: {_names(names)}",
    )


def one_of_several(file: str, line: int, taken: str, others: Sequence[str]) -> Finding:
    """Say which sheet is read where several hold something."""
    return Finding(
        code="sheet-one-of-several",
        file=file,
        line=line,
        message=f"sheet {_names([taken])} is read; {_names(others)} is not",
        mend="to read another one as well: --sheet NAME, with a name of its own for the list, --as NAME",
        severity=Severity.CONSIDER,
    )


def rows_above(file: str, line: int, count: int) -> Finding:
    """Say that rows stand above the headings."""
    return Finding(
        code="sheet-rows-above",
        file=file,
        line=line,
        message=f"the headings are in this row; {count} above it {'is' if count == 1 else 'are'} not read",
        mend="nothing, if this is the row of the headings; else delete what stands above them",
        severity=Severity.CONSIDER,
    )


def rows_hidden(file: str, line: int, count: int) -> Finding:
    """Say that hidden rows are read like any other."""
    return Finding(
        code="sheet-rows-hidden",
        file=file,
        line=line,
        message=(
            "this row is hidden in the sheet; it is read like all others"
            if count == 1
            else f"{count} rows, this one first, are hidden in the sheet; they are read like all others"
        ),
        mend="nothing, if they are owners too; else delete them from the sheet",
        severity=Severity.CONSIDER,
    )


def cells_valueless(file: str, line: int, count: int) -> Finding:
    """Say that formulas without a value are read as empty."""
    return Finding(
        code="sheet-cells-valueless",
        file=file,
        line=line,
        message=(
            f"in {'this row' if count == 1 else f'{count} rows, this one first,'} a formula has an error or no value;"
            " its cell is read as empty"
        ),
        mend="open the list in your spreadsheet program, mend the formulas, save it, and import it again",
    )
