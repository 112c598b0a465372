"""What a campaign answers: levels, steps, remedies, markets and contacts."""

import pytest
from pydantic import ValidationError

from audiences.segments import Segment
from audiences.verdicts import Verdict
from notices.campaign.models import Campaign, Issuer, Level, Now, Product, Remedy, RemedyFor, Steps
from tests.stove import a_stove


def test_an_empty_campaign_is_a_stop_warning_to_everyone() -> None:
    campaign = Campaign(issuer=Issuer(name="F"), product=Product(name="E"))

    assert (campaign.remedies, campaign.affected, campaign.schema_, campaign.saying) == (None, (), 1, 1)


def test_no_remedy_in_the_list_is_a_stop_warning() -> None:
    assert Campaign(issuer=Issuer(name="F"), product=Product(name="E"), remedies={}).remedies is None


def test_a_campaign_cannot_be_changed() -> None:
    campaign = a_stove()

    with pytest.raises(ValidationError):
        campaign.name = "other"  # type: ignore[misc] # the fault is what is tested


def test_a_segments_own_steps_stand_in_the_place_of_the_first() -> None:
    now = Now(steps=Steps(all=("Stop.", "Lock it.", "Tell us."), symptomatic=("Do not move it.",)))

    assert {segment: now.steps_for(segment) for segment in Segment} == {
        Segment.UNRIDDEN: ("Stop.", "Lock it.", "Tell us."),
        Segment.RIDDEN_NO_SYMPTOMS: ("Stop.", "Lock it.", "Tell us."),
        Segment.SYMPTOMATIC: ("Do not move it.", "Lock it.", "Tell us."),
        Segment.UNKNOWN: ("Do not move it.", "Lock it.", "Tell us."),
    }


def test_use_unknown_may_have_steps_of_its_own() -> None:
    now = Now(steps=Steps(all=("Stop.",), symptomatic=("Flee.",), unknown=("Stop.", "Answer.")))

    assert now.steps_for(Segment.UNKNOWN) == ("Stop.", "Answer.")


@pytest.mark.parametrize(
    ("verdict", "segment", "level"),
    [
        (Verdict.AFFECTED, Segment.UNRIDDEN, 2),
        (Verdict.AFFECTED, Segment.SYMPTOMATIC, 3),
        (Verdict.AFFECTED, Segment.UNKNOWN, 3),
        (Verdict.MISSING, Segment.RIDDEN_NO_SYMPTOMS, 1),
        (Verdict.MISSING, Segment.SYMPTOMATIC, 3),
        (Verdict.UNREADABLE, Segment.UNRIDDEN, 2),
        (Verdict.CLEARED, Segment.SYMPTOMATIC, 0),
        (Verdict.FOREIGN, Segment.UNKNOWN, 0),
    ],
)
def test_the_level_is_the_segments_own_or_the_verdicts(
    verdict: Verdict, segment: Segment, level: int
) -> None:
    now = Now(level=Level(affected=2, missing=1, symptomatic=3, cleared=0))

    assert now.level_for(verdict, segment) == level


def test_where_nothing_is_said_of_levels_the_use_stops() -> None:
    levels = {verdict: Now().level_for(verdict, Segment.UNKNOWN) for verdict in Verdict}

    assert levels == {
        Verdict.AFFECTED: 2,
        Verdict.MISSING: 2,
        Verdict.UNREADABLE: 2,
        Verdict.CLEARED: 0,
        Verdict.FOREIGN: 0,
    }


def test_a_remedy_for_all_serves_each_segment_but_not_an_unknown_use() -> None:
    own, everyone = RemedyFor(promise="We fetch it."), RemedyFor(promise="We come.")
    remedy = Remedy(kind="repair", all=everyone, symptomatic=own)

    assert [remedy.for_segment(segment) for segment in Segment] == [everyone, everyone, own, None]


def test_a_country_has_a_market_and_a_contact_or_none() -> None:
    campaign = a_stove()
    british, irish = campaign.contacts

    assert (campaign.market_of("IE"), campaign.market_of("FR"), campaign.market_of(None)) == (
        "EU",
        None,
        None,
    )
    assert [campaign.contact_for(country) for country in ("GB", "IE", "FR", None)] == [
        british,
        irish,
        None,
        None,
    ]


def test_fields_beside_the_code_and_the_rule_are_the_layouts() -> None:
    campaign = a_stove()
    assert campaign.code is not None
    assert campaign.code.example is not None

    assert campaign.code.example.fields == {"year": 2025, "week": 21, "works": "F", "number": 14}
    assert campaign.affected[0].conditions == {"works": "F", "week": ("2514", "2533")}
