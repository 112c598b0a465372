"""A list of single codes holds exactly its codes, however they were written, and stays small."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from audiences.code_lists import LARGEST_FILE, LONGEST_LIST, CodeList, read_codes
from audiences.folding import fold

FILE = "lists/batch.txt"


def test_a_code_is_found_however_it_was_written() -> None:
    codes = CodeList.of(["km-40 1", "KM-402", "", " - "])

    assert ["KM401" in codes, "KM402" in codes, "KM40" in codes, "M401" in codes, "" in codes] == [
        True,
        True,
        False,
        False,
        False,
    ]
    assert (list(codes), len(codes)) == (["KM401", "KM402"], 2)


def test_two_lists_of_the_same_codes_are_equal_and_print_no_code() -> None:
    assert CodeList.of(["B2", "a1"]) == CodeList.of(["A-1", "b 2", "B2"])
    assert repr(CodeList.of(["A1", "B2"])) == "<2 codes>"


def test_a_list_reads_back_from_its_text() -> None:
    codes = CodeList.of(["KM401", "KM402"])

    assert CodeList(codes.text) == codes
    assert "KM402" in CodeList(codes.text)


@pytest.mark.property
@given(
    st.lists(st.text(alphabet="ABÜ12- \n\ud800", max_size=5)), st.lists(st.text(alphabet="ABÜ12", max_size=5))
)
def test_a_list_holds_its_codes_and_no_others(written: list[str], asked: list[str]) -> None:
    codes = CodeList.of(written)
    folded = {fold(code) for code in written} - {""}

    assert set(codes) == folded
    assert [key in codes for key in asked] == [key in folded for key in asked]
    assert all(key in codes for key in folded)


def test_a_heading_other_columns_quotes_and_empty_lines_are_no_codes() -> None:
    data = '\ufeffSerial;shop\r\n"KM-401";Dunmarrow\r\n\r\nKM-402\tx\r\nKM-403,y\r\n'.encode()
    codes, findings = read_codes(data, FILE)

    assert codes == CodeList.of(["KM401", "KM402", "KM403"])
    assert findings == ()


def test_a_first_line_with_a_digit_is_a_code() -> None:
    assert read_codes(b"KM-401\nKM-402", FILE)[0] == CodeList.of(["KM401", "KM402"])


def test_bytes_that_are_not_utf_8_are_read_as_windows_1252() -> None:
    assert read_codes("Stücknummer\nKM-4Ü1".encode("cp1252"), FILE)[0] == CodeList.of(["KM4Ü1"])


@pytest.mark.parametrize("data", [b"PK\x03\x04\x00\x00", bytes(LARGEST_FILE + 1)], ids=["workbook", "large"])
def test_what_is_no_text_is_refused(data: bytes) -> None:
    codes, [finding] = read_codes(data, FILE)

    assert (codes, finding.code, finding.file, finding.line) == (None, "code-list-form", FILE, 1)


@pytest.mark.parametrize("data", [b"", b"\n\n", b"Serial\n", b" - \n"])
def test_a_list_without_a_code_is_refused(data: bytes) -> None:
    codes, [finding] = read_codes(data, FILE)

    assert (codes, finding.code, finding.line) == (None, "code-list-empty", 1)


def test_more_than_a_million_codes_are_refused() -> None:
    codes, [finding] = read_codes(b"\n".join(b"%07d" % n for n in range(LONGEST_LIST + 1)), FILE)

    assert (codes, finding.code, finding.line) == (None, "code-list-too-long", LONGEST_LIST + 1)
    assert "1000001" in finding.message


def test_a_code_that_stands_there_twice_is_told_with_its_line() -> None:
    codes, [finding] = read_codes(b"Serial\nKM401\n\n\nkm-401\nKM402\nKM 401\n", FILE)

    assert codes == CodeList.of(["KM401", "KM402"])
    assert (finding.code, finding.line, finding.message) == (
        "code-list-twice",
        5,
        "2 lines repeat a code of this list",
    )
