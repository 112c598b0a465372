"""What a rule writes is decoded to where it lies among the values of its field."""

import pytest

from audiences.codes import Layout, Part
from audiences.parts import PartKind
from audiences.written_values import Place, fits, places_of

YEAR = Part(kind="year", name="year", since=1990)


def _place(value: str | int, *parts: Part) -> Place | None:
    """Return the place of *value* in the last part of a layout."""
    found = places_of(Layout(parts=parts), parts[-1].name, [value])
    return found[1][0] if found else None


@pytest.mark.parametrize(
    ("kind", "value", "place"),
    [
        ("us_week", "0054", (2000, 54)),
        ("us_week", "9954", None),
        ("iso_week", "2653", (2026, 53)),
        ("iso_week", "202534", (2025, 34)),
        ("iso_week", 2534, (2025, 34)),
        ("iso_week", "2553", None),
        ("iso_week", "34", None),
        ("month", "2503", (2025, 3)),
        ("month", "9503", (1995, 3)),
        ("month", "2513", None),
        ("month", "000003", None),
        ("month_letter", "2503", (2025, 3)),
        ("month_letter", "C", None),
        ("year_day", "24366", (2024, 366)),
        ("year_day", "25366", None),
        ("year_day", "x", None),
        ("year_day", "", None),
        ("year_day", "9" * 65, None),
    ],
)
def test_a_week_month_or_day_lies_behind_its_year(
    kind: PartKind, value: str | int, place: Place | None
) -> None:
    assert _place(value, YEAR, Part(kind=kind, name="at", letters="ABCDEFGHJKLM")) == place


def test_a_day_lies_behind_its_year_and_month_where_the_code_has_both() -> None:
    month, day = Part(kind="month", name="month"), Part(kind="day", name="day")

    assert _place("250314", YEAR, month, day) == (2025, 3, 14)
    assert [_place(value, YEAR, month, day) for value in ("250229", "251301", "14")] == [None, None, None]
    assert _place("14", YEAR, day) == (14,)


@pytest.mark.parametrize(
    ("part", "value", "place", "fitting"),
    [
        (Part(kind="month_letter", name="m", letters="ABCDEFGHJKLM"), "j", (9,), True),
        (Part(kind="month", name="m"), "03", (3,), True),
        (Part(kind="base_34", name="n", size=2), "zz", (1155,), True),
        (Part(kind="base_34", name="n", size=2), "100", (1156,), False),
        (Part(kind="base_34", name="n", size=2), "O1", None, False),
        (Part(kind="base_36", name="n", size=2), 10, (36,), True),
        (Part(kind="digits", name="n", size=2), "9" * 65, None, False),
        (Part(kind="year", name="y", size=1, since=2017), "6", (2026,), True),
        (Part(kind="year", name="y"), "6", None, False),
        (Part(kind="choice", name="p", choices=("p-l", "DE")), "pl", ("PL",), True),
        (Part(kind="choice", name="p", choices=("PL", "DE")), "FR", ("FR",), False),
        (Part(kind="one_of", name="p", letters="AB", size=2), "ba", ("BA",), True),
        (Part(kind="one_of", name="p", letters="AB", size=2), "A", ("A",), False),
        (Part(kind="whole", name="s", element="21"), "x1", ("X1",), True),
    ],
)
def test_numbers_and_choices_are_written_as_in_the_code(
    part: Part,
    value: str | int,
    place: Place | None,
    fitting: bool,  # noqa: FBT001 - a parameter of the test
) -> None:
    found = _place(value, part)

    assert found == place
    assert (found is not None and fits(part, found)) is fitting


def test_a_field_that_no_layout_has_has_no_place() -> None:
    assert places_of(Layout(parts=(YEAR,)), "colour", ["A"]) is None
    assert list(Layout(parts=(Part(kind="text", text="A"), YEAR), others=((YEAR,),)).fields) == ["year"]
