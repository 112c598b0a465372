"""When a unit was made, as far as its code tells: no unit is sold before that day."""

from datetime import date

from audiences.codes import Layout, Parsed


def earliest(layout: Layout, code: Parsed) -> date | None:
    """Return the first day on which a unit with this code can have been made, None where its code names no year.

    A week begins on its Monday, and so does the year that weeks are counted in (ISO 8601).
    """
    parts = {part.kind: code.fields[part.name] for part in layout.parts if part.name in code.fields}
    year, week = parts.get("iso_year"), parts.get("iso_week", 1)
    if not isinstance(year, int) or not isinstance(week, int):
        return None
    return date.fromisocalendar(year, week, 1)
