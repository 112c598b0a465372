"""A spreadsheet becomes the same table as a CSV list: headings found, values as typed, nothing lost in silence."""

from datetime import date

import pytest

from audiences.columns import guess, read_rows
from audiences.findings import Finding, Severity
from audiences.forms import Form
from audiences.owners import ListedRow
from audiences.sheets import table_of
from audiences.tables import LONGEST_FIELD, Table, TableRow
from audiences.workbooks import Sheet, SheetRow, is_workbook, read_sheet
from tests.workbooks import Formula, Moment, Value, ods, sheet_xml, xls, xlsx

HEAD: list[Value] = ["code", "name", "phone", "postcode", "town", "sold on"]


def _table(data: bytes, wanted: str = "", *, known: tuple[str, ...] = ()) -> Table:
    return table_of(read_sheet(data, wanted), "lists/shop.xlsx", known=known)


def _rows(table: Table) -> list[tuple[int, tuple[str, ...]]]:
    return [(row.number, row.cells) for row in table.rows]


def _faults(findings: tuple[Finding, ...]) -> list[tuple[str, int | None, str]]:
    return [(finding.code, finding.line, finding.path) for finding in findings]


def _listed(table: Table) -> tuple[tuple[ListedRow, ...], tuple[Finding, ...]]:
    return read_rows(table, guess(table.headings), default_country="DE")


def test_values_are_read_as_they_are_typed() -> None:
    row: list[Value] = ["A1", "Anna Müller", 493023125172.0, 1067.0, "two\nlines", date(2025, 8, 19)]
    table = _table(xlsx({"Sales": sheet_xml([HEAD, row, ["A2", True, 1.5, -0.0, None, "soon"]])}))

    assert table == Table(
        file="lists/shop.xlsx",
        headings=("code", "name", "phone", "postcode", "town", "sold on"),
        rows=(
            TableRow(
                number=2,
                cells=("A1", "Anna Müller", "493023125172", "1067", "two\nlines", "2025-08-19"),
                stored="ttnntd",
            ),
            TableRow(number=3, cells=("A2", "true", "1.5", "0", "", "soon"), stored="ttnntt"),
        ),
        findings=(),
        form=Form(sheet="Sales"),
    )


@pytest.mark.parametrize("number", [1.0, 1067.0, 4.93e11, 999999999999999.0, -5.0])
def test_a_whole_number_never_gets_a_point_and_a_nought(number: float) -> None:
    table = _table(xlsx({"S": sheet_xml([["code", "name"], [number, "Anna"]])}))

    assert table.rows[0].cells[0] == str(int(number))


def test_numbers_that_are_texts_are_pointed_out_once_a_column_and_owners_stay() -> None:
    rows: list[list[Value]] = [[f"A{each}", "Anna", 3023125172.0, 1067.0, "Dresden"] for each in range(3)]
    listed, findings = _listed(
        _table(xlsx({"S": sheet_xml([HEAD[:5], *rows, [12.0, "Ben", None, "01067"]])}))
    )

    assert [(row.code, row.address) for row in listed][2:] == [("A2", ("1067 Dresden",)), ("12", ("01067",))]
    assert [one for one in _faults(findings) if one[0] != "address-unusable"] == [
        ("cell-stored-as-number", 2, "phone"),
        ("cell-stored-as-number", 2, "postcode"),
        ("cell-stored-as-number", 5, "code"),
    ]
    assert any(
        one.message.startswith("3 postcodes, this one first, are stored as numbers") for one in findings
    )
    assert {one.severity for one in findings} == {Severity.CONSIDER}


def test_a_number_that_has_lost_digits_is_no_code() -> None:
    listed, findings = _listed(
        _table(xlsx({"S": sheet_xml([["code", "email"], [1234567890123456789.0, "anna@post.example"]])}))
    )

    assert [row.code for row in listed] == [None]
    assert listed[0].raw == ("1234567890123456768", "anna@post.example")
    assert _faults(findings) == [("cell-digits-lost", 2, "code")]


def test_a_code_that_became_a_day_is_pointed_out() -> None:
    _, findings = _listed(
        _table(xlsx({"S": sheet_xml([["code", "email"], [date(2025, 3, 1), "a@post.example"]])}))
    )

    assert _faults(findings) == [("cell-stored-as-day", 2, "code")]


def test_a_formula_counts_as_its_value_and_one_without_is_pointed_out() -> None:
    table = _table(
        xlsx(
            {
                "S": sheet_xml(
                    [
                        ["code", "name"],
                        [Formula(text='"A"&1', value="A1"), "Anna"],
                        [Formula(text='"A"&2'), "Ben"],
                        [Formula(text="1/0", error="#DIV/0!"), "Cem"],
                    ]
                )
            }
        )
    )

    assert [cells for _, cells in _rows(table)] == [("A1", "Anna"), ("", "Ben"), ("", "Cem")]
    assert _faults(table.findings) == [("sheet-cells-valueless", 3, "")]
    assert "in 2 rows" in table.findings[0].message


