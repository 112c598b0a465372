"""Owners who may be the same: what is shown with which reasons, what is not, and that not all meet all."""

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from audiences import matching
from audiences.likeness import likeness_of, words_of
from audiences.matching import LEAST, REASONS, Pair, Person, pairs

QUAY = "Quay Street 2\nPort Aldmere PA4 1"
LIME = "Lime Walk 17\nDunmarrow D08"


def anna(
    person_id: str = "A", name: str = "Anna Berg", *, letter: str = "", **known: tuple[str, ...]
) -> Person:
    """Return a person, an address given as one text."""
    return Person(
        person_id=person_id,
        name=name,
        emails=known.get("emails", ()),
        phones=known.get("phones", ()),
        letters=(letter,) if letter else (),
        numbers=tuple(("shop", number) for number in known.get("numbers", ())),
    )


@pytest.mark.parametrize(
    ("one", "other", "reasons"),
    [
        (
            anna(letter=QUAY),
            anna("B", "Berg, Anna", letter="Quay St 2, Port Aldmere"),
            ("name-same", "address-similar"),
        ),
        (
            anna(emails=("anna.berg@mail.example",)),
            anna("B", "A. Berg", emails=("anna.berg@mail.example",)),
            ("name-similar", "email-same"),
        ),
        (
            anna(emails=("anna.berg@mail.example",)),
            anna("B", emails=("anna.berg@post.example",)),
            ("name-same", "email-similar"),
        ),
        (
            anna(phones=("+44123",)),
            anna("B", "Frau Dr. Berg", phones=("+44123",)),
            ("name-part", "phone-same"),
        ),
        (
            anna(name="Jörg Müller", letter=QUAY),
            anna("B", "Joerg Mueller", letter=QUAY),
            ("name-same", "address-same"),
        ),
        (anna(numbers=("4711",)), anna("B", "Ana Berg", numbers=("4711",)), ("name-similar", "number-same")),
        (
            anna(numbers=("4711000",), letter=QUAY),
            anna("B", numbers=("4711001",), letter=QUAY),
            ("name-same", "address-same", "number-similar"),
        ),
        (
            anna(numbers=("4711000",), letter=QUAY),
            anna("B", numbers=("9922000",), letter=QUAY),
            ("name-same", "address-same", "number-other"),
        ),
        (
            anna(name="", letter=QUAY, numbers=("4711",)),
            anna("B", "Anna Berg", letter=QUAY, numbers=("4711",)),
            ("address-same", "number-same"),
        ),
        (
            anna(letter=QUAY, emails=("anna.berg@mail.example",)),
            anna("B", letter=LIME, emails=("anna.berg@mail.example",)),
            ("name-same", "email-same", "address-other"),
        ),
    ],
)
def test_two_who_may_be_one_are_shown_with_the_reasons(
    one: Person, other: Person, reasons: tuple[str, ...]
) -> None:
    (found,) = pairs([other, one])

    assert (found.first, found.second, found.reasons) == ("A", "B", reasons)
    assert LEAST <= found.score <= 100
    assert all(REASONS[reason] for reason in reasons)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        # two of one household: they share every way, and only the family name
        (
            anna(letter=QUAY, phones=("+44123",), emails=("berg@mail.example",)),
            anna("B", "Ben Berg", letter=QUAY, phones=("+44123",), emails=("berg@mail.example",)),
        ),
        # two tenants of one house
        (anna(letter=QUAY), anna("B", "Samir Haddad", letter=QUAY)),
        # namesakes
        (anna(), anna("B")),
        (anna(letter=QUAY), anna("B", letter=LIME)),
        # a firm's mailbox
        (anna(emails=("fleet@leasing.example",)), anna("B", "Zoe Quirk", emails=("fleet@leasing.example",))),
        # nothing in common, and nothing known
        (anna(letter=QUAY), anna("B", "Samir Haddad", letter=LIME)),
        (anna(name=""), anna("B", "")),
    ],
)
def test_two_who_are_not_one_are_not_shown(one: Person, other: Person) -> None:
    assert pairs([one, other]) == ()


def test_numbers_given_one_after_the_other_are_no_slips() -> None:
    thick = [
        Person(person_id=f"{number:04}", name="Anna Berg", numbers=(("till", f"{number:04}"),))
        for number in range(1000, 1200)
    ]

    assert pairs(thick) == ()


def test_the_likeliest_stand_first() -> None:
    sure = [anna("A", letter=QUAY), anna("B", letter=QUAY)]
    less = [anna("C", "Zoe Quirk", letter=LIME), anna("D", "Zoë Quirk-Hall", letter=LIME)]

    found = pairs([*less, *sure])

    assert [(pair.first, pair.second) for pair in found] == [("A", "B"), ("C", "D")]
    assert found[0].score > found[1].score


def test_not_all_are_compared_with_all() -> None:
    """Four hundred owners who share one key, and four hundred who share nothing."""
    crowd = [
        anna(f"A{number:03}", f"Family{number:03} Crowd{number:03}", emails=("office@firm.example",))
        for number in range(400)
    ]
    loners = [
        anna(f"B{number:03}", "", letter=f"{chr(97 + number % 26) * 5}street{number} {number}\ntown{number}")
        for number in range(400)
    ]
    everybody = [*map(likeness_of, [*crowd, *loners])]

    compared = matching._candidates(everybody)  # noqa: SLF001 - what is counted is inside

    assert 0 < len(compared) < len(everybody) * 6 < len(list(combinations(everybody, 2))) / 50


def test_words_are_compared_without_case_accents_and_signs() -> None:
    assert words_of("Müller-Lüdenscheid, José (ÅRE)") == ("mueller", "luedenscheid", "jose", "aare")
    assert words_of("Muller") == ("muller",)
    assert words_of("سمير") == ("سمير",)


@pytest.mark.property
@given(
    st.lists(
        st.builds(
            Person,
            person_id=st.uuids().map(str),
            name=st.text(max_size=12),
            emails=st.lists(st.sampled_from(["a@b.example", "annaberg@c.example"]), max_size=2).map(tuple),
            phones=st.lists(st.sampled_from(["+441", "+442"]), max_size=2).map(tuple),
            letters=st.lists(st.text(max_size=20), max_size=2).map(tuple),
            numbers=st.lists(st.tuples(st.just("shop"), st.text(max_size=6)), max_size=2).map(tuple),
        ),
        max_size=8,
        unique_by=lambda person: person.person_id,
    )
)
def test_any_owners_give_pairs_that_do_not_hang_on_their_order(people: list[Person]) -> None:
    found = pairs(people)

    assert found == pairs(list(reversed(people)))
    assert all(pair.first < pair.second and LEAST <= pair.score <= 100 for pair in found)
    assert isinstance(found, tuple)
    assert all(isinstance(pair, Pair) for pair in found)
