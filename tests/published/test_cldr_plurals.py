"""Unicode CLDR, "Language Plural Rules": which form a counted sentence takes.

The values for ar and pl are those of the CLDR chart (categories zero, one, two, few, many, other), copied from
memory; all others are read from the CLDR that Babel carries.
"""

import pytest
from babel import Locale

from notices.wording.catalogues import PLURALS, plural_count, plural_index

_CATEGORIES = ("zero", "one", "two", "few", "many", "other")
_AR = (
    (0, 0),
    (1, 1),
    (2, 2),
    (3, 3),
    (10, 3),
    (11, 4),
    (99, 4),
    (100, 5),
    (101, 5),
    (102, 5),
    (103, 3),
    (111, 4),
)
_PL = (
    (0, 2),
    (1, 0),
    (2, 1),
    (4, 1),
    (5, 2),
    (12, 2),
    (14, 2),
    (21, 2),
    (22, 1),
    (25, 2),
    (100, 2),
    (112, 2),
)


@pytest.mark.parametrize(("n", "index"), _AR)
def test_arabic_has_six_forms_in_the_order_of_cldr(n: int, index: int) -> None:
    assert plural_index("ar", n) == index


@pytest.mark.parametrize(("n", "index"), _PL)
def test_polish_has_three_forms_for_whole_numbers(n: int, index: int) -> None:
    assert plural_index("pl", n) == index


@pytest.mark.parametrize("tag", sorted(PLURALS))
def test_each_rule_parts_whole_numbers_as_cldr_does(tag: str) -> None:
    """Hold each rule to Babel's copy of CLDR for 0 to 1000: two numbers share a form where they share a category."""
    locale = Locale.parse(tag, sep="-")
    categories = [str(locale.plural_form(n)) for n in range(1001)]
    in_order = [each for each in _CATEGORIES if each in categories]

    assert plural_count(tag) == len(in_order)
    assert [plural_index(tag, n) for n in range(1001)] == [in_order.index(each) for each in categories]
