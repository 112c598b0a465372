"""Which duties a market brings, and by which day."""

from datetime import date

from notices.campaign.duties import DUTIES, duties, market_of, without_duties

LEARNED, TODAY = date(2026, 2, 27), date(2026, 3, 2)


def test_only_the_markets_named_bring_duties_and_the_earliest_comes_first() -> None:
    found = duties(["US", "PL", "IE"], learned=LEARNED, action=TODAY)

    assert [(due.duty.market, due.day) for due in found] == [
        ("EU", LEARNED),
        ("EU", LEARNED),
        ("US", date(2026, 2, 28)),
    ]


# Canada Consumer Product Safety Act, section 14: 2 and 10 days after the day of becoming aware. Australian Consumer
# Law, section 131: 2 days after becoming aware; section 128: 2 days after taking recall action. Japan's act, article
# 35: 10 days, the day of knowledge counted in (from a leaflet, not from the act).
def test_days_are_counted_from_knowledge_or_from_action_as_each_law_says() -> None:
    found = duties(["CA", "AU", "JP"], learned=LEARNED, action=TODAY)

    assert {(due.duty.market, due.duty.source[-7:], due.day) for due in found} == {
        ("CA", "n 14(2)", date(2026, 3, 1)),
        ("CA", "n 14(3)", date(2026, 3, 9)),
        ("AU", "ion 131", date(2026, 3, 1)),
        ("AU", "ion 128", date(2026, 3, 4)),
        ("JP", "icle 35", date(2026, 3, 8)),
    }


def test_without_the_day_of_knowledge_only_what_counts_from_action_has_a_day() -> None:
    found = duties(["AU"], learned=None, action=TODAY)

    assert [(due.duty.counted, due.day) for due in found] == [
        ("action", date(2026, 3, 4)),
        ("knowledge", None),
    ]


def test_a_market_of_which_we_know_nothing_is_named() -> None:
    assert list(without_duties(["CH", "IE", "NO", "CH"])) == ["CH", "NO"]
    assert duties(["CH"], learned=LEARNED, action=TODAY) == ()


# Regulation (EU) 2023/988, article 36(2)(a); 16 CFR 1115.27(a).
def test_the_headline_is_the_laws() -> None:
    assert (market_of("FR"), market_of("US"), market_of("GB")) == (
        ("EU", "Product safety recall"),
        ("US", "Safety recall"),
        ("GB", "Product safety recall"),
    )


def test_every_duty_says_how_its_source_is_known() -> None:
    assert {duty.mark for duty in DUTIES} <= {"read", "second-hand", "from memory"}
    assert all(duty.source and duty.what for duty in DUTIES)
