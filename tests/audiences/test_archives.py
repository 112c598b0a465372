"""A workbook's archive is counted before it is opened: bombs, locks and damage are reasons, and cost little."""

import io
import struct
import tracemalloc
import zipfile

import pytest
from hypothesis import given
from hypothesis import strategies as st

from audiences.archives import ArchiveFaultError, SheetMarks, looked_through
from audiences.workbooks import read_sheet
from tests.workbooks import compound, ods, sheet_xml, xlsx, zipped

LIST = xlsx({"S": sheet_xml([["code"], ["A1"]], hidden=[2])})


def _why(data: bytes, most: int = 1 << 20) -> str:
    with pytest.raises(ArchiveFaultError) as caught:
        looked_through(data, most=most)
    return str(caught.value)


def _declared(data: bytes, size: int) -> bytes:
    """Return an archive of one member that declares another size than it has, in both of its headers."""
    local, central = data.index(b"PK\x03\x04") + 22, data.index(b"PK\x01\x02") + 24
    told = struct.pack("<I", size)
    data = data[:local] + told + data[local + 4 :]
    return data[:central] + told + data[central + 4 :]


def test_a_good_archive_tells_what_the_reader_does_not() -> None:
    assert looked_through(LIST) == {"S": SheetMarks(hidden=(2,))}
    assert looked_through(ods([["a"]])) == {}


def test_an_archive_that_declares_too_much_is_not_inflated() -> None:
    assert _why(zipped({"a.xml": bytes(2 << 20)})) == "too-large"


def test_an_archive_that_declares_less_than_it_holds_is_stopped_at_the_bound() -> None:
    size = 64 << 20
    bomb = _declared(zipped({"xl/worksheets/sheet1.xml": bytes(size)}), 10)
    tracemalloc.start()
    why = _why(bomb)
    _, most = tracemalloc.get_traced_memory()
    tracemalloc.stop()

    assert why == "too-large"
    assert most < size / 4


def test_a_size_that_is_not_true_is_damage() -> None:
    assert _why(_declared(zipped({"a.xml": b"x" * 100}), 10)) == "corrupt"


def test_many_members_are_too_many() -> None:
    assert _why(zipped({f"{number}.xml": b"" for number in range(3_000)})) == "too-large"


def test_members_that_are_counted_together_are_bounded_together() -> None:
    assert _why(zipped({f"{number}.xml": bytes(400_000) for number in range(3)})) == "too-large"


def test_a_locked_member_is_a_lock() -> None:
    data = bytearray(LIST)
    data[data.index(b"PK\x01\x02") + 8] |= 1

    assert _why(bytes(data)) == "encrypted"
    assert _why(ods([], more={"META-INF/manifest.xml": b"<manifest:encryption-data/>"})) == "encrypted"


def far_away(cell: str) -> bytes:
    """Return a list with one cell in the last row and column that a worksheet has (ECMA-376 part 1, 18.3.1.73)."""
    row = cell.format(place="XFD1048576")
    return xlsx(
        {"S": sheet_xml([["code"]]).replace("</sheetData>", f'<row r="1048576">{row}</row></sheetData>')}
    )


def test_a_cell_far_away_is_too_large() -> None:
    assert _why(far_away('<c r="{place}"><v>1</v></c>')) == "too-large"
    assert _why(far_away('<c r="{place}"/><c><v>1</v></c>')) == "too-large"  # a cell that says no place


def test_a_cell_far_away_that_has_a_format_and_nothing_else_does_no_harm() -> None:
    assert looked_through(far_away('<c r="{place}" s="1"/>')) == {"S": SheetMarks()}


@pytest.mark.parametrize(
    "data",
    [b"", b"PK\x03\x04", LIST[:-10], LIST[:100], LIST[100:], b"PK\x05\x06" + bytes(3)],
    ids=["nothing", "a beginning", "no end", "the first bytes", "the last bytes", "an end"],
)
def test_a_damaged_archive_is_damage(data: bytes) -> None:
    assert _why(data) == "corrupt"
    assert not data.startswith(b"PK") or read_sheet(data).refused == "corrupt"


def test_a_method_that_spreadsheets_do_not_use_is_damage() -> None:
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_BZIP2) as archive:
        archive.writestr("xl/workbook.xml", "x" * 1000)

    assert _why(made.getvalue()) == "corrupt"


def test_a_broken_stream_is_damage() -> None:
    data = bytearray(LIST)
    place = data.index(b"sheet1.xml") + len("sheet1.xml")
    data[place : place + 20] = b"\xff" * 20

    assert _why(bytes(data)) == "corrupt"


def test_a_member_whose_head_is_gone_is_damage() -> None:
    assert _why(b"PX" + LIST[2:]) == "corrupt"


def test_a_stored_member_counts_as_it_is() -> None:
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_STORED) as archive:
        archive.writestr("xl/workbook.xml", "x" * 1000)

    assert looked_through(made.getvalue()) == {}
    assert _why(_declared(made.getvalue(), 10), most=100) == "too-large"


@pytest.mark.parametrize("name", ["EncryptedPackage", "EncryptionInfo"])
def test_a_workbook_under_a_password_says_so(name: str) -> None:
    assert read_sheet(compound({name: b"x"})).refused == "encrypted"


@pytest.mark.property
@given(st.integers(0, len(LIST) - 1), st.binary(min_size=1, max_size=8))
def test_no_changed_byte_breaks_the_look(place: int, bytes_: bytes) -> None:
    data = LIST[:place] + bytes_ + LIST[place + len(bytes_) :]
    found = _looked(data)

    assert isinstance(found, dict) or found in ("too-large", "corrupt", "encrypted")


def _looked(data: bytes) -> object:
    try:
        return dict(looked_through(data, most=1 << 20))
    except ArchiveFaultError as fault:
        return str(fault)
