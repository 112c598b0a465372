"""Plain text in lines that every mail program shows whole."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from notices.compose.wrapping import WIDTH, columns, wrap


def test_lines_end_at_the_seventy_second_column_at_the_latest() -> None:
    wrapped = wrap("word " * 40)

    assert max(map(len, wrapped.splitlines())) <= WIDTH
    assert wrapped.split() == ["word"] * 40


def test_an_address_longer_than_a_line_stays_whole() -> None:
    address = "https://aldmere.example/" + "a" * 80

    assert wrap(f"See {address} now") == f"See\n{address}\nnow\n"


def test_a_telephone_number_is_not_broken() -> None:
    number = "0808\u00a0157\u00a00172"

    assert number in wrap(("x" * 30 + " ") * 2 + number)


@pytest.mark.parametrize("mark", ["1. ", "12. ", "- ", "  - ", "*** "])
def test_the_lines_of_a_list_stand_under_its_first_word(mark: str) -> None:
    lines = wrap(mark + "word " * 30).splitlines()

    assert lines[0].startswith(mark)
    assert all(line.startswith(" " * len(mark) + "w") for line in lines[1:])


def test_wide_signs_count_twice_and_marks_not_at_all() -> None:
    """UAX #11: ideographs are wide; a combining mark takes no column of its own."""
    assert columns("漢字") == 4
    assert columns("e\u0301\u2066a\u2069") == 2


def test_no_more_than_one_empty_line_stands_together() -> None:
    assert wrap("\n\na  \n\n\n\nb\n\n") == "a\n\nb\n"


@pytest.mark.property
@given(st.text("ab é漢\n-1. ", max_size=400))
def test_wrapping_loses_no_word(text: str) -> None:
    assert wrap(text).split() == text.split()
