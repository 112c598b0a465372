"""What our own word or our own parts do to a case: told safe and now affected, fixed with parts of a bad lot."""

from collections.abc import Mapping

import pytest

from notices.cases.case import Case, Stage, Stopped
from notices.cases.folding import step
from tests.builders import NOTICE, PRESSED, STOPPED, a_case, an_event, used

Word = tuple[str, Mapping[str, object]]
KIT: Word = ("parts_sent", {"kit": "QL-204", "lot": "K3"})
DONE: Word = ("work_reported_done", {"by": "Tom Byrne", "lot": "K3", "evidence": ""})
FIXED: Word = ("case_closed", {"ending": "fixed", "evidence": ""})
WITHDRAWN: Word = ("lot_withdrawn", {"lot": "K3", "why": ""})
REOPENED: Word = ("case_reopened", {"why": ""})
BACK: Word = ("notice_bounced", {"posting": "P1", "status": "5.1.1"})


def then(case: Case, kind: str, payload: Mapping[str, object], *, via: str = "command") -> Case:
    """Return the case after one more event."""
    return step(case, an_event(kind, payload, seq=case.version + 1, via=via))


def judged(case: Case, verdict: str, *, via: str = "command") -> Case:
    """Return the case after a verdict."""
    payload = {"verdict": verdict, "why": "", "near": False, "rule": "", "revision": 2}
    return then(case, "verdict_given", payload, via=via)


def told_safe(*before: Word) -> Case:
    """Return a case that was cleared, told so, and is affected again."""
    return judged(then(judged(a_case(NOTICE, *before), "cleared"), *NOTICE), "affected")


def test_who_was_told_that_it_may_be_used_has_said_nothing_of_use_that_still_holds() -> None:
    case = told_safe(STOPPED, used("ridden_no_symptoms"))

    assert (case.stopped, case.stage, case.ending) == (Stopped.NO_WORD, Stage.NOTIFIED, None)
    assert (case.alarm, case.segment.value) == ("told_safe", "ridden_no_symptoms")


def test_the_ladder_is_climbed_anew_from_that_day_on() -> None:
    reminded: Word = (
        "notice_handed_over",
        {**dict(NOTICE[1]), "kind": "remind", "occasion": "remind/mail-again"},
    )
    case = told_safe(reminded)

    assert (case.steps, case.first_on) == ((), an_event("looked_at").at.date())


def test_who_was_reached_by_nothing_stays_not_reached() -> None:
    case = judged(judged(a_case(NOTICE, BACK), "cleared"), "affected")

    assert (case.stage, case.alarm) == (Stage.LISTED, "was_cleared")


def test_a_verdict_on_the_owners_own_page_tells_that_owner_and_rings_nobody() -> None:
    safe = judged(a_case(NOTICE), "cleared", via="page")
    again = judged(safe, "affected", via="page")

    assert (safe.told_safe, again.alarm) == (True, "")
    assert judged(safe, "affected").alarm == "told_safe"


@pytest.mark.parametrize("verdict", ["affected", "missing", "unreadable"])
def test_whatever_is_not_safe_any_more_rings(verdict: str) -> None:
    case = judged(then(judged(a_case(NOTICE), "cleared"), *NOTICE), verdict)

    assert (case.alarm, case.urgent_on is not None) == ("told_safe", True)


def test_cleared_again_it_rings_no_more() -> None:
    case = judged(told_safe(), "cleared")

    assert (case.urgent_on, case.ending) == (None, "cleared")


def test_a_closed_case_waits_to_be_opened_again_and_then_begins_anew() -> None:
    fixed = judged(judged(then(a_case(NOTICE, STOPPED), *FIXED), "cleared"), "affected")
    opened = then(fixed, *REOPENED)

    assert (fixed.ending, fixed.urgent_on) == ("fixed", None)
    assert (opened.ending, opened.stage, opened.stopped) == (None, Stage.NOTIFIED, Stopped.NO_WORD)
    assert opened.urgent_on is not None


def test_a_new_keeper_was_told_nothing_and_is_not_rung_for_what_another_was_told() -> None:
    passed = then(told_safe(), "passed_on", {"keeper": "NEW"})
    kit = then(then(then(a_case(NOTICE), *KIT), *WITHDRAWN), "passed_on", {"keeper": "NEW"})

    assert (passed.alarm, passed.told_safe) == ("", False)
    assert kit.alarm == "bad_lot"


@pytest.mark.parametrize(
    ("before", "stage", "stopped"),
    [
        ((STOPPED, KIT), Stage.REMEDY_AGREED, Stopped.STOPPED),
        ((STOPPED, KIT, DONE), Stage.REMEDY_AGREED, Stopped.NO_WORD),
        ((STOPPED, DONE, FIXED, WITHDRAWN, REOPENED), Stage.ANSWERED, Stopped.NO_WORD),
        ((KIT,), Stage.REMEDY_AGREED, Stopped.NO_WORD),
    ],
)
def test_bad_parts_are_no_step_on_the_way_and_fitted_ones_no_word_that_it_stands_still(
    before: tuple[Word, ...], stage: Stage, stopped: Stopped
) -> None:
    case = then(a_case(NOTICE, *before), *WITHDRAWN)

    assert (case.stage, case.stopped, case.lot_withdrawn) == (stage, stopped, "K3")
    assert case.urgent_on is not None


def test_good_parts_take_the_place_of_bad_ones_and_parts_of_no_known_lot_do_not() -> None:
    bad = a_case(NOTICE, KIT, WITHDRAWN)
    unknown = then(bad, "parts_sent", {"kit": "QL-204", "lot": ""})
    same = then(bad, *KIT)
    good = then(bad, "parts_sent", {"kit": "QL-204", "lot": "K5"})

    assert [case.lot_withdrawn for case in (unknown, same, good)] == ["K3", "K3", ""]
    assert (unknown.lots, same.lots, good.lots) == (("K3",), ("K3",), ("K3", "K5"))


def test_an_alarm_of_our_word_stands_before_one_of_our_parts() -> None:
    assert then(then(told_safe(), *KIT), *WITHDRAWN).alarm == "told_safe"


def test_a_case_that_ended_otherwise_keeps_its_word_of_use_when_it_is_opened_again() -> None:
    closed = a_case(NOTICE, PRESSED, ("case_closed", {"ending": "unreachable", "evidence": ""}))

    assert then(closed, *REOPENED).stopped is Stopped.PRESSED
