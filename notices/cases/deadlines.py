"""Which report is due when: the duties of the markets, of each incident, and the firm's own, each with its day.

No legal advice: counsel and the authority decide. A day that a table of holidays moved says so.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Literal

from notices.campaign.duties import HARMS, Duty, Mark, market_of
from notices.campaign.duty_table import DUTIES, OTHER_PRODUCTS
from notices.campaign.own_duties import Counted, OwnDuty
from notices.cases import working_days
from notices.cases.records import IncidentRow

State = Literal["overdue", "at once", "due today", "due", "no day yet", "told"]
_ORDER: tuple[State, ...] = ("overdue", "at once", "due today", "due", "no day yet", "told")
_QUARTERS = 8  # 49 USC 30118(f): eight quarters, then one report a year
_OWN = "own/"
_EARLIEST, _LATEST = date(2000, 1, 1), date(2200, 1, 1)


@dataclass(frozen=True, kw_only=True, slots=True)
class Report:
    """What was told to an authority or somebody else: on which day, and who says so."""

    day: date
    by: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Learned:
    """An incident, and the day on which the firm learned of it."""

    row: IncidentRow
    day: date


@dataclass(frozen=True, kw_only=True, slots=True)
class Deadline:
    """One report: to whom, what, by which *day*; None where the day it is counted from is not known.

    *start* is the day of what it is *counted* from. *at_once* where the law names no number. *holidays* moved the day.
    *mark* is None for a duty of the firm's own.
    """

    key: str
    market: str
    to: str
    what: str
    counted: Counted
    start: date | None
    day: date | None
    at_once: bool
    source: str
    mark: Mark | None
    holidays: tuple[date, ...] = ()
    incident: str = ""
    report: Report | None = None

    def state(self, today: date) -> State:
        """Return how the report stands on *today*."""
        if self.report is not None:
            return "told"
        if self.day is None:
            return "no day yet"
        if self.at_once:
            return "at once"
        if self.day == today:
            return "due today"
        return "overdue" if self.day < today else "due"


@dataclass(frozen=True, kw_only=True, slots=True)
class Clock:
    """What deadlines follow from: *markets* are law areas, *days* what is counted from, *told* by a deadline's key.

    *country* is the firm's own, whose holidays its own duties keep.
    """

    today: date
    markets: Collection[str]
    days: Mapping[Counted, date]
    country: str | None = None
    incidents: Sequence[Learned] = ()
    own: Mapping[str, OwnDuty] = field(default_factory=dict)
    told: Mapping[str, Report] = field(default_factory=dict)


def deadlines(clock: Clock) -> tuple[Deadline, ...]:
    """Return every report: overdue first, then at once, today, later, those without a day, and last what was told."""
    found = [*_of_the_defect(clock), *_of_incidents(clock), *_own(clock)]
    return tuple(
        sorted(
            found,
            key=lambda one: (_ORDER.index(one.state(clock.today)), one.day or date.max, one.key),
        )
    )


@dataclass(frozen=True, kw_only=True, slots=True)
class Owed:
    """A duty of a market, an accident's too, and its last day; None where nobody knows what it counts from."""

    duty: Duty
    day: date | None


def owed_in(countries: Collection[str], days: Mapping[Counted, date]) -> tuple[Owed, ...]:
    """Return the duties of the markets of *countries* that come once, the earliest first; without a day last."""
    found = [
        Owed(duty=duty, day=last_day(duty, days[duty.counted]).day if duty.counted in days else None)
        for duty in DUTIES
        if duty.market in markets_of(countries) and not duty.series
    ]
    return tuple(sorted(found, key=lambda one: (one.day or date.max, one.duty.market)))


def without_duties(markets: Collection[str]) -> tuple[str, ...]:
    """Return those of the markets of which no duty is known here."""
    known = {duty.market for duty in DUTIES}
    return tuple(one for one in dict.fromkeys(markets) if one not in known)


def markets_of(countries: Collection[str]) -> tuple[str, ...]:
    """Return the law areas of *countries*, each once."""
    return tuple(dict.fromkeys(market_of(country)[0] for country in countries))


def brought_by(row: IncidentRow) -> tuple[Duty, ...]:
    """Return the duties that an incident brings, by its country and its harm."""
    market = market_of(row.country)[0] if row.country else ""
    return tuple(
        duty
        for duty in DUTIES
        if duty.market == market and duty.about != "defect" and _rank(row.harm) >= _rank(duty.least)
    )


def _rank(harm: str) -> int:
    return next((at for at, word in enumerate(HARMS) if word == harm), len(HARMS))


