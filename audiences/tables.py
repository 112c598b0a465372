"""A list as rows that know their place; a faulty row is a finding and never loses the good ones (RFC 4180)."""

import csv
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from audiences.byte_lines import LONGEST_LINE, ByteLines
from audiences.cleaning import one_line
from audiences.encodings import ENCODINGS, Encoding, as_utf_8, encoding_of
from audiences.findings import Finding
from audiences.forms import NO_FORM, SEPARATORS, Form
from audiences.list_faults import (
    encoding_guessed,
    list_empty,
    not_a_list,
    not_readable,
    row_broken,
    row_is_headings,
)

LONGEST_FIELD = 100_000  # signs
_MOST_LINES = 20  # of one quoted cell; a quote never closed must not swallow the list
_NO_LISTS = (b"<", b"{", b"[{", b"%pdf", b"from ")  # pages, documents and mails under a list's name


@dataclass(frozen=True, kw_only=True, slots=True)
class TableRow:
    """One row: *number* is the line it begins on, counted from 1.

    *stored* says how a spreadsheet held each cell, a sign a cell: t text, n number, d day or time, x a number with
    more digits than a spreadsheet keeps. It is empty where every cell is text.
    """

    number: int
    cells: tuple[str, ...]
    stored: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Table:
    """A list as it came: its headings, its good rows, and a finding for each bad one."""

    file: str
    headings: tuple[str, ...]
    rows: tuple[TableRow, ...]
    findings: tuple[Finding, ...]
    heading_line: int = 1
    form: Form = NO_FORM


def read_csv(data: bytes, file: str, *, remembered: Form = NO_FORM) -> Table:
    """Read CSV, parted by commas, semicolons or tabs, its first filled line the headings.

    The encoding is found as `encoding_of` says; *remembered* is how an earlier version of the list was written.
    """
    encoding = encoding_of(data, remembered.encoding)
    if encoding is None:
        return refused(not_readable(file))
    lines = ByteLines(as_utf_8(data, encoding))
    first = _filled(lines, 0)
    told = _told_separator(lines, first) if first is not None else None
    if first is not None and told:
        first = _filled(lines, first + 1)
    if first is None:
        return refused(list_empty(file))
    head = lines.line(first)[:LONGEST_LINE]
    if head.lstrip().lower().startswith(_NO_LISTS):
        return refused(not_a_list(file, first + 1))
    if b"\0" in head or not _is_utf_8(head):
        return refused(not_readable(file, first + 1))
    return _Reading(lines, file, encoding).table(first, told or remembered.separator)


def _filled(lines: ByteLines, start: int) -> int | None:
    """Return the first line from *start* on that holds more than separators."""
    return next(
        (
            index
            for index in range(start, len(lines))
            if lines.size(index) > LONGEST_LINE or lines.line(index).strip(b" \t,;")
        ),
        None,
    )


def _told_separator(lines: ByteLines, index: int) -> str:
    """Return the separator of a line ``sep=;``, which some office programs write first (common practice)."""
    told = re.fullmatch(rb'"?sep=([,;\t])"?', lines.line(index)[:10].lower())
    return next((name for name, sign in SEPARATORS if told and told[1] == sign.encode()), "")


def refused(finding: Finding, *others: Finding) -> Table:
    """Return a list of which nothing is read, and why."""
    return Table(file=finding.file, headings=(), rows=(), findings=(finding, *others))


def _is_utf_8(line: bytes) -> bool:
    try:
        line.decode()
    except UnicodeDecodeError:
        return False
    return True


def headings_of(named: Sequence[str], file: str, line: int) -> tuple[tuple[str, ...], list[Finding]]:
    """Return headings that differ: an empty one is its column's number, a second one carries its own."""
    headings: dict[str, None] = {}
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
        while heading in headings:
            heading = f"{heading} ({column})"
        headings[heading] = None
    return tuple(headings), findings


_OPEN = "a quote is opened and not closed"
_NUL = "it holds a NUL byte"
_LONG = f"a cell has more than {LONGEST_FIELD} signs"
_LONG_LINE = f"it has more than {LONGEST_LINE} bytes"
_QUOTES = "a quoted cell goes on behind its closing quote"


