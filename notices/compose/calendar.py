"""Deadlines as a calendar that other programs read: iCalendar (RFC 5545), one event of a whole day each."""

from collections.abc import Iterable
from datetime import date, datetime, timedelta

from icalendar import Calendar, Event

from notices.campaign.duties import CLOSING
from notices.cases.deadlines import Deadline

_PRODUCT = "-//notices//deadlines//EN"


def calendar(lines: Iterable[Deadline], *, name: str, today: date, now: datetime) -> bytes:
    """Return the open deadlines that have a day; what is due at once stands on *today*, as what is overdue does.

    The same line has the same UID in every export, so that a later one moves it and doubles nothing.
    """
    made = Calendar()
    made.add("prodid", _PRODUCT)
    made.add("version", "2.0")
    for one in lines:
        if one.day is not None and one.report is None:
            made.add_component(_event(one, name=name, today=today, now=now))
    return bytes(made.to_ical())


def _event(one: Deadline, *, name: str, today: date, now: datetime) -> Event:
    due = one.day or today
    day = max(due, today)
    late = f"overdue since {due.isoformat()}: " if due < today and not one.at_once else ""
    event = Event()
    event.add("uid", f"{one.key}@{name or 'notices'}".replace(" ", "-"))
    event.add("dtstamp", now)
    event.add("dtstart", day)
    event.add("dtend", day + timedelta(days=1))
    event.add("summary", f"{late}{one.key}: {one.to}")
    event.add("description", f"{one.what}\n{one.source} ({one.mark or 'own'})\n{CLOSING}")
    event.add("transp", "TRANSPARENT")
    return event
