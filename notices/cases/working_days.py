"""Count working days: Monday to Friday, less the public holidays of a country where they are known."""

from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache

import holidays


@dataclass(frozen=True, kw_only=True, slots=True)
class Counted:
    """The day that was counted to, and the holidays that moved it: by a table, not by the law itself."""

    day: date
    holidays: tuple[date, ...] = ()


def after(day: date, count: int, country: str | None) -> date:
    """Return the *count*-th working day after *day*; a country without a known calendar has weekends only."""
    return counted(day, count, country).day


def counted(day: date, count: int, country: str | None) -> Counted:
    """Return the *count*-th working day after *day*, with the holidays passed over."""
    free = _holidays(country, day)
    left = count
    passed = []
    while left:
        day += timedelta(days=1)
        if day.weekday() < _SATURDAY and day not in free:
            left -= 1
        elif day.weekday() < _SATURDAY:
            passed.append(day)
    return Counted(day=day, holidays=tuple(passed))


def open_from(day: date, country: str | None) -> Counted:
    """Return *day* itself where it is a working day, else the next one."""
    found = counted(day - timedelta(days=1), 1, country)
    return found if found.day != day else Counted(day=day)


_SATURDAY = 5


def _holidays(country: str | None, day: date) -> frozenset[date]:
    """Return the holidays of this year and the next; the ladder is shorter than a year."""
    return _of_year(country, day.year) | _of_year(country, day.year + 1)


@lru_cache(maxsize=64)
def _of_year(country: str | None, year: int) -> frozenset[date]:
    if country is None or country not in holidays.list_supported_countries(include_aliases=False):
        return frozenset()
    return frozenset(holidays.country_holidays(country, years=year))
