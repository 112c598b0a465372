"""CSV into rows that know their line; one bad row never loses the good ones."""

import csv
import io
import tracemalloc

import pytest
from hypothesis import given
from hypothesis import strategies as st

from audiences.byte_lines import LONGEST_LINE
from audiences.forms import Form
from audiences.tables import LONGEST_FIELD, Table, TableRow, read_csv

HEAD = b"code,name\n"


def _read(data: bytes) -> Table:
    return read_csv(data, "lists/shop.csv")


def _rows(table: Table) -> list[tuple[int, tuple[str, ...]]]:
    return [(row.number, row.cells) for row in table.rows]


def _faults(table: Table) -> list[tuple[str, int | None]]:
    return [(finding.code, finding.line) for finding in table.findings]


def test_rows_know_the_line_they_begin_on() -> None:
    table = _read(b'code,name\r\nA1,"Anna\r\nMueller"\r\n\r\nB2,"Ben ""B"", Ltd"\rC3,\xc3\x9cmit\n')

    assert table == Table(
        file="lists/shop.csv",
        headings=("code", "name"),
        rows=(
            TableRow(number=2, cells=("A1", "Anna\nMueller")),
            TableRow(number=5, cells=("B2", 'Ben "B", Ltd')),
            TableRow(number=6, cells=("C3", "Ümit")),
        ),
        findings=(),
        form=Form(encoding="utf-8", separator="comma"),
    )


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
def test_the_sign_between_cells_is_found_in_the_headings(delimiter: str) -> None:
    table = _read(f'"code"{delimiter}name\nA1{delimiter}"Kern{delimiter}Anna"\n'.encode())

    assert table.headings == ("code", "name")
    assert _rows(table) == [(2, ("A1", f"Kern{delimiter}Anna"))]


def test_semicolons_win_over_commas_inside_quoted_headings() -> None:
    table = _read('\ufeff"Name, Vorname";Ort\n"Kern, Anna";Berlin\n'.encode())

    assert table.headings == ("Name, Vorname", "Ort")
    assert _rows(table) == [(2, ("Kern, Anna", "Berlin"))]


def test_empty_lines_before_the_headings_do_not_count_as_headings() -> None:
    table = _read(b"\n,,\ncode,name\nA1,Anna\n")

    assert (table.heading_line, _rows(table)) == (3, [(4, ("A1", "Anna"))])


@pytest.mark.parametrize("data", [b"", b"\n\n", b"\xef\xbb\xbf", b" , ;\t\n"])
def test_a_list_without_headings_is_one_finding(data: bytes) -> None:
    assert _faults(_read(data)) == [("list-empty", None)]


@pytest.mark.parametrize(
    ("data", "line"),
    [
        ("code,name\nA1,Anna\n".encode("utf-32"), None),
        ("code,name\nA1,Anna\n".encode("utf-32-le"), 1),  # no mark, and two noughts after each sign
        (b"co\0de,name\nA1,Anna\n", 1),
        (b"\xed\xa0\x80,name\nA1,Anna\n", 1),  # a surrogate in UTF-8 (RFC 3629, 3)
    ],
)
def test_a_list_that_cannot_be_read_as_a_whole_is_one_finding(data: bytes, line: int | None) -> None:
    table = _read(data)

    assert _faults(table) == [("list-not-utf-8", line)]
    assert table.rows == ()


@pytest.mark.parametrize(
    ("data", "line"),
    [
        (b"<!DOCTYPE html><table><tr><td>code</td></tr></table>", 1),
        (b"\n<html><body>", 2),
        (b"%PDF-1.7\n1 0 obj", 1),
        (b'{"owners": []}', 1),
        (b"From mara@mail.example Thu Feb 26", 1),
    ],
)
def test_a_page_or_a_document_under_a_list_s_name_is_one_finding(data: bytes, line: int) -> None:
    assert _faults(_read(data)) == [("list-is-no-list", line)]


def test_a_line_that_names_the_separator_is_no_heading() -> None:
    table = _read(b"sep=;\ncode,1;name\nA1;Kern, Anna\n")

    assert (table.headings, table.heading_line) == (("code,1", "name"), 2)
    assert _rows(table) == [(3, ("A1", "Kern, Anna"))]


def test_a_heading_on_two_lines_is_one_heading() -> None:
    table = _read(b'"Frame\nnumber",name\nA1,Anna\n')

    assert (table.headings, table.findings) == (("Frame number", "name"), ())
    assert _rows(table) == [(3, ("A1", "Anna"))]


def test_headings_that_come_again_are_no_owner() -> None:
    table = _read(HEAD + b"A1,Anna\ncode,name\nB2,Ben\n")

    assert _faults(table) == [("row-is-headings", 3)]
    assert _rows(table) == [(2, ("A1", "Anna")), (4, ("B2", "Ben"))]


def test_a_row_of_ten_thousand_columns_is_a_finding_and_headings_of_ten_thousand_are_read() -> None:
    wide = b",".join(b"h%d" % number for number in range(10_000))

    assert _faults(_read(HEAD + wide + b"\nA1,Anna\n")) == [("row-cells", 2)]
    assert len(_read(wide + b"\n" + wide.replace(b"h", b"v") + b"\n").rows) == 1


def test_headings_longer_than_a_line_may_be_are_one_finding() -> None:
    assert _faults(_read(b"code" * LONGEST_LINE + b"\nA1\n")) == [("list-headings-broken", 1)]


