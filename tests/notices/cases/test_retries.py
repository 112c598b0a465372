"""What becomes of a posting after a try, by the clock it is given."""

from datetime import UTC, datetime, timedelta

import pytest

from notices.cases import retries
from notices.cases.outgoing import Outcome
from notices.cases.records import Posting, PostingState, Try

NOW = datetime(2026, 3, 3, 9, 0, tzinfo=UTC)
LATER = Outcome(result="later", code=451, enhanced="4.3.0", reply="4.3.0 not now")
MINUTE = timedelta(minutes=1)


def a_posting() -> Posting:
    return Posting(
        posting_id="P1",
        owner_id="O1",
        channel="email",
        address="anna@owner.example",
        fingerprint="f",
        fill="{}",
        message_id="<p1@aldmere.example>",
        rank=0,
        state=PostingState.TRYING,
        worker="here:1:x",
        lease_until=NOW + 15 * MINUTE,
    )


def tries(*minutes_ago: float, outcome: str | None = "later") -> list[Try]:
    return [
        Try(posting_id="P1", n=n, began_at=NOW - ago * MINUTE, ended_at=NOW - ago * MINUTE, outcome=outcome)
        for n, ago in enumerate(minutes_ago, 1)
    ]


@pytest.mark.parametrize(
    ("result", "state"),
    [
        ("handed_over", PostingState.HANDED_OVER),
        ("refused", PostingState.REFUSED),
        ("in_doubt", PostingState.IN_DOUBT),
        ("later", PostingState.WAITING),
        ("stop", PostingState.WAITING),
    ],
)
def test_each_outcome_has_its_state_and_ends_the_lease(result: str, state: PostingState) -> None:
    after = retries.after(a_posting(), Outcome(result=result, reply="x"), tries(0), NOW)

    assert (after.state, after.worker, after.lease_until, after.tries) == (state, None, None, 1)


# RFC 5321 section 4.5.4.1: at least 30 minutes; "two attempts in the first hour", then every two or three hours.
@pytest.mark.parametrize(("tried", "pause"), [((0,), 30), ((30, 0), 150), ((180, 150, 0), 150)])
def test_what_is_put_off_waits_as_the_standard_says(tried: tuple[float, ...], pause: int) -> None:
    after = retries.after(a_posting(), LATER, tries(*tried), NOW)

    assert (after.state, after.not_before) == (PostingState.WAITING, NOW + pause * MINUTE)
    assert after.why == "451 4.3.0 not now"


def test_a_posting_is_given_up_after_five_days() -> None:
    day = 24 * 60
    kept = retries.after(a_posting(), LATER, tries(5 * day - 1, 3, 2, 0), NOW)
    given_up = retries.after(a_posting(), LATER, tries(5 * day, 3, 2, 0), NOW)

    assert kept.state is PostingState.WAITING
    assert given_up.state is PostingState.REFUSED
    assert given_up.why == "given up after five days: 451 4.3.0 not now"


def test_a_machine_that_slept_for_a_week_does_not_give_up_at_its_second_try() -> None:
    assert retries.after(a_posting(), LATER, tries(7 * 24 * 60, 0), NOW).state is PostingState.WAITING


@pytest.mark.parametrize(
    ("occasion", "again"),
    [
        ("stop", True),
        ("first", True),
        ("correct/2", True),
        ("remind/mail-again", False),
        ("next-word/2026-03-05", False),
    ],
)
def test_only_what_is_urgent_goes_once_more_from_doubt(occasion: str, *, again: bool) -> None:
    doubt = retries.in_doubt(a_posting(), "why", NOW - 30 * MINUTE)

    assert retries.may_go_again(doubt, [occasion], tries(30, outcome="in_doubt"), NOW) is again


def test_a_doubt_rests_for_half_an_hour() -> None:
    doubt = retries.in_doubt(a_posting(), "why", NOW)
    tried = tries(0, outcome="in_doubt")

    assert not retries.may_go_again(doubt, ["stop"], tried, NOW + 29 * MINUTE)
    assert retries.may_go_again(doubt, ["stop"], tried, NOW + 30 * MINUTE)


def test_what_is_in_doubt_twice_stays_so() -> None:
    doubt = retries.in_doubt(a_posting(), "why", NOW - 60 * MINUTE)

    assert retries.again_at(doubt, ["stop"], tries(90, 60, outcome="in_doubt")) is None


# RFC 3463 sections 3.2, 3.3 and 3.8; RFC 7505 section 4.2 (null MX: 5.1.10)
@pytest.mark.parametrize(
    ("enhanced", "fault"),
    [
        ("5.1.1", True),
        ("5.1.2", True),
        ("5.1.3", True),
        ("5.1.6", True),
        ("5.1.10", True),
        ("5.2.1", True),
        ("5.2.2", False),
        ("5.3.4", False),
        ("5.6.7", False),
        ("5.7.1", False),
        ("5.7.26", False),
        (None, False),
    ],
)
def test_a_refusal_by_policy_is_never_a_fault_of_the_address(enhanced: str | None, *, fault: bool) -> None:
    assert retries.is_address_fault(Outcome(result="refused", code=550, enhanced=enhanced)) is fault
