"""Check characters against published values and against python-stdnum, a general library for such numbers."""

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stdnum import ean, luhn
from stdnum.iso7064 import mod_11_2, mod_11_10, mod_37_2, mod_37_36, mod_97_10

from audiences.check_characters import CHECKED, CHECKING, SCHEMES, Scheme, check_signs, check_size

STDNUM: dict[Scheme, Callable[[str], str]] = {
    "gs1_mod_10": ean.calc_check_digit,
    "luhn": luhn.calc_check_digit,
    "mod_11_2": mod_11_2.calc_check_digit,
    "mod_11_10": mod_11_10.calc_check_digit,
    "mod_37_2": mod_37_2.calc_check_digit,
    "mod_37_36": mod_37_36.calc_check_digit,
    "mod_97_10": mod_97_10.calc_check_digits,
}
SLIPS_FOUND = frozenset({"mod_11_2", "mod_37_2", "mod_97_10"})


@pytest.mark.parametrize(
    ("scheme", "signs", "check"),
    [
        # GS1's own worked example of a GTIN-13 (GS1 General Specifications, section 7.9), and other published GTINs.
        ("gs1_mod_10", "629104150021", "3"),
        ("gs1_mod_10", "400638133393", "1"),
        ("gs1_mod_10", "03600029145", "2"),
        ("gs1_mod_10", "9638507", "4"),
        ("gs1_mod_10", "978030640615", "7"),
        ("gs1_mod_10", "0950600013435", "2"),
        ("luhn", "7992739871", "3"),  # the usual published example
        ("mod_11_2", "0794", "0"),  # ISO/IEC 7064, its example
        ("mod_11_2", "000000021825009", "7"),  # an ORCID iD, as ORCID's own page works it out
        ("mod_11_2", "000000021694233", "X"),  # an ORCID iD of its documentation (from memory)
        ("mod_11_10", "0794", "5"),  # ISO/IEC 7064, its example
        ("mod_97_10", "794", "44"),  # ISO/IEC 7064, its example
        ("mod_37_36", "A12425GABC1234002", "M"),  # a GRid, as its standard works it out
    ],
)
def test_published_check_characters_are_found(scheme: Scheme, signs: str, check: str) -> None:
    assert check_signs(scheme, signs) == check


@pytest.mark.property
@pytest.mark.parametrize("scheme", SCHEMES)
@given(data=st.data())
def test_check_characters_are_those_of_python_stdnum(scheme: Scheme, data: st.DataObject) -> None:
    signs = data.draw(st.text(CHECKED[scheme], min_size=1, max_size=20))

    check = check_signs(scheme, signs)

    assert check == STDNUM[scheme](signs)
    assert len(check) == check_size(scheme)
    assert set(check) <= set(CHECKING[scheme])


@pytest.mark.property
@pytest.mark.parametrize("scheme", SCHEMES)
@given(data=st.data())
def test_a_misread_sign_never_keeps_its_check_character(scheme: Scheme, data: st.DataObject) -> None:
    """Hold what ISO/IEC 7064 and GS1 promise: every single wrong sign is found (in MOD 97-10 of digits alone)."""
    alphabet = CHECKED[scheme][:10] if scheme == "mod_97_10" else CHECKED[scheme]
    signs = data.draw(st.text(alphabet, min_size=1, max_size=12))
    at = data.draw(st.integers(0, len(signs) - 1))
    other = data.draw(st.sampled_from([sign for sign in alphabet if sign != signs[at]]))

    assert check_signs(scheme, signs) != check_signs(scheme, signs[:at] + other + signs[at + 1 :])


@pytest.mark.property
@pytest.mark.parametrize("scheme", sorted(SLIPS_FOUND))
@given(data=st.data())
def test_swapped_neighbours_never_keep_the_check_characters_of_a_pure_system(
    scheme: Scheme, data: st.DataObject
) -> None:
    """Hold what ISO/IEC 7064 promises of its pure systems (in MOD 97-10 of digits alone)."""
    alphabet = CHECKED[scheme][:10] if scheme == "mod_97_10" else CHECKED[scheme]
    signs = data.draw(st.text(alphabet, min_size=2, max_size=12))
    at = data.draw(st.integers(1, len(signs) - 1))
    swapped = signs[: at - 1] + signs[at] + signs[at - 1] + signs[at + 1 :]

    assert swapped == signs or check_signs(scheme, signs) != check_signs(scheme, swapped)


def test_gs1_misses_neighbours_that_differ_by_five() -> None:
    assert check_signs("gs1_mod_10", "05") == check_signs("gs1_mod_10", "50")
    assert check_signs("gs1_mod_10", "16") == check_signs("gs1_mod_10", "61")


@pytest.mark.parametrize("scheme", SCHEMES)
def test_a_sign_that_a_scheme_does_not_know_has_no_check(scheme: Scheme) -> None:
    assert check_signs(scheme, "1/2") is None
    assert (check_signs(scheme, "A1") is None) is (len(CHECKED[scheme]) == 10)
