"""One sheet of a workbook (XLSX, XLSB, XLS, ODS) as rows of text, each cell knowing how it was stored.

The reader is native code, and a hostile sheet can end its process: callers of the program's own run it apart.
"""

import io
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from math import isfinite

from python_calamine import CalamineError, CalamineSheet, CalamineWorkbook, SheetTypeEnum, SheetVisibleEnum

from audiences.archives import MOST_CELLS, ArchiveFaultError, SheetMarks, looked_through

ZIP_MARK = b"PK"
OLE_MARK = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_ENCRYPTED = ("EncryptedPackage", "EncryptionInfo")  # streams of an encrypted workbook (MS-OFFCRYPTO, 2.3.4)
_MOST_DIGITS = 15  # that a spreadsheet keeps of a number (IEEE 754 binary64)

Cell = tuple[str, str]
Stored = int | float | str | bool | time | date | datetime | timedelta


@dataclass(frozen=True, kw_only=True, slots=True)
class SheetRow:
    """One row: its number, counted from 1, its cells as text, and how each was stored (t, n, d, x as in a table)."""

    number: int
    cells: tuple[str, ...]
    stored: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Sheet:
    """A sheet as it came, or the stable reason why there is none in *refused*.

    *others* are the sheets beside it that hold something; *merged* the merged ranges as (top, left, bottom, right),
    rows counted from 1 and columns from 0.
    """

    name: str = ""
    others: tuple[str, ...] = ()
    rows: tuple[SheetRow, ...] = ()
    merged: tuple[tuple[int, int, int, int], ...] = ()
    marks: SheetMarks = SheetMarks()  # noqa: RUF009 - a frozen value of our own
    refused: str = ""


def is_workbook(data: bytes) -> bool:
    """Tell whether *data* begins as a workbook does: a ZIP archive or an OLE file."""
    return data.startswith((ZIP_MARK + b"\x03\x04", ZIP_MARK + b"\x05\x06", OLE_MARK))


def read_sheet(data: bytes, wanted: str = "", *, most_cells: int = MOST_CELLS) -> Sheet:
    """Read the sheet called *wanted*, else the first that is visible and holds something.

    *most_cells* bounds what a sheet may span, empty cells too. The reasons in *refused* are ``too-large``, ``corrupt``,
    ``encrypted``, ``no-sheet`` and ``sheet-unknown``.
    """
    if data.startswith(OLE_MARK) and any(name.encode("utf-16-le") in data for name in _ENCRYPTED):
        return Sheet(refused="encrypted")
    try:
        marks = looked_through(data) if data.startswith(ZIP_MARK) else {}
        with CalamineWorkbook.from_filelike(io.BytesIO(data)) as workbook:
            return _chosen(workbook, wanted, marks, most_cells)
    except ArchiveFaultError as fault:
        return Sheet(refused=str(fault))
    except CalamineError:
        return Sheet(refused="corrupt")


def _chosen(
    workbook: CalamineWorkbook, wanted: str, marks: Mapping[str, SheetMarks], most_cells: int
) -> Sheet:
    names = tuple(each.name for each in workbook.sheets_metadata if each.typ is SheetTypeEnum.WorkSheet)
    visible = {each.name for each in workbook.sheets_metadata if each.visible is SheetVisibleEnum.Visible}
    if wanted and wanted not in names:
        return Sheet(others=names, refused="sheet-unknown")
    chosen: CalamineSheet | None = None
    filled = []
    for name in names:
        sheet = workbook.get_sheet_by_name(name)
        if sheet.height * sheet.width > most_cells:
            return Sheet(refused="too-large")
        if sheet.height and sheet.width:
            filled.append(name)
        if name == wanted or (not wanted and chosen is None and name in visible and name in filled):
            chosen = sheet
    if chosen is None or chosen.name not in filled:
        return Sheet(others=names, refused="no-sheet")
    others = tuple(name for name in filled if name != chosen.name)
    return _read(chosen, others, marks.get(chosen.name, SheetMarks()))


def _read(sheet: CalamineSheet, others: tuple[str, ...], marks: SheetMarks) -> Sheet:
    left = sheet.start[1] if sheet.start else 0
    rows = []
    for number, given in enumerate(sheet.iter_rows(), start=1):
        if any(value != "" for value in given):
            cells = [_cell(value) for value in given]
            text, stored = zip(*cells, strict=True)
            rows.append(SheetRow(number=number, cells=text, stored="".join(stored)))
    merged = tuple(
        (top + 1, first - left, bottom + 1, last - left)
        for (top, first), (bottom, last) in sheet.merged_cell_ranges or ()
    )
    return Sheet(name=sheet.name, others=others, rows=tuple(rows), merged=merged, marks=marks)


def _cell(value: Stored) -> Cell:
    if isinstance(value, str):
        return value, "t"
    if isinstance(value, bool):
        return ("true" if value else "false"), "t"
    if isinstance(value, int | float):
        return _number(value)
    if isinstance(value, datetime):
        midnight = value.time() == time.min
        return (value.date().isoformat() if midnight else value.isoformat(" ", "seconds")), "d"
    return (value.isoformat() if isinstance(value, date | time) else str(value)), "d"


def _number(value: float) -> Cell:
    """Return a number as it is typed: 123 and never 123.0; x where the spreadsheet has lost digits of it."""
    whole = int(value) if isfinite(value) else 0
    if whole != value:
        return repr(value), "n"
    return str(whole), "x" if abs(whole) >= 10**_MOST_DIGITS else "n"
