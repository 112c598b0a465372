"""Which character set a list is written in: found, guessed where nothing says it, and never half of each."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from audiences.byte_lines import LONGEST_LINE
from audiences.encodings import ENCODINGS, as_utf_8, encoding_of
from audiences.forms import Form
from audiences.tables import Table, read_csv
from tests.hostile import hostile_texts

LIST = "Rahmennummer;Name;Ort\nA1;Jürgen Groß;Köln\nA2;Zoë Ångström;Malmö\n"
ARABIC = "رقم الإطار;الاسم;المدينة\nA1;ليلى حداد;برلين\nA2;سمير;برلين\n"


def _read(data: bytes, form: Form | None = None) -> Table:
    return read_csv(data, "lists/shop.csv", remembered=form or Form())


def _faults(table: Table) -> list[tuple[str, int | None]]:
    return [(finding.code, finding.line) for finding in table.findings]


@pytest.mark.parametrize(
    ("data", "encoding", "guessed"),
    [
        (LIST.encode(), "utf-8", False),
        (LIST.encode("utf-8-sig"), "utf-8", False),
        (LIST.encode("utf-16"), "utf-16-le", False),
        (b"\xfe\xff" + LIST.encode("utf-16-be"), "utf-16-be", False),
        (LIST.encode("utf-16-le"), "utf-16-le", True),
        (LIST.encode("utf-16-be"), "utf-16-be", True),
        (LIST.encode("cp1252"), "windows-1252", True),
        (ARABIC.encode("utf-16-le"), "utf-16-le", True),
        (ARABIC.encode("utf-16-be"), "utf-16-be", True),
    ],
)
def test_the_same_list_is_read_whatever_it_is_written_in(
    data: bytes, encoding: str, *, guessed: bool
) -> None:
    table = _read(data)
    source = ARABIC if table.headings[0] == "رقم الإطار" else LIST

    assert [";".join(row.cells) for row in table.rows] == source.splitlines()[1:]
    assert table.form == Form(encoding=encoding, separator="semicolon")
    assert _faults(table) == ([("list-encoding-guessed", 1)] if guessed else [])


def test_quoted_lines_and_tabs_live_in_utf_16_too() -> None:
    table = _read('code\tname\r\nA1\t"Anna\r\nMüller"\r\nA2\tBen\r\n'.encode("utf-16"))

    assert [(row.number, row.cells) for row in table.rows] == [
        (2, ("A1", "Anna\nMüller")),
        (4, ("A2", "Ben")),
    ]
    assert table.form == Form(encoding="utf-16-le", separator="tab")


def test_a_lone_surrogate_in_utf_16_refuses_its_row_alone() -> None:
    table = _read("code;name\nA1;Anna\nA2;B\ud800n\nA3;Cem\n".encode("utf-16-le", "surrogatepass"))

    assert ("row-broken", 3) in _faults(table)
    assert [row.number for row in table.rows] == [2, 4]


def test_utf_16_cut_off_in_the_middle_of_a_sign_keeps_its_rows() -> None:
    table = _read("code;name\nA1;Anna\nA2;Ben".encode("utf-16")[:-1])

    assert [row.cells for row in table.rows] == [("A1", "Anna"), ("A2", "Be")]


def test_a_byte_without_a_meaning_in_windows_1252_refuses_its_row_alone() -> None:
    table = _read(LIST.encode("cp1252") + b"A3;B\x81n;Ulm\n")

    assert _faults(table) == [("list-encoding-guessed", 1), ("row-broken", 4)]
    assert "Windows-1252" in table.findings[1].message


def test_a_list_of_two_encodings_stays_utf_8_and_names_each_row_that_is_not() -> None:
    table = _read(LIST.encode() + "A3;Jürgen;Köln\n".encode("cp1252"))

    assert _faults(table) == [("row-broken", 4)]
    assert [row.number for row in table.rows] == [2, 3]


@pytest.mark.parametrize(
    "bad", [b"B2;\xff\xfe;x", b"B2;\xed\xa0\x80;x", b"B2;\xc3\x28;x", b"B2;\xf8\x88\x80\x80;x"]
)
def test_bytes_that_are_no_western_name_do_not_make_a_list_western(bad: bytes) -> None:
    table = _read(b"code;name;town\nA1;Anna;Ulm\n" + bad + b"\nC3;Cem;Ulm\n")

    assert _faults(table) == [("row-broken", 3)]


def test_a_line_without_end_says_nothing_of_the_encoding() -> None:
    table = _read(b"code;name\nA1;" + b"\xfc" * (LONGEST_LINE + 1) + b"\nA2;J\xfcrgen\n")

    assert _faults(table) == [("list-encoding-guessed", 1), ("row-broken", 2)]
    assert [row.cells for row in table.rows] == [("A2", "Jürgen")]


def test_what_was_remembered_decides_among_encodings_of_one_byte_a_sign() -> None:
    data = "code;name\nA1;Łukasz Żak\n".encode("cp1250")

    table = _read(data, Form(encoding="windows-1250", separator="semicolon"))

    assert [row.cells for row in table.rows] == [("A1", "Łukasz Żak")]
    assert table.findings == ()


def test_a_newer_file_that_says_otherwise_of_itself_is_read_as_it_says() -> None:
    before = Form(encoding="windows-1252", separator="tab")

    assert _read(LIST.encode(), before).form == Form(encoding="utf-8", separator="semicolon")
    assert _read(b"a,b;c,d\nA1,x;y,z\n", Form(separator="semicolon")).headings == ("a,b", "c,d")


@pytest.mark.property
@given(
    st.sampled_from(sorted(ENCODINGS)),
    st.lists(hostile_texts(writable=True).map(lambda text: " ".join(text.split())), min_size=1, max_size=5),
)
def test_no_encoding_and_no_text_breaks_the_reader(name: str, names: list[str]) -> None:
    text = "code;name\n" + "".join(f"A{number};{each}\n" for number, each in enumerate(names))
    data = text.encode(name, "replace")

    for given_ in (data, data[:-1], data[1:]):
        found = encoding_of(given_, name)
        table = _read(given_, Form(encoding=name))

        assert found is None or isinstance(as_utf_8(given_, found), bytes)
        assert all(len(row.cells) == len(table.headings) for row in table.rows)


@pytest.mark.property
@given(st.binary(max_size=400))
def test_any_bytes_have_an_encoding_or_none(data: bytes) -> None:
    found = encoding_of(data)

    assert found is None or found.name in ENCODINGS
