"""Which weeks there are (ISO 8601): a week belongs to the year that holds its Thursday."""

import re
from datetime import MAXYEAR, MINYEAR, date

from audiences.folding import fold

_CENTURY = 2000  # of a year of two digits


def weeks_in(iso_year: int) -> int:
    """Return 52 or 53, the number of weeks of an ISO 8601 year (28 December always lies in the last)."""
    return date(iso_year, 12, 28).isocalendar().week


def is_week(iso_year: int | None, week: int) -> bool:
    """Tell whether ISO 8601 knows this week; without a year, whether any year has it."""
    return 1 <= week <= (53 if iso_year is None else weeks_in(iso_year))


def is_year(iso_year: int) -> bool:
    """Tell whether the calendar reaches this year."""
    return MINYEAR <= iso_year <= MAXYEAR


def read_week(text: str) -> tuple[int, int] | None:
    """Return (ISO year, week) of ``yyww`` or ``yyyyww``, or None where there is no such week."""
    folded = fold(text)
    if not re.fullmatch(r"[0-9]{4}|[0-9]{6}", folded):
        return None
    year, week = year_of(folded[:-2]), int(folded[-2:])
    return (year, week) if is_year(year) and is_week(year, week) else None


def read_year(text: str) -> int | None:
    """Return the year of two digits (of this century) or four, or None where it is neither."""
    folded = fold(text)
    return year_of(folded) if re.fullmatch(r"[0-9]{2}|[0-9]{4}", folded) else None


def year_of(digits: str) -> int:
    """Return the year that *digits* write; two of them mean a year of this century."""
    return int(digits) + (_CENTURY if len(digits) == len("yy") else 0)
