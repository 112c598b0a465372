"""A table as a workbook whose every text is stored as text, so that nothing in it runs."""

import io
from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import Any

from xlsxwriter import Workbook

from audiences.guarding import Cell, begins_formula, guarded, written

LONGEST_CELL = (
    32_767  # signs; ECMA-376 leaves it open, and the common programs hold no more (common practice)
)
MOST_ROWS = 1_048_576  # the same, with the headings
_WIDEST = 60  # signs of a column before it is left to its reader
_MEASURED = 1_000  # rows by which the columns' widths are chosen


def workbook(
    name: str, headings: Sequence[str], rows: Sequence[Sequence[Cell]], *, made_at: datetime
) -> bytes:
    """Return one sheet called *name* (XLSX): headings, rows, whole numbers as numbers, all else as text.

    A text that begins like a formula is stored as it is, with the mark by which spreadsheet programs keep it text; one
    that carries the apostrophe of a safe export gets one more, so that our reader gives it back. ValueError where a
    table does not fit a sheet, and as `written` raises it.
    """
    if len(rows) >= MOST_ROWS:
        raise ValueError(f"a sheet holds {MOST_ROWS - 1} rows, and there are {len(rows)}: write .csv")
    memory = io.BytesIO()
    book = Workbook(memory, {"in_memory": True})
    book.set_properties({"created": made_at.replace(tzinfo=None)})
    sheet = book.add_worksheet(name)
    head = book.add_format({"bold": True})
    kept_text = book.add_format({"quote_prefix": True})
    for column, heading in enumerate(headings):
        _text(sheet, 0, column, heading, head)
    for place, row in enumerate(rows, start=1):
        for column, cell in enumerate(row):
            if isinstance(cell, int):
                sheet.write_number(place, column, cell)
            else:
                _text(sheet, place, column, cell, kept_text if begins_formula(cell) else None)
    sheet.freeze_panes(1, 0)
    _widths(sheet, (headings, *rows[:_MEASURED]))
    book.close()
    return memory.getvalue()


def _text(sheet: Any, row: int, column: int, cell: str, how: object) -> None:  # noqa: ANN401 - the library has no types
    text = written(cell)
    text = text if begins_formula(text) else guarded(text)
    if len(text) > LONGEST_CELL:
        raise ValueError(f"a cell of a sheet holds {LONGEST_CELL} signs: write .csv")
    sheet.write_string(row, column, text, how)


def _widths(sheet: Any, rows: Iterable[Sequence[Cell]]) -> None:  # noqa: ANN401 - the same
    for column, cells in enumerate(zip(*rows, strict=True)):
        widest = max(len(line) for cell in cells for line in str(cell).split("\n"))
        sheet.set_column(column, column, min(widest, _WIDEST) + 2)
