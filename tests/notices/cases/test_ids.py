"""References and links: drawn from signs nobody misreads, and proved by a check sign."""

from collections.abc import Callable
from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from notices.cases import ids

BODIES = st.text(alphabet=ids.SIGNS, min_size=7, max_size=7)


def dice(*throws: int) -> Callable[[int], int]:
    """Return a draw that gives these signs at once, each by its place among `ids.SIGNS`, the first one first."""
    return lambda below: sum(throw << 5 * place for place, throw in enumerate(throws)) % below


@pytest.mark.parametrize(
    ("body", "sign"),
    [
        ("A12425GABC1234002", "M"),  # ISO/IEC 7064 MOD 37,36, a published example of a release identifier
        ("", "1"),  # by the rule itself: 37 - 36
    ],
)
def test_the_check_sign_is_that_of_the_standard(body: str, sign: str) -> None:
    assert ids.check_sign(body) == sign


@given(body=st.text(alphabet="0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ", min_size=1, max_size=20))
def test_a_body_with_its_check_sign_closes_the_standards_sum(body: str) -> None:
    """ISO/IEC 7064, hybrid systems: the whole string leaves 1 when the check sign is added to the last product."""
    alphabet = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"
    product = 36
    for sign in body:
        product = ((product + alphabet.index(sign)) % 36 or 36) * 2 % 37

    assert (product + alphabet.index(ids.check_sign(body))) % 36 == 1


@given(body=BODIES, place=st.integers(0, 6), other=st.sampled_from(ids.SIGNS))
def test_one_wrong_sign_is_always_noticed(body: str, place: int, other: str) -> None:
    """ISO/IEC 7064, clause on error detection: every single substitution is found."""
    slipped = body[:place] + other + body[place + 1 :]

    assert ids.is_reference(slipped + ids.check_sign(body)) is (other == body[place])


def test_neighbours_that_changed_places_are_noticed_but_for_rare_pairs() -> None:
    """ISO/IEC 7064 promises nearly all transpositions of a hybrid system, not every one."""
    swaps = [(head + one + other, head + other + one) for head, one, other in permutations(ids.SIGNS, 3)]
    missed = [one for one, other in swaps if ids.check_sign(one) == ids.check_sign(other)]

    assert len(swaps) == 29_760
    assert len(missed) * 500 < len(swaps)


def test_the_signs_are_crockfords() -> None:
    """Base 32 by Douglas Crockford leaves out I, L, O and U (from memory)."""
    assert set("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ") - set(ids.SIGNS) == set("ILOU")
    assert len(ids.SIGNS) == 32
    assert list(ids.SIGNS) == sorted(ids.SIGNS)


def test_a_reference_is_seven_drawn_signs_and_their_check_sign() -> None:
    drawn = ids.unit_id(dice(0, 1, 10, 17, 18, 30, 31))

    assert drawn[:7] == "01AHJYZ"
    assert ids.is_reference(drawn)


@given(seed=st.lists(st.integers(0, 31), min_size=26, max_size=26))
def test_a_long_id_is_twenty_six_drawn_signs(seed: list[int]) -> None:
    assert ids.long_id(dice(*seed)) == "".join(ids.SIGNS[number] for number in seed)


@given(body=BODIES)
def test_a_reference_is_read_as_people_say_and_type_it(body: str) -> None:
    reference = body + ids.check_sign(body)
    arabic = reference.translate(str.maketrans("0123456789", "٠١٢٣٤٥٦٧٨٩"))
    wide = "".join(chr(ord(sign) + 0xFEE0) for sign in reference)
    misread = body.replace("1", "l").replace("0", "o") + ids.check_sign(body)

    for typed in (
        f" {reference.lower()[:4]} {reference.lower()[4:]}\n",
        f"{reference[:4]}-{reference[4:]}.",
        f"\u2068{reference}\u2069",
        arabic,
        wide,
        misread,
    ):
        assert ids.read_reference(typed) == reference


@pytest.mark.parametrize(
    "typed", ["", "0", "01AHJYZ", "UUUUUUU1", "01AHJYZ99", "\0", "Ä" * 8, "\ud800", "8" * 10_000]
)
def test_what_cannot_be_a_reference_is_none(typed: str) -> None:
    assert ids.read_reference(typed) is None


@given(typed=st.text(st.characters(), max_size=12))
def test_whatever_is_typed_is_read_as_a_true_reference_or_as_none(typed: str) -> None:
    read = ids.read_reference(typed)

    assert read is None or ids.is_reference(read)


@given(number=st.integers(0, 2**60))
def test_a_link_is_ten_signs_of_the_lowest_fifty_bits(number: int) -> None:
    signs = ids.link_signs(number)
    value = 0
    for sign in signs:
        value = value * 32 + ids.SIGNS.index(sign)

    assert len(signs) == 10
    assert value == number % 2**50
    assert ids.read_link(signs) == signs


def test_a_link_is_read_with_misread_letters_mended() -> None:
    assert ids.read_link(" oIl2-abcdefz ") == "0112ABCDEFZ"
