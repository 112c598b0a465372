"""Which weeks and days there are.

ISO 8601: a week belongs to the year that holds its Thursday. The US week: weeks begin on Sunday, and the week that
holds 1 January is the first, so that the days before the first Sunday are a short one (common practice, no source).
"""

from calendar import isleap, monthrange
from datetime import MAXYEAR, MINYEAR, date
from functools import lru_cache

from audiences.folding import fold
from audiences.parts import year_of

_MONTHS = 12
_MOST_DAYS = 31


@lru_cache
def weeks_in(iso_year: int) -> int:
    """Return 52 or 53, the number of weeks of an ISO 8601 year (28 December always lies in the last)."""
    return date(iso_year, 12, 28).isocalendar().week


def is_week(iso_year: int | None, week: int) -> bool:
    """Tell whether ISO 8601 knows this week; without a year, whether any year has it."""
    return 1 <= week <= (53 if iso_year is None else weeks_in(iso_year))


@lru_cache
def us_weeks_in(year: int) -> int:
    """Return 53, or 54 where a leap year begins on a Saturday: the number of weeks as they are counted in the US."""
    before_sunday = date(year, 1, 1).isoweekday() % 7
    return -(-(before_sunday + days_in(year)) // 7)


def is_us_week(year: int | None, week: int) -> bool:
    """Tell whether a year has this week as it is counted in the US; without a year, whether any year has it."""
    return 1 <= week <= (54 if year is None else us_weeks_in(year))


def days_in(year: int) -> int:
    """Return 365 or 366."""
    return 366 if isleap(year) else 365


def is_year_day(year: int | None, day: int) -> bool:
    """Tell whether a year has a day of this number; without a year, whether any year has it."""
    return 1 <= day <= (366 if year is None else days_in(year))


def is_month(month: int) -> bool:
    """Tell whether there is a month of this number."""
    return 1 <= month <= _MONTHS


def is_day(year: int | None, month: int | None, day: int) -> bool:
    """Tell whether a month has this day, as far as year and month are known."""
    if month is None:
        return 1 <= day <= _MOST_DAYS
    return 1 <= day <= (29 if year is None and month == 2 else monthrange(year or 2001, month)[1])  # noqa: PLR2004 - February


def is_year(year: int) -> bool:
    """Tell whether the calendar reaches this year."""
    return MINYEAR <= year <= MAXYEAR


def read_week(text: str) -> tuple[int, int] | None:
    """Return (ISO year, week) of ``yyww`` or ``yyyyww``, or None where there is no such week."""
    folded = fold(text)
    if not _is_number(folded) or len(folded) not in {len("yyww"), len("yyyyww")}:
        return None
    year, week = year_of(folded[:-2]), int(folded[-2:])
    return (year, week) if is_year(year) and is_week(year, week) else None


def read_year(text: str) -> int | None:
    """Return the year of two digits (of this century) or four, or None where it is neither."""
    folded = fold(text)
    return year_of(folded) if _is_number(folded) and len(folded) in {len("yy"), len("yyyy")} else None


def _is_number(text: str) -> bool:
    return text.isascii() and text.isdecimal()