class _Reading:
    """One list on its way from lines to rows."""

    def __init__(self, lines: ByteLines, file: str, encoding: Encoding) -> None:
        self._lines = lines
        self._file = file
        self._encoding = encoding
        self._not_so = f"it holds bytes that are not {ENCODINGS[encoding.name]}"
        self._separator = ","
        self._width = 0

    def table(self, first: int, preferred: str) -> Table:
        """Return the whole list; *first* is the line of its headings, *preferred* the separator where it parts them."""
        separator, named, taken = self._head(first, preferred)
        if isinstance(named, str):
            return refused(_headings_broken(self._file, first + 1, named))
        self._separator = dict(SEPARATORS)[separator]
        headings, findings = headings_of(named, self._file, first + 1)
        if self._encoding.guessed:
            findings.append(encoding_guessed(self._file, first + 1, ENCODINGS[self._encoding.name]))
        self._width = len(headings)
        rows: list[TableRow] = []
        for item in self._rows(first + taken):
            if isinstance(item, Finding):
                findings.append(item)
            elif item.cells == tuple(named):
                findings.append(row_is_headings(self._file, item.number))
            else:
                rows.append(item)
        return Table(
            file=self._file,
            headings=headings,
            rows=tuple(rows),
            findings=tuple(findings),
            heading_line=first + 1,
            form=Form(encoding=self._encoding.name, separator=separator),
        )

    def _head(self, first: int, preferred: str) -> tuple[str, list[str] | str, int]:
        """Return the separator that parts the headings best, the headings or why there are none, and their lines."""
        found: dict[str, tuple[list[str] | str, int]] = {}
        for name, sign in SEPARATORS:
            self._separator = sign
            cells, taken = self._line(first), 1
            while cells == _OPEN and taken < min(_MOST_LINES, len(self._lines) - first):
                taken += 1
                joined = self._lines.joined(first, taken)
                cells = _LONG_LINE if joined is None else self._cells(joined)
            found[name] = (cells, taken)
        best = max(found, key=lambda name: 0 if isinstance(found[name][0], str) else len(found[name][0]))
        if preferred in found and not isinstance(found[preferred][0], str) and len(found[preferred][0]) > 1:
            best = preferred
        return best, *found[best]

    def _rows(self, index: int) -> Iterator[TableRow | Finding]:
        while index < len(self._lines):
            number, taken = index + 1, 1
            cells = self._line(index)
            if cells == _OPEN:
                cells, taken = self._several_lines(index)
            index += taken
            if isinstance(cells, str):
                yield row_broken(self._file, number, cells)
            elif len(cells) != self._width:
                if any(cells):
                    yield _bad_width(len(cells), self._width, self._file, number)
            elif any(cells):
                yield TableRow(number=number, cells=tuple(cells))

    def _line(self, index: int) -> list[str] | str:
        if self._lines.size(index) > LONGEST_LINE:
            return _LONG_LINE
        return self._cells(self._lines.line(index))

    def _cells(self, line: bytes) -> list[str] | str:
        """Return the cells of a line, or why it has none."""
        if b"\0" in line:
            return _NUL
        try:
            text = line.decode()
        except UnicodeDecodeError:
            return self._not_so
        return _split(text, self._separator)

    def _several_lines(self, index: int) -> tuple[list[str] | str, int]:
        """Return the cells of a row that goes over several lines and how many; one line alone where it cannot be."""
        for taken in range(2, min(_MOST_LINES, len(self._lines) - index) + 1):
            joined = self._lines.joined(index, taken)
            cells = _OPEN if joined is None else self._cells(joined)
            if cells != _OPEN:
                fits = not isinstance(cells, str) and len(cells) == self._width
                return (cells, taken) if fits else (_OPEN, 1)
        return _OPEN, 1


def _split(text: str, separator: str) -> list[str] | str:
    if '"' not in text:
        cells = text.split(separator)
    else:
        if len(text) > csv.field_size_limit():
            return _LONG
        try:
            cells = next(csv.reader([text], delimiter=separator, strict=True))
        except csv.Error as error:
            return _OPEN if "unexpected end" in str(error) else _QUOTES
    return _LONG if any(len(cell) > LONGEST_FIELD for cell in cells) else cells


def _headings_broken(file: str, line: int, why: str) -> Finding:
    return Finding(
        code="list-headings-broken",
        file=file,
        line=line,
        message=f"the headings cannot be parted: {why}",
        mend="put the headings into one line, with both quotes of each quoted one",
    )


def _bad_width(found: int, width: int, file: str, number: int) -> Finding:
    return Finding(
        code="row-cells",
        file=file,
        line=number,
        message=f"the row is left out: it has {found} cells, the headings {width}",
        mend="put quotes round a cell that holds the sign between cells",
    )
