"""No cell runs as a formula, and our own readers give back what was written."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from audiences.guarding import bare, begins_formula, csv_bytes, guarded, written
from audiences.tables import read_csv
from tests.hostile import FORMULAS, HOSTILE_WRITABLE

# OWASP, "CSV Injection", names these first signs (from memory): = + - @, tab, carriage return, line feed, full width.
SIGNS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")  # noqa: RUF001 - full width is meant

WRITABLE = st.text(
    alphabet=st.one_of(
        st.sampled_from("=+-@'\"\t\n,;＝＋|%"),  # noqa: RUF001 - full width is meant
        st.characters(exclude_categories=["Cs"], exclude_characters="\0\r\ufffe\uffff"),
    ),
    max_size=40,
)


@pytest.mark.parametrize("sign", SIGNS)
def test_a_cell_that_would_run_begins_with_an_apostrophe(sign: str) -> None:
    assert guarded(f"{sign}1+1") == f"'{sign}1+1"
    assert begins_formula(f"{sign}1+1")


@pytest.mark.parametrize("text", ["", "Anna", "'t Hooft", "'", "''", "1-2", "a=b", "'a=b"])
def test_a_cell_that_would_not_run_stays_as_it_is(text: str) -> None:
    assert guarded(text) == text == bare(text)
    assert not begins_formula(text)


def test_an_apostrophe_of_its_own_is_kept() -> None:
    assert (guarded("'=1"), bare("''=1"), begins_formula("'=1")) == ("''=1", "'=1", False)


@pytest.mark.property
@given(st.text(max_size=40))
def test_what_is_guarded_is_bare_again_and_begins_no_formula(text: str) -> None:
    assert bare(guarded(text)) == text
    assert not begins_formula(guarded(text))


@pytest.mark.parametrize("text", ["a\0b", "a\ud800b", "a\ufffeb", "\uffff"])
def test_what_no_file_may_hold_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="a cell holds"):
        written(text)


@pytest.mark.parametrize("text", ["a\rb", "a\r\nb", "a\nb"])
def test_line_ends_are_line_feeds(text: str) -> None:
    assert written(text) == "a\nb"


def test_a_table_is_csv_as_rfc_4180_has_it() -> None:
    assert csv_bytes(["name", "units"], [('Kern, "A"', 2), ("=1+1", -1)]) == (
        b'\xef\xbb\xbf"name","units"\r\n"Kern, ""A""",2\r\n"\'=1+1",-1\r\n'
    )


@pytest.mark.property
@given(st.lists(WRITABLE.filter(lambda text: text.count("\n") < 15), min_size=1, max_size=5))
def test_our_reader_gives_every_text_back(texts: list[str]) -> None:
    rows = [("row", number, text) for number, text in enumerate(texts)]
    table = read_csv(csv_bytes(["what", "number", "text"], rows), "export.csv")

    assert table.findings == ()
    assert [bare(row.cells[2]) for row in table.rows] == texts


def test_our_reader_gives_every_hostile_text_back() -> None:
    texts = [text for text in (*HOSTILE_WRITABLE, *FORMULAS) if not {"\0", "\ufffe", "\uffff"} & set(text)]
    table = read_csv(csv_bytes(["number", "text"], list(enumerate(texts))), "export.csv")

    assert [bare(row.cells[1]) for row in table.rows] == list(map(written, texts))
