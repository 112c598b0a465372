"""When a unit was made, as far as its code tells: no unit is sold before that day."""

from datetime import date, timedelta

from audiences.codes import Layout, Parsed

_SUNDAY = 7


def earliest(layout: Layout, code: Parsed) -> date | None:
    """Return the first day on which a unit with this code can have been made, None where its code names no year.

    A week begins on its Monday, and so does the year that weeks are counted in (ISO 8601); a US week on its Sunday.
    """
    known = {name: part for name, part in layout.fields.items() if isinstance(code.fields.get(name), int)}
    found = {
        "us_week" if part.kind == "us_week" else part.sort: int(code.fields[name])
        for name, part in known.items()
    }
    year = found.get("year")
    if year is None:
        return None
    if "week" in found:
        return date.fromisocalendar(year, found["week"], 1)
    if "us_week" in found:
        first = date(year, 1, 1)
        return max(first, first + timedelta(days=7 * (found["us_week"] - 1) - first.isoweekday() % _SUNDAY))
    if "year_day" in found:
        return date(year, 1, 1) + timedelta(days=found["year_day"] - 1)
    if "month" in found:
        return date(year, found["month"], found.get("day", 1))
    iso = any(part.kind == "iso_year" for part in known.values())
    return date.fromisocalendar(year, 1, 1) if iso else date(year, 1, 1)