def test_a_moment_keeps_its_time_and_a_time_has_no_day() -> None:
    table = _table(
        xlsx({"S": sheet_xml([["code", "sold on"], ["A1", Moment(days=45888.4375)], ["A2", 0.0]])})
    )

    assert [cells for _, cells in _rows(table)] == [("A1", "2025-08-19 10:30:00"), ("A2", "0")]
    assert _table(xlsx({"S": sheet_xml([["code"], [Moment(days=0.4375)]])})).rows[0].cells == ("10:30:00",)


def test_a_row_of_noughts_is_a_row() -> None:
    assert _rows(_table(xlsx({"S": sheet_xml([["code"], [0.0], [False]])}))) == [(2, ("0",)), (3, ("false",))]


def test_a_sheet_that_spans_too_much_is_not_read() -> None:
    assert read_sheet(xls([["code", "name"], ["A1", "Anna"]]), most_cells=3).refused == "too-large"


def test_a_workbook_without_anything_in_it_or_without_the_sheet_is_not_read() -> None:
    data = xlsx({"Empty": sheet_xml([]), "Hidden": sheet_xml([["code"]])}, hidden=["Hidden"])

    assert read_sheet(data) == Sheet(others=("Empty", "Hidden"), refused="no-sheet")
    assert read_sheet(data, "Empty").refused == "no-sheet"
    assert read_sheet(data, "Other") == Sheet(others=("Empty", "Hidden"), refused="sheet-unknown")
    assert read_sheet(xlsx({}, more={"xl/workbook.xml": b"<workbook"})).refused == "corrupt"


def test_a_filled_cell_below_a_merged_one_keeps_what_it_holds() -> None:
    rows: list[list[Value]] = [["name", "code"], ["Anna", "A1"], ["Ben", "A2"]]
    table = _table(xlsx({"S": sheet_xml(rows, merged=["A2:A3"])}))

    assert [cells for _, cells in _rows(table)] == [("Anna", "A1"), ("Ben", "A2")]


def test_a_text_that_looks_like_a_formula_is_a_text() -> None:
    table = _table(xlsx({"S": sheet_xml([["code", "name"], ["A1", "=1+1"]])}))

    assert _rows(table) == [(2, ("A1", "=1+1"))]


def test_hidden_rows_are_owners_too() -> None:
    table = _table(xlsx({"S": sheet_xml([["code", "name"], ["A1", "Anna"], ["A2", "Ben"]], hidden=[1, 3])}))

    assert [number for number, _ in _rows(table)] == [2, 3]
    assert _faults(table.findings) == [("sheet-rows-hidden", 3, "")]


def test_the_headings_are_found_below_titles_and_empty_rows() -> None:
    rows: list[list[Value]] = [
        [],
        ["Sales 2025", None, "spring"],
        [],
        ["code", "name", "email"],
        ["A1", "Anna"],
    ]
    table = _table(xlsx({"S": sheet_xml(rows, merged=["A2:B2"])}))

    assert (table.headings, table.heading_line) == (("code", "name", "email"), 4)
    assert _rows(table) == [(5, ("A1", "Anna", ""))]
    assert _faults(table.findings) == [("sheet-rows-above", 4, "")]


def test_the_headings_an_earlier_version_had_are_found_again() -> None:
    data = xlsx({"S": sheet_xml([["Report", "of the shop"], ["Wer", "Was"], ["Anna", "A1"]])})

    assert _table(data).heading_line == 1
    assert _table(data, known=("Wer", "Was")).heading_line == 2


def test_a_heading_merged_over_columns_or_rows_holds_for_each() -> None:
    rows: list[list[Value]] = [
        ["code", "Customer", None, "Address", None],
        [None, "first name", "last name", None, None],
        ["A1", "Anna", "Kern", "Hof 1", "10115 Berlin"],
    ]
    merged = ["A1:A2", "B1:C1", "D1:E2"]
    table = _table(xlsx({"S": sheet_xml(rows, merged=merged)}))
    listed, _ = _listed(table)

    assert table.headings == ("code", "first name", "last name", "Address", "Address (5)")
    assert [(row.code, row.name, row.address) for row in listed] == [
        ("A1", "Anna Kern", ("Hof 1", "10115 Berlin"))
    ]
    assert [code for code, _, _ in _faults(table.findings)] == ["sheet-rows-above"]


def test_an_owner_merged_over_several_rows_keeps_each_of_those_units() -> None:
    rows: list[list[Value]] = [["name", "code"], ["Anna", "A1"], [None, "A2"], [None, "A3"], ["Ben", "B1"]]
    table = _table(xlsx({"S": sheet_xml(rows, merged=["A2:A4"])}))

    assert [cells for _, cells in _rows(table)] == [
        ("Anna", "A1"),
        ("Anna", "A2"),
        ("Anna", "A3"),
        ("Ben", "B1"),
    ]


