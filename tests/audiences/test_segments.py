"""The four segments: what owners say only climbs, and use unknown counts as symptomatic."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from audiences.segments import DANGER, Segment, climb, treated_as

SEGMENTS = st.sampled_from(Segment)


@pytest.mark.parametrize(
    ("now", "said", "then"),
    [
        (Segment.UNKNOWN, Segment.UNRIDDEN, Segment.UNRIDDEN),
        (Segment.UNRIDDEN, Segment.RIDDEN_NO_SYMPTOMS, Segment.RIDDEN_NO_SYMPTOMS),
        (Segment.RIDDEN_NO_SYMPTOMS, Segment.SYMPTOMATIC, Segment.SYMPTOMATIC),
        (Segment.SYMPTOMATIC, Segment.UNRIDDEN, Segment.SYMPTOMATIC),
        (Segment.RIDDEN_NO_SYMPTOMS, Segment.UNRIDDEN, Segment.RIDDEN_NO_SYMPTOMS),
        (Segment.UNRIDDEN, Segment.UNKNOWN, Segment.UNRIDDEN),
        (Segment.UNKNOWN, Segment.UNKNOWN, Segment.UNKNOWN),
    ],
)
def test_what_an_owner_says_only_climbs(now: Segment, said: Segment, then: Segment) -> None:
    assert climb(now, said) is then


def test_use_unknown_is_treated_as_symptomatic_and_the_others_as_themselves() -> None:
    assert [treated_as(segment) for segment in Segment] == [
        Segment.UNRIDDEN,
        Segment.RIDDEN_NO_SYMPTOMS,
        Segment.SYMPTOMATIC,
        Segment.SYMPTOMATIC,
    ]


def test_danger_ranks_every_segment_with_unknown_at_the_top() -> None:
    assert set(DANGER) == set(Segment)
    assert DANGER[Segment.UNKNOWN] == DANGER[Segment.SYMPTOMATIC] == 0
    assert DANGER[Segment.SYMPTOMATIC] < DANGER[Segment.RIDDEN_NO_SYMPTOMS] < DANGER[Segment.UNRIDDEN]


@pytest.mark.property
@given(st.lists(SEGMENTS), SEGMENTS)
def test_the_order_of_answers_does_not_change_where_a_unit_ends(answers: list[Segment], now: Segment) -> None:
    forward = backward = now
    for said in answers:
        forward = climb(forward, said)
    for said in reversed(answers):
        backward = climb(backward, said)

    assert forward is backward
