"""Which notice is owed: the first match of a short list, and a correction only for a changed saying."""

from dataclasses import replace
from datetime import timedelta

import pytest

from audiences.segments import Segment
from audiences.verdicts import Verdict
from notices.campaign.models import Campaign
from notices.cases.case import Case
from notices.cases.folding import step
from notices.cases.owed import Earlier, owed, reminded_step, reminder, while_held
from notices.cases.records import PostingState, Told
from notices.cases.sayings import saying
from tests.builders import DAY, IN_USE, NOTICE, OWNER, UNIT, a_campaign, a_case, an_event, used

CLEARED = (
    "verdict_given",
    {"verdict": "cleared", "why": "by code", "near": False, "rule": "", "revision": 1},
)


LOT = ("parts_sent", {"kit": "", "lot": "K3"})
WITHDRAWN = ("lot_withdrawn", {"lot": "K3", "why": ""})


def told(
    occasion: str, campaign: Campaign, verdict: Verdict = Verdict.AFFECTED, segment: Segment = Segment.UNKNOWN
) -> Told:
    """Return that an owner was told what *campaign* says of such a unit."""
    now = saying(campaign, verdict, segment)
    return Told(
        unit_id=UNIT,
        owner_id=OWNER,
        occasion=occasion,
        posting_id="P1",
        state=PostingState.HANDED_OVER,
        kind=occasion.partition("/")[0],
        verdict=verdict,
        segment=segment,
        said=now.said,
        level=now.level,
        at=DAY,
    )


def what(case: Case, campaign: Campaign, *had: Told) -> str | None:
    """Return the occasion that is owed."""
    found = owed(case, campaign, had)
    return found.occasion if found else None


def test_without_a_remedy_everyone_not_cleared_is_owed_the_stop_warning_once() -> None:
    campaign = a_campaign(0)

    assert what(a_case(), campaign) == "stop"
    assert what(a_case(CLEARED), campaign) is None
    assert what(a_case(NOTICE), campaign, told("stop", campaign)) is None


def test_with_a_remedy_every_affected_unit_is_owed_the_first_notice_once() -> None:
    campaign = a_campaign(1)

    assert what(a_case(), campaign, told("stop", a_campaign(0))) == "first"
    assert what(a_case(), campaign, told("first", campaign)) is None


def test_a_cleared_unit_is_told_so_only_where_a_stop_warning_reached_its_owner() -> None:
    campaign = a_campaign(1)
    warned = told("stop", a_campaign(0))

    assert what(a_case(CLEARED), campaign) is None
    assert what(a_case(CLEARED), campaign, warned) == "first"
    assert what(a_case(CLEARED), campaign, replace(warned, state=PostingState.BOUNCED)) is None


def test_a_withdrawn_posting_is_owed_again_and_a_waiting_one_is_not() -> None:
    campaign = a_campaign(1)
    first = told("first", campaign)

    assert what(a_case(), campaign, replace(first, state=PostingState.WITHDRAWN)) == "first"
    assert what(a_case(), campaign, replace(first, state=PostingState.WAITING)) is None


def test_a_mended_comma_corrects_nobody() -> None:
    before = a_campaign(1)
    hazard = before.hazard.model_copy(update={"what": "The steering link under the cargo box can break!"})

    assert what(a_case(NOTICE), before.model_copy(update={"hazard": hazard}), told("first", before)) is None


def test_a_raised_saying_number_corrects_where_no_fact_changed() -> None:
    before = a_campaign(1)
    after = before.model_copy(
        update={"saying": 2, "revision": before.revision.model_copy(update={"number": 2})}
    )

    assert what(a_case(NOTICE), after, told("first", before)) == "correct/2"


def test_told_safe_and_now_affected_is_corrected_before_all_others() -> None:
    campaign = a_campaign(1)
    found = owed(a_case(), campaign, [told("first", campaign, Verdict.CLEARED)])

    assert found is not None
    assert (found.kind, found.rank) == ("correct-safe", 0)


def test_told_to_stop_and_now_cleared_begins_otherwise() -> None:
    campaign = a_campaign(1)
    found = owed(a_case(CLEARED), campaign, [told("first", campaign)])

    assert found is not None
    assert (found.kind, found.verdict, found.rank) == ("correct-stop", "cleared", 10)


def test_told_less_than_now_goes_before_what_else_is_corrected() -> None:
    before, after = a_campaign(1), a_campaign(2)
    level = before.now.level.model_copy(update={"symptomatic": 2, "unknown": 2})
    less = before.model_copy(update={"now": before.now.model_copy(update={"level": level})})
    ranks = [
        found.rank
        for had in (less, before)
        if (found := owed(a_case(NOTICE), after, [told("first", had)])) is not None
    ]

    assert ranks == [2, 10]


def test_a_use_that_was_stated_since_is_held_against_what_was_said_of_it_then() -> None:
    """Ball joints come for ridden bicycles alone; so what is said of one that nobody has ridden stays the same."""
    first, second = a_campaign(1), a_campaign(2)
    earlier = [Earlier(since=DAY, campaign=first)]
    had = [replace(told("first", first), at=DAY + timedelta(hours=1))]
    found = {
        segment: owed(a_case(NOTICE, used(segment)), second, had, earlier)
        for segment in ("unridden", "ridden_no_symptoms", "symptomatic")
    }

    assert {segment: one.occasion if one else None for segment, one in found.items()} == {
        "unridden": None,
        "ridden_no_symptoms": "correct/2",
        "symptomatic": "correct/2",
    }


