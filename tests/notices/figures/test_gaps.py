"""What nobody knows is what was sold and stands on no list."""

from collections import Counter

from hypothesis import given
from hypothesis import strategies as st

from notices.figures.gaps import PLACES, Gap, gaps

SOLD = {"Harbour Bikes": {"2025-08": 12, "2025-09": 20}, "Web shop": {"2025-09": 5}}


def test_sold_minus_listed_is_what_nobody_knows_by_shop_and_month() -> None:
    found = gaps(
        sold=40,
        by_shop=SOLD,
        listed={
            ("Harbour Bikes", "2025-08"): 9,
            ("Harbour Bikes", "2025-09"): 20,
            ("Web shop", "2025-09"): 1,
        },
    )

    assert (found.sold, found.listed, found.unknown, found.by_shop) == (40, 30, 10, 37)
    assert [(gap.shop, gap.month, gap.unknown) for gap in found.months] == [
        ("Harbour Bikes", "2025-08", 3),
        ("Harbour Bikes", "2025-09", 0),
        ("Web shop", "2025-09", 4),
    ]
    assert [(gap.shop, gap.sold, gap.listed, gap.unknown) for gap in found.shops] == [
        ("Harbour Bikes", 32, 29, 3),
        ("Web shop", 5, 1, 4),
    ]


def test_a_shop_is_the_same_however_it_is_spelt() -> None:
    found = gaps(
        sold=None, by_shop=SOLD, listed={("HARBOUR-BIKES", "2025-08"): 2, ("harbour bikes", "2025-08"): 1}
    )

    assert found.months[0] == Gap(shop="Harbour Bikes", month="2025-08", sold=12, listed=3)
    assert found.unknown is None


def test_what_the_lists_name_without_a_number_sold_stands_there_as_such() -> None:
    found = gaps(sold=10, by_shop={}, listed={("Fair", "2025-08"): 1, ("Fair", ""): 2, ("", ""): 3})

    assert [(gap.shop, gap.month, gap.sold, gap.unknown) for gap in found.months] == [
        ("Fair", "", None, None),
        ("Fair", "2025-08", None, None),
        ("", "", None, None),
    ]
    assert (found.unknown, found.by_shop) == (4, None)


def test_a_day_of_sale_outside_a_shops_months_still_counts_for_the_shop() -> None:
    found = gaps(sold=37, by_shop=SOLD, listed={("Web shop", "2025-12"): 2})

    assert [gap.unknown for gap in found.shops] == [32, 3]


def test_more_listed_than_sold_is_below_nothing() -> None:
    found = gaps(sold=1, by_shop={"Fair": {"2025-08": 1}}, listed={("Fair", "2025-08"): 3})

    assert (found.unknown, found.shops[0].unknown) == (-2, -2)


def test_what_a_shop_says_counts_where_the_books_are_silent() -> None:
    found = gaps(
        sold=60,
        by_shop=SOLD,
        listed={("Fair", "2025-08"): 3, ("Fair", "2025-09"): 1},
        by_word={"FAIR": 9, "web shop": 50, "Quay Cycles": 4},
    )
    shops = {gap.shop: gap for gap in found.shops}

    assert (shops["Fair"].sold, shops["Fair"].unknown, shops["Fair"].by_word) == (9, 5, True)
    assert (shops["Web shop"].sold, shops["Web shop"].by_word) == (5, False)
    assert (shops["Quay Cycles"].listed, shops["Quay Cycles"].unknown) == (0, 4)
    assert found.by_shop == 37  # the books alone


NAMES = st.sampled_from(["Fair", "fair", "Web shop", ""])
MONTHS = st.sampled_from(["", "2025-08", "2025-09"])


@given(
    st.dictionaries(
        st.sampled_from(["Fair", "Web shop"]), st.dictionaries(MONTHS.filter(bool), st.integers(0, 50))
    ),
    st.dictionaries(st.tuples(NAMES, MONTHS), st.integers(1, 50)),
)
def test_every_listed_unit_and_every_unit_sold_counts_once(
    by_shop: dict[str, dict[str, int]], listed: dict[tuple[str, str], int]
) -> None:
    found = gaps(sold=100, by_shop=by_shop, listed=Counter(listed))

    assert sum(gap.listed for gap in found.months) == sum(gap.listed for gap in found.shops) == found.listed
    assert sum(gap.sold or 0 for gap in found.months) == (found.by_shop or 0)


def test_every_place_to_look_says_that_it_is_common_practice() -> None:
    assert {place.source for place in PLACES} == {"common practice, no source"}
    assert {"workshop book", "warranty cards", "leasing firms"} <= {place.where for place in PLACES}
    assert any("guest orders" in place.ask for place in PLACES)
    assert any("unsubscribed" in place.ask for place in PLACES)
