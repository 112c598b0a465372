"""A workbook is read in a process of its own: what breaks or kills the reader is a reason, and ends nothing else."""

import json

import pytest

from audiences.workbooks import Sheet, read_sheet
from notices.spreadsheets import reading
from notices.spreadsheets.child import as_json
from tests import workbooks
from tests.hostile import HOSTILE_WRITABLE
from tests.workbooks import ods, sheet_xml, xls, xlsx

_EMPTY = sheet_xml([["code"], ["A1"]])


def test_the_process_apart_reads_what_is_read_here() -> None:
    data = xlsx({"S": sheet_xml([["code", "name"], ["A1", 1e15]], hidden=[2], merged=["A1:B1"]), "T": _EMPTY})

    assert reading.read_sheet(data) == read_sheet(data)
    assert reading.read_sheet(data, "T") == read_sheet(data, "T")
    assert reading.read_sheet(data, "U") == Sheet(others=("S", "T"), refused="sheet-unknown")


def test_a_sheet_survives_its_way_as_json() -> None:
    sheet = read_sheet(xlsx({"S": sheet_xml([["code"], ["A1"]], hidden=[2], merged=["A1:A2"])}))

    assert reading.from_json(as_json(sheet).encode()) == sheet


def test_cells_at_the_end_of_the_world_in_an_old_workbook_end_the_reader_alone() -> None:
    assert reading.read_sheet(_far_xls()).refused == "too-large"


def _far_xls() -> bytes:
    """Return a workbook of a few kilobytes whose two cells lie 65,535 rows and columns apart."""
    near = xls([["code", "x"]])
    cell = workbooks.biff_cell(0, 1, "x")
    return near.replace(cell, workbooks.biff_cell(65_535, 65_535, "x"))


def test_a_row_repeated_without_end_in_an_open_document_ends_the_reader_alone() -> None:
    text = '<table:table-cell office:value-type="string" table:number-columns-repeated="16384"><text:p>x</text:p>'
    row = f'<table:table-row table:number-rows-repeated="1048576">{text}</table:table-cell></table:table-row>'
    data = ods([["code"]], raw=row)

    assert reading.read_sheet(data).refused in {"too-large", "corrupt"}


@pytest.mark.parametrize("keep", [9, 512, 600, 1500, 3000])
def test_a_workbook_that_is_cut_off_is_damage(keep: int) -> None:
    assert reading.read_sheet(xls([["code"], ["A1"]])[:keep]).refused == "corrupt"


def test_a_workbook_that_takes_too_long_is_too_large() -> None:
    assert reading.read_sheet(xlsx({"S": _EMPTY}), seconds=0.001).refused == "too-large"


def test_entities_are_not_expanded() -> None:
    bomb = '<!DOCTYPE x [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;"><!ENTITY c SYSTEM "file:///etc/passwd">]>'
    for entity in ("&b;", "&c;"):
        sheet = sheet_xml([["code"], ["A1here"]]).replace("A1here", entity)

        assert reading.read_sheet(xlsx({"S": bomb + sheet})).refused == "corrupt"


def test_hostile_texts_come_through_as_they_are() -> None:
    texts = [text for text in HOSTILE_WRITABLE if text.isprintable() and text.strip()]
    sheet = reading.read_sheet(xlsx({"S": sheet_xml([[text] for text in texts])}))

    assert [row.cells[0] for row in sheet.rows] == texts
    assert json.loads(as_json(sheet))["refused"] == ""
