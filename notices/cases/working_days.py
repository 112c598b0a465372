"""Count working days: Monday to Friday, less the public holidays of a country where they are known."""

from datetime import date, timedelta

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


def _holidays(country: str | None, day: date) -> set[date]:
    """Return the holidays of this year and the next; the ladder is shorter than a year."""
    if country is None or country not in holidays.list_supported_countries(include_aliases=False):
        return set()
    return set(holidays.country_holidays(country, years=(day.year, day.year + 1)))