def _of_the_defect(clock: Clock) -> Iterator[Deadline]:
    for duty in DUTIES:
        if duty.market not in clock.markets or duty.about == "incident":
            continue
        start = _start(clock, duty.counted)
        if duty.series and start is not None:
            yield from _series(clock, duty, start)
        else:
            yield _line(clock, duty, duty.key, start)


def _start(clock: Clock, counted: Counted) -> date | None:
    """Return the day that is counted from; one that no campaign can have is as good as none."""
    day = clock.days.get(counted)
    return day if day is not None and _EARLIEST <= day <= _LATEST else None


def _of_incidents(clock: Clock) -> Iterator[Deadline]:
    for one in clock.incidents:
        for duty in brought_by(one.row):
            key = f"{one.row.incident_id}/{duty.key}"
            yield _line(clock, duty, key, one.day, incident=one.row.incident_id)


def _line(clock: Clock, duty: Duty, key: str, start: date | None, *, incident: str = "") -> Deadline:
    due = None if start is None or duty.series else last_day(duty, start)
    return _deadline(clock, duty, key, start, due, incident=incident)


def _deadline(
    clock: Clock,
    duty: Duty,
    key: str,
    start: date | None,
    due: working_days.Counted | None,
    *,
    incident: str = "",
) -> Deadline:
    return Deadline(
        key=key,
        market=duty.market,
        to=duty.to,
        what=duty.what,
        counted=duty.counted,
        start=start,
        day=due.day if due else None,
        at_once=not duty.days and not duty.series,
        source=duty.source,
        mark=duty.mark,
        holidays=due.holidays if due else (),
        incident=incident,
        report=clock.told.get(key),
    )


def last_day(duty: Duty, start: date) -> working_days.Counted:
    """Return the last day of *duty*, counted from *start*."""
    country = country_of(duty.market)
    if duty.working:
        return working_days.counted(start, duty.days, country)
    day = start + timedelta(days=duty.days - duty.first_counts)
    return working_days.open_from(day, country) if duty.rolls else working_days.Counted(day=day)


def country_of(market: str) -> str | None:
    """Return the country whose holidays a market keeps; None for the EU, where each member has its own."""
    return None if market == "EU" else OTHER_PRODUCTS.get(market, market)


def _series(clock: Clock, duty: Duty, start: date) -> Iterator[Deadline]:
    """Yield the reports of a series that are past, and the next one."""
    for due in _occurrences(duty, start):
        yield _deadline(clock, duty, f"{duty.key}/{due.day.isoformat()}", start, due)
        if due.day > clock.today:
            return


def _occurrences(duty: Duty, start: date) -> Iterator[working_days.Counted]:
    if duty.series == "quarter":
        yield from quarters(start, duty.times, country_of(duty.market))
        return
    day = start
    while True:
        day = _first_of_next_month(day) if duty.series == "month" else day + timedelta(days=duty.days)
        yield working_days.Counted(day=day)


def quarters(start: date, times: int, country: str | None) -> Iterator[working_days.Counted]:
    """Yield the days of the quarterly reports: 30 days after each quarter from that of *start*, then each year.

    49 CFR 573.7(d): 30 April, 30 July, 30 October, 30 January, or the next business day. That an annual report is due
    a year after the last one is our reading, to be confirmed.
    """
    quarter = start.year * 4 + (start.month - 1) // 3
    for number in range(times):
        end = (
            quarter + number if number < _QUARTERS else quarter + _QUARTERS - 1 + 4 * (number - _QUARTERS + 1)
        )
        year, at = divmod(end + 1, 4)
        yield working_days.open_from(date(year, 1 + 3 * at, 30), country)


def _first_of_next_month(day: date) -> date:
    return (day.replace(day=1) + timedelta(days=32)).replace(day=1)


def _own(clock: Clock) -> Iterator[Deadline]:
    for name, duty in clock.own.items():
        key, start = _OWN + name, _start(clock, duty.counted_from)
        due = None
        if start is not None:
            due = (
                working_days.counted(start, duty.within_days, clock.country)
                if duty.working
                else working_days.Counted(day=start + timedelta(days=duty.within_days))
            )
        yield Deadline(
            key=key,
            market="",
            to=duty.to,
            what=duty.what,
            counted=duty.counted_from,
            start=start,
            day=due.day if due else None,
            at_once=not duty.within_days,
            source="your own duty, as campaign.yaml has it",
            mark=None,
            holidays=due.holidays if due else (),
            report=clock.told.get(key),
        )
