"""CSV into rows that know their line (RFC 4180); a faulty row is a finding and never loses the good ones."""

import codecs
import csv
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from audiences.cleaning import one_line
from audiences.findings import Finding

LONGEST_FIELD = 100_000  # signs
_MOST_LINES = 20  # of one quoted cell; a quote never closed must not swallow the list
_DELIMITERS = (",", ";", "\t")  # office programs of some countries write the second
_WIDE_MARKS = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)  # those of UTF-32 begin alike or hold NUL
_SAVE_AS = "save the list again as CSV in UTF-8"


@dataclass(frozen=True, kw_only=True, slots=True)
class TableRow:
    """One row: *number* is the line it begins on, counted from 1."""

    number: int
    cells: tuple[str, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Table:
    """A list as it came: its headings, its good rows, and a finding for each bad one."""

    file: str
    headings: tuple[str, ...]
    rows: tuple[TableRow, ...]
    findings: tuple[Finding, ...]
    heading_line: int = 1


def read_csv(data: bytes, file: str) -> Table:
    """Read UTF-8 CSV, parted by commas, semicolons or tabs, its first line the headings."""
    body = data.removeprefix(codecs.BOM_UTF8)
    if data.startswith(_WIDE_MARKS):
        return _refused(_not_utf_8(file))
    raw = body.splitlines()
    first = next((index for index, line in enumerate(raw) if line.strip(b" \t,;")), None)
    if first is None:
        return _refused(
            Finding(
                code="list-empty",
                file=file,
                message="the list has no headings",
                mend="put them in the first line",
            )
        )
    if b"\0" in raw[first] or not _is_utf_8(raw[first]):
        return _refused(_not_utf_8(file, line=first + 1))
    text = raw[first].decode()
    delimiter = max(_DELIMITERS, key=lambda sign: len(_parted(text, sign)))
    named = _split(text, delimiter)
    if isinstance(named, str):
        return _refused(
            Finding(
                code="list-headings-broken",
                file=file,
                line=first + 1,
                message=f"the headings cannot be parted: {named}",
                mend="put the headings into one line, with both quotes of each quoted one",
            )
        )
    headings, findings = _headings(named, file, first + 1)
    rows: list[TableRow] = []
    for item in _rows(raw, first + 1, delimiter, len(headings), file):
        if isinstance(item, Finding):
            findings.append(item)
        else:
            rows.append(item)
    return Table(
        file=file, headings=headings, rows=tuple(rows), findings=tuple(findings), heading_line=first + 1
    )


def _parted(headings: str, delimiter: str) -> Sequence[str]:
    cells = _split(headings, delimiter)
    return () if isinstance(cells, str) else cells


def _refused(finding: Finding) -> Table:
    return Table(file=finding.file, headings=(), rows=(), findings=(finding,))


def _not_utf_8(file: str, line: int | None = None) -> Finding:
    return Finding(
        code="list-not-utf-8", file=file, line=line, message="the list is not written in UTF-8", mend=_SAVE_AS
    )


def _is_utf_8(line: bytes) -> bool:
    try:
        line.decode()
    except UnicodeDecodeError:
        return False
    return True


def _headings(named: Sequence[str], file: str, line: int) -> tuple[tuple[str, ...], list[Finding]]:
    """Return headings that differ: an empty one is its column's number, a second one carries its own."""
    headings: list[str] = []
    findings: list[Finding] = []
    for column, text in enumerate(named, start=1):
        heading = one_line(text) or f"({column})"
        if heading in headings:
            findings.append(
                Finding(
                    code="heading-twice",
                    file=file,
                    line=line,
                    path=heading,
                    message=f"column {column} has the heading of an earlier column",
                    mend="give each column a heading of its own",
                )
            )
            heading = f"{heading} ({column})"
        headings.append(heading)
    return tuple(headings), findings


def _rows(
    raw: Sequence[bytes], start: int, delimiter: str, width: int, file: str
) -> Iterator[TableRow | Finding]:
    index = start
    while index < len(raw):
        number, taken = index + 1, 1
        cells = _cells(raw[index], delimiter)
        if cells == _OPEN:
            cells, taken = _several_lines(raw, index, delimiter, width)
        index += taken
        if isinstance(cells, str):
            yield _bad_row(cells, file, number)
        elif len(cells) != width:
            if any(cells):
                yield _bad_width(len(cells), width, file, number)
        elif any(cells):
            yield TableRow(number=number, cells=tuple(cells))


_OPEN = "a quote is opened and not closed"
_NUL = "it holds a NUL byte"
_BYTES = "it holds bytes that are not UTF-8"
_LONG = f"a cell has more than {LONGEST_FIELD} signs"
_QUOTES = "a quoted cell goes on behind its closing quote"


def _cells(line: bytes, delimiter: str) -> list[str] | str:
    """Return the cells of a line, or why it has none."""
    if b"\0" in line:
        return _NUL
    try:
        text = line.decode()
    except UnicodeDecodeError:
        return _BYTES
    return _split(text, delimiter)


def _split(text: str, delimiter: str) -> list[str] | str:
    if '"' not in text:
        cells = text.split(delimiter)
    else:
        if len(text) > csv.field_size_limit():
            return _LONG
        try:
            cells = next(csv.reader([text], delimiter=delimiter, strict=True))
        except csv.Error as error:
            return _OPEN if "unexpected end" in str(error) else _QUOTES
    return _LONG if any(len(cell) > LONGEST_FIELD for cell in cells) else cells


def _several_lines(
    raw: Sequence[bytes], index: int, delimiter: str, width: int
) -> tuple[list[str] | str, int]:
    """Return the cells of a row that goes over several lines and how many; one line alone where it cannot be."""
    for taken in range(2, min(_MOST_LINES, len(raw) - index) + 1):
        cells = _cells(b"\n".join(raw[index : index + taken]), delimiter)
        if cells != _OPEN:
            return (cells, taken) if not isinstance(cells, str) and len(cells) == width else (_OPEN, 1)
    return _OPEN, 1


def _bad_row(why: str, file: str, number: int) -> Finding:
    return Finding(
        code="row-broken",
        file=file,
        line=number,
        message=f"the row is left out: {why}",
        mend=f"mend the row, or {_SAVE_AS}",
    )


def _bad_width(found: int, width: int, file: str, number: int) -> Finding:
    return Finding(
        code="row-cells",
        file=file,
        line=number,
        message=f"the row is left out: it has {found} cells, the headings {width}",
        mend="put quotes round a cell that holds the sign between cells",
    )