@pytest.mark.parametrize("before", [b"B2,", b'B2,"'])
def test_a_field_as_large_as_the_file_is_refused_without_being_copied(before: bytes) -> None:
    size = 40 << 20
    huge = HEAD + b"A1,Anna\n" + before + b"x" * size + b"\nC3,Cem\n"
    tracemalloc.start()
    table = _read(huge)
    _, most = tracemalloc.get_traced_memory()
    tracemalloc.stop()

    assert _faults(table) == [("row-broken", 3)]
    assert [number for number, _ in _rows(table)] == [2, 4]
    assert most < size / 4


def test_headings_with_an_open_quote_are_one_finding() -> None:
    assert _faults(_read(b'"code,name\nA1,Anna\n')) == [("list-headings-broken", 1)]


def test_a_heading_named_twice_is_found_and_gets_a_name_of_its_own() -> None:
    table = _read(b"code,name,name,\nA1,Anna,Kern,x\n")

    assert table.headings == ("code", "name", "name (3)", "(4)")
    assert _faults(table) == [("heading-twice", 1)]
    assert _rows(table) == [(2, ("A1", "Anna", "Kern", "x"))]


def test_a_heading_that_looks_like_a_second_one_gets_a_name_of_its_own() -> None:
    assert _read(b"name (2),name,name (2),(4),\n").headings == (
        "name (2)",
        "name",
        "name (2) (3)",
        "(4)",
        "(5)",
    )
    assert _read(b"(2),\n").headings == ("(2)", "(2) (2)")
    assert _read(b"a (3),a,a\n").headings == ("a (3)", "a", "a (3) (3)")


def test_an_open_quote_before_long_lines_refuses_its_line_alone() -> None:
    long = b"x" * (LONGEST_LINE - 1)
    table = _read(HEAD + b'A1,"Anna\n' + long + b"\nB2,Ben\n")

    assert _faults(table) == [("row-broken", 2), ("row-broken", 3)]
    assert _rows(table) == [(4, ("B2", "Ben"))]


@pytest.mark.parametrize(
    ("bad", "code", "why"),
    [
        (b"B2,Be\x00n", "row-broken", "NUL"),
        (b"B2,\xff\xfe", "row-broken", "not UTF-8"),
        (b"B2,\xed\xa0\x80", "row-broken", "not UTF-8"),  # a surrogate in UTF-8 (RFC 3629, 3)
        (b"B2," + b"x" * LONGEST_LINE, "row-broken", "bytes"),
        (b"B2," + b"x" * (LONGEST_FIELD + 1), "row-broken", "signs"),
        (b'B2,"' + b"x" * (LONGEST_FIELD + 1) + b'"', "row-broken", "signs"),
        (b'B2,"' + b"x" * 2 * LONGEST_FIELD + b'"', "row-broken", "signs"),
        (b'B2,"Ben', "row-broken", "not closed"),
        (b'B2,"Ben"x', "row-broken", "behind its closing quote"),
        (b"B2", "row-cells", "1 cells, the headings 2"),
        (b"B2,Ben,x", "row-cells", "3 cells, the headings 2"),
    ],
)
def test_a_bad_row_is_a_finding_with_its_line_and_the_good_ones_stay(bad: bytes, code: str, why: str) -> None:
    table = _read(HEAD + b"A1,Anna\n" + bad + b'\nC3,"Cem"\n"D4",Dana\n')

    assert _faults(table) == [(code, 3)]
    assert why in table.findings[0].message
    assert _rows(table) == [(2, ("A1", "Anna")), (4, ("C3", "Cem")), (5, ("D4", "Dana"))]


def test_an_open_quote_on_the_last_line_is_found_there() -> None:
    assert _faults(_read(HEAD + b'A1,Anna\nB2,"Ben')) == [("row-broken", 3)]


def test_an_open_quote_does_not_swallow_a_long_list() -> None:
    table = _read(HEAD + b'A0,"Anna\n' + b"".join(b"B%d,Ben\n" % number for number in range(100)))

    assert _faults(table) == [("row-broken", 2)]
    assert len(table.rows) == 100


def test_a_quote_within_a_plain_cell_is_text() -> None:
    assert _rows(_read(HEAD + b'A1,Bike 26" red\n')) == [(2, ("A1", 'Bike 26" red'))]


def test_blank_rows_of_any_width_are_passed_over() -> None:
    table = _read(HEAD + b"\n,\n,,,,\nA1,Anna\n")

    assert (table.findings, _rows(table)) == ((), [(5, ("A1", "Anna"))])


@pytest.mark.property
@given(st.binary(max_size=300))
def test_no_bytes_break_the_reader_and_every_row_fits_the_headings(data: bytes) -> None:
    for file in (data, HEAD + data):
        table = _read(file)

        assert all(len(row.cells) == len(table.headings) for row in table.rows)
        assert all(finding.mend and str(finding) for finding in table.findings)


CELLS = st.text(alphabet=st.characters(exclude_categories=["Cs"], exclude_characters="\0\r"), max_size=20)


@pytest.mark.property
@given(st.lists(st.tuples(st.from_regex(r"[A-Z][0-9]{3}", fullmatch=True), CELLS, CELLS), max_size=10))
def test_what_a_csv_writer_wrote_is_read_back(rows: list[tuple[str, str, str]]) -> None:
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    writer.writerows([("code", "name", "town"), *rows])
    short = [row for row in rows if all(cell.count("\n") < 9 for cell in row)]

    table = _read(text.getvalue().encode())

    assert [row.cells for row in table.rows if row.cells in set(short)] == short
