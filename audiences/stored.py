"""What a spreadsheet does to codes, telephone numbers and postcodes that it keeps as numbers or days."""

import re
from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType

from audiences.findings import Finding, Severity
from audiences.tables import TableRow

TEXT, NUMBER, DAY, LOST = "t", "n", "d", "x"
"""How a cell was stored: as text, as a number, as a day or time, as a number that has lost digits."""

_AS_NUMBER: Mapping[str, str] = MappingProxyType(
    {"phone": "telephone numbers", "postcode": "postcodes", "code": "codes"}
)
_AS_DAY: Mapping[str, str] = MappingProxyType(
    {**_AS_NUMBER, "sale": "numbers of sales", "customer": "customer numbers"}
)

# What a spreadsheet shows of a long number and of a code that it took for a day, and so writes into a CSV file.
_POWER = re.compile(r"\d(?:[.,]\d+)?E\+\d{1,2}", re.IGNORECASE)
_MONTH = "jan|feb|m[aä]r|mrz|apr|ma[iy]|jun|jul|aug|sep|o[kc]t|nov|de[zc]"
_DAY = re.compile(
    rf"\d{{1,2}}[. -]{{1,2}}(?:{_MONTH})\w*\.?|(?:{_MONTH})\w*[. -]{{1,2}}\d{{2}}", re.IGNORECASE
)


class StoredCells:
    """Counts, column by column, the cells that were not stored as the text they are."""

    def __init__(self, file: str, what: Mapping[int, tuple[str, str]]) -> None:
        """Take what each column means (the postcode apart from the address) and its heading."""
        self._file = file
        self._what = what
        self._watched = [column for column, (meaning, _) in what.items() if meaning in _AS_DAY]
        self._seen: dict[tuple[str, int], tuple[int, int]] = {}

    def told_by(self, cells: Sequence[str]) -> str:
        """Return how a CSV row's cells were stored in the spreadsheet that wrote it, "" where none looks changed."""
        marks = {}
        for column in self._watched:
            text = cells[column].strip()
            if "+" in text and _POWER.fullmatch(text):
                marks[column] = LOST
            elif _DAY.fullmatch(text):
                marks[column] = DAY
        return "".join(marks.get(column, TEXT) for column in range(len(cells))) if marks else ""

    def lost(self, stored: str) -> list[int]:
        """Return the columns whose number has lost digits: they are read as not given."""
        return [column for column in self._what if stored[column : column + 1] == LOST]

    def numbers(self, meaning: str, row: TableRow) -> frozenset[str]:
        """Return the texts of a row's cells of this meaning that are stored as numbers."""
        return frozenset(
            row.cells[column]
            for column, (means, _) in self._what.items()
            if means == meaning and row.stored[column : column + 1] == NUMBER
        )

    def heading(self, column: int) -> str:
        """Return the heading of a column."""
        return self._what[column][1]

    def count(self, number: int, stored: str) -> None:
        """Remember what one row's cells were stored as."""
        for column, (meaning, _) in self._what.items():
            kind = stored[column : column + 1]
            if (kind == NUMBER and meaning in _AS_NUMBER) or (kind == DAY and meaning in _AS_DAY):
                first, count = self._seen.get((kind, column), (number, 0))
                self._seen[kind, column] = first, count + 1

    def findings(self) -> Iterator[Finding]:
        """Yield one finding for each column and way of storing, at the first such row."""
        for (kind, column), (first, count) in self._seen.items():
            meaning, heading = self._what[column]
            yield (_as_number if kind == NUMBER else _as_day)(
                self._file, first, heading, count, _AS_DAY[meaning]
            )


def digits_lost(file: str, line: int, heading: str) -> Finding:
    """Say that a number is longer than what a spreadsheet keeps."""
    return Finding(
        code="cell-digits-lost",
        file=file,
        line=line,
        path=heading,
        message="the spreadsheet keeps 15 digits of a number and has lost the rest; it is read as not given",
        mend="format the column as text, enter the number anew, and import again",
        source="IEEE 754",
    )


def _as_number(file: str, line: int, heading: str, count: int, what: str) -> Finding:
    return Finding(
        code="cell-stored-as-number",
        file=file,
        line=line,
        path=heading,
        message=f"{_how_many(count, what)} stored as numbers; a + or noughts at their beginning may be gone",
        mend="compare some with the source; format the column as text and export again",
        severity=Severity.CONSIDER,
    )


def _as_day(file: str, line: int, heading: str, count: int, what: str) -> Finding:
    return Finding(
        code="cell-stored-as-day",
        file=file,
        line=line,
        path=heading,
        message=f"{_how_many(count, what)} stored as days; the spreadsheet has most likely changed them",
        mend="format the column as text, enter them anew, and import again",
    )


def _how_many(count: int, what: str) -> str:
    return f"{what} in this row are" if count == 1 else f"{count} {what}, this one first, are"
