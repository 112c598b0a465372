"""Deadlines, incidents and reports, typed."""

import json
import sqlite3
from contextlib import closing
from datetime import UTC, date, datetime, timedelta

import pytest
from icalendar import Calendar

from tests.commands import Desk

CLOSING = "This is no legal advice: your firm's counsel and the authority decide."
OWN = """
duties:
  days: {knowledge: 2026-03-02}
  own:
    insurer: {to: our insurer, what: report the claim, within_days: 7}
"""
TODAY = datetime.now(UTC).date()
BEFORE = (TODAY - timedelta(days=3)).isoformat()
LATER = (TODAY + timedelta(days=3)).isoformat()
INCIDENT = ("--text", "The link broke at a kerb; a wrist was sprained.", "--by", "Mara Quill")


@pytest.fixture
def office(desk: Desk) -> Desk:
    """Return a desk of a firm that learned of the fault on Monday 2 March 2026."""
    text = (desk.folder / "campaign.yaml").read_text("utf-8")
    desk.write("campaign.yaml", text + OWN)
    return desk


def learned(desk: Desk, country: str = "IE", harm: str = "injury", *more: str) -> str:
    said = desk.type("record", country, "incident", harm, *INCIDENT, *more)

    assert said.status == 0, said.err
    return said.out.split()[1]


def test_the_campaigns_markets_are_shown_with_source_and_standing(office: Desk) -> None:
    said = office.type("deadlines", "--on", "2026-03-04")

    assert said.status == 1
    assert said.out.startswith(
        "Deadlines on Wed 2026-03-04\n"
        "    the day we learned of it: Mon 2026-03-02 (campaign.yaml)\n"
        "\n"
        "Overdue by 1 day, was due Tue 2026-03-03: us-report\n"
    )
    assert "15 USC 2064(b); 16 CFR 1115.14(a), (e) (read)" in said.out
    assert "General Product Safety Regulations 2005, regulation 9 (from memory)" in said.out
    assert "Due Mon 2026-03-09, in 5 days: own/insurer" in said.out
    assert "ca-report" not in said.out
    assert CLOSING in said.out
    assert max(map(len, said.out.splitlines())) <= 80


def test_what_is_due_ends_with_the_most_urgent_report(office: Desk) -> None:
    said = office.type("due", "--on", "2026-03-04")

    assert (
        "Next report: us-report, overdue by 1 day, was due Tue 2026-03-03 (notices deadlines)\n" in said.out
    )


def test_another_market_is_shown_when_asked_for_and_an_unknown_one_refused(office: Desk) -> None:
    assert "us-vehicles-owners" in office.type("deadlines", "--market", "US-vehicles").out
    assert "ca-report" in office.type("deadlines", "--market", "all").out
    refused = office.type("deadlines", "--market", "XX")
    assert refused.status == 2
    assert "known are: EU, GB, US," in refused.err


def test_an_incident_brings_its_own_line_and_a_report_told_ticks_it(office: Desk) -> None:
    one = learned(office, "ie", "injury", "--day", BEFORE, "--age", "25-64", "--part", "with-us")
    shown = " ".join(office.type("deadlines").out.split())
    assert f"{one}/eu-accident EU, to the authority of the country where it happened" in shown
    assert f"happened {date.fromisoformat(BEFORE):%a} {BEFORE}: The link broke" in shown

    told = office.type(
        "record", f"{one}/eu-accident", "authority-told", "--by", "Mara Quill", "--day", BEFORE
    )

    assert told.out == f"Written down as told: {one}/eu-accident\n"
    ticked = " ".join(office.type("deadlines").out.split())
    assert f"{BEFORE} by Mara Quill: {one}/eu-accident" in ticked


def test_an_incident_without_a_known_duty_has_its_line_all_the_same(office: Desk) -> None:
    one = learned(office, "CH", "none", "--learned", BEFORE)
    found = office.type("deadlines", "--format", "json").json

    assert [(row["incident"], row["learned_on"]) for row in found["incidents"]] == [(one, BEFORE)]
    assert f"{one}/" not in str(found["deadlines"])
    assert "no report that the table knows" in " ".join(office.type("deadlines").out.split())


def test_what_happened_lies_beside_the_record_and_never_in_it(office: Desk) -> None:
    one = learned(office)

    with closing(sqlite3.connect(office.folder / "register.db")) as connection:
        asked = "SELECT payload FROM events WHERE kind = 'incident_learned'"
        (payload,) = connection.execute(asked).fetchone()
    assert json.loads(payload) == {"incident": one}
    assert office.type("verify").status == 0


def test_a_day_in_the_past_shows_what_was_known_then(office: Desk) -> None:
    learned(office)
    office.type("record", "us-report", "authority-told", "--by", "Mara Quill", "--day", "2026-03-03")

    found = office.type("deadlines", "--on", "2026-03-03", "--format", "json").json

    states = [(one["report"], one["state"]) for one in found["deadlines"]]
    assert states[0] == ("eu-defect", "at once")
    assert ("us-report", "due today") in states
    assert found["incidents"] == []
    assert found["closing"] == CLOSING


def test_the_calendar_is_written_and_a_told_report_is_not_in_it(office: Desk) -> None:
    office.type("record", "us-report", "authority-told", "--by", "Mara Quill")
    said = office.type("deadlines", "--ics", "deadlines.ics")

    found = Calendar.from_ical((office.folder / "deadlines.ics").read_bytes())
    names = {str(one["uid"]).split("@")[0] for one in found.walk("VEVENT")}
    assert "us-report" not in names
    assert "own/insurer" in names
    assert f"{len(names)} deadlines written to deadlines.ics." in said.out


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (("Ireland", "incident", "injury", *INCIDENT), "two letters"),
        (("IE", "incident", "bad", *INCIDENT), "none, damage, injury, serious-injury, death"),
        (("IE", "incident", "injury", *INCIDENT, "--age", "34"), "0-4, 5-14"),
        (("IE", "incident", "injury", *INCIDENT, "--part", "lost"), "with-us, with-owner"),
        (("IE", "incident", "injury", "--by", "Mara Quill"), "--text"),
        (("IE", "incident", "injury", "--text", "It broke.", "--by", " "), "--by"),
        (("IE", "incident", "injury", *INCIDENT, "--learned", LATER), "neither in the future"),
        (("IE", "incident", "injury", *INCIDENT, "--day", LATER), "neither in the future"),
        (
            ("nothing", "authority-told", "--by", "Mara Quill"),
            "no report is called nothing; open are: us-report",
        ),
        (("us-report", "authority-told", "--by", "Mara Quill", "--day", LATER), "not before"),
        (("us-report", "authority-told", "--by", " "), "--by"),
    ],
)
def test_what_cannot_be_written_down_says_what_is_missing(
    office: Desk, words: tuple[str, ...], why: str
) -> None:
    said = office.type("record", *words)

    assert said.status == 1
    assert why in said.err
    assert office.type("deadlines", "--format", "json").json["incidents"] == []


def test_without_a_market_or_a_country_nothing_is_owed_that_is_known(desk: Desk) -> None:
    desk.write("campaign.yaml", "issuer: {name: Quill Cycles}\nproduct: {name: Steering link}\n")

    said = desk.type("deadlines")

    assert said.status == 0
    assert "The countries are not yet known" in said.out
    assert CLOSING in said.out
