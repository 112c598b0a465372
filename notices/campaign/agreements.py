"""Where a law wants an authority's agreement before a recall notice goes to owners: each line with its source.

No legal advice: the firm's counsel and the authority decide what the law asks.
"""

from dataclasses import dataclass

from notices.campaign.models import Market


@dataclass(frozen=True, kw_only=True, slots=True)
class Agreement:
    """What the law of *country* (ISO 3166-1) asks first, and where it says so."""

    country: str
    what: str
    source: str


# What goes without an agreement is the stop warning. The paragraph speaks of the recall notice of 16 CFR 1115.23 to
# 1115.29: a heading with the word recall, a remedy, how to get it. A warning that bears no such heading and promises
# nothing is none, and whoever waits for a signature with it lets people go on using what can kill them. Counsel and
# the authority may want to see the warning too; nothing here keeps it back for that.
AGREEMENTS: tuple[Agreement, ...] = (
    Agreement(
        country="US",
        what="the commission must agree in writing to a recall notice before it goes out",
        source="16 CFR 1115.29(c)",
    ),
)


def agreement_for(market: Market) -> Agreement | None:
    """Return what must be agreed to before a market's owners get a recall notice, None where we know of nothing."""
    return next((one for one in AGREEMENTS if one.country in market.countries), None)
