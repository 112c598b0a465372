"""A pace as the lead writes it."""

import pytest

from audiences.findings import Finding
from notices.cases.outgoing import Pace
from notices.sending.pace import parse


@pytest.mark.parametrize(
    ("text", "gap"),
    [
        ("60/s", 1 / 60),
        ("30/min", 2.0),
        ("500/h", 7.2),
        ("432/day", 200.0),
        ("none", 0.0),
        (" 30 / min ", 2.0),
    ],
)
def test_a_pace_is_the_seconds_between_two_messages(text: str, gap: float) -> None:
    assert parse(text) == Pace(text=text.replace(" ", ""), gap=gap)


@pytest.mark.parametrize(
    "text", ["", "0/s", "-1/s", "30", "30/week", "1e9/s", "30/min/h", "1.5/s", "٣/s", "\0", "9999999/s"]
)
def test_what_is_no_pace_is_a_finding(text: str) -> None:
    found = parse(text, file="--pace")

    assert isinstance(found, Finding)
    assert (found.code, found.file) == ("mail-pace-unreadable", "--pace")
