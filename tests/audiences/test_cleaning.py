"""Hostile text is made fit to be kept, and a name stays a name."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from audiences.cleaning import lines, narrow, one_line

HOSTILE = st.text(alphabet=st.characters(exclude_categories=()), max_size=60)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("  Anna \t Müller ", "Anna Müller"),
        ("Anna\r\nBcc: x@y.example", "Anna Bcc: x@y.example"),
        ("Anna\u2028Müller\u2029", "Anna Müller"),
        ("Anna\x00\x1b[31m", "Anna [31m"),
        ("\u202eAnna\u2066\u2069\u061c\u200f", "Anna"),
        ("Mu\u0308ller", "Müller"),
        ("می\u200cروم", "می\u200cروم"),  # a joiner belongs to Persian words
        ("a\ud800b", "a\ufffdb"),
        ("a\ufffeb\ufdd0\U0001ffff", "a\ufffdb\ufffd\ufffd"),
        ("'=1+1", "=1+1"),  # OWASP: safe exports put one apostrophe before a formula; it goes again
        ("'+49 30", "+49 30"),
        ("''=1", "'=1"),  # what was exported with an apostrophe of its own keeps that
        ("'t Hooft", "'t Hooft"),
        ("'", "'"),
        ("%(name)s {{x}} <b>", "%(name)s {{x}} <b>"),
        ("", ""),
    ],
)
def test_text_becomes_one_honest_line(text: str, expected: str) -> None:
    assert one_line(text) == expected


@pytest.mark.property
@given(HOSTILE)
def test_no_control_break_or_surrogate_is_left_on_a_line(text: str) -> None:
    cleaned = one_line(text)

    assert not {"Cc", "Cs", "Zl", "Zp"} & set(map(unicodedata.category, cleaned))
    assert cleaned == cleaned.strip()
    assert not set("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069") & set(cleaned)


def test_lines_are_kept_in_order_without_empty_ones() -> None:
    assert lines("Quay Street 2\r\n\r\n Port\u202e Aldmere \n") == ("Quay Street 2", "Port Aldmere")
    assert lines("Quay Street 2") == ("Quay Street 2",)
    assert lines("   ") == lines("\n") == ()


def test_narrow_text_has_plain_digits_and_signs() -> None:
    assert narrow("ａ＠\u202e\u0663") == "a@3"  # noqa: RUF001 - full width
    assert narrow("plain") == "plain"
