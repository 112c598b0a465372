"""A sheet of a workbook into a table: where its headings stand, what its merged cells mean, and what to say of it."""

from bisect import bisect_right
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from types import MappingProxyType

from audiences.cleaning import one_line
from audiences.findings import Finding
from audiences.forms import Form
from audiences.headings import meaning_of
from audiences.list_faults import list_empty, row_broken, row_is_headings
from audiences.sheet_faults import (
    cells_valueless,
    one_of_several,
    rows_above,
    rows_hidden,
    sheet_unknown,
    workbook_broken,
    workbook_encrypted,
    workbook_too_large,
    workbook_without_sheet,
)
from audiences.tables import LONGEST_FIELD, Table, TableRow, headings_of, refused
from audiences.workbooks import Sheet, SheetRow

_HEADING_ROWS = 12  # filled rows among which the headings are looked for
_MOST_SPREAD = 100_000  # cells that are filled from the merged one above them
_REFUSED: Mapping[str, Callable[[str], Finding]] = MappingProxyType(
    {
        "too-large": workbook_too_large,
        "encrypted": workbook_encrypted,
        "no-sheet": workbook_without_sheet,
        "corrupt": workbook_broken,
    }
)


def table_of(sheet: Sheet, file: str, *, known: Collection[str] = ()) -> Table:
    """Return the table that stands in *sheet*; *known* are headings that an earlier version of the list had.

    The headings are the row, among the first, with the most headings that are known; without any, the first row
    with two cells. A merged cell holds for each row that it spans.
    """
    if sheet.refused == "sheet-unknown":
        return refused(sheet_unknown(file, sheet.others))
    if sheet.refused:
        return refused(_REFUSED.get(sheet.refused, workbook_broken)(file))
    rows = _trimmed(_spread(sheet))
    if not rows:
        return refused(list_empty(file))
    place = _heading_place(rows, known)
    head = rows[place]
    named, merged = _named(head, rows[:place], sheet.merged)
    headings, findings = headings_of(named, file, head.number)
    findings = [each for each in findings if each.path not in merged]
    findings += _said(sheet, file, head.number, above=place)
    kept = []
    for row in rows[place + 1 :]:
        if any(len(cell) > LONGEST_FIELD for cell in row.cells):
            findings.append(row_broken(file, row.number, f"a cell has more than {LONGEST_FIELD} signs"))
        elif row.cells == head.cells:
            findings.append(row_is_headings(file, row.number))
        else:
            kept.append(TableRow(number=row.number, cells=row.cells, stored=row.stored))
    return Table(
        file=file,
        headings=headings,
        rows=tuple(kept),
        findings=tuple(findings),
        heading_line=head.number,
        form=Form(sheet=sheet.name),
    )


def _said(sheet: Sheet, file: str, line: int, *, above: int) -> Iterator[Finding]:
    if sheet.others:
        yield one_of_several(file, line, sheet.name, sheet.others)
    if above:
        yield rows_above(file, line, above)
    hidden = [number for number in sheet.marks.hidden if number > line]
    if hidden:
        yield rows_hidden(file, hidden[0], len(hidden))
    valueless = [number for number in sheet.marks.valueless if number > line]
    if valueless:
        yield cells_valueless(file, valueless[0], len(valueless))


def _spread(sheet: Sheet) -> list[SheetRow]:
    """Return the filled rows, a cell that is merged over several rows repeated in each of them."""
    rows = {row.number: row for row in sheet.rows}
    numbers = sorted(rows)
    left_over = _MOST_SPREAD
    for top, left, bottom, _ in sheet.merged:
        first = rows.get(top)
        if first is None or not 0 <= left < len(first.cells) or not first.cells[left].strip():
            continue
        below = numbers[bisect_right(numbers, top) : bisect_right(numbers, bottom)][:left_over]
        left_over -= len(below)
        for number in below:
            rows[number] = _filled(rows[number], left, first)
    return [row for row in rows.values() if any(cell.strip() for cell in row.cells)]


def _filled(row: SheetRow, column: int, source: SheetRow) -> SheetRow:
    if row.cells[column].strip():
        return row
    return SheetRow(
        number=row.number,
        cells=(*row.cells[:column], source.cells[column], *row.cells[column + 1 :]),
        stored=row.stored[:column] + source.stored[column] + row.stored[column + 1 :],
    )


def _trimmed(rows: Sequence[SheetRow]) -> list[SheetRow]:
    """Return the rows without the empty columns at their end."""
    width = max((_filled_width(row.cells) for row in rows), default=0)
    return [SheetRow(number=row.number, cells=row.cells[:width], stored=row.stored[:width]) for row in rows]


def _filled_width(cells: Sequence[str]) -> int:
    return max((column for column, cell in enumerate(cells, start=1) if cell.strip()), default=0)


def _heading_place(rows: Sequence[SheetRow], known: Collection[str]) -> int:
    def score(place: int) -> int:
        named = [one_line(cell) for cell in rows[place].cells]
        return len({name for name in named if name in known or (name and meaning_of(name))})

    first = range(min(_HEADING_ROWS, len(rows)))
    best = max(first, key=score)
    if score(best):
        return best
    return next((place for place in first if sum(map(bool, map(str.strip, rows[place].cells))) > 1), 0)


def _named(
    head: SheetRow, above: Sequence[SheetRow], merged: Sequence[tuple[int, int, int, int]]
) -> tuple[list[str], set[str]]:
    """Return the headings, an empty one filled by the merged cell it lies in, and those that several columns share."""
    rows = {row.number: row for row in (*above, head)}
    named = list(head.cells)
    shared: set[str] = set()
    for top, left, bottom, right in merged:
        if not (top <= head.number <= bottom) or top not in rows or not 0 <= left < len(named):
            continue
        text = rows[top].cells[left]
        for column in range(left, min(right + 1, len(named))):
            if not named[column].strip() and text.strip():
                named[column] = text
                shared.add(one_line(text))
    return named, shared
