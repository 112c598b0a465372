"""The open ledger keeps its order: by standing, then by day, those without a day last."""

from datetime import date

from notices.campaign.ledger import in_order, last_day, standing
from notices.campaign.models import Campaign, Fact, Issuer, Product

_OLD = Fact(day=date(2026, 1, 3), standing="known", text="One broke.")
_NEW = Fact(day=date(2026, 1, 9), standing="known", text="Two broke.")
_UNDATED = Fact(standing="known", text="It rains.")
_OPEN = Fact(standing="not_yet_known", text="how long it lasts")
_GONE = Fact(day=date(2026, 1, 11), standing="withdrawn", text="Line C is affected.")


def _campaign(*facts: Fact) -> Campaign:
    return Campaign(issuer=Issuer(name="F"), product=Product(name="E"), ledger=facts)


def test_the_oldest_fact_comes_first_and_one_without_a_day_last() -> None:
    assert standing(_campaign(_UNDATED, _NEW, _OLD, _OPEN), "known") == (_OLD, _NEW, _UNDATED)


def test_standings_without_facts_are_left_out() -> None:
    assert list(in_order(_campaign(_GONE, _OPEN, _OLD))) == [
        ("known", (_OLD,)),
        ("not_yet_known", (_OPEN,)),
        ("withdrawn", (_GONE,)),
    ]


def test_the_last_day_is_the_newest_facts() -> None:
    assert (last_day(_campaign(_OLD, _GONE, _OPEN)), last_day(_campaign(_OPEN))) == (date(2026, 1, 11), None)
