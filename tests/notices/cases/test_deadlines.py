"""Which report is due by which day, held against the rules as their sources tell them."""

from collections.abc import Iterator, Mapping
from datetime import UTC, date, datetime
from itertools import pairwise

import pytest

from notices.campaign.duty_table import DUTIES
from notices.campaign.own_duties import Counted, OwnDuty
from notices.cases.deadlines import (
    Clock,
    Deadline,
    Learned,
    Report,
    deadlines,
    last_day,
    markets_of,
    owed_in,
    quarters,
    without_duties,
)
from notices.cases.records import IncidentRow
from notices.cases.working_days import counted, open_from

LEARNED = date(2026, 2, 27)  # a Friday


def due(key: str, start: date) -> date:
    return last_day(next(one for one in DUTIES if one.key == key), start).day


def an_incident(country: str | None = "IE", harm: str = "injury") -> Learned:
    row = IncidentRow(
        incident_id="K7M2QX4R",
        learned_at=datetime(2026, 3, 5, 9, 0, tzinfo=UTC),
        happened_on=None,
        country=country,
        harm=harm,
        age_band=None,
        part_kept="with-us",
        unit_id=None,
        text_id=None,
    )
    return Learned(row=row, day=date(2026, 3, 5))


def a_clock(
    *markets: str,
    today: date = date(2026, 3, 4),
    days: Mapping[Counted, date] | None = None,
    incidents: tuple[Learned, ...] = (),
    own: Mapping[str, OwnDuty] | None = None,
    told: Mapping[str, Report] | None = None,
) -> Clock:
    return Clock(
        today=today,
        markets=markets,
        days={"knowledge": LEARNED} if days is None else days,
        country="DE",
        incidents=incidents,
        own=own or {},
        told=told or {},
    )


def states(clock: Clock) -> Iterator[tuple[str, str, date | None]]:
    for one in deadlines(clock):
        yield one.key, one.state(clock.today), one.day


# 16 CFR 1115.14: (a) weekends and holidays left out; (e) 24 hours, (b) 5 days, (d) 10 days. Friday 3 July 2026 is kept
# for Independence Day, a Saturday that year (5 USC 6103).
@pytest.mark.parametrize(
    ("key", "start", "day"),
    [
        ("us-report", date(2026, 2, 27), date(2026, 3, 2)),
        ("us-report", date(2026, 7, 2), date(2026, 7, 6)),
        ("us-officer", date(2026, 2, 27), date(2026, 3, 6)),
        ("us-investigation", date(2026, 2, 27), date(2026, 3, 13)),
        # 49 CFR 573.6: 5 working days; 577.7(a): 60 days, and 10 days for a lessor.
        ("us-vehicles-report", date(2026, 2, 27), date(2026, 3, 6)),
        ("us-vehicles-owners", date(2026, 3, 6), date(2026, 5, 5)),
        ("us-vehicles-lessees", date(2026, 3, 6), date(2026, 3, 16)),
        # Canada Consumer Product Safety Act, section 14: 2 and 10 days after the day of becoming aware.
        ("ca-incident", date(2026, 2, 27), date(2026, 3, 1)),
        ("ca-report", date(2026, 2, 27), date(2026, 3, 9)),
        # Australian Consumer Law, section 128: a recall on Thursday or Friday is told by Monday.
        ("au-recall", date(2026, 3, 5), date(2026, 3, 9)),
        ("au-recall", date(2026, 3, 6), date(2026, 3, 9)),
        ("au-recall", date(2026, 3, 3), date(2026, 3, 5)),
        ("au-harm", date(2026, 2, 27), date(2026, 3, 1)),
        # Fair Trading Act 1986 of New Zealand, section 31A: 2 working days.
        ("nz-recall", date(2026, 2, 27), date(2026, 3, 3)),
        # Consumer Product Safety Act of Japan, article 35: 10 days, the first counted in (from a leaflet).
        ("jp-accident", date(2026, 2, 27), date(2026, 3, 8)),
    ],
)
def test_days_are_counted_as_each_law_says(key: str, start: date, day: date) -> None:
    assert due(key, start) == day


def test_a_day_that_a_holiday_moved_names_the_holiday() -> None:
    found = last_day(next(one for one in DUTIES if one.key == "us-report"), date(2026, 7, 2))

    assert found.holidays == (date(2026, 7, 3),)
    assert counted(date(2026, 7, 2), 1, None).holidays == ()


def test_a_working_day_stays_and_a_holiday_gives_the_next() -> None:
    assert open_from(date(2026, 3, 3), "AU").day == date(2026, 3, 3)
    assert open_from(date(2026, 7, 3), "US").day == date(2026, 7, 6)


# 49 CFR 573.7(d): 30 April, 30 July, 30 October, 30 January, or the next federal business day; 49 USC 30118(f): eight
# quarters, then a report a year for three years. The dates are worked out by hand; 30 January 2027 is a Saturday.
def test_eight_quarters_and_three_years_are_reported_each_on_its_day() -> None:
    found = [one.day for one in quarters(date(2026, 11, 3), 11, "US")]

    assert found == [
        date(2027, 2, 1),
        date(2027, 4, 30),
        date(2027, 7, 30),
        date(2027, 11, 1),
        date(2028, 1, 31),
        date(2028, 5, 1),
        date(2028, 7, 31),
        date(2028, 10, 30),
        date(2029, 10, 30),
        date(2030, 10, 30),
        date(2031, 10, 30),
    ]


