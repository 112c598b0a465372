"""A few codes stand for all: where rules agree on these, they agree on every code."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from audiences.code_lists import CodeList
from audiences.codes import Layout, Parsed, Part, read
from audiences.conditions import Conditions, Sign, deciding
from audiences.stand_ins import stand_ins

# Small enough that every code there is can be asked.
LAYOUT = Layout(
    parts=(
        Part(kind="text", text="k-"),
        Part(kind="iso_year", name="year", size=2),
        Part(kind="iso_week", name="week"),
        Part(kind="one_of", name="works", letters="pR"),
        Part(kind="digits", name="number", size=2),
    )
)
YEARS = range(19, 23)  # 2020 has a week 53 (ISO 8601)
EVERY = [
    reading
    for year in YEARS
    for week in range(1, 54)
    for works in "PR"
    for number in range(100)
    if isinstance(reading := read(LAYOUT, f"K{year:02}{week:02}{works}{number:02}"), Parsed)
]

_WEEK = st.builds(
    lambda year, week: f"{year:02}{week:02}", st.sampled_from(YEARS), st.integers(1, 52)
) | st.just("2053")
_CONDITIONS = st.one_of(
    st.builds(lambda ends: Conditions(ranges={"week": ends}), st.tuples(_WEEK, _WEEK)),
    st.builds(
        lambda ends: Conditions(ranges={"number": ends}), st.tuples(st.integers(0, 99), st.integers(0, 99))
    ),
    st.builds(lambda year: Conditions(values={"year": (year,)}), st.sampled_from(YEARS)),
    st.builds(lambda works: Conditions(values={"works": (works,)}), st.sampled_from("PR")),
    st.builds(
        lambda place, signs: Conditions(signs=(Sign(place=place, one_of=signs),)),
        st.sampled_from([1, 4, 5, 6, 7, 8, 9]),  # of the years only four are asked
        st.sampled_from(["0", "2", "7", "39", "R", "K"]),
    ),
)


@pytest.mark.property
@settings(deadline=None, max_examples=60)  # every code there is is asked each time
@given(st.lists(_CONDITIONS, min_size=1, max_size=3))
def test_what_no_stand_in_meets_no_code_meets(asked: list[Conditions]) -> None:
    decide = deciding(Conditions(all_of=tuple(asked)), LAYOUT)
    some = any(decide(code) is not False for code in stand_ins(LAYOUT, asked))

    assert some is any(decide(code) is not False for code in EVERY)


def test_a_long_list_is_stood_for_by_some_of_its_codes_in_order() -> None:
    layout = Layout(parts=(Part(kind="digits", name="number", size=5),))
    codes = CodeList.of(f"{number:05}" for number in range(5_001))
    keys = [code.code_key for code in stand_ins(layout, [Conditions(lists=(codes, None))])]

    assert keys == ["00000", "99999", *[f"{number:05}" for number in range(0, 5_001, 3)]]


def test_where_too_many_would_be_needed_there_are_none() -> None:
    layout = Layout(parts=(Part(kind="digits", name="number", size=9),))
    signs = tuple(Sign(place=place, one_of="37") for place in range(1, 8))

    assert stand_ins(layout, [Conditions(signs=signs)]) == ()


def test_a_year_of_four_digits_is_stood_for_in_four() -> None:
    layout = Layout(
        parts=(Part(kind="iso_year", name="year", size=4), Part(kind="one_of", name="a", letters="A"))
    )
    found = stand_ins(layout, [Conditions(ranges={"year": ("2019", 2020), "colour": ("a", "b")})])

    assert [code.code_key for code in found] == ["2018A", "2019A", "2020A", "2021A"]
    assert [code.code_key for code in stand_ins(layout, [])] == ["2000A"]


_SPELT = Layout(
    parts=(
        Part(kind="choice", name="line", choices=("KM", "KP")),
        Part(kind="separator", text="/"),
        Part(kind="one_of", name="works", size=2, letters="ABCDEFGH"),
        Part(kind="base_34", name="number", size=2),
        Part(kind="year", name="year", size=4),
        Part(kind="month_letter", name="month", letters="ABCDEFGHJKLM"),
    )
)


@pytest.mark.parametrize(
    ("asked", "met"),
    [
        (Conditions(signs=(Sign(place=2, one_of="P"),)), True),
        (Conditions(signs=(Sign(place=2, one_of="X"),)), False),
        (Conditions(signs=(Sign(place=3, one_of="H"), Sign(place=4, one_of="G"))), True),
        (Conditions(signs=(Sign(place=3, one_of="H"),), values={"works": ("GH", "AB")}), False),
        (Conditions(signs=(Sign(place=4, one_of="H"),), values={"works": ("GH", "AB")}), True),
        (Conditions(signs=(Sign(place=5, one_of="Z"),), ranges={"number": ("Y0", "Z0")}), True),
        (Conditions(signs=(Sign(place=5, one_of="Z"),), ranges={"number": ("X0", "YZ")}), False),
        (Conditions(signs=(Sign(place=6, one_of="1"),), ranges={"number": ("Y2", "Z1")}), True),
        (Conditions(signs=(Sign(place=8, one_of="9"),), ranges={"year": ("1990", "2010")}), True),
        (Conditions(signs=(Sign(place=9, one_of="5"),), ranges={"year": ("1996", "2004")}), False),
        (Conditions(signs=(Sign(place=11, one_of="M"),)), True),
        (Conditions(signs=(Sign(place=11, one_of="I"),)), False),
    ],
)
def test_a_sign_is_looked_for_in_parts_of_every_kind(asked: Conditions, met: bool) -> None:  # noqa: FBT001 - a case
    decide = deciding(asked, _SPELT)
    codes = stand_ins(_SPELT, [asked])

    assert codes
    assert any(decide(code) is not False for code in codes) is met


def test_where_a_sign_has_no_one_place_nothing_is_asked() -> None:
    several = Layout(parts=(Part(kind="choice", name="line", choices=("K", "KPP")), *_SPELT.parts[2:]))

    assert stand_ins(several, [Conditions(signs=(Sign(place=3, one_of="P"),))]) == ()
    assert stand_ins(several, [Conditions(values={"line": ("K",)})])


def test_a_gs1_element_is_stood_for_by_what_is_named_and_another() -> None:
    layout = Layout(parts=(Part(kind="whole", name="serial", element="21"),))
    found = stand_ins(layout, [Conditions(values={"serial": ("A7", "A8")})])

    assert sorted(code.code_key for code in found) == ["(21)0", "(21)A7", "(21)A8"]
    assert stand_ins(layout, [Conditions(signs=(Sign(place=5, one_of="A"),))]) == ()


def test_parts_of_every_kind_have_stand_ins_that_the_layout_reads() -> None:
    layout = Layout(
        parts=(
            Part(kind="one_of", name="lot", letters="AB", size=2),
            Part(kind="choice", name="plant", choices=("PL", "DE")),
            Part(kind="year", name="year"),
            Part(kind="month", name="month"),
            Part(kind="base_36", name="number", size=2),
            Part(kind="separator", text="/"),
            Part(kind="check", scheme="mod_37_36"),
        ),
        others=(
            (Part(kind="whole", name="serial", element="21"), Part(kind="whole", name="gtin", element="01")),
        ),
    )
    asked = [
        Conditions(values={"lot": ("AA",), "month": ("2503",)}),
        Conditions(values={"serial": ("X1",)}),
        Conditions(ranges={"number": ("0Z", "10")}),
    ]
    found = stand_ins(layout, asked)

    assert {code.fields.get("lot") for code in found} == {"AA", "AB", None}
    assert {code.fields.get("number") for code in found} == {0, 34, 35, 36, 37, 1295, None}
    assert {code.fields.get("serial") for code in found} == {"X1", "0", None}
    for one in asked:
        assert {deciding(one, layout)(code) for code in found} >= {True, None}
