"""Which markets wait for an authority by themselves."""

from notices.campaign.agreements import agreement_for
from notices.campaign.models import Market


def test_a_market_with_the_us_among_its_countries_waits_by_16_cfr_1115_29_c() -> None:
    found = agreement_for(Market(countries=("CA", "US"), headline="Safety recall"))

    assert found is not None
    assert found.source == "16 CFR 1115.29(c)"


def test_of_other_markets_we_know_no_such_law() -> None:
    assert agreement_for(Market(countries=("GB", "DE"), headline="Product safety recall")) is None
