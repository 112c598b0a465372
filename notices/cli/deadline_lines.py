"""Deadlines in plain text that a narrow terminal bears too."""

import shutil
import textwrap
from collections.abc import Iterator, Sequence
from datetime import date

from notices.campaign.duties import CLOSING
from notices.cases.deadlines import Deadline
from notices.cli.saying import number
from notices.work.reporting import Found, Happened

_INDENT = "    "
_WIDEST = 110
_COUNTED = {
    "knowledge": "the day we learned of it",
    "action": "the day the recall began",
    "determination": "the day of the determination",
    "report": "the day of the report",
    "notification": "the day of the notification",
}


def lines(found: Found) -> Iterator[str]:
    """Yield every deadline, then the incidents, what is not known, and that this is no legal advice."""
    yield f"Deadlines on {_day(found.on)}"
    for name, (day, whence) in found.days.items():
        yield from _wrapped(f"{_COUNTED[name]}: {_day(day)} ({whence})", _INDENT)
    for one in found.lines:
        yield ""
        yield from _wrapped(f"{when(one, found.on)}: {one.key}", "", _INDENT)
        yield from _wrapped(f"{_market(one)}to {one.to}: {one.what}", _INDENT)
        yield from _wrapped(_standing(one), _INDENT)
    if found.incidents:
        yield ""
        yield "Incidents"
    for happened in found.incidents:
        yield from _wrapped(_incident(happened), "", _INDENT)
    yield ""
    for market in found.unknown:
        yield from _wrapped(f"{market}: we know of no duty there; ask the authority.", "")
    if not (found.lines or found.unknown):
        yield "The countries are not yet known, and with them what is owed there."
    yield from _wrapped(CLOSING, "")
    if found.next is not None:
        yield from _wrapped(
            f"Once it is told: notices record {found.next.key} authority-told --day DAY --by NAME",
            "",
            _INDENT,
        )


def when(one: Deadline, today: date) -> str:
    """Return how a deadline stands, in words."""
    state = one.state(today)
    if one.report is not None:
        return f"Told on {_day(one.report.day)} by {one.report.by}"
    if one.day is None:
        return f"No day yet, counted from {_COUNTED[one.counted]}"
    if state == "at once":
        return f"At once, since {_day(one.day)}"
    if state == "overdue":
        return f"Overdue by {number((today - one.day).days, 'day')}, was due {_day(one.day)}"
    return (
        "Due today"
        if state == "due today"
        else f"Due {_day(one.day)}, in {number((one.day - today).days, 'day')}"
    )


def next_line(found: Found) -> str:
    """Return the most urgent deadline in one line; empty where none is open."""
    one = found.next
    return (
        f"{one.key}, {when(one, found.on)[0].lower()}{when(one, found.on)[1:]} (notices deadlines)"
        if one
        else ""
    )


def learned(incident: str, due: Sequence[Deadline]) -> str:
    """Return what follows from an incident that was written down."""
    told = [f"  {one.key}: {'at once' if one.at_once or one.day is None else _day(one.day)}" for one in due]
    head = f"Incident {incident} is written down. Keep the part that failed: it is evidence."
    follows = (
        "Reports that are due for it:" if told else "The table knows of no report for it; ask the authority."
    )
    return "\n".join([head, follows, *told, CLOSING])


def _market(one: Deadline) -> str:
    return f"{one.market}, " if one.market else ""


def _standing(one: Deadline) -> str:
    mark = f" ({one.mark})" if one.mark else ""
    moved = ", ".join(day.isoformat() for day in one.holidays)
    table = f"; a table of holidays passed over {moved}, which is to be confirmed" if moved else ""
    return f"{one.source}{mark}{table}"


def _incident(one: Happened) -> str:
    row = one.row
    happened = f", happened {_day(row.happened_on)}" if row.happened_on else ""
    reports = number(one.duties, "report") if one.duties else "no report that the table knows"
    return (
        f"{row.incident_id}, {row.country}, learned {_day(one.day)}{happened}: {one.text}"
        f" Harm: {row.harm}; age: {row.age_band}; the part: {row.part_kept}; {reports}."
    )


def _day(day: date) -> str:
    return f"{('Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun')[day.weekday()]} {day.isoformat()}"


def _wrapped(text: str, indent: str, rest: str | None = None) -> list[str]:
    width = min(shutil.get_terminal_size().columns, _WIDEST)
    return textwrap.wrap(
        text,
        width,
        initial_indent=indent,
        subsequent_indent=indent if rest is None else rest,
        break_long_words=False,
        break_on_hyphens=False,
    )