def test_reports_in_series_are_those_past_and_the_next() -> None:
    days: Mapping[Counted, date] = {"action": date(2026, 1, 15), "notification": date(2026, 1, 15)}
    clock = a_clock(
        "US",
        "US-vehicles",
        "US-FDA",
        today=date(2026, 3, 4),
        days=days,
        told={"us-progress/2026-02-01": Report(day=date(2026, 2, 1), by="Ada")},
    )
    found = [one for one in states(clock) if one[2] and "/" in one[0]]

    assert found == [
        ("us-fda-status/2026-01-29", "overdue", date(2026, 1, 29)),
        ("us-fda-status/2026-02-12", "overdue", date(2026, 2, 12)),
        ("us-fda-status/2026-02-26", "overdue", date(2026, 2, 26)),
        ("us-progress/2026-03-01", "overdue", date(2026, 3, 1)),
        ("us-fda-status/2026-03-12", "due", date(2026, 3, 12)),
        ("us-progress/2026-04-01", "due", date(2026, 4, 1)),
        ("us-vehicles-quarter/2026-04-30", "due", date(2026, 4, 30)),
        ("us-progress/2026-02-01", "told", date(2026, 2, 1)),
    ]


def test_a_series_that_has_ended_asks_for_nothing_more() -> None:
    clock = a_clock("US-vehicles", today=date(2040, 1, 1), days={"notification": date(2026, 1, 15)})

    assert sum(key.startswith("us-vehicles-quarter/") for key, _, _ in states(clock)) == 11


def test_overdue_comes_first_then_at_once_today_later_undated_and_told() -> None:
    own = {
        "insurer": OwnDuty(to="our insurer", what="report the claim", within_days=5),
        "bank": OwnDuty(to="the bank", what="tell", within_days=1, working=True, counted_from="report"),
        "maker": OwnDuty(to="the maker", what="complain", within_days=3, working=True),
    }
    clock = a_clock("EU", "US", own=own, told={"us-officer": Report(day=date(2026, 3, 3), by="Ada")})

    assert list(states(clock)) == [
        ("us-report", "overdue", date(2026, 3, 2)),
        ("eu-defect", "at once", LEARNED),
        ("own/insurer", "due today", date(2026, 3, 4)),
        ("own/maker", "due today", date(2026, 3, 4)),
        ("us-investigation", "due", date(2026, 3, 13)),
        ("own/bank", "no day yet", None),
        ("us-progress", "no day yet", None),
        ("us-officer", "told", date(2026, 3, 6)),
    ]


@pytest.mark.parametrize(
    ("country", "harm", "keys"),
    [
        # Regulation (EU) 2023/988, article 20: death or adverse effects on health, injuries included.
        ("IE", "injury", ["eu-accident"]),
        ("IE", "damage", []),
        ("CA", "none", ["ca-incident", "ca-report"]),
        # Australian Consumer Law, section 131: death or serious injury.
        ("AU", "injury", []),
        ("AU", "serious-injury", ["au-harm"]),
        ("JP", "death", ["jp-accident"]),
        ("IE", "a word of another program", ["eu-accident"]),
        (None, "death", []),
    ],
)
def test_an_incident_brings_the_duties_of_its_country_and_its_harm(
    country: str | None, harm: str, keys: list[str]
) -> None:
    found: tuple[Deadline, ...] = deadlines(a_clock(incidents=(an_incident(country, harm),)))

    assert sorted(one.key for one in found) == [f"K7M2QX4R/{key}" for key in keys]
    assert all(one.start == date(2026, 3, 5) for one in found)


def test_a_day_that_no_campaign_can_have_counts_for_nothing() -> None:
    for day in (date.max, date.min):
        assert [
            one.day for one in deadlines(a_clock("US", "EU", days={"knowledge": day, "action": day}))
        ] == [None] * 5


def test_only_the_markets_named_bring_duties_once_each_and_the_earliest_comes_first() -> None:
    found = owed_in(["US", "PL", "IE"], {"knowledge": LEARNED})

    assert [(one.duty.key, one.day) for one in found] == [
        ("eu-defect", LEARNED),
        ("eu-accident", LEARNED),
        ("us-report", date(2026, 3, 2)),
        ("us-officer", date(2026, 3, 6)),
        ("us-investigation", date(2026, 3, 13)),
    ]
    assert all(one.day <= after.day for one, after in pairwise(found) if one.day and after.day)


def test_without_the_day_of_knowledge_only_what_counts_from_action_has_a_day() -> None:
    found = owed_in(["AU"], {"action": date(2026, 3, 2)})

    assert [(one.duty.key, one.day) for one in found] == [
        ("au-recall", date(2026, 3, 4)),
        ("au-abroad", date(2026, 3, 12)),
        ("au-harm", None),
    ]


def test_a_market_of_which_we_know_nothing_is_named() -> None:
    assert without_duties(markets_of(["CH", "IE", "NO", "CH"])) == ("CH", "NO")
    assert owed_in(["CH"], {"knowledge": LEARNED}) == ()
