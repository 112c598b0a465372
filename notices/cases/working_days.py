"""Count working days: Monday to Friday, less the public holidays of a country where they are known."""

from datetime import date, timedelta
from functools import lru_cache

import holidays


def after(day: date, count: int, country: str | None) -> date:
    """Return the *count*-th working day after *day*; a country without a known calendar has weekends only."""
    free = _holidays(country, day)
    left = count
    while left:
        day += timedelta(days=1)
        if day.weekday() < _SATURDAY and day not in free:
            left -= 1
    return day


_SATURDAY = 5


def _holidays(country: str | None, day: date) -> frozenset[date]:
    """Return the holidays of this year and the next; the ladder is shorter than a year."""
    return _of_year(country, day.year) | _of_year(country, day.year + 1)


@lru_cache(maxsize=64)
def _of_year(country: str | None, year: int) -> frozenset[date]:
    if country is None or country not in holidays.list_supported_countries(include_aliases=False):
        return frozenset()
    return frozenset(holidays.country_holidays(country, years=year))
