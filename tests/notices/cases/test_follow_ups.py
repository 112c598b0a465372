"""What is due next: a person first, then the ladder; working days as public holidays leave them."""

from datetime import date

import pytest

from notices.cases.follow_ups import following
from notices.cases.working_days import after
from tests.builders import DAY, IN_USE, NOTICE, STOPPED, a_campaign, a_case, used

CLEARED = (
    "verdict_given",
    {"verdict": "cleared", "why": "by code", "near": False, "rule": "", "revision": 1},
)
ALL = frozenset({"email", "phone", "text", "letter"})


def test_a_unit_in_use_is_called_the_same_day_whatever_the_ladder_says() -> None:
    due = following(a_case(NOTICE, IN_USE), a_campaign(), ALL)

    assert due is not None
    assert (due.step, due.channel, due.on) == ("call-now", "phone", DAY.date())


def test_the_ladder_begins_three_working_days_after_the_first_notice() -> None:
    due = following(a_case(NOTICE), a_campaign(), ALL)

    assert due is not None
    assert (due.step, due.channel, due.on) == ("mail-again", "email", date(2026, 3, 6))


def test_a_step_already_taken_is_not_due_again() -> None:
    reminded = ("notice_handed_over", {**dict(NOTICE[1]), "kind": "remind", "occasion": "remind/mail-again"})
    due = following(a_case(NOTICE, reminded), a_campaign(), ALL)

    assert due is not None
    assert (due.step, due.on) == ("text", date(2026, 3, 10))


def test_a_channel_that_an_owner_has_not_is_passed_over() -> None:
    due = following(a_case(NOTICE), a_campaign(), frozenset({"email", "letter"}) - {"email"})

    assert due is not None
    assert due.step == "letter"


def test_whoever_was_never_reached_goes_up_the_ladder_at_once_by_another_way() -> None:
    due = following(a_case(), a_campaign(), frozenset({"letter"}))

    assert due is not None
    assert (due.step, due.on, due.why) == ("letter", DAY.date(), "no notice has reached anybody")


def test_an_owner_without_any_way_is_still_a_line_for_a_person() -> None:
    due = following(a_case(), a_campaign(), frozenset())

    assert due is not None
    assert due.step == "another-way"


def test_an_answer_makes_the_new_instruction_due() -> None:
    due = following(a_case(NOTICE, STOPPED, used("unridden")), a_campaign(), ALL)

    assert due is not None
    assert (due.step, due.why) == ("instruct", "use now unridden")


def test_work_done_and_not_confirmed_asks_for_the_owners_word() -> None:
    done = ("work_reported_done", {"by": "mechanic", "lot": "", "evidence": ""})
    due = following(a_case(NOTICE, STOPPED, done), a_campaign(), ALL)

    assert due is not None
    assert due.step == "confirm"


@pytest.mark.parametrize("ending", ["fixed", "unreachable", "refunded"])
def test_nothing_is_due_for_an_ended_case(ending: str) -> None:
    assert (
        following(a_case(NOTICE, ("case_closed", {"ending": ending, "evidence": ""})), a_campaign(), ALL)
        is None
    )


def test_nothing_is_due_for_a_unit_whose_owner_nobody_knows() -> None:
    assert following(a_case(("passed_on", {"keeper": ""})), a_campaign(), ALL) is None


# Public holidays act of Germany's states, common to all: 18 and 21 April 2025 are Good Friday and Easter Monday.
@pytest.mark.parametrize(("count", "expected"), [(1, date(2025, 4, 22)), (3, date(2025, 4, 24))])
def test_working_days_pass_over_easter_in_germany(count: int, expected: date) -> None:
    assert after(date(2025, 4, 17), count, "DE") == expected


def test_a_country_without_a_known_calendar_has_weekends_only() -> None:
    assert after(date(2026, 3, 6), 1, "XX") == date(2026, 3, 9)
    assert after(date(2026, 3, 6), 1, None) == date(2026, 3, 9)


@pytest.mark.parametrize(
    "before", [(), (STOPPED,), (("case_closed", {"ending": "fixed", "evidence": ""}),), (CLEARED,)]
)
def test_somebody_hurt_is_called_today_whatever_the_case(
    before: tuple[tuple[str, dict[str, object]], ...],
) -> None:
    hurt = ("help_asked", {"what": "hurt", "text": "T"})
    due = following(a_case(NOTICE, *before, hurt), a_campaign(), ALL)

    assert due is not None
    assert (due.step, due.why) == ("call-now", "somebody was hurt, or a part has broken")


def test_a_lesser_wish_does_not_cover_up_that_somebody_was_hurt() -> None:
    story = [
        ("help_asked", {"what": "hurt", "text": "T"}),
        ("help_asked", {"what": "large_print", "text": ""}),
    ]
    due = following(a_case(NOTICE, *story), a_campaign(), ALL)

    assert due is not None
    assert due.step == "call-now"


def test_an_answer_set_aside_waits_for_a_person_until_one_has_looked() -> None:
    aside = ("answer_set_aside", {"of": "use_stated", "why": "wrong signs", "text": ""})
    due = following(a_case(NOTICE, CLEARED, aside), a_campaign(), ALL)

    assert due is not None
    assert due.step == "look"
    assert following(a_case(NOTICE, CLEARED, aside, ("looked_at", {"by": "Tom"})), a_campaign(), ALL) is None


def test_the_ladder_is_climbed_anew_from_the_recall_notice_on() -> None:
    stop = ("notice_handed_over", {**dict(NOTICE[1]), "kind": "stop", "occasion": "stop"})
    reminded = ("notice_handed_over", {**dict(NOTICE[1]), "kind": "remind", "occasion": "remind/mail-again"})
    due = following(a_case(stop, reminded, NOTICE), a_campaign(), ALL)

    assert due is not None
    assert due.step == "mail-again"


def test_symptoms_without_a_stop_are_called_the_same_day() -> None:
    due = following(a_case(NOTICE, used("symptomatic")), a_campaign(), ALL)

    assert due is not None
    assert (due.step, due.why) == ("call-now", "symptoms, and no word that it is stopped")


@pytest.mark.parametrize(("what", "why"), [("call", "asked for help: call"), ("", "asked for help")])
def test_who_asks_for_help_is_called_back(what: str, why: str) -> None:
    due = following(a_case(NOTICE, ("help_asked", {"what": what, "text": ""})), a_campaign(), ALL)

    assert due is not None
    assert (due.step, due.why) == ("call-back", why)


def test_an_answered_case_climbs_no_ladder() -> None:
    assert following(a_case(NOTICE, STOPPED), a_campaign(), ALL) is None
