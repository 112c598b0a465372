"""The case is a pure fold: what each event makes of it, and what no event may."""

from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from audiences.segments import Segment
from notices.cases.case import ENDINGS, Case, Stage, Stopped, Whereabouts
from notices.cases.events import KINDS
from notices.cases.folding import fold, step
from tests.builders import DAY, IN_USE, NOTICE, OWNER, PRESSED, STOPPED, UNIT, a_case, an_event, used


def test_a_listed_unit_is_not_reached_until_a_notice_has_gone_out() -> None:
    assert (a_case().stage, a_case(NOTICE).stage) == (Stage.LISTED, Stage.NOTIFIED)


def test_a_bounce_takes_a_notified_case_back_to_listed() -> None:
    case = a_case(NOTICE, ("notice_bounced", {"posting": "P1", "status": "5.1.1"}))

    assert (case.stage, case.live) == (Stage.LISTED, 0)


def test_one_bounce_of_two_notices_leaves_the_case_notified() -> None:
    case = a_case(NOTICE, NOTICE, ("notice_bounced", {"posting": "P1", "status": "5.1.1"}))

    assert (case.stage, case.live) == (Stage.NOTIFIED, 1)


def test_a_pressed_button_alone_moves_no_stage() -> None:
    case = a_case(NOTICE, PRESSED)

    assert (case.stopped, case.stage) == (Stopped.PRESSED, Stage.NOTIFIED)


def test_pressed_becomes_stopped_once_the_signs_follow() -> None:
    case = a_case(NOTICE, PRESSED, ("contact_given", {"channel": "phone", "signs": True}))

    assert case.stopped is Stopped.STOPPED


def test_pressed_becomes_stopped_by_a_call_in_which_somebody_spoke() -> None:
    spoke = a_case(PRESSED, ("call_made", {"posting": "", "outcome": "spoke"}))
    silent = a_case(PRESSED, ("call_made", {"posting": "", "outcome": "no-answer"}))

    assert (spoke.stopped, silent.stopped) == (Stopped.STOPPED, Stopped.PRESSED)


def test_a_machine_that_presses_does_not_undo_what_a_person_said() -> None:
    assert a_case(STOPPED, PRESSED).stopped is Stopped.STOPPED
    assert a_case(IN_USE, PRESSED).stopped is Stopped.IN_USE


def test_still_in_use_asks_for_a_call_until_it_is_stopped() -> None:
    assert a_case(IN_USE).urgent_on == DAY.date()
    assert a_case(IN_USE, STOPPED).urgent_on is None


def test_symptoms_without_a_stop_ask_for_a_call() -> None:
    assert a_case(used("symptomatic")).urgent_on == DAY.date()
    assert a_case(STOPPED, used("symptomatic")).urgent_on is None


def test_owners_move_a_segment_only_up() -> None:
    assert a_case(used("symptomatic"), used("unridden")).segment is Segment.SYMPTOMATIC


def test_staff_lower_a_segment_with_a_reason() -> None:
    lowered = ("segment_lowered", {"from": "symptomatic", "to": "unridden", "text": "T"})

    assert a_case(used("symptomatic"), lowered).segment is Segment.UNRIDDEN


def test_a_changed_use_makes_the_instruction_due_that_day_and_a_call_settles_it() -> None:
    case = a_case(used("unridden"))
    spoken = a_case(used("unridden"), ("call_made", {"posting": "", "outcome": "spoke"}))

    assert (case.instruct_on, case.instruct_why) == (DAY.date(), "use now unridden")
    assert spoken.instruct_on is None


def test_only_the_owners_confirmation_and_the_closing_make_it_fixed() -> None:
    work = ("work_reported_done", {"by": "mechanic", "lot": "", "evidence": ""})
    confirmed = ("fix_confirmed", {"how": "page", "by": "owner", "evidence": ""})
    closed = ("case_closed", {"ending": "fixed", "evidence": ""})

    assert a_case(work).stage is Stage.DONE_UNCONFIRMED
    assert a_case(work, confirmed, closed).stage is Stage.CLOSED
    assert a_case(work, confirmed, closed, "confirmation_taken_back").stage is Stage.DONE_UNCONFIRMED


def test_a_cleared_unit_ends_and_comes_back_when_the_rule_is_withdrawn() -> None:
    cleared = (
        "verdict_given",
        {"verdict": "cleared", "why": "by code", "near": False, "rule": "", "revision": 1},
    )
    affected = (
        "verdict_given",
        {"verdict": "affected", "why": "", "near": False, "rule": "line-d", "revision": 4},
    )

    assert a_case(cleared).ending == "cleared"
    assert a_case(cleared, affected).ending is None


def test_a_unit_passed_on_starts_anew_with_its_next_owner_and_keeps_its_use() -> None:
    case = a_case(NOTICE, STOPPED, used("symptomatic"), ("passed_on", {"keeper": ""}))

    assert (case.keeper_id, case.live, case.stage, case.stopped) == (None, 0, Stage.LISTED, Stopped.NO_WORD)
    assert case.segment is Segment.SYMPTOMATIC


@pytest.mark.parametrize(
    ("ending", "where"),
    [
        ("refunded", Whereabouts.COLLECTED),
        ("replaced", Whereabouts.COLLECTED),
        ("destroyed", Whereabouts.DESTROYED),
        ("in_stock", Whereabouts.STOCK),
        ("unreachable", Whereabouts.OWNER),
    ],
)
def test_an_ending_says_where_the_unit_is(ending: str, where: Whereabouts) -> None:
    assert a_case(("case_closed", {"ending": ending, "evidence": ""})).whereabouts is where


