"""A code tells the first day on which its unit can have been made."""

from datetime import date

import pytest

from audiences.codes import Layout, Parsed, Part, read
from audiences.made import earliest

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
