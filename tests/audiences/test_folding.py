"""Codes as keys for comparison, and codes with their last signs hidden."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from audiences.folding import fold, fold_name, last_signs, mask

# Unicode Standard Annex 9, table 4, and the marks of section 2.6.
BIDI_CONTROLS = set("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
HOSTILE = st.text(alphabet=st.characters(exclude_categories=()), max_size=40)


@pytest.mark.parametrize(
    "typed",
    [
        "QM-2534-B0172",
        "qm 2534 b0172",
        "QM.2534.B0172",
        "'QM2534B0172",
        "QM\u20132534\u2014B0172",  # en dash, em dash
        "QM\u22122534\u2212B0172",  # minus sign
        "\uff31\uff2d\uff0d\uff12\uff15\uff13\uff14\uff0d\uff22\uff10\uff11\uff17\uff12",  # full width
        "\u202eQM-2534-B0172\u202c",  # right-to-left override
        "\u2066QM-2534-B0172\u2069",  # isolates, as our own Arabic notices write them
        "QM\u200b2534\ufeffB01\xad72",  # zero width space, byte order mark, soft hyphen
        "QM\x002534\r\nB0172\t",
        "QM-\u0662\u0665\u0663\u0664-B\u0660\u0661\u0667\u0662",  # Arabic-Indic digits
        "QM-\u06f2\u06f5\u06f3\u06f4-B\u06f0\u06f1\u06f7\u06f2",  # Persian digits
    ],
)
def test_ways_of_typing_one_code_share_a_key(typed: str) -> None:
    assert fold(typed) == "QM2534B0172"


def test_a_lone_surrogate_stays_in_the_key_as_a_lost_sign() -> None:
    assert fold("QM-25\ud80034") == "QM25\ufffd34"


@pytest.mark.parametrize(
    "sign", ["\u00df", "\u2460", "\u00b2", "\ufb01", "\u2167", "\u00e4", "\u0d70", "\U0001d7d8", "\u0600"]
)
def test_a_sign_that_is_not_in_the_table_stands_as_it_is(sign: str) -> None:
    assert fold(f"QM{sign}") == f"QM{sign}"


def test_the_table_knows_the_digits_that_keyboards_write() -> None:
    digits = [chr(zero + 7) for zero in (0x660, 0x6F0, 0x966, 0x9E6, 0xE50, 0x17E0, 0xFF10)]

    assert {fold(digit) for digit in digits} == {"7"}
    assert {unicodedata.decimal(digit) for digit in digits} == {7}


def test_names_are_compared_in_capitals_of_their_script() -> None:
    assert fold_name("J\u00fcrgen O\u2019Neill-Stra\u00dfe") == fold_name("J\u00dcRGEN ONEILL STRASSE")
    assert fold_name("\u03b1\u03bd") == "\u0391\u039d"


def test_letters_that_only_look_latin_are_not_taken_for_latin_ones() -> None:
    cyrillic_ve = "\u0412"

    assert fold(f"QM-2534-{cyrillic_ve}0172") != "QM2534B0172"


@pytest.mark.property
@given(HOSTILE)
def test_folding_twice_changes_nothing_and_leaves_no_control(text: str) -> None:
    key = fold(text)

    assert fold(key) == key
    assert not {"Cc", "Cs", "Zs", "Zl", "Zp"} & set(map(unicodedata.category, key))
    assert not BIDI_CONTROLS & set(key)


@pytest.mark.parametrize(
    ("code", "hidden", "shown", "asked"),
    [
        ("QM-2534-B0172", 4, "QM-2534-B····", "0172"),
        ("qm 2534-b01-72", 4, "qm 2534-b··-··", "0172"),
        ("AB-12345", 4, "AB-123··", "45"),  # seven signs are fewer than twice four
        ("AB12", 4, "AB··", "12"),
        ("A", 4, "·", "A"),
        ("", 4, "", ""),
        ("AB12", 0, "AB12", ""),
        ("AB12", -1, "AB12", ""),
        ("\u202eAB12\x00", 2, "AB··", "12"),
    ],
)
def test_the_last_signs_are_hidden_and_asked_for(code: str, hidden: int, shown: str, asked: str) -> None:
    assert (mask(code, hidden), last_signs(code, hidden)) == (shown, asked)


@pytest.mark.property
@given(st.text(alphabet=st.characters(max_codepoint=127), max_size=40), st.integers(0, 8))
def test_what_is_shown_and_what_is_asked_for_are_the_whole_code(text: str, hidden: int) -> None:
    assert fold(mask(text, hidden)) + last_signs(text, hidden) == fold(text)


@pytest.mark.property
@given(HOSTILE, st.integers(1, 8))
def test_every_code_with_signs_hides_some_and_shows_no_control(text: str, hidden: int) -> None:
    masked = mask(text, hidden)

    assert "·" in masked or not fold(text)
    assert not {"Cc", "Cf", "Cs"} & set(map(unicodedata.category, masked))
