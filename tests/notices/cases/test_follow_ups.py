"""What is due next: a person first, then the ladder; working days as public holidays leave them."""

from collections.abc import Mapping
from datetime import date

import pytest

from notices.cases.case import Case
from notices.cases.folding import fold
from notices.cases.follow_ups import following, going_by_itself
from notices.cases.working_days import after
from tests.builders import (
    DAY,
    IN_USE,
    NOTICE,
    OWNER,
    PRESSED,
    STOPPED,
    UNIT,
    a_campaign,
    a_case,
    an_event,
    used,
)

CLEARED = (
    "verdict_given",
    {"verdict": "cleared", "why": "by code", "near": False, "rule": "", "revision": 1},
)
ALL = frozenset({"email", "phone", "text", "letter"})
SPOKE = ("call_made", {"posting": "", "outcome": "spoke"})
NO_ANSWER = ("call_made", {"posting": "", "outcome": "no-answer"})


def judged(verdict: str) -> tuple[str, dict[str, object]]:
    """Return a verdict that a signature gives."""
    return ("verdict_given", {"verdict": verdict, "why": "", "near": False, "rule": "", "revision": 2})


def happened(*story: tuple[str, Mapping[str, object]]) -> Case:
    """Return the case of a listed unit to which this happened, each by a command."""
    listed = ("unit_listed", {"keeper": OWNER, "source": "sales", "row": 2})
    return fold(
        UNIT,
        [
            an_event(kind, payload, seq=n, via="command")
            for n, (kind, payload) in enumerate([listed, *story], 1)
        ],
    )


TOLD_SAFE = (judged("cleared"), NOTICE, judged("affected"))


def test_who_was_told_safe_and_is_affected_is_called_today() -> None:
    due = following(happened(*TOLD_SAFE), a_campaign(), ALL)

    assert due is not None
    assert (due.step, due.channel, due.on) == ("call-now", "phone", DAY.date())
    assert due.why == "told safe before, and now affected"


@pytest.mark.parametrize(
    ("usable", "channel"), [({"letter", "email"}, "letter"), ({"email"}, "email"), (set(), "phone")]
)
def test_an_alarm_without_a_telephone_goes_by_the_next_best_way(usable: set[str], channel: str) -> None:
    due = following(happened(*TOLD_SAFE), a_campaign(), usable)

    assert due is not None
    assert (due.step, due.channel) == ("call-now", channel)


def test_what_was_cleared_without_a_word_to_its_owner_says_so() -> None:
    due = following(happened(judged("cleared"), judged("affected")), a_campaign(), ALL)

    assert due is not None
    assert due.why == "cleared before, and now affected"


@pytest.mark.parametrize("answer", [SPOKE, STOPPED, used("unridden")])
def test_an_alarm_rests_once_a_person_has_spoken(answer: tuple[str, Mapping[str, object]]) -> None:
    case = happened(*TOLD_SAFE, answer)
    due = following(case, a_campaign(), ALL)

    assert case.alarm == ""
    assert due is None or due.step != "call-now"


@pytest.mark.parametrize("word", [NO_ANSWER, PRESSED, NOTICE])
def test_neither_a_ringing_telephone_nor_a_button_nor_a_mail_ends_an_alarm(
    word: tuple[str, Mapping[str, object]],
) -> None:
    due = following(happened(*TOLD_SAFE, word), a_campaign(), ALL)

    assert due is not None
    assert due.step == "call-now"


def test_no_reminder_waits_for_the_call_of_an_alarm() -> None:
    case = happened(*TOLD_SAFE, NOTICE)
    due = going_by_itself(case, a_campaign(), ALL)
    plain = going_by_itself(a_case(NOTICE, IN_USE), a_campaign(), ALL)

    assert due is not None
    assert (due.step, due.on) == ("mail-again", date(2026, 3, 6))
    assert plain is not None
    assert plain.step == "call-now"


def test_an_alarm_that_has_no_ladder_left_is_a_call_for_a_sending_too() -> None:
    due = going_by_itself(happened(*TOLD_SAFE), a_campaign().model_copy(update={"follow_up": ()}), ALL)

    assert due is not None
    assert due.step == "call-now"


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
