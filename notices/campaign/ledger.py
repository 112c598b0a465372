"""The open ledger: what is known, not yet known, being checked or withdrawn, in the order a reader meets it.

What is *inside* the firm alone is left out of all of it.
"""

from collections.abc import Iterator
from datetime import date

from notices.campaign.models import Campaign, Fact, Standing

STANDINGS: tuple[Standing, ...] = ("known", "being_checked", "not_yet_known", "withdrawn")


def standing(campaign: Campaign, wanted: Standing) -> tuple[Fact, ...]:
    """Return the facts of one standing, oldest first, those without a day last."""
    facts = (fact for fact in campaign.ledger if fact.standing == wanted and not fact.inside)
    return tuple(sorted(facts, key=lambda fact: (fact.day is None, fact.day or date.min)))


def in_order(campaign: Campaign) -> Iterator[tuple[Standing, tuple[Fact, ...]]]:
    """Yield each standing that has facts, with them: known, being checked, not yet known, withdrawn."""
    for wanted in STANDINGS:
        facts = standing(campaign, wanted)
        if facts:
            yield wanted, facts


def last_day(campaign: Campaign) -> date | None:
    """Return the day of the newest dated fact, or None."""
    return max(
        (fact.day for fact in campaign.ledger if fact.day is not None and not fact.inside), default=None
    )