def test_a_reopened_case_goes_on_as_answered() -> None:
    closed = ("case_closed", {"ending": "fixed", "evidence": ""})
    case = a_case(NOTICE, closed, ("case_reopened", {"why": "T"}))

    assert (case.stage, case.ending) == (Stage.ANSWERED, None)


def test_a_holder_other_than_the_keeper_ends_nothing_for_the_keeper() -> None:
    case = a_case(NOTICE, ("holder_ended", {"owner": "somebody else", "role": "helper"}))

    assert (case.keeper_id, case.live) == (OWNER, 1)


_WORDS = st.sampled_from(
    [
        "affected",
        "cleared",
        "missing",
        "symptomatic",
        "unridden",
        "unknown",
        "spoke",
        "first",
        "keeper",
        "\x85",
        "",
        OWNER,
        *sorted(ENDINGS),
    ]
)


@st.composite
def _events(draw: st.DrawFn) -> list[tuple[str, dict[str, object]]]:
    story: list[tuple[str, dict[str, object]]] = [("unit_listed", {"keeper": OWNER})]
    for kind in draw(st.lists(st.sampled_from(sorted(KINDS)), max_size=12)):
        payload: dict[str, object] = {key: draw(_WORDS | st.booleans()) for key in KINDS[kind]}
        for key in {"segment", "to"} & payload.keys():
            payload[key] = draw(st.sampled_from(list(Segment)))
        story.append((kind, payload))
    return story


@pytest.mark.property
@given(story=_events())
def test_folding_step_by_step_and_at_once_agree_and_never_fail(
    story: list[tuple[str, dict[str, object]]],
) -> None:
    events = [
        an_event(kind, payload, seq=n, at=DAY + timedelta(hours=n))
        for n, (kind, payload) in enumerate(story, 1)
    ]
    case = Case(unit_id=UNIT)
    for event in events:
        case = step(case, event)

    assert case == fold(UNIT, events)
    assert case.live >= 0
    assert case.version == len(events)


def test_a_keeper_whose_part_has_ended_keeps_the_unit_no_longer() -> None:
    case = a_case(NOTICE, ("holder_ended", {"owner": OWNER, "role": "keeper"}))

    assert (case.keeper_id, case.live) == (None, 0)


def test_a_verdict_on_an_owners_own_code_makes_the_instruction_due_and_its_notice_settles_it() -> None:
    given = step(a_case(NOTICE), an_event("verdict_given", _UNREADABLE, seq=4))
    told = ("notice_handed_over", {**dict(NOTICE[1]), "kind": "instruct", "occasion": "instruct/4"})
    settled = step(given, an_event(told[0], told[1], seq=5))

    assert (given.instruct_on, given.instruct_why) == (DAY.date(), "verdict now unreadable")
    assert settled.instruct_on is None


_UNREADABLE = {"verdict": "unreadable", "why": "", "near": False, "rule": "", "revision": 1}
_GIVEN = {"code_key": "QM2540D0144", "near": True, "photo": False, "signs": True}


def test_a_code_is_known_by_word_alone_until_staff_have_seen_a_photo_of_it() -> None:
    missing = step(
        a_case(), an_event("verdict_given", {**_UNREADABLE, "verdict": "missing"}, seq=3, via="command")
    )
    told = step(missing, an_event("code_given", _GIVEN, seq=4))
    seen = step(told, an_event("code_given", {**_GIVEN, "photo": True}, seq=5, via="mail"))

    assert (told.told_code, seen.told_code) == ("QM2540D0144", "")
    assert step(a_case(), an_event("code_given", _GIVEN, seq=3)).told_code == ""


def test_a_step_that_was_passed_over_is_taken() -> None:
    assert a_case(("step_skipped", {"step": "letter", "channel": "letter", "why": "abroad"})).steps == (
        "letter",
    )


def test_a_stage_has_the_name_it_bears_in_the_register() -> None:
    assert [stage.key for stage in (Stage.LISTED, Stage.DONE_UNCONFIRMED)] == ["listed", "done_unconfirmed"]


LESSOR = ("holder_added", {"owner": "LESSOR", "role": "lessor"})
TO_LESSOR = (NOTICE[0], {**NOTICE[1], "owner": "LESSOR"})


def test_a_notice_to_the_lessor_alone_reaches_nobody() -> None:
    case = a_case(LESSOR, TO_LESSOR)

    assert (case.stage, case.live, case.first_on, case.lessors) == (Stage.LISTED, 0, None, ("LESSOR",))
    assert a_case(LESSOR, TO_LESSOR, NOTICE).live == 1


def test_a_lessor_who_keeps_the_unit_is_reached_like_any_keeper() -> None:
    keeps = ("holder_added", {"owner": "LESSOR", "role": "keeper"})

    assert a_case(LESSOR, keeps, TO_LESSOR).stage is Stage.NOTIFIED


def test_a_lessor_whose_part_has_ended_is_none() -> None:
    ended = ("holder_ended", {"owner": "LESSOR", "role": "lessor"})

    assert a_case(LESSOR, ended).lessors == ()
    assert a_case(LESSOR, ended).keeper_id == OWNER
