"""The calendar is one that a general-purpose library reads (RFC 5545), each open deadline once."""

from datetime import UTC, date, datetime

from icalendar import Calendar

from notices.cases.deadlines import Clock, Report, deadlines
from notices.compose.calendar import calendar

TODAY = date(2026, 3, 4)
NOW = datetime(2026, 3, 4, 9, 0, tzinfo=UTC)


def written(*, told: bool = False, name: str = "Emberling valve") -> Calendar:
    clock = Clock(
        today=TODAY,
        markets=("EU", "US"),
        days={"knowledge": date(2026, 2, 27)},
        told={"us-report": Report(day=TODAY, by="Ada")} if told else {},
    )
    return Calendar.from_ical(calendar(deadlines(clock), name=name, today=TODAY, now=NOW))


def days(found: Calendar) -> dict[str, date]:
    return {str(one["uid"]): one.decoded("dtstart") for one in found.walk("VEVENT")}


def test_each_open_deadline_is_a_whole_day_and_what_is_late_stands_on_today() -> None:
    assert days(written()) == {
        "us-report@Emberling-valve": TODAY,
        "eu-defect@Emberling-valve": TODAY,
        "us-officer@Emberling-valve": date(2026, 3, 6),
        "us-investigation@Emberling-valve": date(2026, 3, 13),
    }


def test_what_was_told_is_not_in_it() -> None:
    assert "us-report@notices" not in days(written(told=True, name=""))
    assert "us-officer@notices" in days(written(told=True, name=""))


def test_late_is_said_in_words_and_the_law_with_who_decides() -> None:
    first, *_ = (one for one in written().walk("VEVENT") if str(one["uid"]).startswith("us-report"))

    assert str(first["summary"]) == "overdue since 2026-03-02: us-report: the commission"
    assert "15 USC 2064(b)" in str(first["description"])
    assert "no legal advice" in str(first["description"])
    assert first.decoded("dtend") == date(2026, 3, 5)
