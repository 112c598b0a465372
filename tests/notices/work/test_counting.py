"""Each unit counts once, and at every moment the units add up."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from audiences.segments import Segment
from notices.cases.case import ENDINGS, Case, Stage, Stopped, Whereabouts
from notices.work.counting import STAGES, Standing, count, place_of
from tests.builders import NOTICE, PRESSED, STOPPED, a_case, used


def _counted(*cases: Case, sold: int | None = None) -> Standing:
    return count(cases, sold=sold)


@st.composite
def _any_case(draw: st.DrawFn) -> Case:
    return Case(
        unit_id="0000000A",
        keeper_id=draw(st.sampled_from([None, "OWNER"])),
        whereabouts=draw(st.sampled_from(list(Whereabouts))),
        stopped=draw(st.sampled_from(list(Stopped))),
        verdict=draw(st.sampled_from([None, "affected", "cleared", "foreign", "unreadable", "missing"])),
        segment=draw(st.sampled_from(list(Segment))),
        stage=draw(st.sampled_from(list(Stage)[:-1])),
        ending=draw(st.sampled_from([None, *sorted(ENDINGS)])),
    )


@pytest.mark.property
@given(st.lists(_any_case(), max_size=30), st.one_of(st.none(), st.integers(0, 100)))
def test_the_units_add_up_whatever_happened(cases: list[Case], sold: int | None) -> None:
    found = count(cases, sold=sold)
    grid = sum(sum(row.values()) for row in found.grid.values())

    assert found.sold == found.in_hands + found.cleared + found.put_away + found.owner_unknown
    assert grid == found.in_hands == sum(found.stopped.values())


def test_units_without_a_known_owner_are_those_sold_and_not_listed() -> None:
    found = _counted(a_case(), a_case(NOTICE), sold=5)

    assert (found.sold, found.in_hands, found.owner_unknown) == (5, 2, 3)


def test_a_unit_whose_keeper_left_counts_with_the_unknown() -> None:
    found = _counted(a_case("passed_on"), sold=1)

    assert (found.in_hands, found.owner_unknown) == (0, 1)


@pytest.mark.parametrize(
    ("case", "place"),
    [
        (a_case(), "in_hands"),
        (replace(a_case(), verdict="cleared"), "cleared"),
        (replace(a_case(), verdict="foreign"), "nowhere"),
        (replace(a_case(), ending="listed_twice"), "nowhere"),
        (replace(a_case(), ending="destroyed", verdict="cleared"), "put_away"),
        (replace(a_case(), whereabouts=Whereabouts.STOCK, keeper_id=None), "put_away"),
        (replace(a_case(), verdict="cleared", keeper_id=None), "cleared"),
        (replace(a_case(), keeper_id=None), "owner_unknown"),
        (replace(a_case(), ending="unreachable"), "in_hands"),
    ],
)
def test_a_unit_counts_in_the_first_place_that_fits(case: Case, place: str) -> None:
    assert place_of(case) == place


@pytest.mark.parametrize(
    ("case", "stage"),
    [
        (a_case(), "listed"),
        (a_case(NOTICE), "notified"),
        (a_case(NOTICE, ("notice_bounced", {"posting": "P1", "status": "5.1.1"})), "listed"),
        (a_case(NOTICE, PRESSED), "notified"),
        (a_case(NOTICE, STOPPED), "answered"),
        (a_case(NOTICE, ("remedy_chosen", {"remedy": "repair", "signs": True})), "remedy_agreed"),
        (a_case(NOTICE, ("visit_booked", {"day": "2026-03-05"})), "under_way"),
        (a_case(NOTICE, "work_reported_done"), "done_unconfirmed"),
        (a_case(NOTICE, "fix_confirmed", ("case_closed", {"ending": "fixed"})), "fixed"),
        (a_case(NOTICE, ("case_closed", {"ending": "unreachable"})), "ended"),
        (a_case(NOTICE, ("case_closed", {"ending": "stolen_or_lost"})), "ended"),
    ],
)
def test_each_stage_has_its_column(case: Case, stage: str) -> None:
    row = _counted(case).grid[case.segment]

    assert row == {**dict.fromkeys(STAGES, 0), stage: 1}


def test_work_done_is_not_fixed_before_its_owner_says_so() -> None:
    row = _counted(a_case(NOTICE, "work_reported_done")).grid["unknown"]

    assert (row["done_unconfirmed"], row["fixed"]) == (1, 0)


def test_a_unit_counts_in_the_row_of_its_use() -> None:
    found = _counted(a_case(used("symptomatic")), a_case(used("unridden")), a_case())

    assert {key: sum(row.values()) for key, row in found.grid.items()} == {
        "symptomatic": 1,
        "unknown": 1,
        "ridden_no_symptoms": 0,
        "unridden": 1,
    }


def test_each_ending_is_counted() -> None:
    found = _counted(replace(a_case(), ending="refunded"), replace(a_case(), ending="refunded"), a_case())

    assert found.endings["refunded"] == 2
    assert sum(found.endings.values()) == 2


def test_units_that_nobody_has_judged_are_in_hands_and_counted_apart() -> None:
    found = _counted(replace(a_case(), verdict=None), a_case())

    assert (found.in_hands, found.unjudged) == (2, 1)
