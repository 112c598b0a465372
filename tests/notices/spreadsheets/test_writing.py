"""A table as a workbook: text stays text, and our own reader gives it back."""

import io
import re
import zipfile
from datetime import UTC, datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from python_calamine import CalamineWorkbook

from audiences.guarding import Cell, bare, written
from notices.spreadsheets import writing
from notices.spreadsheets.reading import read_sheet
from notices.spreadsheets.writing import LONGEST_CELL, workbook
from tests.audiences.test_guarding import WRITABLE
from tests.hostile import FORMULAS, HOSTILE_WRITABLE

DAY = datetime(2026, 3, 2, 9, 30, tzinfo=UTC)


def a_book(*rows: tuple[Cell, ...]) -> bytes:
    return workbook("owners", ["number", "text"], rows, made_at=DAY)


def part(data: bytes, name: str) -> str:
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return archive.read(name).decode()


def test_texts_are_stored_as_texts_and_counts_as_numbers() -> None:
    data = a_book((1, "=1+1"), (2, "0049"), (3, "2025-09-01"), (4, "https://mail.example"))
    sheet = part(data, "xl/worksheets/sheet1.xml")

    assert "<f>" not in sheet
    assert "hyperlink" not in sheet
    # ECMA-376 Part 1, 18.18.11: t="s" is a shared string; a cell without t is a number
    assert re.findall(r'<c r="B\d"[^>]* t="(\w+)"', sheet) == ["s"] * 5
    assert re.findall(r'<c r="A[2-5]"><v>(\d)</v>', sheet) == ["1", "2", "3", "4"]


@pytest.mark.parametrize("text", FORMULAS[:6])
def test_what_begins_a_formula_is_marked_to_stay_text(text: str) -> None:
    data = a_book((1, text))
    style = re.search(r'<c r="B2" s="(\d+)" t="s">', part(data, "xl/worksheets/sheet1.xml"))
    formats = part(data, "xl/styles.xml").split("<cellXfs")[1].split("<xf ")[1:]

    assert style is not None
    # ECMA-376 Part 1, 18.8.45: quotePrefix is the apostrophe that keeps a text a text
    assert 'quotePrefix="1"' in formats[int(style[1])]


def test_the_same_table_at_the_same_moment_is_the_same_file() -> None:
    assert a_book((1, "Anna")) == a_book((1, "Anna"))


@pytest.mark.property
@settings(max_examples=60)
@given(st.lists(WRITABLE, min_size=1, max_size=5))
def test_what_is_written_is_what_is_read(texts: list[str]) -> None:
    data = a_book(*enumerate(texts))
    sheet = CalamineWorkbook.from_filelike(io.BytesIO(data)).get_sheet_by_index(0)

    assert [bare(str(row[1])) for row in sheet.to_python()[1:]] == texts


def test_our_reader_gives_every_hostile_text_back() -> None:
    texts = [text for text in HOSTILE_WRITABLE if not {"\0", "\ufffe", "\uffff"} & set(text)]
    sheet = read_sheet(a_book(*enumerate(texts)))

    assert sheet.name == "owners"
    assert {row.stored for row in sheet.rows[1:]} == {"nt"}
    assert [bare(row.cells[1]) for row in sheet.rows[1:]] == list(map(written, texts))


def test_a_cell_longer_than_a_sheet_holds_is_refused() -> None:
    with pytest.raises(ValueError, match="32767 signs"):
        a_book((1, "x" * (LONGEST_CELL + 1)))


def test_more_rows_than_a_sheet_holds_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(writing, "MOST_ROWS", 3)

    assert a_book((1, "a"), (2, "b"))
    with pytest.raises(ValueError, match=r"holds 2 rows, and there are 3: write \.csv"):
        a_book((1, "a"), (2, "b"), (3, "c"))
