"""A code tells the first day on which its unit can have been made."""

from datetime import date

import pytest

from audiences.codes import Layout, Parsed, Part, read
from audiences.made import earliest
from audiences.parts import PartKind

WEEKS = Layout(parts=(Part(kind="iso_year", name="year", size=2), Part(kind="iso_week", name="week")))
YEARS = Layout(
    parts=(Part(kind="iso_year", name="year", size=4), Part(kind="one_of", name="works", letters="PR"))
)
UNDATED = Layout(parts=(Part(kind="iso_week", name="week"), Part(kind="digits", name="number", size=3)))


# ISO 8601: week 1 holds the year's first Thursday, and 2020 has 53 weeks; the days are those of Python's calendar.
@pytest.mark.parametrize(
    ("layout", "code", "day"),
    [
        (WEEKS, "2101", date(2021, 1, 4)),
        (WEEKS, "2053", date(2020, 12, 28)),
        (WEEKS, "2001", date(2019, 12, 30)),
        (WEEKS, "2534", date(2025, 8, 18)),
        (YEARS, "2020P", date(2019, 12, 30)),
        (UNDATED, "12345", None),
    ],
)
def test_the_first_day_is_the_monday_of_the_week(layout: Layout, code: str, day: date | None) -> None:
    reading = read(layout, code)
    assert isinstance(reading, Parsed)

    assert earliest(layout, reading) == day


@pytest.mark.parametrize(
    ("kinds", "code", "day"),
    [
        (("year", "month", "day"), "250314", date(2025, 3, 14)),
        (("year", "month"), "2503", date(2025, 3, 1)),
        (("year", "year_day"), "25034", date(2025, 2, 3)),
        (("year",), "25", date(2025, 1, 1)),
        (("year", "us_week"), "2501", date(2025, 1, 1)),  # a Wednesday: the first week is a short one
        (("year", "us_week"), "2502", date(2025, 1, 5)),
        (("year", "us_week"), "2854", date(2028, 12, 31)),
        (("month",), "03", None),
    ],
)
def test_a_unit_is_made_on_the_first_day_that_its_code_can_mean(
    kinds: tuple[PartKind, ...], code: str, day: date | None
) -> None:
    layout = Layout(parts=tuple(Part(kind=kind, name=kind) for kind in kinds))
    reading = read(layout, code)

    assert isinstance(reading, Parsed)
    assert earliest(layout, reading) == day