def test_one_of_several_sheets_is_named_and_another_can_be_asked_for() -> None:
    empty, one, two = (
        sheet_xml([]),
        sheet_xml([["code", "name"], ["A1", "Anna"]]),
        sheet_xml([["code"], ["B1"]]),
    )
    data = xlsx({"Notes": empty, "Secret": two, "Shop & <Co>": one, "Web": two}, hidden=["Secret"])
    taken, asked = _table(data), _table(data, "Web")

    assert (taken.form, taken.headings) == (Form(sheet="Shop & <Co>"), ("code", "name"))
    assert _faults(taken.findings) == [("sheet-one-of-several", 1, "")]
    assert taken.findings[0].message == "sheet “Shop & <Co>” is read; “Secret”, “Web” is not"
    assert _rows(asked) == [(2, ("B1",))]
    assert _table(data, "Secret").form == Form(sheet="Secret")


@pytest.mark.parametrize(
    ("sheet", "code"),
    [
        (Sheet(refused="too-large"), "workbook-too-large"),
        (Sheet(refused="encrypted"), "workbook-encrypted"),
        (Sheet(refused="corrupt"), "workbook-broken"),
        (Sheet(refused="no-sheet"), "workbook-without-sheet"),
        (Sheet(refused="sheet-unknown", others=("A", "B")), "sheet-unknown"),
        (Sheet(name="S"), "list-empty"),
    ],
)
def test_a_workbook_that_is_not_read_is_one_finding(sheet: Sheet, code: str) -> None:
    table = table_of(sheet, "lists/shop.xlsx")

    assert [(one.code, one.line) for one in table.findings] == [(code, None)]
    assert (table.headings, table.rows) == ((), ())


def test_headings_that_come_again_and_cells_without_end_are_findings() -> None:
    table = _table(xlsx({"S": sheet_xml([["code"], ["A1"], ["code"], ["x" * (LONGEST_FIELD + 1)], ["A2"]])}))

    assert _faults(table.findings) == [("row-is-headings", 3, ""), ("row-broken", 4, "")]
    assert _rows(table) == [(2, ("A1",)), (5, ("A2",))]


def test_a_heading_typed_twice_is_still_found() -> None:
    table = _table(xlsx({"S": sheet_xml([["code", "name", "name"], ["A1", "Anna", "Kern"]])}))

    assert _faults(table.findings) == [("heading-twice", 1, "name")]


def test_an_open_document_is_read_alike() -> None:
    table = _table(ods([[], ["code", "phone", "sold on"], ["A1", 3023125172.0, date(2025, 8, 19)]]))

    assert _rows(table) == [(3, ("A1", "3023125172", "2025-08-19"))]
    assert table.rows[0].stored == "tnd"


def test_a_workbook_of_the_years_before_2007_is_read_alike() -> None:
    table = _table(xls([["code", "name", "phone"], ["A1", "Änne", 3023125172.0]]))

    assert _rows(table) == [(2, ("A1", "Änne", "3023125172"))]


def test_a_workbook_is_told_by_its_first_bytes() -> None:
    assert [
        is_workbook(data) for data in (xlsx({}), xls([["a"]]), ods([]), b"PK,name\n", b"code,name\n", b"")
    ] == [
        True,
        True,
        True,
        False,
        False,
        False,
    ]


def test_merged_ranges_that_lie_outside_the_sheet_do_no_harm() -> None:
    rows = (
        SheetRow(number=1, cells=("code", "name"), stored="tt"),
        SheetRow(number=2, cells=("A1", ""), stored="tt"),
    )
    odd = ((0, 0, 9, 9), (1, -3, 2, 1), (2, 1, 10**9, 10**9), (5, 0, 2, 0), (1, 1, 10**9, 1))
    table = table_of(Sheet(name="S", rows=rows, merged=odd), "lists/shop.xlsx")

    assert _rows(table) == [(2, ("A1", "name"))]


def test_a_million_empty_rows_below_the_list_are_no_rows() -> None:
    """Some programs write a row, or a formatted cell, for each line of the sheet down to the last one, 1,048,576."""
    listed = sheet_xml([("code", "name"), ("QM-2534-B0172", "Anna Berg")])
    below = "".join(f'<row r="{number}"/>' for number in range(3, 1_000_003))
    last = '<row r="1048576"><c r="Z1048576" s="1"/></row>'

    table = table_of(
        read_sheet(xlsx({"Sales": listed.replace("</sheetData>", f"{below}{last}</sheetData>")})),
        "sales.xlsx",
    )

    assert [row.cells for row in table.rows] == [("QM-2534-B0172", "Anna Berg")]
    assert table.findings == ()
