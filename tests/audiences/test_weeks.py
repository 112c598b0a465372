"""Weeks at the edge of the year, by the published rules of ISO 8601."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from audiences.weeks import is_week, is_year, read_week, read_year, weeks_in


@pytest.mark.parametrize(
    ("day", "yyww"),  # ISO 8601: week 1 holds 4 January; the published examples of week dates
    [
        ("2005-01-01", "0453"),
        ("2006-01-01", "0552"),
        ("2007-12-31", "0801"),
        ("2008-12-29", "0901"),
        ("2009-12-31", "0953"),
        ("2010-01-03", "0953"),
        ("2015-12-31", "1553"),
        ("2018-12-31", "1901"),
        ("2019-12-30", "2001"),
        ("2020-12-31", "2053"),
        ("2021-01-03", "2053"),
        ("2021-01-04", "2101"),
        ("2024-12-30", "2501"),
        ("2026-12-31", "2653"),
        ("2027-01-03", "2653"),
    ],
)
def test_a_day_at_the_edge_of_a_year_lies_in_the_week_that_iso_8601_gives(day: str, yyww: str) -> None:
    week = date.fromisoformat(day).isocalendar()

    assert read_week(yyww) == (week.year, week.week)


def test_the_years_of_53_weeks_are_those_of_iso_8601() -> None:
    long_years = [year for year in range(2000, 2041) if weeks_in(year) == 53]

    assert long_years == [2004, 2009, 2015, 2020, 2026, 2032, 2037]


@pytest.mark.parametrize("text", ["2453", "2500", "2554", "25", "25345", "week", "", "000001", "\ud800"])
def test_a_week_that_is_not_in_the_calendar_is_none(text: str) -> None:
    assert read_week(text) is None


def test_years_have_two_digits_of_this_century_or_four() -> None:
    assert [read_year(text) for text in ("25", "2025", "1999", "9", "x")] == [2025, 2025, 1999, None, None]


def test_without_a_year_any_week_up_to_53_may_be() -> None:
    assert [is_week(None, week) for week in (0, 1, 53, 54)] == [False, True, True, False]


def test_the_calendar_reaches_from_1_to_9999() -> None:
    assert [is_year(year) for year in (0, 1, 9999, 10000)] == [False, True, True, False]


@pytest.mark.property
@given(st.dates(min_value=date(2000, 1, 3), max_value=date(2099, 12, 27)))
def test_the_week_of_every_day_of_the_century_can_be_read(day: date) -> None:
    week = day.isocalendar()

    assert read_week(f"{week.year % 100:02}{week.week:02}") == (week.year, week.week)