def test_a_use_that_was_stated_under_todays_revision_read_todays_saying_on_the_page() -> None:
    first, second = a_campaign(1), a_campaign(2)
    earlier = [
        Earlier(since=DAY - timedelta(days=1), campaign=first),
        Earlier(since=DAY - timedelta(minutes=1), campaign=second),
    ]
    had = [replace(told("first", first, segment=Segment.UNRIDDEN), at=DAY - timedelta(hours=1))]
    case = a_case(NOTICE, used("symptomatic"))

    assert owed(case, second, had, earlier) is None
    assert owed(case, second, had, earlier[:1]) is not None


def test_where_no_earlier_revision_says_what_was_told_the_saying_itself_is_compared() -> None:
    first, second = a_campaign(1), a_campaign(2)
    had = [told("first", first)]
    other = Earlier(since=DAY - timedelta(days=1), campaign=second)

    assert owed(a_case(NOTICE, used("unridden")), second, had, [other]) is not None
    assert owed(a_case(NOTICE, used("unridden")), second, had) is not None


def test_parts_of_a_withdrawn_lot_are_corrected_once_though_the_saying_is_the_same() -> None:
    campaign = a_campaign(1)
    case, first = a_case(NOTICE, LOT, WITHDRAWN), told("first", campaign)
    found = owed(case, campaign, [first])
    again = replace(told("correct/1/K3", campaign), kind="correct-parts")
    other = replace(told("correct/1/K2", campaign), kind="correct-parts")

    assert found is not None
    assert (found.occasion, found.kind, found.rank) == ("correct/1/K3", "correct-parts", 1)
    assert what(case, campaign, first, again) is None
    assert what(case, campaign, first, other) == "correct/1/K3"
    assert what(a_case(NOTICE, LOT), campaign, first) is None


def test_a_cleared_unit_with_such_parts_is_told_nothing_by_mail() -> None:
    campaign = a_campaign(1)
    safe = a_case(NOTICE, LOT, CLEARED, WITHDRAWN)

    assert what(safe, campaign, told("first", campaign, Verdict.CLEARED)) is None


def test_an_owners_own_answer_is_no_correction() -> None:
    campaign = a_campaign(1)

    assert what(a_case(NOTICE, used("unridden")), campaign, told("first", campaign)) is None


def test_a_verdict_on_the_code_that_the_owner_gave_is_no_correction() -> None:
    campaign = a_campaign(1)
    verdict = {"verdict": "affected", "why": "", "near": False, "rule": "line-b", "revision": 1}
    case = step(a_case(NOTICE), an_event("verdict_given", verdict, seq=4, via="page"))

    assert what(case, campaign, told("first", campaign, Verdict.MISSING)) is None


@pytest.mark.parametrize("ending", ["unreachable", "refunded", "destroyed", "listed_twice", "in_stock"])
def test_an_ended_case_is_owed_nothing(ending: str) -> None:
    assert what(a_case(("case_closed", {"ending": ending, "evidence": ""})), a_campaign(1)) is None


def test_an_unjudged_unit_is_owed_nothing_yet() -> None:
    assert what(a_case(("unit_listed", {"keeper": OWNER}), listed=False), a_campaign(1)) is None


def test_the_most_endangered_go_first() -> None:
    campaign = a_campaign(1)
    cases = [a_case(IN_USE), a_case(used("ridden_no_symptoms")), a_case(used("unridden")), a_case()]
    ranks = [found.rank for case in cases if (found := owed(case, campaign, [])) is not None]

    assert ranks == [0, 3, 5, 1]


def test_a_warning_and_a_recall_have_reminders_of_their_own_that_take_the_same_step() -> None:
    occasions = [reminder(a_campaign(0), "letter"), reminder(a_campaign(1), "letter")]

    assert occasions == ["remind/warning/letter", "remind/letter"]
    assert [reminded_step(one) for one in [*occasions, "first"]] == ["letter", "letter", None]


def while_it_waits(case: Case, campaign: Campaign, *had: Told) -> tuple[str, str] | None:
    """Return occasion and kind of what goes while the market of what is owed waits."""
    asked = owed(case, campaign, had)
    assert asked is not None
    found = while_held(asked, case, campaign, had)
    return (found.occasion, found.kind) if found else None


def test_while_a_recall_waits_who_knows_of_no_danger_is_warned() -> None:
    campaign = a_campaign(1)
    safe = told("first", campaign, Verdict.CLEARED)
    warned = told("stop", a_campaign(0))

    assert while_it_waits(a_case(), campaign) == ("stop", "stop")
    assert while_it_waits(a_case(), campaign, warned) is None
    assert while_it_waits(a_case(), campaign, replace(warned, state=PostingState.WITHDRAWN)) == (
        "stop",
        "stop",
    )
    assert while_it_waits(a_case(CLEARED), campaign, warned) is None
    assert while_it_waits(a_case(), campaign, safe) == ("stop", "stop")
    assert while_it_waits(a_case(), campaign, warned, safe) == ("stop/1", "stop")


def test_a_warning_under_a_recall_that_waits_promises_no_remedy() -> None:
    campaign = a_campaign(1)
    asked = owed(a_case(), campaign, [])
    assert asked is not None
    found = while_held(asked, a_case(), campaign, [])

    assert found is not None
    assert found.saying == saying(
        campaign.model_copy(update={"remedies": None}), found.verdict, found.segment
    )
    assert found.saying.said != asked.saying.said
