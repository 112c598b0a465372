"""Keys of the campaign that a reader sees as words."""

from typing import get_args

from notices.campaign.models import Fact, Issuer, Signal
from notices.wording.terms import ROLES, SIGNALS, STANDINGS


def test_every_key_that_a_campaign_can_hold_has_its_words() -> None:
    roles = get_args(get_args(Issuer.model_fields["role"].annotation)[0])

    assert set(SIGNALS) == set(get_args(Signal))
    assert set(STANDINGS) == set(get_args(Fact.model_fields["standing"].annotation))
    assert set(ROLES) == set(roles)
